"""The corner where a short-row heel, or an edge that is picked up, meets the resting bed."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Literal

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind
from sockscript.findings.rules.short_rows import LARGEST_SHORT_ROW_STEP
from sockscript.operations.beds import BEDS, SIDES, Bed, Side
from sockscript.operations.ops import Knit, PickUp, Place, SetHold, Wrap
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
    short = _ShortRows()
    waiting: dict[tuple[Bed, Side], dict[str, str]] = {}
    for change in run.changes_by(Knit, Place, SetHold, Wrap, PickUp):
        op, before, after = change.op, change.before, change.after
        if type(op) is PickUp:
            if before.bed(op.bed.opposite).loaded:
                waiting[op.bed, op.side] = _EDGE
        elif type(op) is Wrap:
            resting = after.bed(op.bed)
            for side in SIDES:
                if resting.loaded and abs(op.needle - resting.edge(side)) <= 1:
                    waiting.pop((op.bed.opposite, side), None)
        elif not (short.ends or waiting or type(op) is Place):
            continue
        elif type(op) is Knit:
            knit = [knitting_now(before.bed(bed)) for bed in BEDS]
            if not all(knit):
                short.knitted(before)
            elif waiting:
                for (bed, side), part in sorted(waiting.items(), key=lambda one: one[0]):
                    found.append(change.mishap(OPEN_CORNER.fault(bed.opposite, name=side), part))
                waiting.clear()
        else:
            if type(op) is Place and op.position == "hold":
                short.held(op, before, after)
            waiting |= dict.fromkeys(short.back(before, after), _SHORT_ROWS)
    return found


Stage = Literal["held", "turned", "longer"]


class _ShortRows:
    """The ends of the beds at which stitches were put into hold a few at a time, and what came of
    them: rows of their bed alone turned before them, then some came back, and the rows grow longer.

    Rows that only become shorter are a wedge: at the corner its first row lies beside its last.
    """

    def __init__(self) -> None:
        self.ends: dict[tuple[Bed, Side], Stage] = {}

    def held(self, op: Place, before: Snapshot, after: Snapshot) -> None:
        """Some more needles are put into hold."""
        for bed, side in itertools.product(BEDS, SIDES):
            newly = op.on(bed) & before.bed(bed).in_work
            if newly.bit_count() <= LARGEST_SHORT_ROW_STEP \
                    and after.bed(bed).hold_beyond(side) & newly:
                self.ends.setdefault((bed, side), "held")

    def knitted(self, before: Snapshot) -> None:
        """A row, while not both beds knit."""
        for (bed, side), stage in self.ends.items():
            state = before.bed(bed)
            if stage == "held" and knitting_now(state) and state.hold_respected \
                    and _waiting(state, side):
                self.ends[bed, side] = "turned"

    def back(self, before: Snapshot, after: Snapshot) -> Iterator[tuple[Bed, Side]]:
        """The ends to which the next row goes again, beside a bed with stitches."""
        for (bed, side), stage in [*self.ends.items()]:
            state = after.bed(bed)
            left = _waiting(state, side)
            if left and (stage == "held" or state.hold_respected):
                if stage == "turned" and _waiting(before.bed(bed), side) & ~left:
                    self.ends[bed, side] = "longer"
                continue
            del self.ends[bed, side]
            if stage == "longer" and after.bed(bed.opposite).loaded:
                yield bed, side


def _waiting(state: BedState, side: Side) -> int:
    """The stitches in hold at an end of a bed."""
    return state.hold_beyond(side) & state.loaded


def knitting_now(state: BedState) -> bool:
    """Whether the carriage knits any stitch of a bed: it is not at rest, nor wholly in hold."""
    return state.action != "rest" and bool(state.knitting)
