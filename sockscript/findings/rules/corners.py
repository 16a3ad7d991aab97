"""The corner where a short-row heel, or an edge that is picked up, meets the resting bed."""

from __future__ import annotations

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind
from sockscript.findings.rules.short_rows import LARGEST_SHORT_ROW_STEP
from sockscript.operations.beds import BEDS, SIDES, Bed, Side
from sockscript.operations.ops import Knit, PickUp, Place, Wrap
from sockscript.trace.state import BedState, Snapshot

OPEN_CORNER = Kind(
    "open-corner", "fault",
    "The corner at the {name} between the {part} and the resting {bed} bed is left open.",
    "When {ready} and the carriage stands at the {name}, lay the yarn round the nearest needle: "
    "wrap {name} 1 of {bed}.")

_SHORT_ROWS = {"part": "short rows", "ready": "the last held needle there is back"}
_EDGE = {"part": "picked-up edge", "ready": "the loops of the edge have been knitted"}


def open_corners(run: Run) -> list[Mishap]:
    """Where the last held needle at an end came back, or an edge was picked up there, and the other
    bed's needle was not wrapped.

    The yarn laid round the nearest needle of the resting bed closes the corner; it is looked for
    before knitting goes on in circular (or on both beds).
    """
    found: list[Mishap] = []
    short: set[tuple[Bed, Side]] = set()
    waiting: dict[tuple[Bed, Side], dict[str, str]] = {}
    for change in run.changes_by(Knit, Place, Wrap, PickUp):
        op, state = change.op, change.after
        if type(op) is Place:
            for bed in BEDS:
                _place(op, bed, change, short, waiting)
        elif type(op) is PickUp:
            resting = change.before.bed(op.bed.opposite)
            if resting.loaded and not knitting_now(resting):
                waiting[op.bed, op.side] = _EDGE
        elif type(op) is Wrap:
            resting = state.bed(op.bed)
            for side in SIDES:
                if resting.loaded and abs(op.needle - resting.edge(side)) <= 1:
                    waiting.pop((op.bed.opposite, side), None)
        elif type(op) is Knit and waiting and _tube_goes_on(state):
            for (bed, side), part in sorted(waiting.items(), key=lambda one: one[0]):
                found.append(change.mishap(OPEN_CORNER.fault(bed.opposite, name=side), part))
            waiting.clear()
    return found


def _place(op: Place, bed: Bed, change: Transition, short: set[tuple[Bed, Side]],
           waiting: dict[tuple[Bed, Side], dict[str, str]]) -> None:
    mask = op.on(bed)
    if not mask:
        return
    was, now = change.before.bed(bed), change.after.bed(bed)
    if op.position == "hold":
        newly = mask & was.in_work
        if newly and newly.bit_count() <= LARGEST_SHORT_ROW_STEP:
            for side in SIDES:
                if now.hold_beyond(side) & newly:
                    short.add((bed, side))
    elif op.position in ("work", "upper") and mask & was.hold:
        resting = change.after.bed(bed.opposite)
        for side in SIDES:
            if (bed, side) in short and not now.hold_beyond(side) & now.loaded and resting.loaded \
                    and not knitting_now(resting):
                short.discard((bed, side))
                waiting[bed, side] = _SHORT_ROWS


def knitting_now(state: BedState) -> bool:
    """Whether the carriage knits any stitch of a bed: it is not at rest, nor wholly in hold."""
    return state.action != "rest" and bool(state.knitting)


def _tube_goes_on(state: Snapshot) -> bool:
    return knitting_now(state.front) and knitting_now(state.back)
