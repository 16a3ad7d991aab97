"""Operations that touch no stitch: pitch, racking, bed settings, dial, yarn, carriage, weights."""

from __future__ import annotations

from sockscript.operations import ops
from sockscript.trace.faults import Fault
from sockscript.trace.machine import Machine
from sockscript.trace.state import Waiting


def set_pitch(machine: Machine, op: ops.SetPitch) -> list[Fault]:
    """Half or full pitch."""
    machine.pitch = op.pitch
    if op.pitch not in machine.profile.pitches:
        return [Fault("setting-not-had", name=f"{op.pitch} pitch")]
    return []


def rack(machine: Machine, op: ops.Rack) -> list[Fault]:
    """The back bed racked to an absolute position."""
    machine.racking = op.steps
    if abs(op.steps) > machine.profile.racking:
        return [Fault("racking-too-far", amount=op.steps)]
    return []


def set_bed(machine: Machine, op: ops.SetBed) -> list[Fault]:
    """What a bed does in a pass."""
    stacks = machine.beds[op.bed]
    stacks.action = op.action
    stacks.tuck = stacks.slip = 0
    stacks.touched()
    if op.action in ("circular", "tuck") and op.action not in machine.profile.settings:
        return [Fault("setting-not-had", name=op.action)]
    return []


def set_needles(machine: Machine, op: ops.SetNeedles) -> list[Fault]:
    """What some needles do where their bed knits."""
    for stacks, mask in zip(machine.beds, (op.front, op.back), strict=True):
        stacks.tuck &= ~mask
        stacks.slip &= ~mask
        if op.action == "tuck":
            stacks.tuck |= mask
        elif op.action == "slip":
            stacks.slip |= mask
        stacks.touched()
    if op.action == "tuck" and "tuck" not in machine.profile.settings:
        return [Fault("setting-not-had", name="tuck")]
    return []


def set_hold(machine: Machine, op: ops.SetHold) -> list[Fault]:
    """Whether needles in hold are left alone."""
    stacks = machine.beds[op.bed]
    stacks.hold_respected = op.respected
    stacks.touched()
    if op.respected and "hold" not in machine.profile.settings:
        return [Fault("setting-not-had", name="hold")]
    return []


def set_size(machine: Machine, op: ops.SetSize) -> list[Fault]:
    """The stitch-size dial of one or both beds."""
    profile = machine.profile
    for bed in op.beds:
        machine.beds[bed].size = op.size
    step = profile.dial_step
    between = step is not None and ((op.size - profile.dial_low) / step).denominator != 1
    if between or not profile.dial_low <= op.size <= profile.dial_high:
        return [Fault("size-off-dial")]
    return []


def thread(machine: Machine, op: ops.Thread) -> list[Fault]:
    """A yarn into the feeder; what is left in it counts as cut."""
    faults = []
    if machine.waiting.pop(op.yarn, None) is not None:
        faults.append(Fault("yarn-still-waits", name=op.yarn))
        _one_end(machine, op.yarn)
    if machine.feeder is not None:
        faults.append(Fault("yarn-not-cut", name=machine.feeder))
        _take_out(machine)
    machine.feeder = machine.last_yarn = op.yarn
    _one_end(machine, op.yarn)
    machine.attached = None
    return faults


def add(machine: Machine, op: ops.Add) -> list[Fault]:
    """A second yarn along with the one in the feeder."""
    if machine.feeder is None:
        return [Fault("added-to-nothing", name=op.yarn), *thread(machine, ops.Thread(op.yarn))]
    faults = []
    if machine.along is not None:
        faults.append(Fault("third-yarn", name=machine.along))
        _one_end(machine, machine.along)
    machine.along = op.yarn
    _one_end(machine, op.yarn)
    return faults


def change(machine: Machine, op: ops.Change) -> list[Fault]:
    """Another yarn taken up; the one in the feeder waits where it is."""
    if machine.feeder == op.yarn:
        return [Fault("yarn-in-feeder-already", name=op.yarn)]
    faults = []
    if machine.along is not None:
        faults.append(Fault("yarn-not-cut", name=machine.along))
        _one_end(machine, machine.along)
        machine.along = None
    if machine.feeder is not None:
        if machine.feeder in machine.waiting:
            _one_end(machine, machine.feeder)
        machine.waiting[machine.feeder] = Waiting(machine.carriage, machine.attached)
    machine.feeder = machine.last_yarn = op.yarn
    machine.attached = None
    waited = machine.waiting.pop(op.yarn, None)
    if waited is None:
        _one_end(machine, op.yarn)
    elif waited.side == machine.carriage:
        machine.attached = waited.spot
    else:
        bed, needle = waited.spot or (None, None)
        faults.append(Fault("yarn-waits-elsewhere", bed, 0 if needle is None else 1 << needle,
                            name=op.yarn))
    return faults


def cut(machine: Machine, op: ops.Cut) -> list[Fault]:
    """The yarns in the feeder cut and taken out, one of two, or one that waits."""
    if op.yarn in machine.waiting and op.yarn not in (machine.feeder, machine.along):
        assert op.yarn is not None
        _one_end(machine, op.yarn)
        del machine.waiting[op.yarn]
        return []
    if machine.feeder is None:
        return [Fault("nothing-to-cut")]
    if op.yarn is None or (op.yarn == machine.feeder and machine.along is None):
        _take_out(machine)
    elif op.yarn == machine.along:
        _one_end(machine, op.yarn)
        machine.along = None
    elif op.yarn == machine.feeder:
        _one_end(machine, op.yarn)
        machine.feeder, machine.along = machine.along, None
    else:
        return [Fault("nothing-to-cut", name=op.yarn)]
    return []


def _take_out(machine: Machine) -> None:
    """All that is in the feeder cut."""
    for yarn in (machine.feeder, machine.along):
        if yarn is not None:
            _one_end(machine, yarn)
    machine.feeder = machine.along = machine.attached = None


def _one_end(machine: Machine, yarn: str) -> None:
    """One loose end more of a yarn."""
    machine.ends[yarn] = machine.ends.get(yarn, 0) + 1


def move_carriage(machine: Machine, op: ops.MoveCarriage) -> list[Fault]:
    """The carriage to an end without knitting."""
    faults = []
    if op.side != machine.carriage:
        if machine.feeder is not None and machine.attached is not None:
            bed, needle = machine.attached
            faults.append(Fault("yarn-jump", bed, 1 << needle, leaves=(bed, needle)))
            machine.attached = None
        machine.carriage = op.side
    return faults


def reset_counter(machine: Machine, op: ops.ResetCounter) -> list[Fault]:
    """The row counter set."""
    machine.counter = op.value
    return []


def tackle(machine: Machine, op: ops.Tackle) -> list[Fault]:
    """Comb or weights hung, moved or removed."""
    hung = machine.comb if op.item == "comb" else machine.weights
    faults = []
    if op.action == "hang" and hung:
        faults.append(Fault("already-hung", name=op.item))
    elif op.action != "hang" and not hung:
        faults.append(Fault("not-hung", name=op.item))
    if op.action != "move":
        if op.item == "comb":
            machine.comb = op.action == "hang"
        else:
            machine.weights = op.action == "hang"
    return faults
