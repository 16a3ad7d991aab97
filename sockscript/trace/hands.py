"""Operations by hand: needle positions, transfers, casting on and off, dropping."""

from __future__ import annotations

from sockscript.operations import ops
from sockscript.operations.beds import BACK, BEDS, FRONT, Bed, indices
from sockscript.trace.faults import EngineFault, Fault
from sockscript.trace.machine import Machine
from sockscript.trace.stacks import MOST_STRANDS, Stack
from sockscript.trace.yarn import (
    count_loops,
    count_strands,
    jump_to,
    nearer_end,
    outermost,
)


class Noted:
    """Gathers needles by kind and bed, so that each kind is one fault a bed."""

    def __init__(self) -> None:
        self.masks: dict[tuple[EngineFault, Bed], int] = {}

    def add(self, kind: EngineFault, bed: Bed, needle: int) -> None:
        """Note one needle."""
        self.masks[kind, bed] = self.masks.get((kind, bed), 0) | 1 << needle

    def faults(self) -> list[Fault]:
        """One fault for each kind and bed, in the order noted."""
        return [Fault(kind, bed, mask, MOST_STRANDS if kind == "too-many-strands" else 0)
                for (kind, bed), mask in self.masks.items()]


def detach(machine: Machine, bed: Bed, mask: int) -> None:
    """The yarn is no longer attached if it was on one of these needles."""
    attached = machine.attached
    if attached is not None and attached[0] == bed and mask >> attached[1] & 1:
        machine.attached = None


def place(machine: Machine, op: ops.Place) -> list[Fault]:
    """Needles pushed to a position; loops on needles pushed out of work drop."""
    faults: list[Fault] = []
    for bed, mask in ((FRONT, op.front), (BACK, op.back)):
        if not mask:
            continue
        stacks = machine.beds[bed]
        if op.position == "out":
            _push_out(machine, bed, mask, faults)
            continue
        stacks.place(mask, op.position)
        if op.position == "work" and op.purpose != "none":
            empty = mask & ~stacks.loaded
            if op.purpose == "increase":
                stacks.wanted_increase |= empty
                stacks.wanted_cast_on &= ~empty
            else:
                stacks.wanted_cast_on |= empty
                stacks.wanted_increase &= ~empty
    return faults


def _push_out(machine: Machine, bed: Bed, mask: int, faults: list[Fault]) -> None:
    stacks = machine.beds[bed]
    lost = mask & stacks.loaded
    if lost:
        machine.dropped += stacks.loops_on(lost)
        stacks.clear(lost)
        faults.append(Fault("loop-on-idle-needle", bed, lost))
        detach(machine, bed, lost)
    stacks.place(mask, "out")


# ---- moving loops


def transfer(machine: Machine, op: ops.Transfer) -> list[Fault]:
    """Loops moved to other needles."""
    return _move(machine, op.moves, "onto" if op.onto else "to")


def fold(machine: Machine, op: ops.Fold) -> list[Fault]:
    """A group turned round: no comb may hang, no yarn be attached to it."""
    faults = []
    if machine.comb:
        faults.append(Fault("fold-with-comb"))
    if machine.feeder is not None and machine.attached is not None:
        bed, needle = machine.attached
        if any(move[0] == bed and move[1] == needle for move in op.moves):
            faults.append(Fault("fold-with-yarn", bed, 1 << needle))
    return faults + _move(machine, op.moves, "to")


def fashion(machine: Machine, op: ops.Fashion) -> list[Fault]:
    """Edge stitches moved sideways; emptied needles go out of work."""
    faults = _move(machine, tuple((op.bed, a, op.bed, b) for a, b in op.moves), "either")
    if op.out:
        _push_out(machine, op.bed, op.out, faults)
    return faults


def _move(machine: Machine, moves: tuple[ops.Move, ...], landing: str) -> list[Fault]:
    """Lift all, then hang all.  ``landing``: to empty needles, onto loops, or either."""
    noted = Noted()
    lifted: list[tuple[ops.Move, Stack, int]] = []
    attached = machine.attached
    for move in moves:
        stacks = machine.beds[move[0]]
        bit = 1 << move[1]
        if not stacks.loaded & bit:
            noted.add("transfer-from-empty", move[0], move[1])
            continue
        if stacks.double & bit:
            noted.add("double-not-knitted", move[0], move[1])
        stack, strands = stacks.lift(move[1])
        lifted.append((move, stack, strands))
    for move, stack, strands in lifted:
        bed, needle = move[2], move[3]
        hung = hang(machine, bed, needle, stack, strands, landing, noted)
        if attached is not None and attached == (move[0], move[1]):
            machine.attached = (bed, needle) if hung else None
    return noted.faults()


def hang(machine: Machine, bed: Bed, needle: int, stack: Stack, strands: int, landing: str,
          noted: Noted) -> bool:
    """Hang one stack on a needle; False if it was dropped because the needle is out of work."""
    stacks = machine.beds[bed]
    bit = 1 << needle
    if not stacks.in_use & bit:
        noted.add("transfer-to-idle-needle", bed, needle)
        machine.dropped += len(stack)
        return False
    if stacks.loaded & bit:
        if landing == "to":
            noted.add("transfer-onto-loop", bed, needle)
    elif landing == "onto":
        noted.add("nothing-to-join", bed, needle)
    if stacks.put(needle, stack, strands) > 2:
        noted.add("stack-too-high", bed, needle)
    if strands and stacks.heaped(bit):
        noted.add("too-many-strands", bed, needle)
    return True


# ---- the working yarn by hand


def wrap(machine: Machine, op: ops.Wrap) -> list[Fault]:
    """The working yarn laid round a needle."""
    bit = 1 << op.needle
    stacks = machine.beds[op.bed]
    if machine.feeder is None:
        return [Fault("wrap-without-yarn", op.bed, bit)]
    if not stacks.in_use & bit:
        return [Fault("wrap-on-idle-needle", op.bed, bit)]
    faults = jump_to(machine, (op.bed, op.needle))
    if stacks.loaded & bit:
        stacks.lay(bit)
        count_strands(machine, 1)
        if stacks.heaped(bit):
            faults.append(Fault("too-many-strands", op.bed, bit, MOST_STRANDS))
    else:
        faults.append(Fault("wrap-on-empty-needle", op.bed, bit))
        stacks.put(op.needle, (machine.feeder,))
        machine.made += 1
        count_loops(machine, 1)
    machine.attached = (op.bed, op.needle)
    return faults


def cast_on(machine: Machine, op: ops.CastOn) -> list[Fault]:
    """Loops laid on empty needles with the yarn in the feeder."""
    yarn = machine.feeder
    if yarn is None:
        return [Fault("cast-on-without-yarn")]
    idle: list[Fault] = []
    over: list[Fault] = []
    fresh = [0, 0]
    for bed, mask in ((FRONT, op.front), (BACK, op.back)):
        stacks = machine.beds[bed]
        out = mask & ~stacks.in_use
        taken = mask & stacks.in_use & stacks.loaded
        fresh[bed] = mask & stacks.in_use & ~stacks.loaded
        if out:
            idle.append(Fault("cast-on-idle-needle", bed, out))
        if taken:
            over.append(Fault("cast-on-over-loop", bed, taken))
        if fresh[bed]:
            stacks.form(fresh[bed], yarn)
            machine.cast_on += fresh[bed].bit_count()
            count_loops(machine, fresh[bed].bit_count())
    if not any(fresh):
        return idle + over
    jump = _begun(machine, fresh[FRONT], fresh[BACK])
    machine.attached = outermost(machine, fresh[FRONT], fresh[BACK], machine.carriage)
    return idle + over + jump


def _begun(machine: Machine, front: int, back: int) -> list[Fault]:
    """The jump of a yarn that hangs at neither end of what is worked by hand with it."""
    if machine.attached is None:
        return []
    return jump_to(machine, nearer_end(machine, front, back))


# ---- taking stitches off


def take_off(machine: Machine, masks: tuple[int, int], empty_kind: EngineFault,
              push_out: bool = True) -> tuple[int, list[Fault]]:
    """Empty the loaded needles of two sets; returns how many there were, and faults.

    Loops beyond the first on a needle are worked together with it: they are joined.
    """
    faults: list[Fault] = []
    count = 0
    for bed in BEDS:
        stacks = machine.beds[bed]
        loaded = masks[bed] & stacks.loaded
        empty = masks[bed] & ~stacks.loaded
        if empty:
            faults.append(Fault(empty_kind, bed, empty))
        if not loaded:
            continue
        machine.joined += stacks.loops_on(loaded) - loaded.bit_count()
        count += loaded.bit_count()
        stacks.clear(loaded)
        if push_out:
            stacks.place(loaded, "out")
        detach(machine, bed, loaded)
    return count, faults


def bind_off(machine: Machine, op: ops.BindOff) -> list[Fault]:
    """Stitches bound off with the yarn in the feeder."""
    before = [Fault("bind-off-without-yarn")] if machine.feeder is None else []
    front, back = (machine.beds[bed].loaded & mask for bed, mask in
                   ((FRONT, op.front), (BACK, op.back)))
    if front or back:
        before += _begun(machine, front, back)
    count, faults = take_off(machine, (op.front, op.back), "bind-off-from-empty")
    machine.bound_off += count
    return before + faults


def gather(machine: Machine, op: ops.Gather) -> list[Fault]:
    """Stitches drawn together with an end of yarn."""
    count, faults = take_off(machine, (op.front, op.back), "gather-from-empty")
    machine.gathered += count
    return faults


def graft(machine: Machine, op: ops.Graft) -> list[Fault]:
    """The stitches of the two beds grafted into one another."""
    front, back = (machine.beds[bed].loaded & mask for bed, mask in
                   ((FRONT, op.front), (BACK, op.back)))
    unequal = front.bit_count() - back.bit_count()
    before = [Fault("unequal-graft", amount=unequal)] if unequal else []
    for bed, mask in ((FRONT, front), (BACK, back)):
        double = machine.beds[bed].double & mask
        if double:
            before.append(Fault("double-not-knitted", bed, double))
    count, faults = take_off(machine, (op.front, op.back), "graft-from-empty")
    machine.grafted += count
    return faults + before


# ---- dropping and mending


def drop(machine: Machine, op: ops.Drop) -> list[Fault]:
    """Stitches dropped on purpose, remembered as ladders."""
    faults = []
    for bed, mask in ((FRONT, op.front), (BACK, op.back)):
        stacks = machine.beds[bed]
        if mask & ~stacks.loaded:
            faults.append(Fault("drop-from-empty", bed, mask & ~stacks.loaded))
        loaded = mask & stacks.loaded
        for n in indices(loaded):
            stack = stacks.stack(n)
            stacks.ladders[n] = stacks.ladders.get(n, ()) + stack
            machine.dropped += len(stack)
        stacks.clear(loaded)
        detach(machine, bed, loaded)
    return faults


def latch_up(machine: Machine, op: ops.LatchUp) -> list[Fault]:
    """The newest stitch of a ladder back on its needle."""
    noted = Noted()
    for bed, mask in ((FRONT, op.front), (BACK, op.back)):
        stacks = machine.beds[bed]
        for n in indices(mask):
            bit = 1 << n
            ladder = stacks.ladders.get(n, ())
            if not stacks.in_use & bit or stacks.loaded & bit or not ladder:
                noted.add("nothing-to-latch-up", bed, n)
                continue
            stacks.put(n, ladder[-1:])
            machine.dropped -= 1
            if len(ladder) > 1:
                stacks.ladders[n] = ladder[:-1]
            else:
                del stacks.ladders[n]
    return noted.faults()


def fill(machine: Machine, op: ops.Fill) -> list[Fault]:
    """The loop below a neighbour lifted onto an empty needle."""
    stacks = machine.beds[op.bed]
    bit = 1 << op.needle
    if not stacks.in_use & bit or stacks.loaded & bit:
        return [Fault("fill-target-not-free", op.bed, bit)]
    if not stacks.loaded >> op.neighbour & 1:
        return [Fault("transfer-from-empty", op.bed, 1 << op.neighbour)]
    stacks.put(op.needle, stacks.stack(op.neighbour)[-1:])
    machine.made += 1
    return []
