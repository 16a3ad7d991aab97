"""Edges begun on waste yarn: a ravel cord between, and nothing left open."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind
from sockscript.operations.ops import Knit, Mark
from sockscript.trace.state import Snapshot

WASTE_ROWS = 4
"""Rows of waste yarn that make an edge, and not a place for a heel: common practice."""


EDGE_LEFT_OPEN = Kind(
    "edge-left-open", "advice",
    "{stitches} of '{name}' come free with the waste yarn and are never taken up.",
    "Rehang them (a hem, a graft), or tell the reader how to secure them.")

RAVEL_CORD_MISSING = Kind(
    "ravel-cord-missing", "advice",
    "The yarn follows straight on {amount} rows of waste yarn, without a row of ravel cord.",
    "Knit one row of strong smooth cord between: drawn out, it frees the waste yarn without "
    "scissors near the stitches.")


def edge_left_open(run: Run) -> list[Mishap]:
    """Loops that come free when the waste yarn is drawn out, and are never taken up."""
    if run.stopped is not None:
        return []
    found = []
    for index, moment in enumerate(run.moments):
        op = moment.op
        if isinstance(op, Mark) and op.kind == "edge" and op.name in run.engine.groups:
            stitches = len(run.engine.groups[op.name].stacks)
            found.append(Mishap(EDGE_LEFT_OPEN.fault(amount=stitches, name=op.name),
                                moment.places, index, moment.instruction))
    return found


def ravel_cord_missing(run: Run) -> list[Mishap]:
    """A piece begun on waste yarn whose own yarn follows without a row of ravel cord."""
    roles = {yarn.name: yarn.role for yarn in run.script.yarns}
    rows = 0
    begun = True
    before: Snapshot | None = None
    for index, moment in enumerate(run.moments):
        op = moment.op
        if before is not None and type(op) is Knit and before.feeder is not None:
            role = roles.get(before.feeder)
            if role == "waste" and begun:
                rows += op.passes
            elif role == "main" and rows >= WASTE_ROWS:
                return [Mishap(RAVEL_CORD_MISSING.fault(amount=rows), moment.places, index,
                               moment.instruction)]
            else:
                begun, rows = False, 0
        before = moment.state
    return []
