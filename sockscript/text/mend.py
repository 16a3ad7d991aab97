"""Mends that are sure: small changes of the text of a script, and how they are made."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple, Union


class Replace(NamedTuple):
    """Part of a line replaced: columns count from 1, ``end`` is one past the last.

    Text with a blank at its ends is set off by single blanks; empty text leaves none behind.
    """

    line: int
    start: int
    end: int
    text: str


class PutBefore(NamedTuple):
    """A new line before a line, indented as that one is."""

    line: int
    text: str


class TakeOut(NamedTuple):
    """A line taken out."""

    line: int


class SpacesForTabs(NamedTuple):
    """Every line of the script indented with spaces; ``line`` is the first that needs it."""

    line: int


class Indent(NamedTuple):
    """A line that begins after ``depth`` spaces."""

    line: int
    depth: int


Mend = Union[Replace, PutBefore, TakeOut, SpacesForTabs, Indent]


def mended_lines(lines: Sequence[str], mends: Iterable[Mend]) -> list[str]:
    """The lines of a script after some mends, of which only the first for each line is made."""
    changed = list(lines)
    first: dict[int, Mend] = {}
    spaces = False
    for mend in mends:
        if isinstance(mend, SpacesForTabs):
            spaces = True
        else:
            first.setdefault(mend.line, mend)
    for number in sorted(first, reverse=True):
        changed[number - 1:number] = mended_line(changed[number - 1], first[number])
    return [_with_spaces(line) for line in changed] if spaces else changed


def mended_line(line: str, mend: Mend) -> list[str]:
    """What stands in the place of one line after its mend."""
    match mend:
        case TakeOut():
            return []
        case PutBefore():
            return [_indent(line) + mend.text, line]
        case Replace():
            return [_replaced(line, mend)]
        case SpacesForTabs():
            return [_with_spaces(line)]
        case Indent():
            return [" " * mend.depth + line.lstrip()]


def _indent(line: str) -> str:
    return line[:len(line) - len(line.lstrip())]


def _replaced(line: str, mend: Replace) -> str:
    before, after = line[:mend.start - 1], line[mend.end - 1:]
    if mend.text.startswith(" "):
        before, after = before.rstrip(), after.lstrip()
    elif not mend.text:
        after = after.lstrip() if before.endswith(" ") else after
    return _indent(line) + (before + mend.text + after).strip()


def _with_spaces(line: str) -> str:
    body = line.lstrip(" \t\u00a0")
    lead = line[:len(line) - len(body)]
    return lead.replace("\u00a0", " ").expandtabs(4) + body
