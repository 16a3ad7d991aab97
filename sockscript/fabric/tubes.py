"""Where in a run the stitches of both beds together are a tube.

A tube is told by what is on the needles, not by the words of a line: it begins where circular
knitting of both beds has gone on for longer than a cast-on takes, or where hands turn a flat piece
so that its stitches face each other; it ends when one bed is empty again.
"""

from __future__ import annotations

from typing import NamedTuple

from sockscript.expand.run import Run, once_alike
from sockscript.operations import ops
from sockscript.operations.beds import BACK, facing, highest, lowest
from sockscript.trace.state import Snapshot

ROUNDS_BEFORE_SHUT = 8
"""A welt or a padded edge has fewer rounds before both beds knit together again: common practice,
no source.  A tube that was turned by hand is no such edge."""
CAST_ON_PASSES = 3
"""Circular passes of a tubular cast-on: two or three (needlesofsteel.blogspot.com, 2011, on casting
on for ribs; alessandrina.com, 2019, on two and three)."""


class Tube(NamedTuple):
    """Moments ``first`` to ``last`` (one past) of a run, in which the piece is a tube.

    ``turned``: it was made by hand from a flat piece, and not cast on as a tube.
    """

    first: int
    last: int
    turned: bool


def circular(state: Snapshot) -> bool:
    """Both beds are set to circular and have stitches that the next pass works."""
    return state.both_circular and bool(state.front.knitting and state.back.knitting)


def rounds_of(before: Snapshot, after: Snapshot) -> bool:
    """Whether passes between two states knit both beds in rounds, also if they cast them on."""
    return (before.both_circular
            and bool(before.front.active & after.front.loaded)
            and bool(before.back.active & after.back.loaded))


def ends_apart(state: Snapshot, racking: int) -> int:
    """How many needles the edges of two beds with stitches stand apart if the back bed is racked
    so."""
    front, back = state.front.loaded, state.back.loaded
    return max(abs(lowest(front) - lowest(back) - racking),
               abs(highest(front) - highest(back) - racking))


@once_alike
def tubes_of(run: Run) -> list[Tube]:
    """All tubes of a run, in order."""
    found: list[Tube] = []
    start: int | None = None
    turned = False
    rounds = 0
    first_round = 0
    for index, op, before, after, _ in run.changes():
        if start is not None:
            if not after.on_both:
                found.append(Tube(start, index, turned))
                start, rounds = None, 0
            continue
        if type(op) is ops.Knit:
            if rounds_of(before, after):
                first_round = index if not rounds else first_round
                rounds += op.passes
                if rounds > CAST_ON_PASSES:
                    start, turned = first_round, False
            elif before.front.action != "rest" or before.back.action != "rest":
                rounds = 0
        elif isinstance(op, (ops.Fold, ops.Rehang, ops.Transfer)) \
                and _faces(after) and not _faces(before):
            start, turned = index, True
    if start is not None:
        found.append(Tube(start, len(run.moments), turned))
    return found


def _faces(state: Snapshot) -> bool:
    """Whether nearly all stitches of the two beds face each other."""
    front, back = state.front.loaded, state.back.loaded
    opposite = facing(BACK, back, state.racking)
    most = max(front.bit_count(), back.bit_count())
    return most > 1 and (front & opposite).bit_count() * 4 >= most * 3


@once_alike
def circular_passes(run: Run) -> frozenset[int]:
    """The numbers of the changes whose passes knit rounds: see ``circular``."""
    return frozenset(change.number for change in run.passes() if circular(change.before))


@once_alike
def flat_rows_in_tubes(run: Run) -> bool:
    """Whether any row within a tube is no round."""
    spans = [(tube.first, tube.last) for tube in tubes_of(run)]
    return any(first < change.number < last and change.number not in circular_passes(run)
               for change in run.passes() for first, last in spans)
