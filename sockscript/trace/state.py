"""The state of the machine at one moment, as readers of a trace see it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from sockscript.operations.beds import Bed, Side
from sockscript.operations.ops import Action, Position


class Ledger(NamedTuple):
    """The bank book of stitches: what came in and where it went.

    ``cast_on + made`` equals loops on the needles plus all the others, at every moment.
    """

    cast_on: int = 0
    made: int = 0
    joined: int = 0
    bound_off: int = 0
    grafted: int = 0
    gathered: int = 0
    scrapped: int = 0
    dropped: int = 0


class BedState(NamedTuple):
    """One bed: needle sets are bit masks, bit 0 leftmost."""

    work: int
    """In work (working position only)."""
    upper: int
    """In upper working position."""
    hold: int
    """In hold."""
    loaded: int
    """With at least one loop."""
    double: int
    """With two or more loops."""
    laid: int
    """With at least one strand (tucked or wrapped yarn) over the loops."""
    loops: int
    """How many loops in all."""
    action: Action
    hold_respected: bool


class Snapshot(NamedTuple):
    """The machine after one operation.  Cheap to keep; the ledger is per moment."""

    front: BedState
    back: BedState
    carriage: Side
    counter: int
    feeder: str | None
    attached: tuple[Bed, int] | None
    pitch: str
    racking: int
    comb: bool
    weights: bool
    ledger: Ledger


class Needle(NamedTuple):
    """One needle in full, for whoever asks."""

    position: Position
    loops: tuple[str, ...]
    strands: int


YarnCounts = Mapping[str, int]


class Group(NamedTuple):
    """Named stitches off the needles: ``scrap``, or freed by waste yarn: ``edge``, ``slit``."""

    kind: str
    stacks: tuple[tuple[str, ...], ...]
