"""What is known of a run once its columns have been followed; the terms are in ``model.md``."""

from __future__ import annotations

from typing import Literal, NamedTuple

from sockscript.fabric.wales.cloth import Cloth
from sockscript.fabric.wales.hung import Hem
from sockscript.fabric.wales.meetings import Meeting
from sockscript.operations.beds import Bed, Side, Spot


class Seam(NamedTuple):
    """Where two edges of a tube meet.

    ``bed``: the bed on which they do, None between the beds, at ``side``.  ``off``: stitches of
    that bed at the left of it less those at the right.
    """

    moment: int
    bed: Bed | None
    side: Side | None
    off: int


class Pocket(NamedTuple):
    """A tube that grows out of a rib: when it began, and how many rows of rib lie below it."""

    moment: int
    below: int


class Heel(NamedTuple):
    """Short rows on one bed of a tube, or a slit in it: when, and on which bed."""

    moment: int
    bed: Bed
    kind: Literal["short rows", "slit"]


class Neighbours(NamedTuple):
    """All that hands, and rows over what they hung, did to the order of the columns.

    ``shut``: rows that join the two faces of a tube.  ``bare_edges``: cast-on rows over both
    beds on which a rib follows directly.  ``seams``: those of the tubes, as they were closed.
    Each in the order in which it happened.  ``first_round``: when the first tube was begun.
    """

    meetings: tuple[Meeting, ...]
    seams: tuple[Seam, ...]
    heels: tuple[Heel, ...]
    hems: tuple[Hem, ...]
    pockets: tuple[Pocket, ...]
    shut: tuple[int, ...]
    bare_edges: tuple[int, ...]
    first_round: int | None


def seam_at(moment: int, one: Spot, two: Spot, cloth: Cloth) -> Seam:
    """Where on the needles two columns meet."""
    if one[0] != two[0]:
        ends = [n == min(cloth.on[bed]) for bed, n in (one, two)]
        return Seam(moment, None, "left" if all(ends) else "right", 0)
    on = cloth.on[one[0]]
    left = sum(n <= min(one[1], two[1]) for n in on)
    return Seam(moment, one[0], None, left - (len(on) - left))
