"""What must not be left over: held needles before rounds, and anything live at the end."""

from __future__ import annotations

from sockscript.expand.record import Mishap, Moment
from sockscript.expand.run import Run
from sockscript.operations.beds import BEDS, Bed, facing
from sockscript.operations.ops import Knit
from sockscript.trace.faults import Fault


def endings(run: Run) -> list[Mishap]:
    """Held needles that rounds pass by, and stitches, groups, yarn and comb left at the end."""
    found = _held_in_rounds(run)
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
    if run.engine.feeder is not None:
        found.append(_mishap(Fault("yarn-left-in-feeder", name=run.engine.feeder), last, moment))
    if run.engine.comb:
        found.append(_mishap(Fault("never-comb-off"), last, moment))
    return found


def _held_in_rounds(run: Run) -> list[Mishap]:
    """Stitches that wait in hold on one bed of a tube while it is knitted on.

    Where those that wait on both beds face each other, the rest is a narrower tube.
    """
    found: list[Mishap] = []
    told = [0, 0]
    for index, moment in enumerate(run.moments):
        state = moment.state
        if type(moment.op) is not Knit or not state.front.action == state.back.action == "circular":
            continue
        waiting = [one.held if one.hold_respected else 0 for one in (state.front, state.back)]
        if waiting[0] == facing(Bed.BACK, waiting[1], state.racking):
            continue
        for bed in BEDS:
            held = waiting[bed]
            if held & ~told[bed]:
                told[bed] |= held
                found.append(_mishap(Fault("held-never-returned", bed, held), index, moment))
    return found


def _mishap(fault: Fault, index: int, moment: Moment) -> Mishap:
    return Mishap(fault, moment.places, index, moment.instruction)
