"""``sockscript swatch``: the gauge line for a script, and what washing changes."""

from __future__ import annotations

import re
import sys
from fractions import Fraction

from sockscript.commands.check import UNUSABLE
from sockscript.fit.swatch import Swatch, difference
from sockscript.numbers.quantity import MM_PER_UNIT

_SWATCH = re.compile(
    r"\s*(?P<stitches>\d+(?:\.\d+)?)\s*[x×]\s*(?P<rows>\d+(?:\.\d+)?)\s*/\s*"
    r"(?P<wide>\d+(?:\.\d+)?)\s*(?:[x×]\s*(?P<tall>\d+(?:\.\d+)?)\s*)?(?P<unit>mm|cm|in)\s*")
FORM = "write stitches x rows / width x height, for example 60x84/20x20cm"

GIRTH, LENGTH = Fraction(200), Fraction(240)
"""Millimetres round and along an ordinary sock, to show what a difference does."""


def run(*, swatch: str, washed: str | None, fabric: str) -> int:
    """Print the gauge; with ``washed``, that of the washed swatch and how far the two differ."""
    found = []
    for text in (swatch, washed):
        if text is None:
            continue
        one = read_swatch(text)
        if one is None:
            print(f"'{text}' is not a swatch: {FORM}.", file=sys.stderr)
            return UNUSABLE
        found.append(one)
    last = found[-1]
    print(f"gauge {fabric} {_number(last.stitches_per_10_cm)} stitches, "
          f"{_number(last.rows_per_10_cm)} rows per 10 cm")
    if washed is None:
        print("\nTake the gauge from a swatch that is washed and has rested a day; with --washed "
              "both are compared.")
        return 0
    before = found[0]
    girth = difference(before.stitches_per_10_cm, last.stitches_per_10_cm, GIRTH)
    length = difference(before.rows_per_10_cm, last.rows_per_10_cm, LENGTH)
    print(f"\nBefore washing it was {_number(before.stitches_per_10_cm)} stitches, "
          f"{_number(before.rows_per_10_cm)} rows. A sock planned by that, 20 cm round and 24 cm "
          f"long,\nwould come out {_change(girth, 'wider', 'narrower')} and "
          f"{_change(length, 'longer', 'shorter')} after washing.")
    return 0


def read_swatch(text: str) -> Swatch | None:
    """A swatch from ``60x84/20x20cm``; None when it is none or cannot be a knitted one."""
    match = _SWATCH.fullmatch(text)
    if match is None:
        return None
    unit = MM_PER_UNIT[match["unit"]]
    wide = Fraction(match["wide"]) * unit
    tall = Fraction(match["tall"] or match["wide"]) * unit
    counts = Fraction(match["stitches"]), Fraction(match["rows"])
    if not wide or not tall or not all(counts):
        return None
    swatch = Swatch(*counts, wide, tall)
    sensible = all(4 <= n <= 200 for n in (swatch.stitches_per_10_cm, swatch.rows_per_10_cm))
    return swatch if sensible else None


def _number(value: Fraction) -> str:
    return f"{float(value):.1f}".removesuffix(".0")


def _change(mm: Fraction, more: str, less: str) -> str:
    whole = round(abs(mm))
    return f"{whole} mm {more if mm > 0 else less}" if whole else f"no {more}"
