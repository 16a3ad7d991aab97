"""Rounding to whole, even and odd numbers and to multiples, as patterns need it."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Literal

from sockscript.numbers.quantity import Exact, QuantityError

Way = Literal["nearest", "up", "down"]


def round_to(value: Exact, way: Way, multiple: Exact = 1, plus: Exact = 0) -> int:
    """The member of {multiple * k + plus} next to ``value``.

    ``nearest`` takes the upper of two that are equally near (a sock a stitch too wide goes on).
    Raises QuantityError when multiple and plus are not whole or multiple is not at least 1.
    """
    if Fraction(multiple).denominator != 1 or Fraction(plus).denominator != 1 or multiple < 1:
        raise QuantityError("A multiple must be a whole number of at least 1.",
                            "For example: to nearest multiple of 4 plus 2.")
    steps = Fraction(value - plus) / multiple
    if way == "up":
        k = math.ceil(steps)
    elif way == "down":
        k = math.floor(steps)
    else:
        k = math.floor(steps + Fraction(1, 2))
    return int(k * multiple + plus)
