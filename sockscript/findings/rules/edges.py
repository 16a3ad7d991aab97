"""Edges: what makes one, a ravel cord after waste yarn, and nothing left open."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind
from sockscript.operations.beds import BACK, FRONT
from sockscript.operations.ops import Knit, Mark, Tackle

WASTE_ROWS = 4
"""Rows of waste yarn that make an edge, and not a place for a heel: common practice, no
source."""


BARE_STRAND = Kind(
    "bare-strand", "fault",
    "The first row lies over empty needles of the {bed} bed alone, side by side: a bare strand in "
    "the hooks, no edge.",
    "Cast on by hand (cast on {bed}), begin with waste yarn, or hang the comb on the strand before "
    "the next row; over both beds the first row makes an edge by itself.",
    follows_anywhere=("wrong-mark",))

EDGE_LEFT_OPEN = Kind(
    "edge-left-open", "warning",
    "{stitches} of '{name}' {come} free with the waste yarn and {are} never taken up.",
    "Rehang them (a hem, a graft), or tell the reader how to secure them.")

RAVEL_CORD_MISSING = Kind(
    "ravel-cord-missing", "advice",
    "The yarn follows straight on {amount} rows of waste yarn, without a row of ravel cord.",
    "Knit one row of strong smooth cord between: drawn out, it frees the waste yarn without "
    "scissors near the stitches.")


def bare_strand(run: Run) -> list[Mishap]:
    """A first row over empty needles of one bed alone: the yarn only lies in the hooks.

    An edge is a first row that zigzags between both beds, loops cast on by hand, a row over every
    other needle, waste yarn or ravel cord that comes out again, or a strand that a comb is hung
    on before the next row.
    """
    roles = {yarn.name: yarn.role for yarn in run.script.yarns}
    way = run.engine.profile.front_circular
    for change in run.passes():
        op, before = change.op, change.before
        if roles.get(before.feeder or "") == "main":
            front, back = before.acting(way)
            begins = not (front & before.front.loaded or back & before.back.loaded)
            if begins and bool(front) != bool(back) and _side_by_side(front | back) \
                    and not (op.passes == 1 and _comb_follows(run, change.number)):
                return [change.mishap(BARE_STRAND.fault(FRONT if front else BACK, front | back))]
    return []


def _side_by_side(needles: int) -> bool:
    """Whether every needle of a set has a neighbour in it."""
    return not needles & ~(needles << 1 | needles >> 1)


def _comb_follows(run: Run, index: int) -> bool:
    """Whether the comb is hung between a row and the next."""
    for moment in run.moments[index + 1:]:
        if type(moment.op) is Knit:
            return False
        if type(moment.op) is Tackle and (moment.op.item, moment.op.action) == ("comb", "hang"):
            return True
    return False


def edge_left_open(run: Run) -> list[Mishap]:
    """Loops that come free when the waste yarn is drawn out, and are never taken up."""
    if run.stopped is not None:
        return []
    found = []
    # Of edges of one name it is the last: the earlier one was taken up before.
    last = {change.op.name: change for change in run.changes_by(Mark)
            if isinstance(change.op, Mark)}
    for change in last.values():
        op = change.op
        if isinstance(op, Mark) and op.kind == "edge" and op.name in run.engine.groups:
            stitches = len(run.engine.groups[op.name].stacks)
            found.append(change.mishap(EDGE_LEFT_OPEN.fault(amount=stitches, name=op.name)))
    return found


def ravel_cord_missing(run: Run) -> list[Mishap]:
    """A piece begun on waste yarn whose own yarn follows without a row of ravel cord."""
    roles = {yarn.name: yarn.role for yarn in run.script.yarns}
    rows = 0
    begun = True
    for change in run.passes():
        op, before = change.op, change.before
        if before.feeder is not None:
            role = roles.get(before.feeder)
            if role == "waste" and begun:
                rows += op.passes
            elif role == "main" and rows >= WASTE_ROWS:
                return [change.mishap(RAVEL_CORD_MISSING.fault(amount=rows))]
            else:
                begun, rows = False, 0
    return []
