"""The simulator: a machine and one method that carries out an operation.

What each operation does is written in ``machine-model.md``; passes are in ``passes``, hand
operations in ``by_hand`` and ``groups``.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from sockscript.operations import ops
from sockscript.trace import by_hand, groups, passes, settings
from sockscript.trace.faults import Fault
from sockscript.trace.machine import Machine


class Engine(Machine):
    """A machine that is worked by ``apply``."""

    __slots__ = ()

    def apply(self, op: ops.Op) -> list[Fault]:
        """Carry out one operation; returns what went wrong, in the order it happened."""
        self._snapshot = None
        faults = _CARRY_OUT[type(op)](self, op)
        front, back = self.beds
        astray = (self.cast_on + self.made - front.view().loops - back.view().loops - self.joined
                  - self.bound_off - self.grafted - self.gathered - self.scrapped - self.dropped)
        if astray:
            faults.append(Fault("conservation-broken", amount=astray))
        return faults


_CARRY_OUT: dict[type, Callable[[Machine, Any], list[Fault]]] = {
    ops.Knit: passes.knit,
    ops.SetPitch: settings.set_pitch,
    ops.Rack: settings.rack,
    ops.SetBed: settings.set_bed,
    ops.SetNeedles: settings.set_needles,
    ops.SetHold: settings.set_hold,
    ops.SetSize: settings.set_size,
    ops.Thread: settings.thread,
    ops.Add: settings.add,
    ops.Change: settings.change,
    ops.Cut: settings.cut,
    ops.MoveCarriage: settings.move_carriage,
    ops.ResetCounter: settings.reset_counter,
    ops.Tackle: settings.tackle,
    ops.Place: by_hand.place,
    ops.Transfer: by_hand.transfer,
    ops.Fold: by_hand.fold,
    ops.Fashion: by_hand.fashion,
    ops.Wrap: by_hand.wrap,
    ops.CastOn: by_hand.cast_on,
    ops.BindOff: by_hand.bind_off,
    ops.ScrapOff: groups.scrap_off,
    ops.Rehang: groups.rehang,
    ops.Graft: by_hand.graft,
    ops.GraftGroups: groups.graft_groups,
    ops.Gather: by_hand.gather,
    ops.Drop: by_hand.drop,
    ops.LatchUp: by_hand.latch_up,
    ops.Mark: groups.mark,
    ops.Fill: by_hand.fill,
    ops.KnitIn: groups.knit_in,
    ops.SewDown: groups.sew_down,
    ops.PickUp: groups.pick_up,
    ops.SewSides: lambda machine, op: [],
}
