"""Hems as they hang: does every foot of the edge meet its own column?"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NamedTuple

from sockscript.fabric.wales.cloth import Cloth


class Hem(NamedTuple):
    """An edge hung onto stitches: what is the matter with it, and by how many it is shifted.

    ``shift``: stitches to the right of its own on one bed; ``round``: on a tube, round it, from
    the left of the front bed over its right.
    """

    moment: int
    wrong: Literal["", "shifted", "reversed", "crossed"]
    shift: int = 0
    round: bool = False


def hem(moment: int, hung: Sequence[tuple[int, int]], cloth: Cloth) -> Hem:
    """Judge a hem by its pairs of foot and column.

    Columns joined or made since the edge was marked may shift it by as many as have gone or come
    at one side of a column; an eyelet, made where one has gone, shifts nothing.
    """
    tube = all(cloth.on)
    order = cloth.round()
    at = {column: n for n, column in enumerate(order)}
    owners = set(cloth.owner.values())
    known = [(cloth.owner[foot], column) for foot, column in hung if cloth.owner[foot] in at]
    gone = [cloth.owner[foot] not in at for foot, _ in hung]
    made = [column not in owners for _, column in hung]
    places = [(n, at[cloth.owner[foot]]) for n, (foot, _) in enumerate(hung) if not gone[n]]
    allowed = min(sum(gone) + sum(made), _spread(places) + _at_ends(gone) + _at_ends(made))
    shifts = [at[column] - at[own] for own, column in known]
    if tube:
        half = len(order) // 2
        shifts = [(shift + half) % len(order) - half for shift in shifts]
    if all(abs(shift) <= allowed for shift in shifts):
        return Hem(moment, "")
    if len(set(shifts)) == 1:
        return Hem(moment, "shifted", shifts[0], tube)
    beds = {column: place[0] for column, place in cloth.places().items()}
    if len({at[own] + at[column] for own, column in known}) == 1 \
            and all(beds[own] is beds[column] for own, column in known):
        return Hem(moment, "reversed")
    return Hem(moment, "crossed")


def _spread(places: Sequence[tuple[int, int]]) -> int:
    """By how many columns further apart, or nearer together, some are than their feet were hung;
    both are counted the same way round, or one against the other."""
    return min((max(ways) - min(ways) for ways in (
        [place - n for n, place in places], [place + n for n, place in places]) if ways), default=0)


def _at_ends(some: Sequence[bool]) -> int:
    """How many there are before the first that is not among them, and after the last."""
    inside = [n for n, one in enumerate(some) if not one]
    return len(some) if not inside else inside[0] + len(some) - 1 - inside[-1]
