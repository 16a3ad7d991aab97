"""Decreases and increases of a tube: alike at both ends, in whole rounds, at one pace.

They are told by the loops: a decrease is a needle with two loops that is knitted, however the
second came there; an increase is a loop on a needle that had none.
"""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterable
from operator import attrgetter, itemgetter

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.fabric.shaping import Shaping, decreases, ends_of, outside_of
from sockscript.fabric.sock import sock_of
from sockscript.fabric.tubes import Tube, circular_passes, tubes_of
from sockscript.findings.kind import Kind
from sockscript.findings.origins import MOVED_BY_HAND
from sockscript.findings.rules.tubes import drawn_apart
from sockscript.numbers.quantity import Quantity
from sockscript.operations import ops
from sockscript.operations.beds import BEDS, SIDES, Bed, Side, highest, lowest

ENOUGH = 5
"""Intervals between decreases from which a pace is known: common practice, no source."""


DECREASES_NOT_MIRRORED = Kind(
    "decreases-not-mirrored", "warning",
    "The {shaped}; decreases at the left and right: {counts}.",
    "Decrease at each end of each bed as often.")

DECREASES_UNLIKE = Kind(
    "decreases-unlike", "warning",
    "The decreases of this round are not made alike: at the {name} of the {bed} bed {outside} "
    "between the needle with two and the edge, elsewhere {usual} there.",
    "Lay a stitch onto the same needle from the edge at both ends and on both beds.")

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
    "{so_many_passes} {lie} between two {name}: that is not a whole number of rounds, and the one "
    "bed knits a row more than the other.",
    "Knit rounds between them, or an even number of rows.")

UNEVEN_PACE = Kind(
    "uneven-pace", "advice",
    "From one decrease to the next it is {rounds} here; before and after it is {usual}.",
    "Knit as many as between the others, unless it is meant.")


def shaping_not_mirrored(run: Run) -> list[Mishap]:
    """Decreases of a tube that are not as many at the left as at the right, or on the one bed as
    on the other where both are decreased, or where the yarn has to jump in the end."""
    found = []
    for decreased in decreases(run):
        jump = drawn_apart(run, decreased[0].change) if decreased else None
        taken = [one for one in decreased if jump is None or one.change.number < jump]
        counts = dict.fromkeys(itertools.product(BEDS, SIDES), 0)
        for one in taken:
            counts[one.bed, "left"] += one.left
            counts[one.bed, "right"] += one.right
        beds = [counts[bed, "left"] + counts[bed, "right"] for bed in BEDS]
        if sum(beds) < 2 or (all(counts[bed, "left"] == counts[bed, "right"] for bed in BEDS)
                             and (beds[0] == beds[1] or (0 in beds and jump is None))):
            # One stitch taken in somewhere makes a number fit.
            continue
        found.append(taken[-1].change.mishap(
            DECREASES_NOT_MIRRORED.fault(), {
                "shaped": "tube is not shaped alike at both ends and on both beds",
                "counts": ", ".join(f"{bed.word} {counts[bed, 'left']} and {counts[bed, 'right']}"
                                    for bed in BEDS)}))
    return found


def flat_toe_one_sided(run: Run) -> list[Mishap]:
    """The toe of a sock knitted flat, whose edges are sewn together, narrowed at one edge more than
    at the other."""
    sock = sock_of(run) if run.changes_by(ops.Fashion) else None
    if sock is None or sock.piece.tube or not sock.toe or sock.toe_first:
        return []
    taken: dict[str, list[Transition]] = {side: [] for side in SIDES}
    for change in run.changes_by(ops.Fashion):
        op = change.op
        if isinstance(op, ops.Fashion) and op.out \
                and sock.foot and change.number > sock.foot[0].moment:
            at_left, _ = ends_of(op.out, change.before.bed(op.bed))
            taken["left" if at_left else "right"].append(change)
    left, right = len(taken["left"]), len(taken["right"])
    if abs(left - right) < 2:
        return []
    last = max((*taken["left"], *taken["right"]), key=attrgetter("number"))
    return [last.mishap(DECREASES_NOT_MIRRORED.fault(), {
        "shaped": "toe is not narrowed alike at both edges", "counts": f"{left} and {right}"})]


def decreases_unlike(run: Run) -> list[Mishap]:
    """Decreases of one round that lie at different distances from the ends of their beds: a stitch
    was laid over its neighbour, or onto the one before it."""
    found = []
    for taken in decreases(run):
        for _, of_round in itertools.groupby(sorted(taken, key=_when), _when):
            ends: dict[tuple[Bed, Side], list[int]] = {}
            made: dict[tuple[Bed, Side], Transition] = {}
            for one in of_round:
                for side, outside, change in one.outside:
                    made[one.bed, side] = change
                    ends.setdefault((one.bed, side), []).append(outside)
            ways = Counter(tuple(sorted(way)) for way in ends.values())
            usual = max(ways, key=lambda way: (ways[way], way), default=())
            odd = next((end for end, way in ends.items() if tuple(sorted(way)) != usual), None)
            if odd is not None and len({len(way) for way in ways}) == 1:
                bed, side = odd
                found.append(made[odd].mishap(
                    DECREASES_UNLIKE.fault(bed, name=side),
                    {"outside": _stitches(ends[odd]), "usual": _stitches(usual)}))
                break
    return found


def _when(one: Shaping) -> int:
    return one.rows


def _bed(one: Shaping) -> Bed:
    return one.bed


def _stitches(outside: Iterable[int]) -> str:
    """How many stitches hang outside each needle with two: ``1 stitch and 2 stitches hang``."""
    counts = sorted(outside)
    words = " and ".join(f"{count or 'no'} stitch{'es' if count > 1 else ''}" for count in counts)
    return f"{words} hang{'s' if len(counts) == 1 and counts[0] < 2 else ''}"


def widening_not_mirrored(run: Run) -> list[Mishap]:
    """Increases of a tube that differ at the left and the right, or on the two beds: how many,
    how far from the edge, and from which neighbour they are lifted."""
    found = []
    for tube in tubes_of(run):
        made = [change for change in run.changes_by(ops.Fill)
                if change.number in range(tube.first, tube.last)]
        jump = drawn_apart(run, made[0]) if made else None
        made = [change for change in made if jump is None or change.number < jump]
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
                or (beds[0] != beds[1] and (jump is not None or 0 not in beds)):
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


def _lifted(change: Transition) -> tuple[Bed, Side, str]:
    """Where a loop was lifted onto an empty needle, and how, in words."""
    op = change.op
    assert isinstance(op, ops.Fill)
    state = change.after.bed(op.bed)
    side, outside = outside_of(op.needle, state)
    inner = (op.neighbour > op.needle) == (side == "left")
    return op.bed, side, (
        f"lifted from the side of the {'middle' if inner else 'edge'}, with "
        f"{outside or 'no'} stitch{'es' if outside != 1 else ''} outside")


def half_round_between(run: Run) -> list[Mishap]:
    """A round and a half between two decreases, or two increases: the one bed knits a row more than
    the other."""
    found = []
    for name, times in (
            *(("decreases", [(one.bed, one.rows, one.change) for one in taken])
              for taken in decreases(run)),
            *(("increases", _increases(run, tube)) for tube in tubes_of(run))):
        last: dict[Bed, int] = {}
        for bed, rows, change in times:
            if (rows - last.setdefault(bed, rows)) % 2:
                found.append(change.mishap(
                    HALF_ROUND_BETWEEN.fault(bed, amount=rows - last[bed], name=name)))
                break
            last[bed] = rows
    return found


def _increases(run: Run, tube: Tube) -> list[tuple[Bed, int, Transition]]:
    """Every time that a bed of a tube is widened: the passes of the tube before it, and by what."""
    found = []
    rows = 0
    for change in run.changes_by(ops.Knit, ops.Fill, ops.Place):
        op = change.op
        if change.number not in range(tube.first, tube.last):
            continue
        if isinstance(op, ops.Knit):
            rows += op.passes if change.number in circular_passes(run) else 0
        elif isinstance(op, ops.Fill):
            found.append((op.bed, rows, change))
        elif isinstance(op, ops.Place) and op.purpose == "increase":
            found += [(bed, rows, change) for bed in BEDS
                      if _beyond(op.on(bed), change.before.bed(bed).loaded)]
    return found


def _beyond(needles: int, loaded: int) -> bool:
    """Whether some needles lie beyond the stitches of a bed."""
    return bool(needles) and (lowest(needles) < lowest(loaded)
                              or highest(needles) > highest(loaded))


def uneven_pace(run: Run) -> list[Mishap]:
    """One interval between decreases that differs from the ones before and after it."""
    found = []
    parts = [list(part) for taken in decreases(run)
             for _, part in itertools.groupby(taken, attrgetter("part"))]
    for part in parts:
        for bed, of_bed in itertools.groupby(sorted(part, key=_bed), _bed):
            taken = [*of_bed]
            ways = [b.rows - a.rows for a, b in itertools.pairwise(taken)]
            if len(ways) < ENOUGH:
                continue
            odd = [(before, here, one) for before, here, after, one
                   in zip(ways, ways[1:], ways[2:], taken[2:], strict=False)
                   if before == after != here and here % 2 == 0]
            if len(odd) == 1:
                ((usual, here, one),) = odd
                found.append(one.change.mishap(UNEVEN_PACE.fault(bed, amount=here // 2),
                                               {"usual": Quantity(usual // 2)}))
                break
    return found
