"""Hems: rows that lie double because an edge is hung on the needles again or sewn down."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from sockscript.expand.record import Transition
from sockscript.expand.run import Run
from sockscript.fabric.begun import beginnings, piece_at
from sockscript.operations import ops
from sockscript.operations.beds import BEDS, Bed
from sockscript.trace.state import Snapshot

RowsByBed = tuple[int, int]
"""Rows of the front and of the back bed."""


def rows_inside(run: Run, knitted: Mapping[int, RowsByBed]) -> dict[int, list[Fraction]]:
    """How many rows of each pass lie inside a hem, front and back, by the index of its moment.

    A marked edge that is hung on loops closes a hem: of the rows that the bed has knitted
    between, those of the first half lie behind the others.  Of a hem that is sewn down so many
    rows lie inside as the line says.  ``knitted``: the rows of every pass that counts, by the
    index of its moment.
    """
    inside: dict[int, list[Fraction]] = {}
    marked: dict[str, int] = {}
    for index, op, before, _, _ in run.changes_by(
            ops.Mark, ops.Rehang, ops.GraftGroups, ops.SewDown):
        if isinstance(op, ops.Mark) and op.kind == "edge":
            marked.setdefault(op.name, index)
        elif isinstance(op, ops.Rehang) and op.name in marked:
            between = [n for n in range(marked.pop(op.name), index) if n in knitted]
            for bed in _hung_on(before, op):
                _first_half(inside, knitted, between, bed)
        elif isinstance(op, ops.GraftGroups):
            marked.pop(op.first, None)
            marked.pop(op.second, None)
        elif isinstance(op, ops.SewDown):
            if op.name:
                begun = marked.pop(op.name, index)
            else:
                piece = piece_at(run, index)
                begun = beginnings(run)[piece] if piece >= 0 else index
            between = [n for n in range(begun, index) if n in knitted]
            for bed in BEDS:
                _turn_in(inside, knitted, between[::1 if op.part == "first" else -1], bed,
                         Fraction(op.rows), twice=True)
    return inside


def rows_before(run: Run, index: int, knitted: Mapping[int, RowsByBed]) -> int:
    """Rows of the piece on the bed that knitted most of them, up to a hem that is sewn down."""
    op = run.moments[index].op
    assert isinstance(op, ops.SewDown)
    begun = beginnings(run)[piece_at(run, index)] if piece_at(run, index) >= 0 else index
    if op.name:
        begun = max((n for n, moment in enumerate(run.moments[:index])
                     if isinstance(moment.op, ops.Mark) and moment.op.name == op.name),
                    default=index)
    return max(sum(knitted[n][bed] for n in range(begun, index) if n in knitted) for bed in BEDS)


def meets_loops(change: Transition) -> bool:
    """Whether what is hung up meets stitches that are on the needles."""
    return isinstance(change.op, ops.Rehang) and bool(_hung_on(change.before, change.op))


def _hung_on(before: Snapshot, op: ops.Rehang) -> list[Bed]:
    """The beds where the edge meets loops."""
    return [bed for bed in BEDS
            if any(at == bed and before.bed(bed).loaded >> needle & 1 for at, needle in op.targets)]


def _first_half(inside: dict[int, list[Fraction]], knitted: Mapping[int, RowsByBed],
                between: Iterable[int], bed: Bed) -> None:
    """Turn in the first half of the rows that a bed knits in some passes."""
    passes = list(between)
    _turn_in(inside, knitted, passes, bed, Fraction(sum(knitted[n][bed] for n in passes), 2))


def _turn_in(inside: dict[int, list[Fraction]], knitted: Mapping[int, RowsByBed],
             between: Iterable[int], bed: Bed, left: Fraction, twice: bool = False) -> None:
    """Turn in so many of the rows that a bed knits in some passes, in their order.

    ``twice``: not the rows that another hem turns in already, but as many more.
    """
    for n in between:
        part = min(left, Fraction(knitted[n][bed]))
        # Two edges may be hung on one bed: a row lies double only once.
        found = inside.setdefault(n, [Fraction(0), Fraction(0)])
        found[bed] = min(Fraction(knitted[n][bed]), found[bed] + part) if twice \
            else max(found[bed], part)
        left -= part
