"""Stitches that are turned over: with a tool, one by one, or by way of waste yarn.

A fold is an operation of its own, of which the simulator tells what the comb and the yarn make of
it.  Stitches that are taken off and hung up again the other way round, while others of the piece
stay on the needles, are turned no less.
"""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind
from sockscript.findings.kinds.hands import FOLD_WITH_COMB, FOLD_WITH_YARN
from sockscript.operations import ops
from sockscript.operations.beds import Spot, indices
from sockscript.trace.faults import Fault

FOLD_WITH_WEIGHTS = Kind(
    "fold-with-weights", "warning",
    "Stitches are turned over while the weights hang on the knitting: they are pulled off.",
    "Write  remove weights  before it, and hang them again afterwards.")


class _Turn(NamedTuple):
    """An operation that turns stitches; ``yarn``: the stitch among them from which the yarn in the
    feeder comes."""

    change: Transition
    yarn: Spot | None


def turned_by_hand(run: Run) -> list[Mishap]:
    """Stitches turned over with the comb, the weights or the yarn on them."""
    told: dict[str, Mishap] = {}
    for change, yarn in _turns(run):
        faults: list[Fault] = []
        if change.after.weights:
            faults.append(FOLD_WITH_WEIGHTS.fault())
        if type(change.op) is not ops.Fold:
            if change.after.comb:
                faults.append(FOLD_WITH_COMB.fault())
            if yarn is not None and change.after.feeder is not None:
                faults.append(FOLD_WITH_YARN.fault(yarn[0], 1 << yarn[1]))
        for fault in faults:
            told.setdefault(fault.kind, change.mishap(fault))
    return list(told.values())


def _turns(run: Run) -> list[_Turn]:
    found: list[_Turn] = []
    if not run.changes_by(ops.Fold, ops.Rehang, ops.Transfer):
        return found
    off: dict[str, list[Spot]] = {}
    yarn: Spot | None = None
    moved: list[ops.Move] = []
    for change in run.changes_by(ops.Fold, ops.Rehang, ops.Transfer, ops.ScrapOff, ops.Cut,
                                 ops.Thread, ops.Change, ops.Knit):
        op, before = change.op, change.before
        if isinstance(op, (ops.Cut, ops.Thread, ops.Change, ops.Knit)):
            yarn, moved = None, []
        elif isinstance(op, ops.ScrapOff):
            here = [(op.bed, n) for n in indices(op.needles & before.bed(op.bed).loaded)]
            off.setdefault(op.name, []).extend(here)
            yarn = before.attached if before.attached in here else yarn
            if change.after.bare:
                off = {}
        elif isinstance(op, ops.Rehang):
            stitches = off.pop(op.name, [])
            moves = _hung(stitches, op)
            if _turned(moves):
                found.append(_Turn(change, yarn if yarn in stitches else None))
        elif isinstance(op, ops.Transfer):
            if not moved:
                yarn = before.attached
            moved += [move for move in op.moves if move[0] is not move[2]]
            if _turned(moved):
                found.append(_Turn(change, yarn if yarn in [move[:2] for move in moved] else None))
        elif isinstance(op, ops.Fold) and op.moves:
            found.append(_Turn(change, None))
    return found


def _hung(stitches: list[Spot], op: ops.Rehang) -> list[ops.Move]:
    """From where to where stitches have gone that were on waste yarn."""
    order = stitches[::-1] if op.turned else stitches
    return [(*spot, *target) for spot, target in zip(order, op.targets, strict=False)]


def _turned(moves: list[ops.Move]) -> bool:
    """Whether two stitches that hung on one bed hang on one bed the other way round."""
    in_order = sorted(moves, key=lambda move: (move[0], move[2], move[1]))
    return any(one[0] is two[0] and one[2] is two[2] and one[3] > two[3]
               for one, two in pairwise(in_order))
