"""The mend of a finding, and a script with all sure mends made."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Union

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.filled_in import Fields
from sockscript.findings.finding import Finding
from sockscript.findings.kind import Kind, LineBefore, LineOut
from sockscript.text.mend import Mend, PutBefore, TakeOut, mended_lines
from sockscript.text.source import Problem, Source


def mend_of(kind: Kind, mishap: Mishap, run: Run, line: int) -> Mend | None:
    """The mend of a mishap that is told of a line of the script, if there is one that is sure."""
    if isinstance(kind.mend, LineBefore):
        return PutBefore(line, kind.mend.text.format_map(Fields(mishap, run)))
    if isinstance(kind.mend, LineOut):
        return TakeOut(line)
    return kind.mend(mishap, run) if kind.mend is not None else None


def mended(source: Source, found: Iterable[Union[Finding, Problem]]) -> str | None:
    """The text of a script with every sure mend made, or None if there is none.

    One mend a line: what is left shows when the script is checked again.
    """
    mends = [one.mend for one in found
             if one.mend is not None and one.at.source.name == source.name]
    return "\n".join(mended_lines(source.raw, mends)) + "\n" if mends else None
