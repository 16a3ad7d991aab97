"""A tube stays a tube: both beds knit by turns, all the way round, at one stitch size."""

from __future__ import annotations

from fractions import Fraction

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.fabric.tubes import (
    ROUNDS_BEFORE_SHUT,
    Tube,
    circular_passes,
    flat_rows_in_tubes,
    rounds_of,
    tubes_of,
)
from sockscript.findings.kind import Kind
from sockscript.findings.origins import SIZE_SET
from sockscript.findings.rules.endings import HELD_NEVER_RETURNED
from sockscript.numbers.quantity import Quantity
from sockscript.operations import ops
from sockscript.operations.beds import BACK, BEDS, FRONT, Bed, facing
from sockscript.trace.state import Snapshot

TUBE_KNITTED_SHUT = Kind(
    "tube-knitted-shut", "fault",
    "Both beds knit in the same pass: the yarn runs from the one to the other and closes the tube "
    "along the whole row.",
    "Write  set both to circular  before it. If the tube is to end here, one such row is enough; "
    "take the stitches off after it.",
    follows=("not-set-to-circular",))

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
    if not flat_rows_in_tubes(run):
        return found
    for tube in tubes_of(run):
        passes = 0
        for change in run.passes():
            op, before = change.op, change.before
            if change.number not in range(tube.first, tube.last):
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
    return all(bed.action in ("knit", "tuck") and bed.knitting
               for bed in (state.front, state.back))


def _knits_on(run: Run, first: int, last: int) -> bool:
    return any(type(moment.op) is ops.Knit for moment in run.moments[first:last])


def held_in_rounds(run: Run) -> list[Mishap]:
    """Stitches of one bed wait in hold while rounds are knitted over the others.

    Where the needles that face them wait too, what knits is a narrower tube: a branch.
    """
    if not run.holds():
        return []
    found: list[Mishap] = []
    told = [0, 0]
    for change in run.passes():
        before = change.before
        if change.number not in circular_passes(run):
            continue
        for bed in BEDS:
            opposite = facing(bed.opposite, before.bed(bed.opposite).set_aside, before.racking)
            alone = before.bed(bed).set_aside & ~(opposite | opposite << 1 | opposite >> 1)
            if alone & ~told[bed]:
                told[bed] |= alone
                found.append(change.mishap(HELD_NEVER_RETURNED.fault(bed, alone)))
    return found


def size_differs(run: Run) -> list[Mishap]:
    """Rounds with one stitch size on the front bed and another on the back bed.

    A single pass knits one bed; the size may be set for the other before the next.
    """
    sizes: dict[Bed, Fraction | None] = dict.fromkeys(BEDS)
    found: list[Mishap] = []
    told = False
    since = 0
    tubes = iter(tubes_of(run))
    tube: Tube | None = next(tubes, None)
    for change in run.changes_by(ops.Knit, ops.SetSize):
        op = change.op
        if type(op) is ops.SetSize:
            sizes.update(dict.fromkeys(op.beds, op.size))
            told, since = False, 0
        while tube is not None and change.number >= tube.last:
            tube = next(tubes, None)
        if tube is None or change.number < tube.first or type(op) is not ops.Knit \
                or change.number not in circular_passes(run):
            continue
        since += op.passes
        front, back = sizes[FRONT], sizes[BACK]
        if since > 1 and front != back and not told:
            told = True
            found.append(change.mishap(STITCH_SIZE_DIFFERS.fault(), {
                "front_size": _size(front), "back_size": _size(back)}))
    return found


def _size(size: Fraction | None) -> Quantity | str:
    return "none" if size is None else Quantity(size)
