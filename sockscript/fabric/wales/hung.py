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

    Columns joined or made since the edge was marked may shift it by as many.
    """
    tube = all(cloth.on)
    order = cloth.round()
    at = {column: n for n, column in enumerate(order)}
    owners = set(cloth.owner.values())
    known = [(cloth.owner[foot], column) for foot, column in hung if cloth.owner[foot] in at]
    allowed = len(hung) - len(known) + sum(column not in owners for _, column in hung)
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
