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
    top: list[Line] = []
    problems: list[Problem] = []
    open_blocks: list[Line] = []
    style: str | None = None
    too_deep = False
    if len(source.lines) > MOST_LINES:
        return [], [Problem(
            "file-too-large", Span(source, MOST_LINES + 1, 1, 1),
            f"The script has more than {MOST_LINES} lines: no pattern is that long.",
            "Is it really a script?")]
    if sum(line.count("{") for line in source.lines) > MOST_VALUES:
        return [], [Problem(
            "file-too-large", Span(source, 1, 1, 1),
            f"The printed words hold more than {MOST_VALUES} values in braces: no pattern has so "
            "many.", "Is it really a script?")]
    for number, column in source.controls:
        at = Span(source, number, column, column + 1)
        code = ord(source.raw[number - 1][column - 1])
        problems.append(Problem(
            "control-character", at, f"A character that nobody sees stands here (U+{code:04X}).",
            "Delete it: such characters come along from a terminal or a web page, and can make a "
            "screen show what is not there.", at.replaced_by("")))
    for number, raw in enumerate(source.lines, start=1):
        if len(raw) > LONGEST_LINE:
            problems.append(Problem(
                "line-too-long", Span(source, number, LONGEST_LINE + 1, LONGEST_LINE + 2),
                f"This line has {len(raw)} letters; at most {LONGEST_LINE} are read.",
                "Go on in the next line: words may stand in several lines, each between quotation "
                "marks, under the line that they belong to."))
            if len(problems) > MOST_LONG_LINES:
                break
            continue
        text = without_comment(raw)
        body = text.lstrip(_BLANKS)
        if not body:
            continue
        lead = text[: len(text) - len(body)]
        indent = len(lead)
        mixed = False
        if lead:
            here = "tab" if "\t" in lead else "space"
            mixed = bool(here == "tab" and lead.strip("\t")) or style not in (None, here)
            if mixed and not any(problem.kind == "tabs-and-spaces" for problem in problems):
                problems.append(Problem(
                    "tabs-and-spaces", Span(source, number, 1, indent + 1),
                    "Tabs and spaces are mixed at the start of the lines, so nobody can tell "
                    "which line stands under which.",
                    "Use four spaces for each step of indentation, in every line.",
                    SpacesForTabs(number)))
            style = style or here
            if style == "space":
                # The step that was most likely meant.
                indent = len(lead.expandtabs(4))
        line = Line(number, indent, text)
        while open_blocks and open_blocks[-1].indent >= indent:
            open_blocks.pop()
        siblings = open_blocks[-1].children if open_blocks else top
        if open_blocks and body[0] in '"“':
            # Words that go on from the line above may stand under its opening quote.
            siblings.append(line)
            continue
        first = next((s for s in siblings if s.text.lstrip()[:1] not in '"“'), None)
        ragged = (first is not None and first.indent != indent) or (not open_blocks and indent)
        if ragged:
            # So that the lines after it keep their place.
            line.indent = first.indent if first is not None else 0
        if ragged and not mixed:
            odd, depth = line, _a_column_off(indent, body, open_blocks, first)
            if style != "space":
                depth = None
            elif depth is not None and open_blocks and depth == open_blocks[-1].indent:
                line.indent = open_blocks.pop().indent
                siblings = open_blocks[-1].children if open_blocks else top
            elif depth is not None and len(siblings) == 1 and depth % STEP and not indent % STEP:
                # The first line of the block is the odd one out.
                odd, depth = siblings[0], indent
                odd.indent = line.indent = indent
            problems.append(Problem(
                "ragged-indentation", Span(source, odd.number, 1, odd.column + 1),
                "This line is indented differently from the lines it belongs with.",
                "Lines of one block begin in the same column; a block inside it is four spaces "
                "further in.", Indent(odd.number, depth) if depth is not None else None))
        if len(open_blocks) >= DEEPEST:
            if not too_deep:
                problems.append(Problem(
                    "nested-too-deep", line.span(source),
                    f"Blocks are nested more than {DEEPEST} deep here.",
                    "Put the inner part into a technique and call it with 'do'."))
            too_deep = True
            continue
        siblings.append(line)
        open_blocks.append(line)
    return top, problems
