"""A machine profile: what one member's machine has, and its own words for the settings."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Literal

from attrs import field, frozen

from sockscript.tree.script import OwnSwatch

Direction = Literal["left", "right"]


@frozen
class Profile:
    """One kind of domestic machine.

    ``needles`` counts the needles of one bed; ``spacing`` is millimetres from needle to
    needle; the dial runs from ``dial_low`` to ``dial_high`` by ``dial_step`` (None: its steps are
    not known, and any number between is taken); ``racking`` is
    how many needles the back bed can be racked either way; ``front_circular`` is the way the
    carriage moves when the front bed knits in circular (the back bed knits the other way).
    ``words`` maps a setting (for example ``rest``) to what this machine calls it.  ``swatches``
    are what its owner has knitted on it, by stitch sizes of its dial.
    """

    name: str = "any double bed"
    beds: int = 2
    needles: int = 200
    spacing: Fraction | None = None
    dial_low: Fraction = Fraction(0)
    dial_high: Fraction = Fraction(10)
    dial_step: Fraction | None = None
    pitches: tuple[str, ...] = ("half", "full")
    racking: int = 10
    settings: frozenset[str] = frozenset({"circular", "tuck", "hold"})
    front_circular: Direction = "left"
    words: Mapping[str, str] = field(factory=dict)
    swatches: tuple[OwnSwatch, ...] = ()


ANY_DOUBLE_BED = Profile()
