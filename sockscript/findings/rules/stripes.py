"""Yarns that are knitted in turn: how far the one that waits floats up the edge, and whether the
stripes of a tube are whole rounds."""

from __future__ import annotations

from sockscript.expand.record import Mishap, Pass
from sockscript.expand.run import Run
from sockscript.fabric.tubes import circular_passes, tubes_of
from sockscript.findings.kind import Kind
from sockscript.operations import ops
from sockscript.operations.beds import BEDS, Side

MOST_ROWS_UP = 6
"""Rows that a yarn may be carried up an edge: common practice (four to six), no source."""

LONG_EDGE_FLOAT = Kind(
    "long-edge-float", "warning",
    "The {name} is taken up again after {rows}: so long a float up the edge pulls in or catches "
    "(it is carried over 6 rows at most; common practice).",
    "Cut it before a stripe of more rows and thread it anew, or make the stripe narrower.")

STRIPE_UNEVEN = Kind(
    "stripe-uneven", "advice",
    "The {name} ends in the middle of a round, after {so_many_passes}: its stripe is a row higher "
    "on the one bed than on the other.",
    "Change yarns after whole rounds: a round is two rows.",
    follows_anywhere=("yarn-waits-elsewhere",))


def stripe_uneven(run: Run) -> list[Mishap]:
    """A yarn of a tube that another one follows after an odd number of passes.

    A thread that only goes along may come and go; waste yarn and cord come out again.
    """
    if not run.changes_by(ops.Thread, ops.Change):
        return []
    found = []
    for tube in tubes_of(run):
        last: Pass | None = None
        passes = own = 0
        for change in run.passes():
            if not tube.first <= change.number < tube.last:
                continue
            if change.number not in circular_passes(run):
                last, passes, own = None, 0, 0
                continue
            if last is not None and last.before.feeder != change.before.feeder:
                if not _stays(run, last):
                    passes = 0
                if passes % 2 and _stays(run, change):
                    found.append(last.mishap(STRIPE_UNEVEN.fault(
                        amount=own, name=last.before.feeder or "")))
                    break
                own = 0
            last = change
            passes += change.op.passes
            own += change.op.passes
    return found


def _stays(run: Run, change: Pass) -> bool:
    """Whether the yarn of a pass stays in the piece."""
    return change.before.feeder in run.main_yarns


def long_edge_floats(run: Run) -> list[Mishap]:
    """Yarns taken up again after more rows than they are carried over at an edge."""
    rested: dict[str, int] = {}
    found = []
    for change in run.changes_by(ops.Change):
        assert isinstance(change.op, ops.Change)
        waited = dict(change.before.waiting).get(change.op.yarn)
        if waited is not None and waited.side == change.before.carriage:
            rows = _rows(run, rested.get(change.op.yarn, change.number), change.number,
                         waited.side)
            if rows > MOST_ROWS_UP:
                found.append(change.mishap(LONG_EDGE_FLOAT.fault(amount=rows,
                                                                 name=change.op.yarn)))
        if change.before.feeder is not None:
            rested[change.before.feeder] = change.number
    return found


def _rows(run: Run, first: int, last: int, side: Side) -> int:
    """Rows of the outermost stitch at a side, on the bed where it has most of them: a round of a
    tube is one, and while that stitch waits in hold the edge does not grow."""
    rows = [0, 0]
    for change in run.changes()[first:last]:
        if isinstance(change.op, ops.Knit):
            turns = change.before.turns(change.op.passes, run.engine.profile.front_circular)
            for bed in BEDS:
                state = change.before.bed(bed)
                if turns[bed] and state.loaded and state.active >> state.edge(side) & 1:
                    rows[bed] += turns[bed]
    return max(rows)
