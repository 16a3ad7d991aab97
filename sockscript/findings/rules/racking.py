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
        op, before, after = change.op, change.before, change.after
        if isinstance(op, ops.Rack):
            if laid is not None and before.on_both \
                    and abs(after.racking - laid) > MOST_AT_ONCE:
                found.append(change.mishap(RACKED_AT_ONCE.fault(amount=abs(after.racking - laid))))
                laid = None
        elif isinstance(op, ops.Knit):
            to_front = after.carriage == run.engine.profile.front_circular
            for front_way in (not to_front, to_front)[-op.passes:]:
                beds = before.front.acting(front_way), before.back.acting(not front_way)
                if any(beds):
                    laid = before.racking if all(beds) else None
    return found
