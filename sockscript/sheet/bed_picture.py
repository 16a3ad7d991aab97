"""Both beds at one moment, in plain characters with a legend."""

from __future__ import annotations

from sockscript.operations.beds import highest, lowest, needle_name
from sockscript.text.width import filled, page
from sockscript.trace.in_words import whole_machine
from sockscript.trace.state import BedState, Snapshot
from sockscript.trace.symbols import legend, symbol

MOST = 80
"""Needles in one strip at most; a wider bed, or one on a narrower page, is drawn in several."""
BESIDE = 10
"""Columns beside them: the name of the bed, and that of the last needle."""


def picture(state: Snapshot, needles: int, yarn: str, beds: int = 2) -> str:
    """The beds (or the only one) with needle numbers, the carriage, the counter and the yarn."""
    racking = state.racking if beds == 2 else 0
    used = [(lowest(mask) + shift - 1, highest(mask) + shift + 1) for mask, shift in
            ((_used(state.front), 0), (_used(state.back), racking)) if mask]
    machine, *rest = whole_machine(state, beds, yarn)
    lines = [filled(machine), ""]
    if not used:
        lines.append("All needles are out of work.")
    else:
        first, last = (min(low for low, _ in used), max(high for _, high in used))
        if not racking:
            first, last = max(first, 0), min(last, needles - 1)
        seen: set[str] = set()
        room = min(MOST, page() - BESIDE)
        strips = -(-(last - first + 1) // room)
        each = -(-(last - first + 1) // strips)
        for start in range(first, last + 1, each):
            end = min(start + each - 1, last)
            lines += [*_strip(state, start, end, needles, seen, beds), ""]
        lines.append(filled("Legend: " + legend(seen), below="  ", lead=""))
    lines += map(filled, rest)
    return "\n".join(lines) + "\n"


def _used(bed: BedState) -> int:
    return bed.in_use | bed.loaded


def _strip(state: Snapshot, start: int, end: int, needles: int, seen: set[str],
           beds: int) -> list[str]:
    """Needles that face each other stand below each other; ``start`` and ``end`` are those of the
    front bed.  Racked beds have their numbers each on its own side."""
    racking = state.racking if beds == 2 else 0
    rows = []
    for label, bed, shift in (("back ", state.back, racking), ("front", state.front, 0))[2 - beds:]:
        drawn = "".join(symbol(bed, n) if 0 <= n < needles else " "
                        for n in range(start - shift, end - shift + 1))
        seen.update(drawn)
        rows.append(f"{label} {drawn}".rstrip())
    above = _numbers(start - racking, end - racking, needles)
    return [*above, *rows, *(_numbers(start, end, needles)[::-1] if racking else ())]


def _numbers(start: int, end: int, needles: int) -> list[str]:
    """The names of some needles of a bed, and ticks below them."""
    marks = [" "] * (end - start + 8)
    ticks = [" "] * (end - start + 1)
    free = 0
    for needle in range(max(start, 0), min(end + 1, needles)):
        name = needle_name(needle, needles)
        number = int(name[1:])
        if number == 1 or number % 10 == 0 or needle in (start, end):
            column = needle - start
            ticks[column] = "|"
            if column >= free:
                marks[column:column + len(name)] = name
                free = column + len(name) + 1
    return [f"      {''.join(marks)}".rstrip(), f"      {''.join(ticks)}".rstrip()]

