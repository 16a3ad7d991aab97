"""Hems and seams: is there enough to fold, do they fold where they should, are there edges?"""

from __future__ import annotations

from fractions import Fraction

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.fabric.begun import piece_at
from sockscript.fabric.hems import rows_before
from sockscript.fabric.measures import rows_knitted
from sockscript.fabric.side_edges import edge_rows
from sockscript.findings.kind import Kind, LedBy, LineOut
from sockscript.findings.origins import SIZE_SET
from sockscript.operations import ops
from sockscript.operations.beds import Bed

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

MOST_OFF_FOLD = 2
"""So many rows more or fewer may lie before the fold of a hem than after it: the inner half is
often knitted a row or two shorter.  Common practice, no source."""

_HOLES = LedBy(lambda change, mishap: isinstance(change.op, ops.Transfer),
               "the row of holes was made here")

FOLD_OFF_CENTRE = Kind(
    "fold-off-centre", "advice",
    "The {fold} of the hem, on which it should fold, is not its middle: {below} before it, "
    "{above} after it.",
    "Knit as many rows after the {fold} as before it, or a row or two more.",
    led=lambda mishap: SIZE_SET if mishap.detail["fold"] == "looser row" else _HOLES)
PICOT = 3
"""A row of holes on which a hem folds has one at least for so many stitches; a cord is drawn
through fewer (common practice, no source)."""


def hems_too_deep(run: Run) -> list[Mishap]:
    """Hems sewn down whose rows are more than half of those there are."""
    found = []
    for change in run.changes_by(ops.SewDown):
        if isinstance(change.op, ops.SewDown):
            knitted = rows_knitted(run)
            there = rows_before(run, change.number, knitted)
            if 2 * change.op.rows > there:
                found.append(change.mishap(HEM_TOO_DEEP.fault(), {
                    "inside": _rows(change.op.rows), "there": _rows(there)}))
    return found


def _rows(count: int) -> str:
    return "1 row" if count == 1 else f"{count} rows"


def no_side_edges(run: Run) -> list[Mishap]:
    """Sides sewn of a piece that has none."""
    sewn = run.changes_by(ops.SewSides)
    there = {one.piece for one in edge_rows(run) if min(one.left, one.right)} if sewn else set()
    return [change.mishap(NO_SIDE_EDGES.fault()) for change in sewn
            if piece_at(run, change.number) not in there]


def folds_off_centre(run: Run) -> list[Mishap]:
    """Hems with one looser row, or one row of holes, on which they should fold, elsewhere than in
    their middle."""
    marked: dict[str, Transition] = {}
    found = []
    for change in run.changes_by(ops.Mark, ops.Rehang):
        op = change.op
        if isinstance(op, ops.Mark):
            marked[op.name] = change
        elif isinstance(op, ops.Rehang) and op.onto and op.name in marked:
            mark = marked.pop(op.name)
            assert isinstance(mark.op, ops.Mark)
            hem = run, mark.op.bed, mark.number, change.number
            sides = _beside_fold(*hem)
            fold = "looser row" if sides is not None else "row of holes"
            sides = sides or _beside_holes(*hem)
            if sides is not None and abs(sides[0] - sides[1]) > MOST_OFF_FOLD:
                found.append(change.mishap(FOLD_OFF_CENTRE.fault(), {
                    "fold": fold, "below": _rows(sides[0]), "above": _rows(sides[1])}))
    return found


def _beside_holes(run: Run, bed: Bed, first: int, last: int) -> tuple[int, int] | None:
    """Rows of a bed before and after the only time between moments that many of its stitches are
    laid on their neighbours, so that the next row has holes."""
    rows = [0, 0]
    holes = 0
    for change in run.changes_by(ops.Transfer, ops.Knit):
        op = change.op
        if not first < change.number < last:
            continue
        if isinstance(op, ops.Knit):
            turns = change.before.turns(op.passes, run.engine.profile.front_circular)[bed]
            rows[min(holes, 1)] += turns
        elif isinstance(op, ops.Transfer):
            laid = sum(move[0] is bed and move[2] is bed for move in op.moves)
            holes += laid * PICOT >= change.before.bed(bed).stitches() > 0
    return (rows[0], rows[1] - 1) if holes == 1 and rows[1] else None


def _beside_fold(run: Run, bed: Bed, first: int, last: int) -> tuple[int, int] | None:
    """Rows of a bed before and after the only one of the largest stitch size between moments."""
    sizes: list[Fraction | None] = []
    turns: list[int] = []
    size: Fraction | None = None
    for change in run.changes_by(ops.SetSize, ops.Knit):
        op = change.op
        if change.number > last:
            break
        if isinstance(op, ops.SetSize):
            size = op.size if bed in op.beds else size
        elif isinstance(op, ops.Knit) and change.number > first:
            rows = change.before.turns(op.passes, run.engine.profile.front_circular)[bed]
            if rows:
                sizes.append(size)
                turns.append(rows)
    known = [one for one in sizes if one is not None]
    if len(known) < len(sizes) or len(set(known)) < 2:
        return None
    at = known.index(max(known))
    if known.count(known[at]) > 1 or turns[at] > 1:
        return None
    return sum(turns[:at]), sum(turns[at + 1:])
