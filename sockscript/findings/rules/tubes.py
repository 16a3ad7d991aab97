"""Tubes: both beds must have the same number of rows when circular knitting ends."""

from __future__ import annotations

from sockscript.expand.record import Mishap, Moment
from sockscript.expand.run import Run
from sockscript.numbers.quantity import Quantity
from sockscript.operations import ops
from sockscript.operations.beds import BEDS, Bed, facing, highest, lowest
from sockscript.trace.faults import Fault
from sockscript.trace.state import BedState, Snapshot
from sockscript.trace.yarn import LONGEST_FLOAT

CAST_ON_PASSES = 3
"""A tubular cast-on has two or three circular passes; three are no slip."""

_ENDS = (ops.Fold, ops.BindOff, ops.Graft, ops.Gather, ops.ScrapOff)


def odd_passes(run: Run) -> list[Mishap]:
    """Circular knitting left with one bed a row short."""
    found: list[Mishap] = []
    rows = [0, 0]
    last: tuple[int, Moment] | None = None
    before: Snapshot | None = None
    front_way = run.engine.profile.front_circular
    for index, moment in enumerate(run.moments):
        op = moment.op
        circular = (moment.state.front.action == "circular"
                    and moment.state.back.action == "circular")
        if last is not None and (not circular or isinstance(op, _ENDS)):
            _judge(found, rows, index, moment)
            rows, last = [0, 0], None
        if circular and type(op) is ops.Knit and before is not None:
            towards = "left" if before.carriage == "right" else "right"
            first = 0 if towards == front_way else 1
            rows[first] += (op.passes + 1) // 2
            rows[1 - first] += op.passes // 2
            last = (index, moment)
        before = moment.state
    if last is not None:
        _judge(found, rows, *last)
    return found


def tube_not_facing(run: Run) -> list[Mishap]:
    """A tube on needles of the two beds that do not face each other, or on racked beds."""
    going = racked = False
    found: list[Mishap] = []
    before: Snapshot | None = None
    for index, moment in enumerate(run.moments):
        if type(moment.op) is ops.Knit and before is not None:
            front, back = before.front, before.back
            tube = (front.action == back.action == "circular"
                    and bool(front.loaded and back.loaded))
            if tube and before.racking and not racked and \
                    _apart(before, 0) < _apart(before, before.racking):
                racked = True
                found.append(Mishap(Fault("tube-racked", amount=abs(before.racking)),
                                    moment.places, index, moment.instruction))
            elif tube and not going and not racked:
                apart = _apart(before, before.racking)
                if apart > 1:
                    across = facing(Bed.FRONT, front.loaded, before.racking)
                    return [Mishap(Fault("tube-not-facing", Bed.BACK,
                                         back.loaded & ~across, amount=apart),
                                   moment.places, index, moment.instruction)]
            going = tube
        before = moment.state
    return found


def _cord(here: BedState, there: BedState) -> bool:
    """Whether a few stitches on one bed alone are drawn into a cord by the yarn behind them."""
    return not there.in_use and highest(here.loaded) - lowest(here.loaded) <= LONGEST_FLOAT


def _apart(state: Snapshot, racking: int) -> int:
    """How many needles the edges of two beds stand apart if the back bed is racked so."""
    front, back = state.front.loaded, state.back.loaded
    return max(abs(lowest(front) - lowest(back) - racking),
               abs(highest(front) - highest(back) - racking))


def circular_on_one_bed(run: Run) -> list[Mishap]:
    """One bed in circular and the other not: every other pass knits nothing, or only one bed."""
    before: Snapshot | None = None
    for index, moment in enumerate(run.moments):
        op = moment.op
        if type(op) is ops.Knit and before is not None and op.passes > 1:
            for bed in BEDS:
                here, there = before.bed(bed), before.bed(bed.opposite)
                if here.action == "circular" and here.loaded and there.action != "circular" \
                        and not _cord(here, there):
                    return [Mishap(Fault("circular-on-one-bed", bed), moment.places, index,
                                   moment.instruction)]
        before = moment.state
    return []


def _judge(found: list[Mishap], rows: list[int], index: int, moment: Moment) -> None:
    total = sum(rows)
    if rows[0] != rows[1] and total > CAST_ON_PASSES:
        found.append(Mishap(Fault("odd-pass-in-tube"), moment.places, index, moment.instruction,
                            {"passes": Quantity(total), "front_rows": Quantity(rows[0]),
                             "back_rows": Quantity(rows[1])}))
