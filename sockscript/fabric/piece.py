"""A piece of knitting as it is read: rows all the way round, and cups of short rows."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from sockscript.numbers.quantity import Exact
from sockscript.operations.beds import indices


class Rows(NamedTuple):
    """Rows that one operation knits all the way round: how many, over how many stitches.

    ``mm``: how long they are; None without a gauge.
    """

    moment: int
    stitches: int
    rows: Exact
    mm: Fraction | None
    rib: bool


class Cup(NamedTuple):
    """Short rows that come back to the full number: the moments that they take (``last`` is one
    past), the rows that they have more than the stitches that wait, and half of them in mm.

    ``core``: the needles that knit in every short row, those of the back bed behind the front's.
    With a gusset, of a heel that has a flap: ``flap``, how many rows it has (``flap_mm`` how high
    they are), which are not among ``rows``, and ``picked_up``, how many loops were picked up along
    its edges.
    """

    first: int
    last: int
    rows: Exact
    depth: Fraction | None
    core: int
    flap: Exact = 0
    picked_up: int = 0
    flap_mm: Fraction | None = None


class Piece:
    """A piece from its first row to its last.

    ``began`` and ``ended``: ``closed`` if the tube is shut there for certain, else ``open``.
    ``slits``: places kept with waste yarn, by name, with the moment.  ``taken_up``: the piece
    begins on the loops of such a place (``slit``) or of a first row (``edge``) of another piece.
    ``tube``: it has rounds, more than an edge has.  ``ring``: its last row is grafted to its first.
    """

    __slots__ = ("around", "began", "cast_on_shut", "cups", "edges", "ended", "first", "folded",
                 "level", "ring", "rounds", "rows", "shut", "slits", "taken_up", "tube", "zone")

    def __init__(self, first: int) -> None:
        self.first = first
        self.rows: list[Rows] = []
        self.cups: list[Cup] = []
        self.began = self.ended = "open"
        self.slits: dict[str, int] = {}
        self.taken_up: tuple[Piece, str, str] | None = None
        self.tube = self.ring = False
        # What follows is needed only while the piece is read.
        self.edges: dict[str, tuple[int, int]] = {}
        self.level: list[Exact] = [0, 0]
        self.zone: Zone | None = None
        self.cast_on_shut = self.rounds = False
        self.shut: Exact = 0
        self.around: Exact = 0
        self.folded: tuple[list[Rows], list[Cup], int] | None = None

    @property
    def widest(self) -> int:
        """Most stitches in a row."""
        return max((one.stitches for one in self.rows), default=0)


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
