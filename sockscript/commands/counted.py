"""A swatch or gauge as it is typed after a command: ``60x84/20x20cm``, ``7½ x 10½ per inch``."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NamedTuple

from sockscript.fit.swatch import Swatch
from sockscript.numbers.quantity import (
    MM_PER_UNIT,
    VULGAR,
    InchLength,
    Quantity,
    QuantityError,
    length,
    read_amount,
)

FORMS = ("Write stitches and rows over a length, for example 29x41/10cm, '7½ x 10½ per inch' or "
         "60x84/20x20cm.")
TEN_CM = Quantity(100, "mm")
LONGEST_TYPED = 100
"""Letters of a swatch or a length on a command line; nobody types more, and more takes long."""

_SIGNS = "".join(VULGAR)
_NUMBER = rf"(?:\d+(?:(?:[ ]+|-)\d+[/⁄]\d+|[ ]*[{_SIGNS}]|[.,]\d+)?|[{_SIGNS}]|\d+[/⁄]\d+)"
_UNIT = r"(?:mm|cm|inch(?:es)?|in|[\"”″]|'')"
_TYPED = re.compile(
    rf"\s*(?P<stitches>{_NUMBER})\s*(?:st(?:itche)?s?\.?)?\s*(?:[x×,]|and|by|\s)\s*"
    rf"(?P<rows>{_NUMBER})\s*(?:rows?)?\s*"
    rf"(?:(?:/|per|over|in|to\s+the|to)\s*(?P<wide>{_NUMBER})?\s*(?P<first>{_UNIT})?\s*"
    rf"(?:(?:[x×]|by)\s*(?P<tall>{_NUMBER})\s*)?(?P<unit>{_UNIT})?)?\s*", re.I)


class CountedSwatch(NamedTuple):
    """A swatch, and the length in the unit that its knitter measures in over which its gauge is
    told: 10 cm or 1 in."""

    swatch: Swatch
    over: Quantity

    @property
    def stitches(self) -> Fraction:
        """Stitches over that length."""
        return self.swatch.stitches / self.swatch.wide * self.over.value

    @property
    def rows(self) -> Fraction:
        """Rows over that length."""
        return self.swatch.rows / self.swatch.tall * self.over.value

    @property
    def gauge(self) -> str:
        """As scripts and profiles have it: ``30 stitches, 42 rows per 10 cm``."""
        inches = isinstance(self.over, InchLength)
        counts = (shown(count, 2 if inches else 1) for count in (self.stitches, self.rows))
        return f"{' stitches, '.join(counts)} rows per {'inch' if inches else '10 cm'}"


def read_counted(text: str, otherwise: Quantity | None = TEN_CM) -> CountedSwatch | None:
    """What was typed; None when it is no swatch or cannot be a knitted one.

    ``otherwise``: the length that is meant where none is said (None: it has to be said).
    """
    match = _TYPED.fullmatch(text) if len(text) <= LONGEST_TYPED else None
    if match is None:
        return None
    try:
        counts = [Fraction(read_amount(match[name])) for name in ("stitches", "rows")]
        unit = (match["unit"] or match["first"] or "").lower()
        if not unit:
            if otherwise is None or match["wide"]:
                return None
            wide = tall = Fraction(otherwise.value)
            over = otherwise
        else:
            mm = MM_PER_UNIT["in" if unit == "''" else unit]
            wide = read_amount(match["wide"] or "1") * mm
            tall = read_amount(match["tall"]) * mm if match["tall"] else wide
            over = TEN_CM if unit in ("mm", "cm") else length(MM_PER_UNIT["in"], inches=True)
    except QuantityError:
        return None
    if not wide or not tall or not all(counts):
        return None
    counted = CountedSwatch(Swatch(counts[0], counts[1], wide, tall), over)
    sensible = all(4 <= n <= 200 for n in (counted.swatch.stitches_per_10_cm,
                                           counted.swatch.rows_per_10_cm))
    return counted if sensible else None


def shown(count: Fraction, decimals: int = 2) -> str:
    """A count of a gauge as scripts have it."""
    return f"{float(count):.{decimals}f}".rstrip("0").rstrip(".")
