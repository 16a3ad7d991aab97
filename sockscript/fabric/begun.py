"""Where a piece is begun: loops come onto bare needles, and not from a holder."""

from __future__ import annotations

from bisect import bisect_right

from sockscript.expand.run import Run, once
from sockscript.operations import ops


@once
def beginnings(run: Run) -> list[int]:
    """The moments at which pieces are begun, in order."""
    return [number for number, op, before, after, _ in run.changes()
            if before.bare and not after.bare
            and not isinstance(op, (ops.Rehang, ops.PickUp))]


def piece_at(run: Run, moment: int) -> int:
    """The number of the piece that is on the needles at a moment, or was last; -1 before any."""
    return bisect_right(beginnings(run), moment) - 1
