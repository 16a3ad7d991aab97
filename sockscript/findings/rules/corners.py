"""The corner where a short-row heel meets the resting bed."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.fabric.tubes import knitting
from sockscript.findings.kind import Kind
from sockscript.findings.rules.short_rows import LARGEST_SHORT_ROW_STEP
from sockscript.operations.beds import BEDS, Bed, Side, highest, lowest
from sockscript.operations.ops import Knit, Place, Wrap
from sockscript.trace.state import BedState, Snapshot

SIDES: tuple[Side, Side] = ("left", "right")


OPEN_CORNER = Kind(
    "open-corner", "fault",
    "The corner at the {name} between the heel and the resting {bed} bed is left open.",
    "When the last held needle there is back and the carriage stands at the {name}, lay the yarn "
    "round the nearest needle: wrap {name} 1 of {bed}.")


def open_corners(run: Run) -> list[Mishap]:
    """Where the last held needle at an end came back and the other bed's needle was not wrapped.

    The yarn laid round the nearest needle of the resting bed closes the corner; it is looked for
    before knitting goes on in circular (or on both beds).
    """
    found: list[Mishap] = []
    short: set[tuple[Bed, Side]] = set()
    waiting: dict[tuple[Bed, Side], int] = {}
    before: Snapshot | None = None
    for index, moment in enumerate(run.moments):
        op, state = moment.op, moment.state
        if before is not None and type(op) is Place:
            for bed in BEDS:
                _place(op, bed, before, state, short, waiting, index)
        elif type(op) is Wrap:
            resting = state.front if op.bed is Bed.FRONT else state.back
            for side in SIDES:
                if resting.loaded and abs(op.needle - _edge(resting, side)) <= 1:
                    waiting.pop((op.bed.opposite, side), None)
        elif type(op) is Knit and waiting and _tube_goes_on(state):
            for (bed, side), _ in sorted(waiting.items()):
                found.append(Mishap(OPEN_CORNER.fault(bed.opposite, name=side), moment.places,
                                    index, moment.instruction))
            waiting.clear()
        before = state
    return found


def _place(op: Place, bed: Bed, before: Snapshot, after: Snapshot, short: set[tuple[Bed, Side]],
           waiting: dict[tuple[Bed, Side], int], index: int) -> None:
    mask = op.front if bed is Bed.FRONT else op.back
    was, now = before.bed(bed), after.bed(bed)
    if op.position == "hold":
        newly = mask & was.loaded & (was.work | was.upper)
        if newly and newly.bit_count() <= LARGEST_SHORT_ROW_STEP:
            for side in SIDES:
                if _held_at(now, side) & newly:
                    short.add((bed, side))
    elif op.position in ("work", "upper") and mask & was.hold:
        resting = after.bed(bed.opposite)
        for side in SIDES:
            if (bed, side) in short and not _held_at(now, side) and resting.loaded \
                    and not knitting_now(resting):
                short.discard((bed, side))
                waiting[bed, side] = index


def knitting_now(state: BedState) -> bool:
    """Whether the carriage knits any stitch of a bed: it is not at rest, nor wholly in hold."""
    return state.action != "rest" and bool(knitting(state))


def _edge(state: BedState, side: Side) -> int:
    return lowest(state.loaded) if side == "left" else highest(state.loaded)


def _held_at(state: BedState, side: Side) -> int:
    """Held stitches beyond the working needles at an end."""
    working = (state.work | state.upper) & state.loaded
    held = state.hold & state.loaded
    if not working:
        return held
    if side == "left":
        return held & ((1 << lowest(working)) - 1)
    return held & ~((1 << (highest(working) + 1)) - 1)


def _tube_goes_on(state: Snapshot) -> bool:
    return knitting_now(state.front) and knitting_now(state.back)
