"""Gussets: the bed of the heel comes back to the stitches that it had before the flap."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.fabric.tubes import circular_passes
from sockscript.findings.kind import Kind
from sockscript.numbers.quantity import Quantity
from sockscript.operations import ops
from sockscript.operations.beds import Bed

PLAIN_ROUNDS = 4
"""Gussets are decreased every second or third round; after more rounds than this the number is what
the foot or the leg goes on with: common practice, no source."""
ONE_OVER = 1
"""An odd number picked up leaves one stitch that nobody misses: common practice, no source."""

GUSSET_MISCOUNTED = Kind(
    "gusset-miscounted", "advice",
    "After the gusset the {bed} bed goes on with {now} stitches; before the flap it had {first}, "
    "and the {other} bed has {there}.",
    "Decrease the gusset until the first number is there again, and no further.",
    counts=True)


class _Gusset(NamedTuple):
    """The bed that loops were picked up on, its stitches before the flap, and the moment of the
    first round after it."""

    bed: Bed
    first: int
    number: int


def gusset_miscounted(run: Run) -> list[Mishap]:
    """Rounds that go on after a gusset with other stitches on its bed than before the flap, and
    other than on the other bed."""
    found = []
    for gusset in _gussets(run):
        bed = gusset.bed
        now = rounds = there = since = 0
        for change in run.passes():
            if change.number < gusset.number or change.number not in circular_passes(run):
                continue
            here = change.before.bed(bed).stitches()
            other = change.before.bed(bed.opposite).stitches()
            if there and other != there:
                break  # the toe, or a calf
            if here != now:
                since, rounds = change.number, 0
            now, there = here, other
            rounds += change.op.passes
        if rounds > PLAIN_ROUNDS * 2 and abs(now - gusset.first) > ONE_OVER and now != there:
            found.append(_changed(run, bed, since).mishap(
                GUSSET_MISCOUNTED.fault(bed), {
                    "now": Quantity(now), "first": Quantity(gusset.first),
                    "there": Quantity(there)}))
    return found


def _gussets(run: Run) -> Iterator[_Gusset]:
    """Beds that loops were picked up on beside their stitches, between two stretches of rounds."""
    picked = [change for change in run.changes_by(ops.PickUp)
              if isinstance(change.op, ops.PickUp) and not change.op.onto]
    if not picked:
        return
    circular = [change for change in run.passes() if change.number in circular_passes(run)]
    for before, after in pairwise(circular):
        between = [one for one in picked if one.number in range(before.number, after.number)]
        for bed in dict.fromkeys(one.op.bed for one in between
                                 if isinstance(one.op, ops.PickUp)):
            yield _Gusset(bed, before.after.bed(bed).stitches(), after.number)


def _changed(run: Run, bed: Bed, since: int) -> Transition:
    """The operation that last changed how many stitches a bed has before a moment."""
    return next(change for change in reversed(run.changes()[:since])
                if change.before.bed(bed).stitches() != change.after.bed(bed).stitches())
