"""Racking while strands run from bed to bed."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind
from sockscript.operations import ops

MOST_AT_ONCE = 2
"""Needles that the bed is racked by between two rows over both beds; more pull the strands tight
over the needles: common practice (one or two, with a row between), no source."""

RACKED_AT_ONCE = Kind(
    "racked-at-once", "warning",
    "The bed is racked by {amount} needles without a row between, and every strand from bed to bed "
    "must reach as far: needles bend, or the yarn breaks.",
    "Rack by one or two needles at a time and knit a row or two between.",
    follows=("racking-too-far",))


def racked_at_once(run: Run) -> list[Mishap]:
    """A bed racked further than strands reach that the last row laid from bed to bed.

    In rounds no strand but those at the ends runs between the beds, and with one bed empty none.
    """
    found = []
    laid: int | None = None
    for change in run.changes_by(ops.Rack, ops.Knit) if run.changes_by(ops.Rack) else ():
        before, after = change.before, change.after
        if isinstance(change.op, ops.Rack):
            if laid is not None and before.on_both \
                    and abs(after.racking - laid) > MOST_AT_ONCE:
                found.append(change.mishap(RACKED_AT_ONCE.fault(amount=abs(after.racking - laid))))
                laid = None
        elif before.front.acting(own_way=False) and before.back.acting(own_way=False):
            laid = before.racking
        elif before.front.acting(own_way=True) or before.back.acting(own_way=True):
            laid = None
    return found
