"""What is kept of one version of a script for reading the next."""

from __future__ import annotations

from collections.abc import Iterator

from sockscript.text.layout import Line
from sockscript.tree import statements as st
from sockscript.tree.build_expressions import Parse

MOST_LINES = 50_000
"""Parsed lines kept; with more, all is forgotten."""

SectionPlace = tuple[int, tuple[tuple[int, int, str], ...]]
"""The line of a section, and all its lines: how far down, indentation, text."""


class ReadBefore:
    """Parses by start rule and text, and sections that were without slips, by place and text.

    All versions must be of one ``Source``, whose lines are replaced.
    """

    def __init__(self) -> None:
        self.parses: dict[tuple[str, str], Parse] = {}
        self.sections: dict[SectionPlace, st.Section] = {}
        self.top: list[Line] = []
        """What stands at the left margin of the newest version."""

    def tidy(self) -> None:
        """Forget everything when it has become too much."""
        if len(self.parses) > MOST_LINES or len(self.sections) > MOST_LINES // 10:
            self.parses.clear()
            self.sections.clear()


def section_place(line: Line) -> SectionPlace:
    """Where a section stands, and what."""
    return line.number, tuple(_lines(line, line.number))


def _lines(line: Line, first: int) -> Iterator[tuple[int, int, str]]:
    yield line.number - first, line.indent, line.text
    for child in line.children:
        yield from _lines(child, first)
