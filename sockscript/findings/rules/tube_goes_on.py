"""A tube stays a tube: both beds knit by turns, all the way round, at one stitch size."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from operator import itemgetter

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.fabric.tubes import (
    ROUNDS_BEFORE_SHUT,
    Tube,
    circular,
    knitting,
    rounds_of,
    set_aside,
    tubes_of,
)
from sockscript.findings.kind import Kind
from sockscript.findings.origins import SIZE_SET
from sockscript.findings.rules.endings import HELD_NEVER_RETURNED
from sockscript.numbers.quantity import Quantity
from sockscript.operations import ops
from sockscript.operations.beds import BACK, BEDS, FRONT, SIDES, Bed, Side, facing
from sockscript.text.source import Span
from sockscript.trace.state import Snapshot

ROWS_ALONE = 3
"""Rows that one bed of a tube may knit more than the other, as at the ends of a heel, before a slit
opens at both sides: common practice, no source."""


TUBE_KNITTED_SHUT = Kind(
    "tube-knitted-shut", "fault",
    "Both beds knit in the same pass: the yarn runs from the one to the other and closes the tube "
    "along the whole row.",
    "Write  set both to circular  before it. If the tube is to end here, one such row is enough; "
    "take the stitches off after it.",
    follows=("not-set-to-circular",))

TUBE_SPLIT = Kind(
    "tube-split", "fault",
    "Before the rounds go on, the {bed} bed knits {amount} rows by itself and the {other} bed "
    "{other_rows}: the tube is open {where} there.",
    "Set both beds to circular for these rows, make them short rows that come back, or pick up "
    "along both edges.",
    follows=("not-set-to-circular", "bed-left-resting"))

STITCH_SIZE_DIFFERS = Kind(
    "stitch-size-differs", "warning",
    "The tube is knitted with stitch size {front_size} on the front bed and {back_size} on the "
    "back bed.",
    "Write  stitch size …  without a bed, so that it holds for both.",
    led=SIZE_SET)


def knitted_shut(run: Run) -> list[Mishap]:
    """Both beds knit in the same pass, with the same yarn: the tube is closed along that row.

    One such row, after which the tube is taken off, closes an end on purpose.
    """
    found: list[Mishap] = []
    for tube in tubes_of(run):
        passes = 0
        for change in run.passes():
            op, before = change.op, change.before
            if not tube.first <= change.number < tube.last or before.feeder is None:
                continue
            if rounds_of(before, change.after):
                passes += op.passes
            if not (tube.turned or passes >= 2 * ROUNDS_BEFORE_SHUT) or not _together(before):
                continue
            if op.passes > 1 or _knits_on(run, change.number + 1, tube.last):
                found.append(change.mishap(TUBE_KNITTED_SHUT.fault(amount=op.passes)))
                break
    return found


def _together(state: Snapshot) -> bool:
    return all(bed.action in ("knit", "tuck") and knitting(bed)
               for bed in (state.front, state.back))


def _knits_on(run: Run, first: int, last: int) -> bool:
    return any(type(moment.op) is ops.Knit for moment in run.moments[first:last])


class _Alone:
    """The rows that each bed of a tube knits by itself, and the lines that knit them."""

    def __init__(self) -> None:
        self.rows = [0, 0]
        self.lines: tuple[Counter[tuple[Span, ...]], ...] = (Counter(), Counter())
        self.first: dict[tuple[Span, ...], Transition] = {}
        self.closed: Counter[tuple[Bed, Side]] = Counter()

    def knit(self, change: Transition, bed: Bed, rows: int) -> None:
        """Some rows of one bed, over all its stitches."""
        places = change.moment.places
        self.rows[bed] += rows
        self.lines[bed][places] += rows
        self.first.setdefault(places, change)

    def mishaps(self) -> list[Mishap]:
        """The slits that they leave where rounds go on, told at the line with most of the rows."""
        bed = FRONT if self.rows[0] > self.rows[1] else BACK
        more = abs(self.rows[0] - self.rows[1])
        left_open = [side for side in SIDES if more - self.closed[bed, side] > ROWS_ALONE]
        if not left_open:
            return []
        places, _ = max(self.lines[bed].items(), key=itemgetter(1))
        others = self.rows[bed.opposite]
        return [self.first[places].mishap(TUBE_SPLIT.fault(bed, amount=self.rows[bed]), {
            "other_rows": str(others or "none"),
            "where": "at both sides" if len(left_open) > 1 else f"at the {left_open[0]}"})]


def one_bed_alone(run: Run) -> list[Mishap]:
    """One bed of a tube knits on while the other does not, and then the rounds go on.

    Rows with stitches in hold are short rows and belong to a heel; waste yarn keeps a place; rows
    along whose edges loops are picked up are a flap that is closed again.  Flat rows whose first
    edge is hung on the other bed are such rows too if the tube goes on in rounds; if its two edges
    are grafted they are a band.
    """
    found: list[Mishap] = []
    ended = 0
    for tube in tubes_of(run):
        hung = _first_edge_hung(run, ended, tube)
        since = tube.first if hung is None else hung
        flat = hung is not None
        alone = _Alone()
        for change in run.changes_by(ops.Knit, ops.Graft, ops.Gather, ops.PickUp):
            op = change.op
            if not since < change.number <= tube.last:
                continue
            if isinstance(op, ops.PickUp):
                alone.closed[op.bed, op.side] += op.rows
            elif type(op) is ops.Knit and not circular(change.before):
                _add(run, alone, change, op)
            else:
                found += alone.mishaps() if not flat or type(op) is ops.Knit else []
                alone, flat = _Alone(), False
        ended = tube.last
    return found


def _add(run: Run, alone: _Alone, change: Transition, op: ops.Knit) -> None:
    before = change.before
    yarn = run.yarns.get(before.feeder or "")
    if yarn is None or yarn.role != "main":
        return
    rows = before.turns(op.passes, run.engine.profile.front_circular)
    for bed in BEDS:
        if rows[bed] and not set_aside(before.bed(bed)):
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


def held_in_rounds(run: Run) -> list[Mishap]:
    """Stitches of one bed wait in hold while rounds are knitted over the others.

    Where the needles that face them wait too, what knits is a narrower tube: a branch.
    """
    found: list[Mishap] = []
    told = [0, 0]
    for change in run.passes():
        before = change.before
        if not circular(before):
            continue
        for bed in BEDS:
            waiting = set_aside(before.bed(bed))
            if not waiting:
                continue
            opposite = facing(bed.opposite, set_aside(before.bed(bed.opposite)), before.racking)
            alone = waiting & ~(opposite | opposite << 1 | opposite >> 1)
            if alone & ~told[bed]:
                told[bed] |= alone
                found.append(change.mishap(HELD_NEVER_RETURNED.fault(bed, alone)))
    return found


def size_differs(run: Run) -> list[Mishap]:
    """Rounds with one stitch size on the front bed and another on the back bed."""
    sizes: dict[Bed, Fraction | None] = dict.fromkeys(BEDS)
    found: list[Mishap] = []
    told = False
    tubes = iter(tubes_of(run))
    tube: Tube | None = next(tubes, None)
    for change in run.changes_by(ops.Knit, ops.SetSize):
        op = change.op
        if type(op) is ops.SetSize:
            sizes.update(dict.fromkeys(op.beds, op.size))
            told = False
        while tube is not None and change.number >= tube.last:
            tube = next(tubes, None)
        if tube is None or change.number <= tube.first or told or type(op) is not ops.Knit \
                or op.passes < 2 or not circular(change.before):
            continue
        front, back = sizes[FRONT], sizes[BACK]
        if front != back:
            told = True
            found.append(change.mishap(STITCH_SIZE_DIFFERS.fault(), {
                "front_size": _size(front), "back_size": _size(back)}))
    return found


def _size(size: Fraction | None) -> Quantity | str:
    return "none" if size is None else Quantity(size)
