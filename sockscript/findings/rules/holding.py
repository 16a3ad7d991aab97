"""Holding: respected on the bed that holds, not for too long, and returned on the right side."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind, LineBefore
from sockscript.findings.origins import HELD
from sockscript.operations.beds import BEDS, Bed, highest, lowest
from sockscript.operations.ops import Knit, Place, SetHold

LONGEST_HOLD = 80
"""Rows knitted past a held stitch before it is worn and stretched: common practice, no source."""


HELD_TOO_LONG = Kind(
    "held-too-long", "advice",
    "{Needles} of the {bed} bed {hold} stitches past more than {amount} rows: they wear and "
    "stretch.",
    "Scrap them off onto waste yarn and rehang them later, or hold fewer rows.",
    led=HELD)

HOLD_NOT_SET = Kind(
    "hold-not-set", "warning",
    "{Needles} of the {bed} bed {are} in hold, but hold is not set there: {they} {knit} in this "
    "row.",
    "Write  respect hold on {bed}  before this row; if they are only pushed out so that they knit "
    "more surely, write  return … to upper work.",
    led=HELD,
    follows=("hold-on-wrong-bed",))

HOLD_ON_WRONG_BED = Kind(
    "hold-on-wrong-bed", "warning",
    "Hold is respected on the {other} bed, where nothing is held, but not on the {bed} bed: "
    "{needles} there {are} knitted after all.",
    "Write  respect hold on {bed}  before this row.",
    mend=LineBefore("respect hold on {bed}"))

RETURNED_AT_CARRIAGE = Kind(
    "returned-at-carriage", "advice",
    "{Needles} of the {bed} bed {come} back at the {name}, where the carriage stands.",
    "Return needles at the end opposite the carriage (return far side 1 held of {bed} to work): "
    "the yarn then comes to them along the row.")


def long_hold(run: Run) -> list[Mishap]:
    """Stitches that wait in hold while very many rows are knitted beside them."""
    if not run.holds():
        return []
    rows = 0
    since: dict[tuple[Bed, int], int] = {}
    before = [0, 0]
    for change in run.passes():
        for bed in BEDS:
            state = change.after.bed(bed)
            held = state.held if state.action != "rest" else 0
            changed = held ^ before[bed]
            before[bed] = held
            while changed:
                since[bed, lowest(changed)] = rows
                changed &= changed - 1
            if not held:
                continue
            worn = 0
            for needle in (lowest(held), highest(held)):
                if rows + change.op.passes - since[bed, needle] > LONGEST_HOLD:
                    worn |= 1 << needle
            if worn:
                return [change.mishap(HELD_TOO_LONG.fault(bed, worn, amount=LONGEST_HOLD))]
        rows += change.op.passes
    return []


def hold_not_set(run: Run) -> list[Mishap]:
    """Needles put into hold that knit in the next row, since hold is not set on their bed.

    Needles for which hold was set since they were put there are meant to come back when it is
    cancelled.  Where all stitches of a bed are in hold, they were pushed out so that they surely
    knit off.
    """
    if not run.holds():
        return []
    found = []
    heeded = [0, 0]
    told = [False, False]
    for change in run.changes_by(Knit, Place, SetHold):
        for bed in BEDS:
            was, now = change.before.bed(bed), change.after.bed(bed)
            if now is was:
                continue
            heeded[bed] &= was.hold
            if type(change.op) is Knit and not told[bed]:
                knitted = was.held & ~heeded[bed] & ~now.hold
                if knitted and not was.hold_respected and was.loaded & ~was.hold:
                    told[bed] = True
                    found.append(change.mishap(HOLD_NOT_SET.fault(bed, knitted)))
            heeded[bed] = now.hold if now.hold_respected else now.hold & heeded[bed]
    return found


def hold_on_wrong_bed(run: Run) -> list[Mishap]:
    """Hold is respected where nothing is held, and not where something is."""
    for change in run.passes():
        before = change.before
        if before.front.hold_respected != before.back.hold_respected:
            for bed in BEDS:
                here, there = before.bed(bed), before.bed(bed.opposite)
                held = here.held
                if held and here.action != "rest" and not here.hold_respected \
                        and there.hold_respected and not there.held:
                    return [change.mishap(HOLD_ON_WRONG_BED.fault(bed, held))]
    return []


def returned_at_carriage(run: Run) -> list[Mishap]:
    """Needles taken back one by one at the end where the carriage stands.

    The held stitch is then knitted straight after the turn, with nothing between it and the
    stitch before; the trade returns needles at the end opposite the carriage.
    """
    for change in run.changes_by(Place):
        op, before = change.op, change.before
        if type(op) is Place and op.position in ("work", "upper"):
            for bed in BEDS:
                state = before.bed(bed)
                mask = op.on(bed) & state.held
                beyond = state.hold_beyond(before.carriage) & state.loaded
                if mask and state.in_work and state.action != "rest" and state.hold_respected \
                        and beyond & ~mask and not mask & ~beyond:
                    return [change.mishap(
                        RETURNED_AT_CARRIAGE.fault(bed, mask, name=before.carriage))]
    return []
