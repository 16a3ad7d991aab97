"""Mends that are sure: what to change in the script so that a finding goes away."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Literal, NamedTuple, Union

from sockscript.findings.finding import IN_TECHNIQUE, Finding
from sockscript.text.source import Problem, Source


class Mend(NamedTuple):
    """A change of one line: part of it replaced, a line put before or after it, or the line out.

    ``start`` and ``end`` are columns from 1, for ``replace``.
    """

    line: int
    what: Literal["replace", "before", "after", "out"]
    text: str = ""
    start: int = 1
    end: int = 1


_LINES: dict[str, tuple[Literal["before", "after", "out"], str]] = {
    "fold-with-yarn": ("before", "cut"),
    "fold-with-comb": ("before", "remove comb"),
    "yarn-not-cut": ("before", "cut"),
    "bed-left-resting": ("before", "set {bed} to knit"),
    "bed-left-knitting": ("before", "set {bed} to rest"),
    "not-set-to-circular": ("before", "set both to circular"),
    "circular-on-one-bed": ("before", "set both to circular"),
    "empty-needle-catches": ("before", "take empty of {bed} out of work"),
    "hold-on-wrong-bed": ("before", "respect hold on {bed}"),
    "never-comb-off": ("before", "remove comb"),
    "nothing-to-cut": ("out", ""),
    "already-hung": ("out", ""),
    "not-hung": ("out", ""),
    "allow-without-effect": ("out", ""),
}
"""For each finding: where a line goes, and what stands in it."""

_MEANT = re.compile(r"Did you mean '([^']+)'\?")
_QUOTED = re.compile(r"'([^']+)'")
_BED = re.compile(r"the (front|back) bed")
_KNIT = re.compile(r"\s*knit\s+(\S++(?:\s++\S++)*?)\s++(rows?)\s*+(?:#.*)?$", re.I)
_WRITE = re.compile(r"Write '([^']+)'\.")


def mend_for(one: Finding | Problem) -> Mend | None:
    """The mend of a finding, if there is one that is sure."""
    if isinstance(one, Problem):
        return _in_line(one)
    if any(other.label == IN_TECHNIQUE for other in one.others):
        # It happened inside a technique: a line beside the call may not be the place.
        return None
    if one.kind == "odd-pass-in-tube":
        return _made_even(one)
    known = _LINES.get(one.kind)
    if known is None:
        return None
    where, text = known
    beds = _BED.findall(one.message)
    if "{bed}" in text and not beds:
        return None
    # Where a sentence names both, the bed that is set wrongly comes last.
    return Mend(one.at.line, where, text.format(bed=beds[-1] if beds else ""))


def _made_even(one: Finding) -> Mend | None:
    """The odd number of rows, written out, in the nearest line above that knits rows: one more."""
    source = one.at.source
    for number in range(one.at.line - 1, 0, -1):
        match = _KNIT.match(source.line(number))
        if match is None:
            continue
        rows = match.group(1)
        if not rows.isdigit() or int(rows) % 2 == 0:
            return None
        text = str(int(rows) + 1) + (" rows" if match.group(2).lower() == "row" else "")
        end = match.end(2) if match.group(2).lower() == "row" else match.end(1)
        return Mend(number, "replace", text, match.start(1) + 1, end + 1)
    return None


def _in_line(problem: Problem) -> Mend | None:
    """The right word for a wrong one."""
    at, text = problem.at, problem.at.source.line(problem.at.line)
    marked = text[at.start - 1:at.end - 1]
    meant = _MEANT.search(problem.hint)
    if meant is not None:
        wrong = _QUOTED.search(problem.message)
        if wrong is None:
            return Mend(at.line, "replace", meant.group(1), at.start, at.end) if marked else None
        found = list(re.finditer(rf"(?<![\w-]){re.escape(wrong.group(1))}(?![\w-])", text, re.I))
        inside = [m for m in found if at.start <= m.start() + 1 and m.end() < at.end] or found
        if len(inside) != 1:
            return None
        return Mend(at.line, "replace", meant.group(1), inside[0].start() + 1,
                    inside[0].end() + 1)
    write = _WRITE.fullmatch(problem.hint)
    if write is not None and marked:
        return Mend(at.line, "replace", f" {write.group(1)} ", at.start, at.end)
    if problem.message.startswith("A value is given with =") and marked:
        return Mend(at.line, "replace", "=", at.start, at.end)
    if problem.kind == "decimal-comma":
        return Mend(at.line, "replace", marked.replace(",", "."), at.start, at.end)
    if problem.hint == "Leave it out." or problem.message == "No colon is needed here.":
        return Mend(at.line, "replace", "", at.start, at.end)
    return None


def mended(source: Source, found: Iterable[Union[Finding, Problem]]) -> str | None:
    """The text of a script with every sure mend made, or None if there is none.

    One mend a line: what is left shows when the script is checked again.
    """
    lines = list(source.lines)
    mends: dict[int, Mend] = {}
    tabs = False
    for one in found:
        if one.at.source.name != source.name:
            continue
        if one.kind == "tabs-and-spaces":
            tabs = True
            continue
        mend = mend_for(one)
        if mend is not None:
            mends.setdefault(mend.line, mend)
    if not mends and not tabs:
        return None
    for number in sorted(mends, reverse=True):
        _change(lines, mends[number])
    if tabs:
        lines = [_with_spaces(line) for line in lines]
    return "\n".join(lines) + "\n"


def _change(lines: list[str], mend: Mend) -> None:
    at = mend.line - 1
    line = lines[at]
    indent = line[:len(line) - len(line.lstrip())]
    if mend.what == "out":
        del lines[at]
    elif mend.what == "before":
        lines.insert(at, indent + mend.text)
    elif mend.what == "after":
        lines.insert(at + 1, indent + mend.text)
    else:
        lines[at] = replaced(line, mend)


def replaced(line: str, mend: Mend) -> str:
    """A line with part of it replaced, and no more blanks left than belong there."""
    indent = line[:len(line) - len(line.lstrip())]
    before, after = line[:mend.start - 1], line[mend.end - 1:]
    if mend.text.startswith(" "):
        before, after = before.rstrip(), after.lstrip()
    elif not mend.text:
        after = after.lstrip() if before.endswith(" ") else after
    return indent + (before + mend.text + after).strip()


def _with_spaces(line: str) -> str:
    body = line.lstrip(" \t\u00a0")
    lead = line[:len(line) - len(body)]
    return lead.replace("\u00a0", " ").expandtabs(4) + body
