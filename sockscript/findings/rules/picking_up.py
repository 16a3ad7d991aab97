"""Loops picked up along an edge: is the edge there, are they enough and not too many, on the
right needles?"""

from __future__ import annotations

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.fabric.selvedges import picked_up
from sockscript.findings.kind import Kind
from sockscript.operations.beds import BEDS, highest, lowest
from sockscript.operations.ops import PickUp

CORNERS = 1
"""One loop more than one for every two rows closes the corner (common practice, no source)."""
FEWEST = 4
"""With fewer than one loop for so many rows holes are left: common practice, no source."""

EDGE_NOT_THERE = Kind(
    "edge-not-there", "fault",
    "Loops should be picked up along {rows} at the {name} of the {bed} bed, but {there} there.",
    "An edge is picked up along rows that were knitted on that bed alone or over both in one row, "
    "up to its outermost stitch, since the last round; each row only once. Name the rows that are "
    "there, or the other end.")

PICKED_UP_CLOSE = Kind(
    "picked-up-close", "warning",
    "{loops} are picked up along {rows}: more than one for every two rows, so that the edge "
    "spreads.",
    "One loop for every two rows lies flat, and one more at a corner: {most} here at most.")

PICKED_UP_SPARSE = Kind(
    "picked-up-sparse", "warning",
    "{loops} are picked up along {rows}: fewer than one for every four rows, so that holes are "
    "left.",
    "One loop for every two rows lies flat.")

PICKED_UP_ASTRAY = Kind(
    "picked-up-astray", "fault",
    "Loops of the edge at the {name} of the {other} bed are hung on {needles} of the {bed} bed, "
    "which are not beyond its outermost stitch at the {name}: they are pulled across the knitting.",
    "Bring needles beyond the {name} end into work, and hang the loops there.")


PICKED_UP_APART = Kind(
    "picked-up-apart", "warning",
    "{Needles} of the {bed} bed {stay} empty between the outermost stitch at the {name} and the "
    "loops that are picked up: a ladder runs up from there.",
    "Bring the needles right beside the last stitch into work, and hang the loops there.")


def edges_picked_up(run: Run) -> list[Mishap]:
    """Edges that are not there, too many or too few loops, and loops on needles elsewhere."""
    found = []
    for change, there in picked_up(run):
        op = change.op
        assert isinstance(op, PickUp)
        loops, rows = len(op.targets), _counted(op.rows, "row")
        if op.rows > there:
            words = "there is no open edge" if not there else \
                f"only {_counted(there, 'row')} {'lies' if there == 1 else 'lie'} at an open edge"
            found.append(change.mishap(EDGE_NOT_THERE.fault(op.bed, name=op.side),
                                       {"rows": rows, "there": words}))
            continue
        most = -(-op.rows // 2) + CORNERS
        if loops > most:
            found.append(change.mishap(PICKED_UP_CLOSE.fault(), {
                "loops": _counted(loops, "loop"), "rows": rows, "most": str(most)}))
        elif loops * FEWEST < op.rows:
            found.append(change.mishap(PICKED_UP_SPARSE.fault(), {
                "loops": _counted(loops, "loop"), "rows": rows}))
        if not op.onto:
            found += _astray(change, op) or _apart(change, op)
    return found


def _apart(change: Transition, op: PickUp) -> list[Mishap]:
    """Needles without a stitch between the edge of the stitches and the loops beyond it, in
    stitches that hang side by side."""
    for bed in BEDS:
        loaded = change.before.bed(bed).loaded
        targets = sum(1 << needle for at, needle in op.targets if at is bed)
        if not (loaded and targets):
            continue
        if op.side == "left":
            edge, near, inner = lowest(loaded), highest(targets), lowest(loaded) + 1
            between = (1 << edge) - (1 << near + 1)
        else:
            edge, near, inner = highest(loaded), lowest(targets), highest(loaded) - 1
            between = (1 << near) - (1 << edge + 1)
        if loaded >> inner & 1 and between > 0:
            return [change.mishap(PICKED_UP_APART.fault(bed, between, name=op.side))]
    return []


def _astray(change: Transition, op: PickUp) -> list[Mishap]:
    """Loops on empty needles that do not lie at the end of the stitches where the edge is."""
    for bed in (op.bed, op.bed.opposite):
        loaded = change.before.bed(bed).loaded
        inside = 0
        for at, needle in op.targets:
            if at is bed and loaded and not loaded >> needle & 1 and (
                    needle > lowest(loaded) if op.side == "left" else needle < highest(loaded)):
                inside |= 1 << needle
        if inside:
            return [change.mishap(PICKED_UP_ASTRAY.fault(bed, inside, name=op.side),
                                  {"other": op.bed.word})]
    return []


def _counted(count: int, thing: str) -> str:
    return f"{count} {thing}{'' if count == 1 else 's'}"
