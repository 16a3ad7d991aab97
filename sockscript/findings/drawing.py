"""The few needles that a finding is about, as they are just before it happens."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.operations.beds import Bed, highest, lowest, needle_name
from sockscript.text.width import filled, page
from sockscript.trace.symbols import legend, symbol

AROUND = 6
"""Needles drawn on either side of those concerned."""
BESIDE = 12
"""Columns beside them."""
WIDEST = 64
"""More needles than this are not drawn: the numbers say it better."""
HERE = "!"


def drawing(mishap: Mishap, run: Run) -> str:
    """Both beds around the needles concerned, with their numbers and a legend; empty if the
    finding is not about needles."""
    mask = mishap.fault.needles
    if not mask or mishap.fault.bed is None or mishap.moment <= 0:
        return ""
    before = run.changes()[mishap.moment].before
    needles = run.engine.profile.needles
    first, last = max(0, lowest(mask) - AROUND), min(needles - 1, highest(mask) + AROUND)
    if last - first >= min(WIDEST, page() - BESIDE):
        return ""
    seen: set[str] = set()
    rows = []
    for bed, state in ((Bed.BACK, before.back), (Bed.FRONT, before.front)):
        if bed is not mishap.fault.bed and not (state.loaded or state.work):
            continue
        # The bed beside stands racked as it was.
        aside = 0 if bed is mishap.fault.bed else (
            before.racking if bed is Bed.FRONT else -before.racking)
        drawn = "".join(symbol(state, needle) if 0 <= needle < needles else " "
                        for needle in range(first + aside, last + aside + 1))
        seen.update(drawn)
        rows.append(f"    {bed.word:<6}{drawn}".rstrip())
        if bed is mishap.fault.bed:
            rows.append(" " * 10 + "".join(
                HERE if mask >> needle & 1 else " " for needle in range(first, last + 1)).rstrip())
    names = _names(lowest(mask), highest(mask), first, last, needles)
    told = legend(seen)
    lead = "  Just before:"
    top = [lead + names[len(lead):]] if names[:len(lead)].isspace() else [lead, names]
    return "\n".join([*top, *rows, filled(f"{told}{'; ' if told else ''}{HERE} here", "    ")])


def _names(low: int, high: int, first: int, last: int, needles: int) -> str:
    """The names of the outermost needles concerned, above their columns."""
    line = [" "] * (10 + last - first + 8)
    start, end = needle_name(low, needles), needle_name(high, needles)
    column = 10 + low - first
    line[column:column + len(start)] = start
    other = 10 + high - first
    if other > column + len(start):
        line[other:other + len(end)] = end
    return "".join(line).rstrip()
