"""Short rows: holes and eyelets at the turns, and the same number at both ends."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind
from sockscript.findings.origins import HELD_AT_AN_END
from sockscript.findings.rules.slits import Slits
from sockscript.numbers.quantity import Quantity
from sockscript.operations.beds import BEDS, Bed, Side, highest, lowest, other_side
from sockscript.operations.ops import Knit, Place
from sockscript.trace.state import BedState, Snapshot

LARGEST_SHORT_ROW_STEP = 4
"""More needles than this put into hold at once are a block set aside, not a short row:
common practice, no source."""


FEWEST_AT_ONE_END = 3
"""Fewer needles put into hold at one end alone only ease a corner: common practice, no source."""


SHORT_ROW_HOLE = Kind(
    "short-row-hole", "fault",
    "The row turns next to {needles} of the {bed} bed, held and not wrapped: a hole.",
    "Wrap the held needle, or put into hold the needle that knitted last, on the carriage side.")

SHORT_ROW_EYELET = Kind(
    "short-row-eyelet", "advice",
    "Needles of the {bed} bed come back from hold without a wrap: a line of small eyelets.",
    "If you mind them, wrap the next held needle before each turn.",
    follows_anywhere=("returned-at-carriage",))

UNEQUAL_SHORT_ROWS = Kind(
    "unequal-short-rows", "fault",
    "The short rows of the {bed} bed are not equal: {left} held at the left, {right} at the right.",
    "Put as many needles into hold at one end as at the other.",
    led=HELD_AT_AN_END)

SHORT_ROWS_AT_ONE_END = Kind(
    "short-rows-at-one-end", "warning",
    "Of the short rows on the {bed} bed all {amount} needles were put into hold at the one end "
    "(left {left}, right {right}): the heel pulls to one side.",
    "Hold as many needles at the left as at the right.",
    led=HELD_AT_AN_END)


def short_rows(run: Run) -> list[Mishap]:
    """Turns next to a held needle, and unequal numbers held left and right."""
    if not run.holds():
        return []
    found: list[Mishap] = []
    turns = _Turns()
    slits = Slits(run)
    balance = {bed: _Balance() for bed in BEDS}
    for change in run.changes_by(Knit, Place):
        op, before = change.op, change.before
        if type(op) is Knit and before.feeder not in run.waste:
            for kind, bed, needle in turns.at_pass(op, before, change.after):
                if not slits.beside(change.number, bed, needle):
                    found.append(change.mishap(kind.fault(bed, 1 << needle)))
        elif type(op) is Place:
            turns.placed(op, before)
            for bed in BEDS:
                uneven = balance[bed].placed(op, bed, before)
                if uneven is not None:
                    left, right = uneven
                    kind = UNEQUAL_SHORT_ROWS if left and right else SHORT_ROWS_AT_ONE_END
                    found.append(change.mishap(kind.fault(bed, amount=left + right), {
                        "left": Quantity(left), "right": Quantity(right)}))
    return found


class _Turns:
    """Watches where the yarn turns back.

    A turn leaves a hole unless the held needle next to it was wrapped, or is itself the needle
    that knitted last: in both cases the yarn is attached to a held needle.  Nor does it where the
    next held stitch has been laid onto the one that knitted last, to be knitted together with it.
    When the needle that
    knitted last has only just come back from hold, or the next row fetches one back at the other
    end, the hole is a small eyelet.
    """

    def __init__(self) -> None:
        self.returned = [0, 0]
        self.returned_before = [0, 0]

    def placed(self, op: Place, before: Snapshot) -> None:
        if op.position in ("work", "upper"):
            self.returned[0] |= op.front & before.front.hold
            self.returned[1] |= op.back & before.back.hold

    def at_pass(self, op: Knit, before: Snapshot, after: Snapshot) -> list[tuple[Kind, Bed, int]]:
        found: list[tuple[Kind, Bed, int]] = []
        if before.attached is not None:
            bed, needle = before.attached
            self._judge(found, before.bed(bed), bed, needle, before.carriage,
                        self.returned_before[bed] | _if_any(self.returned[bed], needle),
                        _goes_on(before, bed))
        if op.passes > 1 and after.attached is not None:
            # Rows knitted in one go turn at the far end too (and, from the third, at this one).
            for bed in BEDS:
                state = before.bed(bed)
                active = state.working
                if not active or state.action not in ("knit", "tuck"):
                    continue
                far = other_side(before.carriage)
                sides: tuple[Side, ...] = (far, before.carriage) if op.passes > 2 else (far,)
                for side in sides:
                    edge = lowest(active) if side == "left" else highest(active)
                    self._judge(found, state, bed, edge, side, self.returned[bed], True)
        self.returned_before = self.returned
        self.returned = [0, 0]
        return found

    def _judge(self, found: list[tuple[Kind, Bed, int]], state: BedState, bed: Bed, needle: int,
               side: Side, returned: int, turns: bool) -> None:
        if not turns or not state.hold_respected or (state.hold | state.double) >> needle & 1:
            return
        held = _next_held(state, needle, side)
        if held is not None:
            eyelet = returned >> needle & 1
            found.append((SHORT_ROW_EYELET if eyelet else SHORT_ROW_HOLE, bed, held))


def _if_any(returned: int, needle: int) -> int:
    return 1 << needle if returned else 0


def _goes_on(before: Snapshot, bed: Bed) -> bool:
    """Whether the same bed knits again in the next pass, so that the yarn turns on it."""
    action = before.bed(bed).action
    return action in ("knit", "tuck")


def _next_held(state: BedState, needle: int, side: Side) -> int | None:
    """The held stitch next to a needle towards an end; None if another stitch comes first."""
    if side == "left":
        beyond, nearest = state.loaded & ((1 << needle) - 1), highest
    else:
        beyond, nearest = state.loaded >> needle + 1 << needle + 1, lowest
    if not beyond:
        return None
    found = nearest(beyond)
    return found if state.hold >> found & 1 else None


class _Balance:
    """Counts what is put into hold bit by bit at either end of the working needles."""

    def __init__(self) -> None:
        self.counts = {"left": 0, "right": 0}

    def placed(self, op: Place, bed: Bed, before: Snapshot) -> tuple[int, int] | None:
        mask = op.on(bed)
        if not mask:
            return None
        state = before.bed(bed)
        if op.position == "hold":
            newly = mask & state.in_work
            staying = state.working & ~newly & state.loaded
            if newly and staying and newly.bit_count() <= LARGEST_SHORT_ROW_STEP:
                if highest(newly) < lowest(staying):
                    self.counts["left"] += newly.bit_count()
                elif lowest(newly) > highest(staying):
                    self.counts["right"] += newly.bit_count()
        elif op.position in ("work", "upper") and mask & state.held:
            left, right = self.counts["left"], self.counts["right"]
            self.counts = {"left": 0, "right": 0}
            in_tube = before.bed(bed.opposite).loaded
            one_end = not (left and right)
            told = not one_end or (in_tube and left + right >= FEWEST_AT_ONE_END)
            if left != right and told:
                return left, right
        return None
