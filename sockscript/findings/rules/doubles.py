"""Two stitches on a needle that no row joins before they are grafted off the machine."""

from __future__ import annotations

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.findings.kinds.hands import DOUBLE_NOT_KNITTED
from sockscript.operations import ops
from sockscript.operations.beds import Bed


def doubles_grafted_off(run: Run) -> list[Mishap]:
    """Stitches scrapped off two on a needle and grafted to others: at the machine this is seen as
    they are grafted.  Hung on needles again they may still be knitted."""
    scrapped: dict[str, tuple[Transition, Bed, int]] = {}
    found = []
    for change in run.changes_by(ops.ScrapOff, ops.GraftGroups, ops.Rehang):
        op = change.op
        if isinstance(op, ops.ScrapOff):
            double = change.before.bed(op.bed).double & op.needles
            if double:
                scrapped[op.name] = change, op.bed, double
        elif isinstance(op, ops.Rehang):
            scrapped.pop(op.name, None)
        elif isinstance(op, ops.GraftGroups):
            for name in (op.first, op.second):
                if name in scrapped:
                    taken, bed, double = scrapped.pop(name)
                    found.append(taken.mishap(DOUBLE_NOT_KNITTED.fault(bed, double)))
    return found
