"""Rows during which some stitches of a piece wait."""

from __future__ import annotations

from sockscript.numbers.quantity import Exact
from sockscript.operations.beds import indices


class Zone:
    """Rows that leave some stitches waiting, until all have been knitted again.

    ``flap``: rows before the first that leaves stitches of its own bed waiting, with so many
    stitches ``wide``.  ``up_at``: how many rows there were when loops were picked up first, and
    over how many stitches (``turned``); ``picked_up``: how many loops.
    """

    __slots__ = ("first", "flap", "masks", "picked_up", "rows", "short", "turned", "up_at", "wide")

    def __init__(self, first: int) -> None:
        self.first = first
        self.masks: list[int] = []
        self.rows: list[Exact] = []
        self.short = False
        self.flap: Exact = 0
        self.wide = self.turned = self.picked_up = 0
        self.up_at: Exact = 0

    def spread(self, loaded: int) -> tuple[Exact, Exact, int]:
        """Fewest and most rows of any stitch, and the needles that have the most."""
        every = loaded
        some = 0
        for mask in self.masks:
            every &= mask
            some |= mask
        if every and loaded & ~some:
            return 0, sum(self.rows), every
        counts = {needle: sum(rows for mask, rows in zip(self.masks, self.rows, strict=True)
                              if mask >> needle & 1)
                  for needle in indices(loaded)}
        most = max(counts.values(), default=0)
        return min(counts.values(), default=0), most, sum(
            1 << needle for needle, rows in counts.items() if rows == most)
