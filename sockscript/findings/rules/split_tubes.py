"""Where a tube comes apart at its sides: its beds knit rows alone before the rounds go on."""

from __future__ import annotations

from collections import Counter
from operator import itemgetter

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.fabric.tubes import Tube, circular_passes, flat_rows_in_tubes, tubes_of
from sockscript.findings.kind import Kind
from sockscript.findings.origins import MOST_ROWS
from sockscript.numbers.quantity import Quantity
from sockscript.operations import ops
from sockscript.operations.beds import BACK, BEDS, FRONT, SIDES, Bed, Side, other_side
from sockscript.text.source import Span

ROWS_ALONE = 3
"""Rows that one bed of a tube may knit more than the other, as at the ends of a heel, before a slit
opens at both sides; and rows of both beds along which a side may stay open: common practice, no
source."""
ROWS_LONGER = 6
"""Rows that one bed may get ahead by little and little, as by two at either end of a heel and of a
toe: common practice, no source."""


TUBE_SPLIT = Kind(
    "tube-split", "fault",
    "In a tube the {bed} bed knits {amount} rows by itself and the {other} bed "
    "{other_rows}{picked}: the tube is open {where} there.",
    "Set both beds to circular for these rows, make them short rows that come back, or pick up "
    "along both edges.",
    follows=("not-set-to-circular", "bed-left-resting"),
    led=MOST_ROWS)

OPEN_AT_A_SIDE = Kind(
    "tube-open-at-side", "warning",
    "Before the rounds go on, the beds knit {amount} rows each by turns and the yarn goes round "
    "only at the {joined}: the tube is open along them at the {side}.",
    "Set both beds to circular for these rows. If an opening is meant there, allow it.")

ONE_BED_LONGER = Kind(
    "one-bed-longer", "warning",
    "{amount} times the {bed} bed knits rows by itself before the rounds go on, {more} rows more "
    "than the {other} bed in all: each time leaves a small hole at both sides, and one face of the "
    "tube grows longer than the other.",
    "Knit these rows in circular. Where one face should be longer, make short rows that come back.")


class _Alone:
    """The rows that each bed of a tube knits by itself, and the lines that knit them.

    At a side the beds are joined where the yarn goes from the last stitch of the one to the other.
    """

    def __init__(self) -> None:
        self.rows = [0, 0]
        self.apart: dict[Side, list[int]] = {side: [0, 0] for side in SIDES}
        self.longest: dict[Side, int] = dict.fromkeys(SIDES, 0)
        self.lines: tuple[Counter[tuple[Span, ...]], ...] = (Counter(), Counter())
        self.first: dict[tuple[Span, ...], Transition] = {}
        self.closed: Counter[tuple[Bed, Side]] = Counter()
        self.picked: dict[Bed | tuple[Bed, Side], Transition] = {}

    def knit(self, change: Transition, bed: Bed, rows: int) -> None:
        """Some rows of one bed, over all its stitches."""
        places = change.moment.places
        attached = change.before.attached
        if attached is not None and attached[0] is not bed:
            self.join(change.before.carriage)
        for side in SIDES:
            self.apart[side][bed] += rows
        self.rows[bed] += rows
        self.lines[bed][places] += rows
        self.first.setdefault(places, change)

    def join(self, side: Side) -> None:
        """The two beds are joined at a side; so far they were apart along so many rows."""
        self.longest[side] = max(self.longest[side], min(self.apart[side]))
        self.apart[side] = [0, 0]

    def pick_up(self, change: Transition, op: ops.PickUp) -> None:
        """Loops along some of the rows at one side."""
        self.closed[op.bed, op.side] += op.rows
        self.picked[op.bed] = self.picked[op.bed, op.side] = change

    def mishaps(self) -> list[Mishap]:
        """The slits that they leave where rounds go on, told at the line with most of the rows, or
        where loops were picked up last along some of them."""
        bed = FRONT if self.rows[0] >= self.rows[1] else BACK
        more = abs(self.rows[0] - self.rows[1])
        left_open = [side for side in SIDES if more - self.closed[bed, side] > ROWS_ALONE]
        if not left_open and not self.picked:
            for side in SIDES:
                self.join(side)
            left_open = [side for side in SIDES if self.longest[side] > ROWS_ALONE]
            if len(left_open) == 1:
                return [self.open_at(*left_open)]
        if not left_open:
            return []
        places, _ = max(self.lines[bed].items(), key=itemgetter(1))
        others = self.rows[bed.opposite]
        told = self.picked.get((bed, left_open[0]), self.picked.get(bed, self.first[places]))
        return [told.mishap(TUBE_SPLIT.fault(bed, amount=self.rows[bed]), {
            "other_rows": str(others or "none"),
            "picked": self._picked_up(bed, left_open) if bed in self.picked else "",
            "from": Quantity(self.first[places].number),
            "up to": Quantity(self.first[places].number + 1),
            "where": "at both sides" if len(left_open) > 1 else f"at the {left_open[0]}"})]

    def open_at(self, side: Side) -> Mishap:
        """Rows by turns that are joined at the other side only."""
        first = next(iter(self.first.values()))
        return first.mishap(OPEN_AT_A_SIDE.fault(name=side, amount=self.longest[side]), {
            "side": side, "joined": other_side(side)})

    def _picked_up(self, bed: Bed, sides: list[Side]) -> str:
        along = [(side, self.closed[bed, side]) for side in sides]
        return "; " + " and ".join(
            f"at the {side} " + (f"loops are picked up along {rows} of them" if rows
                                 else "no loops are picked up") for side, rows in along)


def one_bed_alone(run: Run) -> list[Mishap]:
    """One bed of a tube knits on while the other does not, and then the rounds go on.

    Rows with stitches in hold are short rows and belong to a heel; waste yarn keeps a place; rows
    along whose edges loops are picked up are a flap that is closed again.  Flat rows whose first
    edge is hung on the other bed are such rows too if the tube goes on in rounds; if its two edges
    are grafted they are a band.
    """
    found: list[Mishap] = []
    ended = 0
    if not flat_rows_in_tubes(run) and ops.Rehang not in run.kinds():
        return found
    for tube in tubes_of(run):
        hung = _first_edge_hung(run, ended, tube)
        since = tube.first if hung is None else hung
        flat = hung is not None
        alone, ahead = _Alone(), _Ahead()
        for change in run.changes_by(ops.Knit, ops.Graft, ops.Gather, ops.PickUp):
            op = change.op
            if not since < change.number <= tube.last:
                continue
            if isinstance(op, ops.PickUp):
                alone.pick_up(change, op)
            elif type(op) is ops.Knit and change.number not in circular_passes(run):
                _add(run, alone, change, op)
            else:
                told = alone.mishaps() if not flat or type(op) is ops.Knit else []
                found += told or ahead.mishaps(alone)
                alone, flat = _Alone(), False
        ended = tube.last
    return found


class _Ahead:
    """How far one bed of a tube gets ahead of the other by rows that by themselves are few."""

    def __init__(self) -> None:
        self.more = self.times = 0

    def mishaps(self, alone: _Alone) -> list[Mishap]:
        """Rows that each bed has knitted by itself come to those before; told once."""
        more = alone.rows[FRONT] - alone.rows[BACK]
        if abs(more) > ROWS_ALONE:
            return []  # loops are picked up along them
        before, self.more = abs(self.more), self.more + more
        self.times += bool(more)
        if abs(self.more) <= ROWS_LONGER or before > ROWS_LONGER:
            return []
        bed = FRONT if self.more > 0 else BACK
        last = [*alone.first.values()][-1]
        return [last.mishap(ONE_BED_LONGER.fault(bed, amount=self.times),
                            {"more": Quantity(abs(self.more))})]


def _add(run: Run, alone: _Alone, change: Transition, op: ops.Knit) -> None:
    before = change.before
    if before.feeder not in run.main_yarns:
        return
    rows = before.turns(op.passes, run.engine.profile.front_circular)
    if all(rows):
        return  # a row over both beds joins them all along
    for bed in BEDS:
        if rows[bed] and not before.bed(bed).set_aside:
            alone.knit(change, bed, rows[bed])


def _first_edge_hung(run: Run, ended: int, tube: Tube) -> int | None:
    """Where the edge was marked that is hung on the bed that faces it as a tube begins."""
    marked: dict[str, tuple[int, Bed]] = {}
    for change in run.changes_by(ops.Mark, ops.Rehang):
        op = change.op
        if not ended <= change.number <= tube.first:
            continue
        if isinstance(op, ops.Mark) and op.kind == "edge":
            marked[op.name] = change.number, op.bed
        elif isinstance(op, ops.Rehang) and op.name in marked and not op.onto:
            at, bed = marked[op.name]
            if {target for target, _ in op.targets} == {bed.opposite}:
                return at
    return None
