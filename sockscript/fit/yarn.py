"""How much yarn is in a loop, from the density of the stitches, and whether yarn and gauge agree.

Plain-knit geometry after D. L. Munden (Journal of the Textile Institute 50, 1959, T448): with c
rows and w stitches in a unit of length and l the yarn in one loop in the same unit,
``c * w * l**2`` is a constant that depends only on how far the fabric is relaxed.
"""

from __future__ import annotations

import math
from typing import Literal

from sockscript.numbers.quantity import Exact

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


def loop_length(stitches_per_mm: Exact, rows_per_mm: Exact, state: State = "washed") -> float:
    """Millimetres of yarn in one loop, from the gauge of a swatch in the given state."""
    return math.sqrt(LOOP_CONSTANT[state] / float(stitches_per_mm * rows_per_mm))


def weighed_loop(grams: Exact, metres_per_gram: Exact, stitches: Exact) -> float:
    """Millimetres of yarn in one of so many stitches that weigh ``grams`` together."""
    return float(grams * metres_per_gram * 1000 / stitches)


def tex(metres_per_gram: Exact) -> float:
    """Grams of a kilometre of yarn (the definition of tex)."""
    return 1000 / float(metres_per_gram)


def tightness(count_tex: float, loop_mm: float) -> float:
    """Tightness factor: the root of tex divided by the loop length in cm."""
    return math.sqrt(count_tex) / (loop_mm / 10)
