"""Findings that the author knows of and allows, with her reason.

An ``allow`` at the left margin holds for the whole script, one inside a block for the line that
follows it and for what is indented under that line.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from sockscript.findings.catalogue import KINDS
from sockscript.findings.finding import Finding
from sockscript.findings.kinds.expected import ALLOW_WITHOUT_EFFECT
from sockscript.text.mend import TakeOut
from sockscript.text.source import Problem, Span
from sockscript.tree import statements as st
from sockscript.tree.script import Script
from sockscript.tree.slips import nearest


class Allowance(NamedTuple):
    """An ``allow`` line and the lines of its file that it holds for (None: all of the script)."""

    line: st.Allow
    lines: range | None

    def covers(self, kind: str, at: Span) -> bool:
        """Whether a finding of this kind in this line of the script is allowed."""
        return kind == self.line.name and (
            self.lines is None or (at.source is self.line.at.source and at.line in self.lines))


class Allowed(NamedTuple):
    """A finding that is allowed, and why."""

    finding: Finding
    reason: str


def allowances(script: Script) -> list[Allowance]:
    """All allowances of a script."""
    found = [Allowance(line, None) for line in script.allows]
    for section in script.sections:
        found.extend(_in_block(section.body))
    for technique in script.techniques.values():
        if script.wrote(technique.at):
            found.extend(_in_block(technique.body))
    return found


def _in_block(body: Sequence[st.Statement]) -> Iterator[Allowance]:
    waiting: list[st.Allow] = []
    for line in body:
        if isinstance(line, st.Allow):
            waiting.append(line)
            continue
        for allow in waiting:
            yield Allowance(allow, range(line.at.line, _last_line(line) + 1))
        waiting = []
        for block in ("body", "otherwise"):
            yield from _in_block(getattr(line, block, ()))
    for allow in waiting:
        yield Allowance(allow, range(0))


def _last_line(line: st.Statement) -> int:
    inner = [_last_line(part) for block in ("body", "otherwise")
             for part in getattr(line, block, ())]
    return max([line.at.line, *inner])


def unknown_names(script: Script) -> list[Problem]:
    """Allowances of findings that do not exist."""
    found = []
    for one in allowances(script):
        name = one.line.name
        if name not in KINDS:
            meant = nearest(name, set(KINDS))
            found.append(Problem(
                "unknown-finding", one.line.name_at, f"No finding is called '{name}'.",
                f"Did you mean '{meant}'?" if meant else
                "'sockscript explain' lists them all; what keeps a script from being checked "
                "cannot be allowed.", one.line.name_at.replaced_by(meant) if meant else None))
    return found


def sift(script: Script, findings: Sequence[Finding]) -> tuple[list[Finding], list[Allowed]]:
    """The findings that stay, with advice on allowances that no longer apply; those allowed."""
    known = allowances(script)
    used: set[int] = set()
    kept: list[Finding] = []
    allowed: list[Allowed] = []
    for finding in findings:
        number = next((n for n, one in enumerate(known)
                       if one.covers(finding.kind, finding.at)), None)
        if number is None:
            kept.append(finding)
        else:
            used.add(number)
            allowed.append(Allowed(finding, known[number].line.reason))
    for number, one in enumerate(known):
        if number not in used:
            kind, at = ALLOW_WITHOUT_EFFECT, one.line.at
            kept.append(Finding(kind.name, kind.severity, at,
                                kind.sentence.format(name=one.line.name), kind.advice,
                                mend=TakeOut(at.line)))
    kept.sort(key=lambda f: (f.when, f.at.line, f.at.start, f.kind))
    return kept, allowed
