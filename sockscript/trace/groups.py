"""Stitches off the needles under a name: scrapped off, or freed where waste yarn comes out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sockscript.operations import ops
from sockscript.operations.beds import indices
from sockscript.trace.faults import Fault
from sockscript.trace.hands import Noted, detach, hang
from sockscript.trace.state import Group

if TYPE_CHECKING:
    from sockscript.trace.engine import Engine




def scrap_off(engine: Engine, op: ops.ScrapOff) -> list[Fault]:
    """Stitches onto waste yarn, left to right, under a name."""
    group = engine.groups.get(op.name)
    if group is not None and group.kind != "scrap":
        return [Fault("name-taken", name=op.name)]
    stacks = engine.beds[op.bed]
    faults = []
    empty = op.needles & ~stacks.loaded
    if empty:
        faults.append(Fault("scrap-from-empty", op.bed, empty))
    loaded = op.needles & stacks.loaded
    taken = [stacks.stack(n) for n in indices(loaded)]
    engine.scrapped += stacks.loops_on(loaded)
    stacks.clear(loaded)
    detach(engine, op.bed, loaded)
    if taken:
        before = group.stacks if group is not None else ()
        engine.groups[op.name] = Group("scrap", (*before, *taken))
    return faults


def mark(engine: Engine, op: ops.Mark) -> list[Fault]:
    """A place where waste yarn will free loops later."""
    if op.name in engine.groups:
        return [Fault("name-taken", name=op.name)]
    count = engine.beds[op.bed].loaded.bit_count()
    if not count:
        return [Fault("mark-on-empty", op.bed)]
    if op.kind == "slit":
        count *= 2
    engine.groups[op.name] = Group(op.kind, ((op.yarn,),) * count)
    return []


def rehang(engine: Engine, op: ops.Rehang) -> list[Fault]:
    """The stitches of a group back on needles, in order."""
    group = engine.groups.get(op.name)
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
            engine.scrapped -= len(stack)
        else:
            engine.made += len(stack)
        hang(engine, bed, needle, stack, 0, "onto" if op.onto else "to", noted)
    if len(stacks) > pairs:
        engine.groups[op.name] = Group(group.kind, stacks[pairs:])
    else:
        del engine.groups[op.name]
    return faults + noted.faults()


def graft_groups(engine: Engine, op: ops.GraftGroups) -> list[Fault]:
    """Two scrapped groups grafted together off the machine."""
    groups = [(name, engine.groups.get(name)) for name in (op.first, op.second)]
    missing = [Fault("no-such-group", name=name) for name, group in groups if group is None]
    if missing:
        return list(dict.fromkeys(missing))
    if op.first == op.second:
        return [Fault("no-such-group", name=op.first)]
    wrong = [Fault("not-scrapped", name=name) for name, group in groups
             if group is not None and group.kind != "scrap"]
    if wrong:
        return wrong
    first, second = engine.groups.pop(op.first), engine.groups.pop(op.second)
    for stack in (*first.stacks, *second.stacks):
        engine.scrapped -= len(stack)
        engine.joined += len(stack) - 1
        engine.grafted += 1
    unequal = len(first.stacks) - len(second.stacks)
    return [Fault("unequal-graft", amount=unequal)] if unequal else []
