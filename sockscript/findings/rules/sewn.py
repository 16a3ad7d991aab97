"""Hems and seams that a line says are sewn: is there enough to fold, and are there edges?"""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.fabric.begun import piece_at
from sockscript.fabric.hems import rows_before
from sockscript.fabric.measures import rows_knitted
from sockscript.fabric.side_edges import edge_rows
from sockscript.findings.kind import Kind, LineOut
from sockscript.operations import ops

HEM_TOO_DEEP = Kind(
    "hem-too-deep", "fault",
    "{inside} should be folded to the inside, but the piece has only {there}: their edge does not "
    "reach a row to be sewn to.",
    "Half of the rows at most can lie inside the other half. Fold fewer, or knit on before.")

NO_SIDE_EDGES = Kind(
    "no-side-edges", "warning",
    "There are no two side edges to sew together: the piece has been knitted in rounds.",
    "Leave the line out; or write it in the section after the flat piece that is meant.",
    mend=LineOut())


def hems_too_deep(run: Run) -> list[Mishap]:
    """Hems sewn down whose rows are more than half of those there are."""
    knitted = rows_knitted(run)
    found = []
    for change in run.changes():
        if isinstance(change.op, ops.SewDown):
            there = rows_before(run, change.number, knitted)
            if 2 * change.op.rows > there:
                found.append(change.mishap(HEM_TOO_DEEP.fault(), {
                    "inside": _rows(change.op.rows), "there": _rows(there)}))
    return found


def _rows(count: int) -> str:
    return "1 row" if count == 1 else f"{count} rows"


def no_side_edges(run: Run) -> list[Mishap]:
    """Sides sewn of a piece that has none."""
    there = {one.piece for one in edge_rows(run) if min(one.left, one.right)}
    return [change.mishap(NO_SIDE_EDGES.fault()) for change in run.changes()
            if isinstance(change.op, ops.SewSides) and piece_at(run, change.number) not in there]
