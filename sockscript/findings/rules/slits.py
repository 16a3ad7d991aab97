"""Slits knitted on purpose: first the stitches on one side of a place, then those on the other."""

from __future__ import annotations

from bisect import bisect_left
from functools import cached_property

from sockscript.expand.run import Run
from sockscript.operations.beds import Bed, highest, lowest


class Slits:
    """Tells a slit (a thumb, a pocket) from a hole at the turn of a short row.

    At a slit both sides become as high: between two rows that go over both, the held stitch gets
    as many rows as the neighbour that knits while it waits.  In a short row it gets fewer.
    """

    def __init__(self, run: Run) -> None:
        self.run = run

    @cached_property
    def rows(self) -> list[tuple[int, int, tuple[int, int]]]:
        """Every operation that knits: its index, its passes, the needles worked on each bed."""
        way = self.run.engine.profile.front_circular
        return [(change.number, change.op.passes, change.before.acting(way))
                for change in self.run.passes()]

    def beside(self, index: int, bed: Bed, held: int) -> bool:
        """Whether the stitch that is held in an operation lies at a slit."""
        state = self.run.changes()[index].before.bed(bed)
        neighbour = _working_neighbour(state.in_work, state.loaded, held)
        if neighbour is None:
            return False
        now = bisect_left(self.rows, index, key=lambda row: row[0])
        # The row that is asked about knits the neighbour alone, however many passes it has.
        waiting = knitting = 0
        for way in (range(now, len(self.rows)), reversed(range(now))):
            for number in way:
                _, passes, worked = self.rows[number]
                one, two = worked[bed] >> held & 1, worked[bed] >> neighbour & 1
                if one and two:
                    break
                waiting, knitting = waiting + one * passes, knitting + two * passes
        return waiting == knitting


def _working_neighbour(working: int, loaded: int, held: int) -> int | None:
    """The working stitch next to a held one, if no other stitch lies between."""
    left, right = loaded % (1 << held), loaded >> held + 1 << held + 1
    for beyond, nearest in ((left, highest), (right, lowest)):
        if beyond and working >> nearest(beyond) & 1:
            return nearest(beyond)
    return None
