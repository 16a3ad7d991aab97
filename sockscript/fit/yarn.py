"""How much yarn is in a loop, from the density of the stitches, and whether yarn and gauge agree.

Plain-knit geometry after D. L. Munden (Journal of the Textile Institute 50, 1959, T448): with c
rows and w stitches in a unit of length and l the yarn in one loop in the same unit,
``c * w * l**2`` is a constant that depends only on how far the fabric is relaxed.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Literal

from sockscript.numbers.quantity import MM_PER_UNIT, Exact, Quantity, length, tidy

State = Literal["dry", "wet", "washed"]

LOOP_CONSTANT: dict[State, float] = {"dry": 19.0, "wet": 21.6, "washed": 5.5 * 4.2}
"""``ks`` of relaxed wool plain knit: lying dry; after soaking; washed and tumbled until it
shrinks no more (fully relaxed).  The last is the product of kc 5.5 and kw 4.2, which an examination
paper in textile engineering uses; the first two are quoted from memory of the same literature."""

LOOSEST, TIGHTEST = 9.0, 19.0
"""Tightness factors between which plain knit is usually found (about 14.5 on average), with the
loop in cm; quoted from memory of textbooks."""

END_MM = 150
"""Millimetres reckoned for each end to weave in: common practice, no source."""


def end_to_leave(width_mm: Exact, times: Exact, inches: bool) -> Quantity:
    """How long an end to leave to work by hand over stitches of some width: so many ``times`` as
    long and an end to weave in, up to the next 5 cm (2 inches).

    Four times the width for grafting, twice for drawing together: common practice, no source.
    """
    step = 2 * MM_PER_UNIT["in"] if inches else Fraction(50)
    return length(-(-(width_mm * times + END_MM) // step) * step, inches)


def loop_length(stitches_per_mm: Exact, rows_per_mm: Exact, state: State = "washed") -> float:
    """Millimetres of yarn in one loop, from the gauge of a swatch in the given state."""
    return math.sqrt(LOOP_CONSTANT[state] / float(stitches_per_mm * rows_per_mm))


POUND_GRAMS = Fraction("453.59237")
YARD_METRES = Fraction("0.9144")
"""The international yard and pound (1959), exactly."""

METRES_PER_UNIT = {"m": Fraction(1), **dict.fromkeys(("yards", "yard", "yd"), YARD_METRES)}
GRAMS_PER_UNIT = {"g": Fraction(1),
                  **dict.fromkeys(("oz", "ounce", "ounces"), POUND_GRAMS / 16)}

_METRES_PER_GRAM = {
    "nm": Fraction(1),
    "ne": 840 * YARD_METRES / POUND_GRAMS,
    "worsted count": 560 * YARD_METRES / POUND_GRAMS,
}
"""Of a yarn of count 1.  Nm: metres in a gram.  Ne (cotton): hanks of 840 yards in a pound.
Worsted count: hanks of 560 yards in a pound (the count, not the worsted weight of hand yarns)."""


def metres_per_gram(system: str, count: Exact, plies: Exact) -> Exact:
    """Metres in a gram of a yarn of so many plies, each of ``count`` (``nm``, ``ne`` or
    ``worsted count``).  Twisting takes up a few per cent, which no count says."""
    return tidy(_METRES_PER_GRAM[system] * count / Fraction(plies))


def weighed_loop(grams: Exact, metres_per_gram: Exact, stitches: Exact) -> float:
    """Millimetres of yarn in one of so many stitches that weigh ``grams`` together."""
    return float(grams * metres_per_gram * 1000 / stitches)


def tex(metres_per_gram: Exact) -> float:
    """Grams of a kilometre of yarn (the definition of tex)."""
    return 1000 / float(metres_per_gram)


def tightness(count_tex: float, loop_mm: float) -> float:
    """Tightness factor: the root of tex divided by the loop length in cm."""
    return math.sqrt(count_tex) / (loop_mm / 10)
