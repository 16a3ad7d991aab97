"""Where the stitches of a tube are laid together near its ends, time by time.

Decreases are told by the loops: a needle with two that is knitted, however the second came there.
"""

from __future__ import annotations

from bisect import bisect
from operator import attrgetter
from typing import NamedTuple

from sockscript.expand.record import Transition
from sockscript.expand.run import Run, once
from sockscript.fabric.tubes import Tube, circular_passes, tubes_of
from sockscript.operations import ops
from sockscript.operations.beds import BEDS, Bed, Side, highest, indices, lowest
from sockscript.trace.state import BedState

MOST_AT_ONCE = 2
"""Decreases at one end of a bed at one time; more are a crown, drawn in all over: common practice,
no source."""

class Shaping(NamedTuple):
    """Stitches taken in (or made) on one bed at one time, by the end that is nearer.

    ``rows``: passes of the tube before it.  ``change``: the operation by hand.  ``outside``: for
    each needle with two, its end, how many stitches hang outside it, and where it came to be.
    ``part``: the section, and how many heels and openings come before it: a pace goes no further.
    """

    bed: Bed
    change: Transition
    rows: int
    left: int
    right: int
    outside: tuple[tuple[Side, int, Transition], ...]
    part: tuple[int, int]


@once
def decreases(run: Run) -> list[list[Shaping]]:
    """For each tube every time that its stitches are laid together near its ends by hand.

    Those of a gusset, which take away what was picked up, by themselves.
    """
    if not run.changes_by(ops.Transfer, ops.Fashion):
        return []
    return [shaping for tube in tubes_of(run) for shaping in _find_decreases(run, tube)]


def _find_decreases(run: Run, tube: Tube) -> list[list[Shaping]]:
    """Doubles are looked for where hands have moved loops, so that the cost grows with hand
    work.

    A stitch in hold that is laid onto the last one that knits turns a heel and shapes no tube.
    Nor does one whose needle stays in work: the next row fills it again, and makes an eyelet.
    What empties one bed lays the tube's two sides together and ends it.
    """
    rows = flat = 0
    section_ends = [section.last for section in run.sections]
    tube_itself: dict[tuple[Bed, int], Shaping] = {}
    gussets: dict[tuple[Bed, int], Shaping] = {}
    found = tube_itself
    for change in run.changes_by(ops.Knit, ops.Transfer, ops.Fashion, ops.PickUp, ops.Mark,
                                 ops.KnitIn):
        op, before = change.op, change.before
        if not tube.first < change.number < tube.last:
            continue
        if type(op) is ops.Knit:
            if change.number in circular_passes(run):
                rows += op.passes
                if before.front.loops == before.back.loops:
                    found = tube_itself
            else:
                flat += 1
        elif type(op) is ops.PickUp:
            found = gussets
        elif isinstance(op, (ops.Mark, ops.KnitIn)):
            flat += 1
        else:
            for bed in BEDS:
                was, state = before.bed(bed), change.after.bed(bed)
                new = state.double & ~was.double
                if not new or was.set_aside:
                    continue
                new &= ~_eyelets(run, change, bed)
                if new:
                    left, right = ends_of(new, state)
                    outside = tuple((*outside_of(needle, state), change) for needle in indices(new))
                    old = found.get((bed, rows))
                    if old is not None:
                        left, right = left + old.left, right + old.right
                        outside = old.outside + outside
                    found[bed, rows] = Shaping(
                        bed, change, rows, left, right, outside,
                        (bisect(section_ends, change.number), flat))
    return [[one for one in group.values() if max(one.left, one.right) <= MOST_AT_ONCE]
            for group in (tube_itself, gussets)]


def _eyelets(run: Run, change: Transition, bed: Bed) -> int:
    """The needles of a bed that got a second loop from a needle which is in work, empty, when
    knitting goes on."""
    op = change.op
    if not isinstance(op, ops.Transfer):
        return 0  # the needles that a group leaves go out of work
    passes = run.passes()
    after = bisect(passes, change.number, key=attrgetter("number"))
    if after == len(passes):
        return 0
    found = 0
    for from_bed, source, to_bed, target in op.moves:
        state = passes[after].before.bed(from_bed)
        if to_bed is bed and (state.working & ~state.loaded) >> source & 1:
            found |= 1 << target
    return found


def ends_of(mask: int, state: BedState) -> tuple[int, int]:
    """How many of some needles are nearer to the left end of the stitches, and to the right."""
    first, last = lowest(state.loaded), highest(state.loaded)
    left = sum(n - first < last - n for n in indices(mask))
    return left, mask.bit_count() - left


def outside_of(needle: int, state: BedState) -> tuple[Side, int]:
    """The end that a needle is nearer to, and how many stitches hang between it and the edge."""
    if ends_of(1 << needle, state)[0]:
        return "left", (state.loaded & ((1 << needle) - 1)).bit_count()
    return "right", (state.loaded >> needle + 1).bit_count()
