"""What must not be left over: held needles before rounds, and anything live at the end."""

from __future__ import annotations

from sockscript.expand.record import Mishap, Moment
from sockscript.expand.run import Run
from sockscript.operations.beds import BEDS, Bed
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
        state = moment.state.front if bed is Bed.FRONT else moment.state.back
        held = state.loaded & state.hold
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
    found: list[Mishap] = []
    told = [0, 0]
    for index, moment in enumerate(run.moments):
        op = moment.op
        if type(op) is not Knit or not op.intent.rounds:
            continue
        for bed in BEDS:
            state = moment.state.front if bed is Bed.FRONT else moment.state.back
            held = state.loaded & state.hold if state.hold_respected else 0
            if held & ~told[bed]:
                told[bed] |= held
                found.append(_mishap(Fault("held-never-returned", bed, held), index, moment))
    return found


def _mishap(fault: Fault, index: int, moment: Moment) -> Mishap:
    return Mishap(fault, moment.places, index, moment.instruction)
