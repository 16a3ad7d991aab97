"""Operations that touch no stitch: pitch, racking, bed settings, dial, yarn, carriage, weights."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sockscript.operations import ops
from sockscript.trace.faults import Fault

if TYPE_CHECKING:
    from sockscript.trace.engine import Engine


def set_pitch(engine: Engine, op: ops.SetPitch) -> list[Fault]:
    """Half or full pitch."""
    engine.pitch = op.pitch
    if op.pitch not in engine.profile.pitches:
        return [Fault("setting-not-had", name=f"{op.pitch} pitch")]
    return []


def rack(engine: Engine, op: ops.Rack) -> list[Fault]:
    """The back bed racked to an absolute position."""
    engine.racking = op.steps
    if abs(op.steps) > engine.profile.racking:
        return [Fault("racking-too-far", amount=op.steps)]
    return []


def set_bed(engine: Engine, op: ops.SetBed) -> list[Fault]:
    """What a bed does in a pass."""
    stacks = engine.beds[op.bed]
    stacks.action = op.action
    stacks.touched()
    if op.action in ("circular", "tuck") and op.action not in engine.profile.settings:
        return [Fault("setting-not-had", name=op.action)]
    return []


def set_hold(engine: Engine, op: ops.SetHold) -> list[Fault]:
    """Whether needles in hold are left alone."""
    stacks = engine.beds[op.bed]
    stacks.hold_respected = op.respected
    stacks.touched()
    if op.respected and "hold" not in engine.profile.settings:
        return [Fault("setting-not-had", name="hold")]
    return []


def set_size(engine: Engine, op: ops.SetSize) -> list[Fault]:
    """The stitch-size dial of one or both beds."""
    profile = engine.profile
    for bed in op.beds:
        engine.beds[bed].size = op.size
    step = profile.dial_step
    between = step is not None and ((op.size - profile.dial_low) / step).denominator != 1
    if between or not profile.dial_low <= op.size <= profile.dial_high:
        return [Fault("size-off-dial")]
    return []


def thread(engine: Engine, op: ops.Thread) -> list[Fault]:
    """A yarn into the feeder; one left in it counts as cut."""
    faults = []
    if engine.feeder is not None:
        faults.append(Fault("yarn-not-cut", name=engine.feeder))
        engine.ends[engine.feeder] = engine.ends.get(engine.feeder, 0) + 1
    engine.feeder = op.yarn
    engine.ends[op.yarn] = engine.ends.get(op.yarn, 0) + 1
    engine.attached = None
    return faults


def cut(engine: Engine, op: ops.Cut) -> list[Fault]:
    """The yarn in the feeder cut and taken out."""
    if engine.feeder is None:
        return [Fault("nothing-to-cut")]
    engine.ends[engine.feeder] = engine.ends.get(engine.feeder, 0) + 1
    engine.feeder = None
    engine.attached = None
    return []


def move_carriage(engine: Engine, op: ops.MoveCarriage) -> list[Fault]:
    """The carriage to an end without knitting."""
    faults = []
    if op.side != engine.carriage:
        if engine.feeder is not None and engine.attached is not None:
            bed, needle = engine.attached
            faults.append(Fault("yarn-jump", bed, 1 << needle, leaves=(bed, needle)))
            engine.attached = None
        engine.carriage = op.side
    return faults


def reset_counter(engine: Engine, op: ops.ResetCounter) -> list[Fault]:
    """The row counter set."""
    engine.counter = op.value
    return []


def tackle(engine: Engine, op: ops.Tackle) -> list[Fault]:
    """Comb or weights hung, moved or removed."""
    hung = engine.comb if op.item == "comb" else engine.weights
    faults = []
    if op.action == "hang" and hung:
        faults.append(Fault("already-hung", name=op.item))
    elif op.action != "hang" and not hung:
        faults.append(Fault("not-hung", name=op.item))
    if op.action != "move":
        if op.item == "comb":
            engine.comb = op.action == "hang"
        else:
            engine.weights = op.action == "hang"
    return faults
