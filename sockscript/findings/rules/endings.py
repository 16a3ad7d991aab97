"""What must not be left over: held needles before rounds, and anything live at the end."""

from __future__ import annotations

from sockscript.expand.record import Mishap, Moment
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind, LineBefore
from sockscript.findings.origins import COMB_HUNG, HELD, IT_THREADED
from sockscript.operations.beds import BEDS, Bed
from sockscript.operations.ops import Knit
from sockscript.trace.faults import Fault

HELD_NEVER_RETURNED = Kind(
    "held-never-returned", "fault",
    "{Needles} of the {bed} bed {are} still in hold with {loops}.",
    "Return the needles to work before this.",
    led=HELD)

LIVE_STITCHES_LEFT = Kind(
    "live-stitches-left", "fault",
    "The pattern ends with {loops} still on {needles} of the {bed} bed.",
    "Graft, bind off, gather or scrap off what is left.")

GROUP_LEFT = Kind(
    "group-left", "fault",
    "The pattern ends with '{name}' not taken up: {stitches} stay open.",
    "Rehang or graft these stitches before the end.")

YARN_LEFT_IN_FEEDER = Kind(
    "yarn-left-in-feeder", "warning",
    "The pattern ends with {name} still in the feeder.",
    "Cut it at the end.",
    led=IT_THREADED)

NEVER_COMB_OFF = Kind(
    "never-comb-off", "warning",
    "The comb is still hung when the pattern ends.",
    "Write  remove comb  before the end.",
    mend=LineBefore("remove comb"),
    led=COMB_HUNG)


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
            found.append(_mishap(HELD_NEVER_RETURNED.fault(bed, held), last, moment))
        if state.loaded & ~held:
            found.append(_mishap(LIVE_STITCHES_LEFT.fault(bed, state.loaded & ~held), last,
                                 moment))
    for name, group in run.engine.groups.items():
        if group.kind != "edge":
            found.append(_mishap(GROUP_LEFT.fault(amount=len(group.stacks), name=name), last,
                                 moment))
    if run.engine.feeder is not None:
        found.append(_mishap(YARN_LEFT_IN_FEEDER.fault(name=run.engine.feeder), last, moment))
    if run.engine.comb:
        found.append(_mishap(NEVER_COMB_OFF.fault(), last, moment))
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
                found.append(_mishap(HELD_NEVER_RETURNED.fault(bed, held), index, moment))
    return found


def _mishap(fault: Fault, index: int, moment: Moment) -> Mishap:
    return Mishap(fault, moment.places, index, moment.instruction)
