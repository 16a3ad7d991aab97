"""Increases one upon the other: a loop lifted from below what was itself only just lifted."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind, LedBy
from sockscript.operations import ops
from sockscript.operations.beds import BEDS

LIFTED_TWICE = Kind(
    "lifted-twice", "warning",
    "A loop is to be lifted onto {needles} of the {bed} bed from below its neighbour, but that "
    "stitch was itself only lifted since the last row: there is no loop below it.",
    "Knit a row, in a tube a round, between two increases at the same place.",
    led=LedBy(lambda change, mishap: isinstance(change.op, ops.Fill),
              "The loop beside it was lifted here"))


def lifted_twice(run: Run) -> list[Mishap]:
    """Empty needles filled from a stitch that was made in this way since its bed knitted last."""
    found: list[Mishap] = []
    lifted = [0, 0]
    if not run.changes_by(ops.Fill):
        return found
    for change in run.changes_by(ops.Fill, ops.Fashion, ops.Transfer, ops.Fold, ops.Rehang,
                                 ops.Knit):
        op = change.op
        if isinstance(op, ops.Fill):
            if lifted[op.bed] >> op.neighbour & 1:
                found.append(change.mishap(LIFTED_TWICE.fault(op.bed, 1 << op.needle)))
            lifted[op.bed] |= 1 << op.needle & change.after.bed(op.bed).loaded
        elif isinstance(op, ops.Fashion):
            moved = sum(1 << target for source, target in op.moves if lifted[op.bed] >> source & 1)
            stayed = lifted[op.bed] & ~sum(1 << source for source, _ in op.moves)
            lifted[op.bed] = stayed | moved
        elif isinstance(op, ops.Knit):
            for bed in BEDS:
                state = change.before.bed(bed)
                lifted[bed] &= ~(state.active if state.action != "rest" else 0)
        else:
            lifted = [0, 0]  # moved by single stitches: nothing is said of them
    return found
