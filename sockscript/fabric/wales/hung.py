"""Hems as they hang: does every foot of the edge meet its own column?"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NamedTuple

from sockscript.fabric.wales.cloth import Cloth
from sockscript.fabric.wales.meetings import FEW
from sockscript.operations.beds import BEDS


class Hem(NamedTuple):
    """An edge hung onto stitches: what is the matter with it, and by how many it is shifted."""

    moment: int
    wrong: Literal["", "shifted", "reversed", "crossed", "mixed"]
    shift: int = 0


def hem(moment: int, hung: Sequence[tuple[int, int]], cloth: Cloth) -> Hem:
    """Judge a hem by its pairs of foot and column.

    Columns joined or made since the edge was marked may shift it by as many.
    """
    at = {column: n for n, column in enumerate([*cloth.row(BEDS[0]), *cloth.row(BEDS[1])])}
    owners = set(cloth.owner.values())
    known = [(at[cloth.owner[foot]], at[column]) for foot, column in hung
             if cloth.owner[foot] in at]
    allowed = len(hung) - len(known) + sum(column not in owners for _, column in hung)
    shifts = [column - own for own, column in known]
    if all(abs(shift) <= allowed for shift in shifts):
        return Hem(moment, "")
    if len(set(shifts)) == 1:
        return Hem(moment, "shifted", shifts[0])
    if len({own + column for own, column in known}) == 1:
        return Hem(moment, "reversed")
    off = sum(shift != 0 for shift in shifts)
    return Hem(moment, "crossed" if off <= FEW else "mixed")
