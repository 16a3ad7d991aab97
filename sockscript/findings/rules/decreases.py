"""Decreases and increases of a tube: alike at both ends, in whole rounds, at one pace.

They are told by the loops: a decrease is a needle with two loops that is knitted, however the
second came there; an increase is a loop on a needle that had none.
"""

from __future__ import annotations

import itertools
from collections import Counter
from operator import itemgetter
from typing import NamedTuple

from sockscript.expand.record import Change, Mishap
from sockscript.expand.run import Run, once
from sockscript.fabric.tubes import Tube, circular, knitting, tubes_of
from sockscript.findings.kind import Kind
from sockscript.findings.origins import MOVED_BY_HAND
from sockscript.numbers.quantity import Quantity
from sockscript.operations import ops
from sockscript.operations.beds import BEDS, Bed, Side, highest, indices, lowest
from sockscript.trace.state import BedState

SIDES: tuple[Side, Side] = ("left", "right")
MOST_AT_ONCE = 2
"""Decreases at one end of a bed at one time; more are a crown, drawn in all over: common practice,
no source."""
ENOUGH = 5
"""Intervals between decreases from which a pace is known."""


DECREASES_NOT_MIRRORED = Kind(
    "decreases-not-mirrored", "warning",
    "The tube is not shaped alike at both ends and on both beds; decreases at the left and right: "
    "front {front_left} and {front_right}, back {back_left} and {back_right}.",
    "Decrease at each end of each bed as often.")

INCREASES_NOT_MIRRORED = Kind(
    "increases-not-mirrored", "warning",
    "The tube is not widened alike at both ends and on both beds; increases at the left and right: "
    "front {front_left} and {front_right}, back {back_left} and {back_right}.",
    "Increase at each end of each bed as often.",
    led=MOVED_BY_HAND)

WIDENED_UNLIKE = Kind(
    "widened-unlike", "warning",
    "The increases of the {bed} bed at the {name} are not made as the others: {how} instead of "
    "{usual}.",
    "Make them alike at both ends and on both beds: move the edge stitches out there too, and lift "
    "from the neighbour on the side of the middle.",
    led=MOVED_BY_HAND)

HALF_ROUND_BETWEEN = Kind(
    "half-round-between", "warning",
    "{amount} passes lie between two decreases: that is not a whole number of rounds, and the one "
    "bed knits a row more than the other.",
    "Knit rounds between them, or an even number of rows.")

UNEVEN_PACE = Kind(
    "uneven-pace", "advice",
    "From one decrease to the next it is {rounds} here; before and after it is {usual}.",
    "Knit as many as between the others, unless it is meant.")


class Shaping(NamedTuple):
    """Stitches taken in (or made) on one bed at one time, by the end that is nearer.

    ``rows``: passes of the tube before it.  ``change``: the operation by hand.
    """

    bed: Bed
    change: Change
    rows: int
    left: int
    right: int


def shaping_not_mirrored(run: Run) -> list[Mishap]:
    """Decreases of a tube that are not as many at the left as at the right, or on the one bed as
    on the other where both are decreased."""
    found = []
    for taken in _decreases(run):
        counts = dict.fromkeys(itertools.product(BEDS, SIDES), 0)
        for one in taken:
            counts[one.bed, "left"] += one.left
            counts[one.bed, "right"] += one.right
        beds = [counts[bed, "left"] + counts[bed, "right"] for bed in BEDS]
        if sum(beds) < 2 or (all(counts[bed, "left"] == counts[bed, "right"] for bed in BEDS)
                             and (beds[0] == beds[1] or 0 in beds)):
            # One stitch taken in somewhere makes a number fit.
            continue
        found.append(taken[-1].change.mishap(
            DECREASES_NOT_MIRRORED.fault(), {f"{bed.word}_{side}": Quantity(count)
                                             for (bed, side), count in counts.items()}))
    return found


def widening_not_mirrored(run: Run) -> list[Mishap]:
    """Increases of a tube that differ at the left and the right, or on the two beds: how many,
    how far from the edge, and from which neighbour they are lifted."""
    found = []
    for tube in tubes_of(run):
        made = [change for change in run.changes()[tube.first + 1:tube.last + 1]
                if isinstance(change.op, ops.Fill)]
        ways: dict[tuple[Bed, Side], Counter[str]] = {
            (bed, side): Counter() for bed in BEDS for side in SIDES}
        for change in made:
            bed, side, how = _lifted(change)
            ways[bed, side][how] += 1
        counts = {where: sum(way.values()) for where, way in ways.items()}
        beds = [counts[bed, "left"] + counts[bed, "right"] for bed in BEDS]
        if sum(beds) < 2:
            continue
        if any(counts[bed, "left"] != counts[bed, "right"] for bed in BEDS) \
                or (beds[0] != beds[1] and 0 not in beds):
            found.append(made[-1].mishap(
                INCREASES_NOT_MIRRORED.fault(), {f"{bed.word}_{side}": Quantity(count)
                                                 for (bed, side), count in counts.items()}))
            continue
        usual = max(sum(ways.values(), Counter()).items(), key=itemgetter(1))[0]
        for (bed, side), way in ways.items():
            other = next((how for how in way if how != usual), None)
            if other is not None:
                found.append(made[-1].mishap(WIDENED_UNLIKE.fault(bed, name=side),
                                             {"how": other, "usual": usual}))
    return found


def _lifted(change: Change) -> tuple[Bed, Side, str]:
    """Where a loop was lifted onto an empty needle, and how, in words."""
    op = change.op
    assert isinstance(op, ops.Fill)
    state = change.after.bed(op.bed)
    side: Side = "left" if _ends(1 << op.needle, state)[0] else "right"
    outside = state.loaded & ((1 << op.needle) - 1) if side == "left" \
        else state.loaded >> op.needle + 1
    inner = (op.neighbour > op.needle) == (side == "left")
    return op.bed, side, (
        f"lifted from the side of the {'middle' if inner else 'edge'}, with "
        f"{outside.bit_count() or 'no'} stitch{'es' if outside.bit_count() != 1 else ''} outside")


def half_round_between(run: Run) -> list[Mishap]:
    """A round and a half between two decreases: the one bed knits a row more than the other."""
    found = []
    for taken in _decreases(run):
        last: dict[Bed, Shaping] = {}
        for one in taken:
            before = last.get(one.bed)
            if before is not None and (one.rows - before.rows) % 2:
                found.append(one.change.mishap(
                    HALF_ROUND_BETWEEN.fault(one.bed, amount=one.rows - before.rows)))
                break
            last[one.bed] = one
    return found


def uneven_pace(run: Run) -> list[Mishap]:
    """One interval between decreases that differs from the ones before and after it."""
    found = []
    for decreases in _decreases(run):
        for bed in BEDS:
            taken = [one for one in decreases if one.bed is bed]
            ways = [b.rows - a.rows for a, b in itertools.pairwise(taken)]
            if len(ways) < ENOUGH:
                continue
            odd = [n for n in range(1, len(ways) - 1)
                   if ways[n - 1] == ways[n + 1] != ways[n] and ways[n] % 2 == 0]
            if len(odd) == 1:
                found.append(taken[odd[0] + 1].change.mishap(
                    UNEVEN_PACE.fault(bed, amount=ways[odd[0]] // 2),
                    {"usual": Quantity(ways[odd[0] - 1] // 2)}))
                break
    return found


@once
def _decreases(run: Run) -> list[list[Shaping]]:
    """For each tube every time that its stitches are laid together near its ends by hand."""
    return [_find_decreases(run, tube) for tube in tubes_of(run)]


def _find_decreases(run: Run, tube: Tube) -> list[Shaping]:
    """Doubles are looked for where hands have moved loops, so that the cost grows with hand
    work."""
    rows = 0
    found: dict[tuple[Bed, int], Shaping] = {}
    for change in run.changes_by(ops.Knit, ops.Transfer, ops.Fashion):
        op, before = change.op, change.before
        if not tube.first < change.number <= tube.last:
            continue
        if type(op) is ops.Knit:
            if circular(before):
                rows += op.passes
        else:
            for bed in BEDS:
                state = change.after.bed(bed)
                new = state.double & ~before.bed(bed).double
                if new and knitting(state):
                    left, right = _ends(new, state)
                    old = found.get((bed, rows))
                    if old is not None:
                        left, right = left + old.left, right + old.right
                    found[bed, rows] = Shaping(bed, change, rows, left, right)
    return [one for one in found.values() if max(one.left, one.right) <= MOST_AT_ONCE]


def _ends(mask: int, state: BedState) -> tuple[int, int]:
    """How many of some needles are nearer to the left end of the stitches, and to the right."""
    first, last = lowest(state.loaded), highest(state.loaded)
    left = sum(n - first < last - n for n in indices(mask))
    return left, mask.bit_count() - left
