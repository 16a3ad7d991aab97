"""Parsing single lines, and keeping what is wrong with them."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from lark.exceptions import LarkError

from sockscript.text.layout import STEP, Line
from sockscript.text.mend import Indent, Mend
from sockscript.text.parser import parse_text
from sockscript.text.problem_names import ProblemName
from sockscript.text.quotes import without_words
from sockscript.text.source import Problem, Source, Span
from sockscript.tree.build_expressions import Parse, SlipError
from sockscript.tree.build_statements import StatementBuilder
from sockscript.tree.read_before import ReadBefore
from sockscript.tree.slips import syntax_problem

MOST_PROBLEMS = 30
"""After so many slips the file is something else than a script."""

_ENDLESS_NUMBER = re.compile(r"\d{14,}")

_DEFINED = re.compile(
    r"\s*(?:(?:let|option|yarn|gauge|technique)\s+)?([^\W\d_][^\W_]*(?:-[^\W_]+)*)")
"""The name that a line of the header or a row of a table defines."""

_RESERVED = (
    "front back both left right other all held empty centre every and or not is to in of on onto "
    "by with from as at out work hold rest tuck circular knit row rows round rounds stitch "
    "stitches needle needles working turned carriage side far size")
RESERVED = frozenset(_RESERVED.split())
WHERE = frozenset({"front", "back", "both", "left", "right", "all"})
"""Words for a place on the machine."""
"""Words of the language that cannot name a value."""


class LineReader:
    """Reads the lines of one source; problems are gathered, never raised."""

    def __init__(self, source: Source, before: ReadBefore | None = None) -> None:
        """``before``: what was read before, which is added to."""
        self.source = source
        self.problems: list[Problem] = []
        self.spoiled: set[str] = set()
        """Names whose own line has a slip: that nothing is called so would only follow from it."""
        self.before = before if before is not None else ReadBefore()
        self.parses = self.before.parses

    def parse(self, line: Line, start: str) -> Parse | None:
        """Parse one line; the same text is parsed only once."""
        key = (start, line.text)
        found = self.parses.get(key)
        if len(self.problems) > MOST_PROBLEMS:
            return None
        endless = _ENDLESS_NUMBER.search(without_words(line.text))
        if endless is not None:
            self.problems.append(Problem(
                "number-too-large",
                Span(self.source, line.number, endless.start() + 1, endless.end() + 1),
                "This number is too large: nobody knits that far.",
                "Look for a digit too many."))
            return None
        if found is None:
            try:
                found = parse_text(line.text, start=start)
            except LarkError as error:
                self.spoil(line)
                self.problems.append(syntax_problem(error, line.text, line.span(self.source),
                                                    block=start))
                return None
            self.parses[key] = found
        return found

    def builder(self, line: Line) -> StatementBuilder:
        """The builder of nodes for a line."""
        return StatementBuilder(self.source, line.number, 0, line.span(self.source))

    def guarded(self, build: Callable[[], Any]) -> Any:
        """The result of ``build``, or None and a problem."""
        try:
            return build()
        except SlipError as slip:
            at = slip.problem.at
            self.spoil(Line(at.line, 0, at.source.line(at.line)))
            self.problems.append(slip.problem)
            return None

    def spoil(self, line: Line) -> None:
        """Keep the names that a line with a slip was about to define."""
        match = _DEFINED.match(line.text)
        if match:
            self.spoiled.add(match.group(1).lower())

    def problem(self, line: Line, kind: ProblemName, message: str, hint: str = "",
                mend: Mend | None = None) -> None:
        """Keep what is wrong with a whole line."""
        self.problems.append(Problem(kind, line.span(self.source), message, hint, mend))

    def nothing_under(self, line: Line, children: list[Line]) -> None:
        """Tell that lines stand under a line that takes none."""
        under = children[0]
        mend = None
        if under.column - line.column == 1 and "\t" not in under.text:
            # A slip of the space bar: that of the two lines which stands in no usual column.
            mend = Indent(line.number, under.column) if line.column % STEP \
                and not under.column % STEP else Indent(under.number, line.column)
        self.problems.append(Problem(
            "misplaced-line", under.span(self.source),
            f"This line is indented under '{line.text.strip()}', which takes nothing under it.",
            "Begin it in the same column as the line above.", mend))

    def name_of_stitches(self, name: str, at: Span) -> None:
        """Names of stitches that leave the needles must not be those of beds and ends."""
        if name in WHERE:
            self.problems.append(Problem(
                "reserved-word", at.word(name) or at, f"'{name}' says where on the machine: later "
                "lines could not tell these stitches from those that hang there.",
                f"Choose another name, for example {name}-stitches."))

    def fresh_name(self, name: str, at: Span) -> None:
        """Names of values must not be words of the language."""
        if name in RESERVED:
            self.problems.append(Problem(
                "reserved-word", at, f"'{name}' is a word of the language.",
                f"Choose another name, for example {name}-count."))
