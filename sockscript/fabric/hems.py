"""Hems: rows that lie double because an open edge is hung on the needles again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from sockscript.expand.run import Run
from sockscript.operations import ops
from sockscript.operations.beds import BEDS, Bed
from sockscript.trace.state import Snapshot

Rows = tuple[int, int]
"""Rows of the front and of the back bed."""


def rows_inside(run: Run, knitted: Mapping[int, Rows]) -> dict[int, list[Fraction]]:
    """How many rows of each pass lie inside a hem, front and back, by the index of its moment.

    A marked edge that is hung on loops closes a hem: of the rows that the bed has knitted
    between, those of the first half lie behind the others.  ``knitted``: the rows of every pass
    that counts, by the index of its moment.
    """
    inside: dict[int, list[Fraction]] = {}
    marked: dict[str, int] = {}
    for index, op, before, _, _ in run.changes_by(ops.Mark, ops.Rehang):
        if isinstance(op, ops.Mark) and op.kind == "edge":
            marked.setdefault(op.name, index)
        elif isinstance(op, ops.Rehang) and op.name in marked:
            between = [n for n in range(marked.pop(op.name), index) if n in knitted]
            for bed in _hung_on(before, op):
                _first_half(inside, knitted, between, bed)
    return inside


def _hung_on(before: Snapshot, op: ops.Rehang) -> list[Bed]:
    """The beds where the edge meets loops."""
    return [bed for bed in BEDS
            if any(at == bed and before.bed(bed).loaded >> needle & 1 for at, needle in op.targets)]


def _first_half(inside: dict[int, list[Fraction]], knitted: Mapping[int, Rows],
                between: Iterable[int], bed: Bed) -> None:
    """Turn in the first half of the rows that a bed knits in some passes."""
    rows = {n: knitted[n][bed] for n in between}
    left = Fraction(sum(rows.values()), 2)
    for n, count in rows.items():
        part = min(left, Fraction(count))
        # Two edges may be hung on one bed: a row lies double only once.
        found = inside.setdefault(n, [Fraction(0), Fraction(0)])
        found[bed] = max(found[bed], part)
        left -= part
