"""What must not be left over when the pattern ends."""

from __future__ import annotations

from sockscript.expand.record import Mishap, Moment
from sockscript.expand.run import Run
from sockscript.operations.beds import BEDS
from sockscript.trace.faults import Fault


def endings(run: Run) -> list[Mishap]:
    """Stitches, groups, ladders, yarn and comb left at the end."""
    found: list[Mishap] = []
    if not run.moments or run.stopped is not None:
        return found
    last = len(run.moments) - 1
    moment = run.moments[last]
    for bed in BEDS:
        state = moment.state.bed(bed)
        held = state.held
        if held:
            found.append(_mishap(Fault("held-never-returned", bed, held), last, moment))
        if state.loaded & ~held:
            found.append(_mishap(Fault("live-stitches-left", bed, state.loaded & ~held), last,
                                 moment))
    for name, group in run.engine.groups.items():
        if group.kind != "edge":
            found.append(_mishap(Fault("group-left", amount=len(group.stacks), name=name), last,
                                 moment))
    for bed in BEDS:
        ladders = sum(1 << needle for needle, stack in run.engine.ladders(bed).items() if stack)
        if ladders:
            found.append(_mishap(Fault("dropped-never-latched", bed, ladders), last, moment))
    if run.engine.feeder is not None:
        found.append(_mishap(Fault("yarn-left-in-feeder", name=run.engine.feeder), last, moment))
    if run.engine.comb:
        found.append(_mishap(Fault("never-comb-off"), last, moment))
    return found


def _mishap(fault: Fault, index: int, moment: Moment) -> Mishap:
    return Mishap(fault, moment.places, index, moment.instruction)
