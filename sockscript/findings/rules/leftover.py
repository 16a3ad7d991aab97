"""Needles that stay in work when a piece is taken off, and get a stitch when the next is begun."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind
from sockscript.findings.origins import STITCHES_WENT
from sockscript.operations import ops
from sockscript.operations.beds import BEDS, Bed

LEFTOVER_NEEDLES = Kind(
    "leftover-needles", "warning",
    "{Needles} of the {bed} bed {are} still in work from before: {they} {get} a stitch too, beside "
    "the needles that were brought into work for this.",
    "Write  take empty of {bed} out of work  before the line that brings the needles into work, or "
    "name them all there.",
    led=STITCHES_WENT)


def leftover_needles(run: Run) -> list[Mishap]:
    """Stitches cast on over needles of an earlier piece, where others were brought into work since.

    Needles from which stitches are scrapped off, dropped or transferred stay in work. Where none
    are brought into work since, the same are meant again.
    """
    brought: dict[Bed, int] = dict.fromkeys(BEDS, 0)
    found = []
    for change in run.changes_by(ops.Place, ops.CastOn, ops.Knit, ops.ScrapOff, ops.Gather,
                                 ops.Graft, ops.Transfer, ops.Fold, ops.Drop):
        op = change.op
        if isinstance(op, ops.Knit) and change.before.on_both:
            continue  # almost all rows: nothing is cast on in them
        for bed in BEDS:
            before, after = change.before.bed(bed), change.after.bed(bed)
            if isinstance(op, ops.Place):
                brought[bed] |= op.on(bed) if op.position != "out" else 0
            elif isinstance(op, (ops.CastOn, ops.Knit)):
                left = after.loaded & ~brought[bed]
                if left and brought[bed] and not before.loaded:
                    found.append(change.mishap(LEFTOVER_NEEDLES.fault(bed, left)))
            elif before.loaded and not after.loaded:
                brought[bed] = 0
    return found
