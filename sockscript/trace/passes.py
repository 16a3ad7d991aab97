"""The carriage passes over the needles."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sockscript.operations.beds import BACK, FRONT, Bed, Side, facing, highest, lowest, other_side
from sockscript.operations.ops import Intent, Knit
from sockscript.trace.faults import Fault
from sockscript.trace.stacks import MOST_STRANDS
from sockscript.trace.state import acts
from sockscript.trace.yarn import (
    LONGEST_FLOAT,
    count_loops,
    count_strands,
    jump_to,
    outermost,
)

if TYPE_CHECKING:
    from sockscript.trace.engine import Engine


def knit(engine: Engine, op: Knit) -> list[Fault]:
    """Carry out all passes of one operation.

    Once the shape of the machine repeats after two passes, the passes that are left are taken
    in one move: the cost grows with what changes, not with the number of rows.
    """
    faults = _against_intent(engine, op.intent)
    if op.passes <= 4:
        for _ in range(op.passes):
            _one_pass(engine, faults)
    else:
        _many_passes(engine, op.passes, faults)
    return list(dict.fromkeys(faults)) if len(faults) > 1 else faults


def _many_passes(engine: Engine, passes: int, faults: list[Fault]) -> None:
    done = 0
    shapes: list[object] = [engine.shape()]
    tallies = [engine.tally()]
    while done < passes:
        _one_pass(engine, faults)
        done += 1
        shapes.append(engine.shape())
        tallies.append(engine.tally())
        if done >= 2 and shapes[-1] == shapes[-3]:
            periods = (passes - done) // 2
            engine.grow(tallies[-3], tallies[-1], periods)
            for _ in range(passes - done - 2 * periods):
                _one_pass(engine, faults)
            return
        del shapes[:-2], tallies[:-2]


def _against_intent(engine: Engine, intent: Intent) -> list[Fault]:
    faults: list[Fault] = []
    if intent.start is not None and intent.start != engine.carriage:
        faults.append(Fault("wrong-carriage-side", name=engine.carriage))
    if intent.rounds:
        for bed in (FRONT, BACK):
            if engine.beds[bed].action != "circular":
                faults.append(Fault("not-set-to-circular", bed=bed))
        return faults
    if intent.beds:
        for bed in (FRONT, BACK):
            stacks = engine.beds[bed]
            if bed in intent.beds:
                if stacks.action == "rest":
                    faults.append(Fault("bed-left-resting", bed=bed))
            elif stacks.action != "rest" and stacks.active:
                faults.append(Fault("bed-left-knitting", bed=bed))
    return faults


def acting(engine: Engine) -> tuple[int, int]:
    """The needles of the front and the back bed that the next pass works."""
    to_front = other_side(engine.carriage) == engine.profile.front_circular
    front, back = engine.beds
    return (front.active if acts(front.action, to_front) else 0,
            back.active if acts(back.action, not to_front) else 0)


def _one_pass(engine: Engine, faults: list[Fault]) -> None:
    start: Side = engine.carriage
    direction = other_side(start)
    front_active, back_active = acting(engine)
    engine.carriage = direction
    engine.counter += 1
    if not front_active and not back_active:
        if not _cord_comes_back(engine):
            faults.append(Fault("nothing-knits"))
        return
    _work_beds(engine, front_active, back_active, start, faults)
    for stacks, active in zip(engine.beds, (front_active, back_active), strict=True):
        # The cams draw every needle that they work back to working position.
        if active & ~stacks.work:
            stacks.place(active, "work")


def _cord_comes_back(engine: Engine) -> bool:
    """Whether a few stitches on one bed alone are slipped on the way back, in circular."""
    used = [stacks for stacks in engine.beds if stacks.in_use]
    return (len(used) == 1 and used[0].action == "circular" and bool(used[0].active)
            and highest(used[0].active) - lowest(used[0].active) <= LONGEST_FLOAT)


def _work_beds(engine: Engine, front_active: int, back_active: int, start: Side,
               faults: list[Fault]) -> None:
    front, back = engine.beds
    if front_active and back_active and engine.pitch == "full":
        collide = front_active & facing(BACK, back_active, engine.racking)
        if collide:
            faults.append(Fault("beds-collide", FRONT, collide))
    if engine.feeder is None:
        if front_active:
            _without_yarn(engine, FRONT, front_active, faults)
        if back_active:
            _without_yarn(engine, BACK, back_active, faults)
        return
    faults += jump_to(engine, outermost(engine, front_active, back_active, start))
    cast_on_row = not (front_active & front.loaded or back_active & back.loaded)
    if front_active:
        _work(engine, FRONT, front_active, cast_on_row, faults)
    if back_active:
        _work(engine, BACK, back_active, cast_on_row, faults)
    engine.attached = outermost(engine, front_active, back_active, other_side(start))


def _without_yarn(engine: Engine, bed: Bed, active: int, faults: list[Fault]) -> None:
    stacks = engine.beds[bed]
    lost = active & stacks.loaded if stacks.action != "tuck" else 0
    if lost:
        engine.dropped += stacks.loops_on(lost)
        stacks.clear(lost)
    faults.append(Fault("pass-without-yarn", bed, lost))


def _work(engine: Engine, bed: Bed, active: int, cast_on_row: bool, faults: list[Fault]) -> None:
    """One bed in one pass with yarn in the feeder."""
    stacks = engine.beds[bed]
    yarn = engine.feeder
    assert yarn is not None
    empty = active & ~stacks.loaded
    if empty:
        cast_on = empty if cast_on_row else empty & stacks.wanted_cast_on
        made = empty & ~cast_on
        unwanted = made & ~stacks.wanted_increase
        engine.cast_on += cast_on.bit_count()
        engine.made += made.bit_count()
        if unwanted:
            faults.append(Fault("empty-needle-catches", bed, unwanted))
    if stacks.action == "tuck":
        if empty:
            stacks.form(empty, yarn)
        laid = active & ~empty
        stacks.lay(laid)
        count_loops(engine, empty.bit_count())
        count_strands(engine, laid.bit_count())
        heaped = stacks.heaped(laid)
        if heaped:
            faults.append(Fault("too-many-strands", bed, heaped, MOST_STRANDS))
    else:
        engine.joined += stacks.form(active, yarn)
        count_loops(engine, active.bit_count())
