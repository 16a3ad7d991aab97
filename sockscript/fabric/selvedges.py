"""Side edges that loops can be picked up along: which rows reach them, and which are still open."""

from __future__ import annotations

from typing import NamedTuple

from sockscript.expand.record import Transition
from sockscript.expand.run import Run, once
from sockscript.fabric.begun import beginnings
from sockscript.operations import ops
from sockscript.operations.beds import BEDS, SIDES, Bed, Side, highest, lowest
from sockscript.trace.state import BedState


class PickedUp(NamedTuple):
    """Loops picked up along an edge: the line's operation, and how many open rows the edge had."""

    change: Transition
    there: int


@once
def picked_up(run: Run) -> list[PickedUp]:
    """Every edge that is picked up, with the rows that it has at that moment.

    A row reaches the edge of a bed if it works the outermost stitch there and is no round: the
    other bed rests, has no stitches, or is worked in the same row to its own end.  A round closes
    the edge, sewing the sides too; a group that is folded over takes it away; and each row is
    picked up along only once.  Rows of waste yarn come out again.
    """
    if not run.changes_by(ops.PickUp):
        return []
    begun = set(beginnings(run))
    way = run.engine.profile.front_circular
    rows: dict[tuple[Bed, Side], int] = {}
    found = []
    for change in run.changes():
        op, before = change.op, change.before
        if change.number in begun or isinstance(op, (ops.Fold, ops.SewSides)):
            rows.clear()
        if isinstance(op, ops.PickUp):
            there = rows.get((op.bed, op.side), 0)
            found.append(PickedUp(change, there))
            rows[op.bed, op.side] = max(0, there - op.rows)
        elif type(op) is ops.Knit and before.feeder is not None and before.feeder not in run.waste:
            turns = before.turns(op.passes, way)
            states = before.front, before.back
            if all(turns) and before.both_circular:
                rows.clear()
                continue
            for side in SIDES:
                if all(_reaches(state, change.after.bed(bed), side)
                       for bed, state in zip(BEDS, states, strict=True) if turns[bed]):
                    for bed in BEDS:
                        rows[bed, side] = rows.get((bed, side), 0) + turns[bed]
    return found


def _reaches(before: BedState, after: BedState, side: Side) -> bool:
    """Whether a pass over a bed works its outermost stitch."""
    if not after.loaded:
        return False
    edge = lowest(after.loaded) if side == "left" else highest(after.loaded)
    return bool(before.worked >> edge & 1)
