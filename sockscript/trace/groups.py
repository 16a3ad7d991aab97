"""Stitches off the needles under a name: scrapped off, or freed where waste yarn comes out."""

from __future__ import annotations

from sockscript.operations import ops
from sockscript.operations.beds import indices
from sockscript.trace.by_hand import Noted, detach, hang, take_off
from sockscript.trace.faults import Fault
from sockscript.trace.machine import Machine
from sockscript.trace.state import Group


def scrap_off(machine: Machine, op: ops.ScrapOff) -> list[Fault]:
    """Stitches onto waste yarn, left to right, under a name."""
    group = machine.groups.get(op.name)
    if group is not None and group.kind != "scrap":
        return [Fault("name-taken", name=op.name)]
    stacks = machine.beds[op.bed]
    faults = []
    empty = op.needles & ~stacks.loaded
    if empty:
        faults.append(Fault("scrap-from-empty", op.bed, empty))
    loaded = op.needles & stacks.loaded
    taken = [stacks.stack(n) for n in indices(loaded)]
    machine.scrapped += stacks.loops_on(loaded)
    stacks.clear(loaded)
    detach(machine, op.bed, loaded)
    if taken:
        before = group.stacks if group is not None else ()
        machine.groups[op.name] = Group("scrap", (*before, *taken))
    return faults


def mark(machine: Machine, op: ops.Mark) -> list[Fault]:
    """A place where waste yarn will free loops later."""
    if op.name in machine.groups:
        return [Fault("name-taken", name=op.name)]
    count = machine.beds[op.bed].loaded.bit_count()
    if not count:
        return [Fault("mark-on-empty", op.bed)]
    if op.kind == "slit":
        count *= 2
    machine.groups[op.name] = Group(op.kind, ((op.yarn,),) * count)
    return []


def knit_in(machine: Machine, op: ops.KnitIn) -> list[Fault]:
    """A length of waste yarn over some needles; it will free the loops below and above."""
    if op.name in machine.groups:
        return [Fault("name-taken", name=op.name)]
    stacks = machine.beds[op.bed]
    loaded, empty = op.needles & stacks.loaded, op.needles & ~stacks.loaded
    faults = [Fault("knit-in-over-empty", op.bed, empty)] if empty else []
    count = loaded.bit_count()
    if count:
        machine.joined += stacks.form(loaded, op.waste)
        machine.yarn_loops[op.waste] = machine.yarn_loops.get(op.waste, 0) + count
        machine.ends[op.waste] = machine.ends.get(op.waste, 0) + 2
        machine.groups[op.name] = Group("slit", ((op.yarn,),) * (2 * count))
    return faults


def pick_up(machine: Machine, op: ops.PickUp) -> list[Fault]:
    """Loops of an edge over needles; nothing leaves the needles for that."""
    noted = Noted()
    machine.made += len(op.targets)
    for bed, needle in op.targets:
        hang(machine, bed, needle, (op.yarn,), 0, "onto" if op.onto else "to", noted)
    return noted.faults()


def rehang(machine: Machine, op: ops.Rehang) -> list[Fault]:
    """The stitches of a group back on needles, in order."""
    group = machine.groups.get(op.name)
    if group is None:
        return [Fault("no-such-group", name=op.name)]
    stacks = group.stacks[::-1] if op.turned else group.stacks
    faults = []
    if len(stacks) != len(op.targets):
        faults.append(Fault("rehang-count", amount=len(stacks) - len(op.targets), name=op.name))
    noted = Noted()
    pairs = min(len(stacks), len(op.targets))
    for stack, (bed, needle) in zip(stacks, op.targets, strict=False):
        if group.kind == "scrap":
            machine.scrapped -= len(stack)
        else:
            machine.made += len(stack)
        hang(machine, bed, needle, stack, 0, "onto" if op.onto else "to", noted)
    if len(stacks) > pairs:
        machine.groups[op.name] = Group(group.kind, stacks[pairs:])
    else:
        del machine.groups[op.name]
    return faults + noted.faults()


def graft_groups(machine: Machine, op: ops.GraftGroups) -> list[Fault]:
    """Two scrapped groups or marked edges grafted together off the machine."""
    groups = [(name, machine.groups.get(name)) for name in (op.first, op.second)]
    missing = [Fault("no-such-group", name=name) for name, group in groups if group is None]
    if missing:
        return list(dict.fromkeys(missing))
    slits = [Fault("slit-grafted", name=name) for name, group in groups
             if group is not None and group.kind == "slit"]
    if slits:
        return list(dict.fromkeys(slits))
    if op.first == op.second:
        return [Fault("no-such-group", name=op.first)]
    first, second = machine.groups.pop(op.first), machine.groups.pop(op.second)
    for group in (first, second):
        for stack in group.stacks:
            if group.kind == "scrap":
                machine.scrapped -= len(stack)
            else:
                machine.made += len(stack)
            machine.joined += len(stack) - 1
            machine.grafted += 1
    unequal = len(first.stacks) - len(second.stacks)
    return [Fault("unequal-graft", amount=unequal)] if unequal else []


def sew_down(machine: Machine, op: ops.SewDown) -> list[Fault]:
    """A marked edge, or the stitches that are on the needles, sewn down."""
    if op.name:
        group = machine.groups.get(op.name)
        if group is None:
            return [Fault("no-such-group", name=op.name)]
        if group.kind != "edge":
            return [Fault("not-an-edge", name=op.name)]
        del machine.groups[op.name]
    if op.part == "last":
        front, back = (stacks.loaded for stacks in machine.beds)
        count, _ = take_off(machine, (front, back), "bind-off-from-empty")
        machine.bound_off += count
    return []
