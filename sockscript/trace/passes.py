"""The carriage passes over the needles."""

from __future__ import annotations

from sockscript.operations.beds import BACK, FRONT, Bed, Side, facing, highest, lowest, other_side
from sockscript.operations.ops import Intent, Knit
from sockscript.trace.faults import Fault
from sockscript.trace.machine import Machine
from sockscript.trace.stacks import MOST_STRANDS, BedStacks
from sockscript.trace.yarn import (
    LONGEST_FLOAT,
    count_loops,
    count_strands,
    jump_to,
    outermost,
)


def knit(machine: Machine, op: Knit) -> list[Fault]:
    """Carry out all passes of one operation.

    Once the shape of the machine repeats after two passes, the passes that are left are taken
    in one move: the cost grows with what changes, not with the number of rows.
    """
    faults = _against_intent(machine, op.intent)
    if op.passes <= 4:
        for _ in range(op.passes):
            _one_pass(machine, faults)
    else:
        _many_passes(machine, op.passes, faults)
    return list(dict.fromkeys(faults)) if len(faults) > 1 else faults


def _many_passes(machine: Machine, passes: int, faults: list[Fault]) -> None:
    done = 0
    shapes: list[object] = [machine.shape()]
    tallies = [machine.tally()]
    while done < passes:
        _one_pass(machine, faults)
        done += 1
        shapes.append(machine.shape())
        tallies.append(machine.tally())
        if done >= 2 and shapes[-1] == shapes[-3]:
            periods = (passes - done) // 2
            machine.grow(tallies[-3], tallies[-1], periods)
            for _ in range(passes - done - 2 * periods):
                _one_pass(machine, faults)
            return
        del shapes[:-2], tallies[:-2]


def _against_intent(machine: Machine, intent: Intent) -> list[Fault]:
    """What stands otherwise than the line of rows or rounds takes for granted."""
    faults: list[Fault] = []
    if intent.start is not None and intent.start != machine.carriage:
        faults.append(Fault("wrong-carriage-side", name=machine.carriage))
    if intent.rounds:
        for bed in (FRONT, BACK):
            if machine.beds[bed].action != "circular":
                faults.append(Fault("not-set-to-circular", bed=bed))
        return faults
    if intent.beds:
        for bed in (FRONT, BACK):
            stacks = machine.beds[bed]
            if bed in intent.beds:
                if stacks.action == "rest":
                    faults.append(Fault("bed-left-resting", bed=bed))
            elif stacks.action != "rest" and stacks.worked:
                faults.append(Fault("bed-left-knitting", bed=bed))
    return faults


def acting(machine: Machine) -> tuple[int, int]:
    """The needles of the front and the back bed that the next pass works."""
    to_front = other_side(machine.carriage) == machine.profile.front_circular
    front, back = machine.beds
    return front.acting(to_front), back.acting(not to_front)


def _one_pass(machine: Machine, faults: list[Fault]) -> None:
    start: Side = machine.carriage
    direction = other_side(start)
    front_active, back_active = acting(machine)
    machine.carriage = direction
    machine.counter += 1
    if not front_active and not back_active:
        if not _cord_comes_back(machine):
            faults.append(Fault("nothing-knits"))
        return
    _work_beds(machine, front_active, back_active, start, faults)
    for stacks, active in zip(machine.beds, (front_active, back_active), strict=True):
        # The cams draw every needle that they work back to working position.
        if active & ~stacks.work:
            stacks.place(active, "work")


def _cord_comes_back(machine: Machine) -> bool:
    """Whether a few stitches on one bed alone are slipped on the way back, in circular."""
    used = [stacks for stacks in machine.beds if stacks.in_use]
    return (len(used) == 1 and used[0].action == "circular" and bool(used[0].worked)
            and highest(used[0].worked) - lowest(used[0].worked) <= LONGEST_FLOAT)


def _work_beds(machine: Machine, front_active: int, back_active: int, start: Side,
               faults: list[Fault]) -> None:
    front, back = machine.beds
    if front_active and back_active and machine.pitch == "full":
        collide = front_active & facing(BACK, back_active, machine.racking)
        if collide:
            faults.append(Fault("beds-collide", FRONT, collide))
    if machine.feeder is None:
        if front_active:
            _without_yarn(machine, FRONT, front_active, faults)
        if back_active:
            _without_yarn(machine, BACK, back_active, faults)
        return
    faults += jump_to(machine, outermost(machine, front_active, back_active, start))
    cast_on_row = not (front_active & front.loaded or back_active & back.loaded)
    if front_active:
        _work(machine, FRONT, front_active, cast_on_row, faults)
    if back_active:
        _work(machine, BACK, back_active, cast_on_row, faults)
    machine.attached = outermost(machine, front_active, back_active, other_side(start))


def _without_yarn(machine: Machine, bed: Bed, active: int, faults: list[Fault]) -> None:
    stacks = machine.beds[bed]
    lost = active & stacks.loaded & ~_tucking(stacks)
    if lost:
        machine.dropped += stacks.loops_on(lost)
        stacks.clear(lost)
    faults.append(Fault("pass-without-yarn", bed, lost))


def _tucking(stacks: BedStacks) -> int:
    """The needles that lay the yarn over their loops, if any yarn comes to them."""
    return -1 if stacks.action == "tuck" else stacks.tuck


def _work(machine: Machine, bed: Bed, active: int, cast_on_row: bool, faults: list[Fault]) -> None:
    """One bed in one pass with yarn in the feeder."""
    stacks = machine.beds[bed]
    yarn = machine.feeder
    assert yarn is not None
    empty = active & ~stacks.loaded
    if empty:
        cast_on = empty if cast_on_row else empty & stacks.wanted_cast_on
        made = empty & ~cast_on
        unwanted = made & ~stacks.wanted_increase
        machine.cast_on += cast_on.bit_count()
        machine.made += made.bit_count()
        if unwanted:
            faults.append(Fault("empty-needle-catches", bed, unwanted))
    laid = active & ~empty & _tucking(stacks)
    formed = active & ~laid
    if formed:
        machine.joined += stacks.form(formed, yarn)
        count_loops(machine, formed.bit_count())
    if laid:
        stacks.lay(laid)
        count_strands(machine, laid.bit_count())
        heaped = stacks.heaped(laid)
        if heaped:
            faults.append(Fault("too-many-strands", bed, heaped, MOST_STRANDS))
