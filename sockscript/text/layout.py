"""Lines and indentation: which line stands inside which."""

from __future__ import annotations

import re

from sockscript.text.mend import Indent, SpacesForTabs
from sockscript.text.quotes import INCH_MARK, QUOTED
from sockscript.text.source import LONGEST_LINE, MOST_LINES, Problem, Source, Span

DEEPEST = 40
"""No pattern indents further; a stranger's file may try."""
MOST_VALUES = 20_000
"""Values in printed words, each of which is worked out for every size."""
MOST_LONG_LINES = 30
"""After so many lines that are too long, and the like, the file is something else."""

STEP = 4
"""Columns from a line to those under it, as scripts are laid out."""
AT_MARGIN = frozenset({"pattern", "author", "version", "licence", "license", "machine", "yarn",
                       "gauge", "swatch", "sizes", "option", "works", "use", "builds", "exchange",
                       "section", "technique"})
"""First words of lines that stand at the margin and nowhere else."""
_BLANKS = " \t\u00a0"
_CODE = re.compile(rf'(?:{INCH_MARK}|{QUOTED}|[^#"“]++)*+')


class Line:
    """One instruction line and the lines indented under it."""

    __slots__ = ("children", "indent", "number", "text")

    def __init__(self, number: int, indent: int, text: str) -> None:
        self.number = number
        self.indent = indent
        self.text = text
        self.children: list[Line] = []

    @property
    def column(self) -> int:
        """Where its words begin, from 0; ``indent`` is where they should, where they do not."""
        return len(self.text) - len(self.text.lstrip(_BLANKS))

    def span(self, source: Source) -> Span:
        """The whole line without its indentation."""
        return Span(source, self.number, self.column + 1, len(self.text) + 1)


def without_comment(text: str) -> str:
    """The line up to a ``#`` that stands outside quotes, without trailing space."""
    if "#" not in text:
        return text.rstrip()
    match = _CODE.match(text)
    kept = match.group(0) if match else text
    # An unclosed quote stops the match early: keep the line, its parse will say what is wrong.
    return (kept if text[len(kept):len(kept) + 1] in ("#", "") else text).rstrip()


def indentation(text: str) -> int:
    """The column, from 0, in which the words of a line begin; tabs go to every fourth column."""
    expanded = text.expandtabs(4)
    return len(expanded) - len(expanded.lstrip())


def _a_column_off(indent: int, body: str, outer: list[Line], first: Line | None) -> int | None:
    """The one depth beside ``indent`` where a line fits: with its block, or with an outer one."""
    fitting = {line.indent for line in (*outer[-1:], *((first,) if first is not None else ()))}
    near = [depth for depth in fitting or {0} if abs(depth - indent) == 1
            and (depth or body.split()[0].lower() in AT_MARGIN)]
    return near[0] if len(near) == 1 else None


def lay_out(source: Source) -> tuple[list[Line], list[Problem]]:
    """Build the block structure of a source, with everything that is wrong with it."""
    too_large = _too_large(source)
    if too_large is not None:
        return [], [too_large]
    blocks = _Blocks(source)
    blocks.problems += [_control_character(source, *at) for at in source.controls]
    for number, raw in enumerate(source.lines, start=1):
        if len(raw) <= LONGEST_LINE:
            blocks.add(number, without_comment(raw))
            continue
        blocks.problems.append(Problem(
            "line-too-long", Span(source, number, LONGEST_LINE + 1, LONGEST_LINE + 2),
            f"This line has {len(raw)} letters; at most {LONGEST_LINE} are read.",
            "Go on in the next line: words may stand in several lines, each between quotation "
            "marks, under the line that they belong to."))
        if len(blocks.problems) > MOST_LONG_LINES:
            break
    return blocks.top, blocks.problems


def _too_large(source: Source) -> Problem | None:
    """That no pattern is as long, or has as many values in its words."""
    if len(source.lines) > MOST_LINES:
        return Problem("file-too-large", Span(source, MOST_LINES + 1, 1, 1),
                       f"The script has more than {MOST_LINES} lines: no pattern is that long.",
                       "Is it really a script?")
    if sum(line.count("{") for line in source.lines) > MOST_VALUES:
        return Problem("file-too-large", Span(source, 1, 1, 1),
                       f"The printed words hold more than {MOST_VALUES} values in braces: no "
                       "pattern has so many.", "Is it really a script?")
    return None


def _control_character(source: Source, number: int, column: int) -> Problem:
    at = Span(source, number, column, column + 1)
    code = ord(source.raw[number - 1][column - 1])
    return Problem(
        "control-character", at, f"A character that nobody sees stands here (U+{code:04X}).",
        "Delete it: such characters come along from a terminal or a web page, and can make a "
        "screen show what is not there.", at.replaced_by(""))


class _Blocks:
    """The lines laid out so far, and the blocks that are open at the last of them."""

    def __init__(self, source: Source) -> None:
        self.source = source
        self.top: list[Line] = []
        self.problems: list[Problem] = []
        self.open: list[Line] = []
        self.style: str | None = None
        self.too_deep = False

    def add(self, number: int, text: str) -> None:
        """Put one line, without its comment, into the block that it belongs to."""
        body = text.lstrip(_BLANKS)
        if not body:
            return
        indent, mixed = self._indent(number, text[:len(text) - len(body)])
        line = Line(number, indent, text)
        while self.open and self.open[-1].indent >= indent:
            self.open.pop()
        siblings = self._siblings()
        if self.open and body[0] in '"“':
            # Words that go on from the line above may stand under its opening quote.
            siblings.append(line)
            return
        first = next((s for s in siblings if s.text.lstrip()[:1] not in '"“'), None)
        if (first is not None and first.indent != indent) or (not self.open and indent):
            # So that the lines after it keep their place.
            line.indent = first.indent if first is not None else 0
            if not mixed:
                self._ragged(line, indent, body, first)
                siblings = self._siblings()
        if len(self.open) < DEEPEST:
            siblings.append(line)
            self.open.append(line)
        elif not self.too_deep:
            self.too_deep = True
            self.problems.append(Problem(
                "nested-too-deep", line.span(self.source),
                f"Blocks are nested more than {DEEPEST} deep here.",
                "Put the inner part into a technique and call it with 'do'."))

    def _siblings(self) -> list[Line]:
        return self.open[-1].children if self.open else self.top

    def _indent(self, number: int, lead: str) -> tuple[int, bool]:
        """How deep a line stands, and whether tabs and spaces are mixed before it."""
        if not lead:
            return 0, False
        here = "tab" if "\t" in lead else "space"
        mixed = bool(here == "tab" and lead.strip("\t")) or self.style not in (None, here)
        if mixed and not any(problem.kind == "tabs-and-spaces" for problem in self.problems):
            self.problems.append(Problem(
                "tabs-and-spaces", Span(self.source, number, 1, len(lead) + 1),
                "Tabs and spaces are mixed at the start of the lines, so nobody can tell "
                "which line stands under which.",
                "Use four spaces for each step of indentation, in every line.",
                SpacesForTabs(number)))
        self.style = self.style or here
        # The step that was most likely meant.
        return len(lead.expandtabs(4)) if self.style == "space" else len(lead), mixed

    def _ragged(self, line: Line, indent: int, body: str, first: Line | None) -> None:
        """A line that stands in no column of its block; put where it was most likely meant."""
        siblings = self._siblings()
        odd, depth = line, _a_column_off(indent, body, self.open, first)
        if self.style != "space":
            depth = None
        elif depth is not None and self.open and depth == self.open[-1].indent:
            line.indent = self.open.pop().indent
        elif depth is not None and len(siblings) == 1 and depth % STEP and not indent % STEP:
            # The first line of the block is the odd one out.
            odd, depth = siblings[0], indent
            odd.indent = line.indent = indent
        self.problems.append(Problem(
            "ragged-indentation", Span(self.source, odd.number, 1, odd.column + 1),
            "This line is indented differently from the lines it belongs with.",
            "Lines of one block begin in the same column; a block inside it is four spaces "
            "further in.", Indent(odd.number, depth) if depth is not None else None))
