"""``sockscript swatch``: the gauge line for a script, and what washing changes."""

from __future__ import annotations

import re
import sys
from fractions import Fraction

from sockscript.commands.check import UNUSABLE
from sockscript.commands.counted import FORMS, CountedSwatch, read_counted, shown
from sockscript.fit.swatch import difference
from sockscript.numbers.quantity import InchLength, show_inches
from sockscript.text.width import filled

GIRTH, LENGTH = Fraction(200), Fraction(240)
"""Millimetres round and along an ordinary sock, to show what a difference does; 8 and 9½ inches
are within 4 mm of them."""


def run(*, swatch: str, washed: str | None, fabric: str) -> int:
    """Print the gauge; with ``washed``, that of the washed swatch and how far the two differ."""
    found = []
    for text in (swatch, washed):
        if text is None:
            continue
        one = read_counted(text, otherwise=None)
        if one is None:
            print(f"'{text}' is not a swatch. {FORMS}", file=sys.stderr)
            return UNUSABLE
        found.append(one)
    if fits_no_name(fabric):
        print(f"A fabric has a name of one word, with hyphens perhaps, not '{fabric}'.\n"
              "For example:  --fabric garter-rib", file=sys.stderr)
        return UNUSABLE
    last = found[-1]
    inches = isinstance(last.over, InchLength)
    decimals = 2 if inches else 1

    def counts(one: CountedSwatch) -> str:
        return f"{shown(one.stitches, decimals)} stitches, {shown(one.rows, decimals)} rows"

    print(f"gauge {fabric} {last.gauge}")
    profile = f'swatch {fabric} "the yarn" {last.gauge} at stitch size …'
    print("\n" + filled("With the yarn and the stitch size it may also stand in the profile of "
                        "your machine, for the patterns of others:") + f"\n    {profile}")
    if washed is None:
        print("\n" + filled("Take the gauge from a swatch that is washed and has rested a day; "
                            "with --washed both are compared."))
        return 0
    before = found[0]._replace(over=last.over)
    girth = difference(before.stitches, last.stitches, GIRTH)
    length = difference(before.rows, last.rows, LENGTH)
    planned = "8 in round and 9½ in long" if inches else "20 cm round and 24 cm long"
    print("\n" + filled(
        f"Before washing it was {counts(before)}. A sock planned by that, {planned}, would come "
        f"out {_change(girth, 'wider', 'narrower', inches)} and "
        f"{_change(length, 'longer', 'shorter', inches)} after washing."))
    return 0


def fits_no_name(fabric: str) -> bool:
    """Whether a word cannot be the name of a fabric in a script."""
    return re.fullmatch(r"[^\W\d_][\w]*(-\w+)*", fabric) is None


def _change(mm: Fraction, more: str, less: str, inches: bool) -> str:
    whole = round(abs(mm))
    if not whole:
        return f"no {more}"
    return f"{f'{show_inches(whole)} in' if inches else f'{whole} mm'} {more if mm > 0 else less}"
