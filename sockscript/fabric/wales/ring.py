"""A tube as it was when a round was last looked at, to compare the next one with."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from sockscript.fabric.wales.cloth import Cloth
from sockscript.fabric.wales.meetings import Meeting
from sockscript.operations.beds import BEDS, Bed, Spot


class Ring:
    """The columns of the last ring in order, and the bed that each hung on."""

    def __init__(self) -> None:
        self.order: list[int] = []
        self.beds: dict[int, Bed] = {}

    def remember(self, order: Sequence[int], cloth: Cloth) -> None:
        """Keep a ring."""
        self.order = list(order)
        self.beds = {column: bed for bed in BEDS for column in cloth.on[bed].values()}

    def moved(self, places: dict[int, Spot]) -> int:
        """How many of its columns hang on the other bed now."""
        return sum(column in places and places[column][0] != bed
                   for column, bed in self.beds.items())

    def against(self, part: Sequence[int]) -> bool:
        """Whether a stretch runs the other way round than in it."""
        at = {column: n for n, column in enumerate(self.order)}
        steps = [at[two] - at[one] for one, two in pairwise(part) if one in at and two in at]
        return sum(step < 0 for step in steps) * 2 > len(steps)

    def hung_again(self, index: int, order: Sequence[int], cloth: Cloth) -> Iterator[Meeting]:
        """A ring that is whole, but hangs inside out or round by some stitches."""
        moved = self.moved(cloth.places())
        back = self.against(order)
        if back or moved:
            yield Meeting(index, "round", (), (), "inside-out" if back else "", (), moved)
