"""Shoe sizes to the length of the foot in millimetres.

Shoe sizes are marked on lasts, and makers differ by a size either way: a measured foot is always
better.  The units are published (the Paris point is 2/3 cm, the barleycorn 1/3 inch;
metricviews.uk, 'The case for Mondopoint'); the zero points of the British and American scales, by
the length of the foot, are customary (cfm-calculator.com, shoe size conversion).
"""

from __future__ import annotations

from fractions import Fraction

PARIS_POINT = Fraction(20, 3)
"""Millimetres; the step of the European scale."""
BARLEYCORN = Fraction(254, 30)
"""Millimetres: a third of an inch, the step of the British and American scales."""
LAST_ALLOWANCE = 15
"""Millimetres by which a European last is longer than the foot; 10 to 15 are in use
(stefaniaganassini.com, measurement tables)."""

_ZERO = {"uk": 23, "us-men": 22, "us-women": 21, "uk-child": 10}

SMALLEST, LARGEST = 80, 350
"""Millimetres between which there are feet to knit for: common practice, no source (from a child
born too early to the longest shoe that is made)."""

SCALES = ("eu", "uk", "uk-child", "us-men", "us-women", "mondopoint")


def foot_length(scale: str, size: Fraction) -> Fraction:
    """The length of the foot in mm for a shoe size.

    ``mondopoint`` is the length itself in mm (ISO 9407).  ``eu``: size = (length + allowance) /
    Paris point.  The others: size = 3 * length in inches - zero point.  Raises ValueError for an
    unknown scale or a foot that is not between 80 and 350 mm.
    """
    if scale == "mondopoint":
        length = size
    elif scale == "eu":
        length = size * PARIS_POINT - LAST_ALLOWANCE
    elif scale in _ZERO:
        length = (size + _ZERO[scale]) * BARLEYCORN
    else:
        what = f"There is no scale '{scale}'." if scale else "The scale of the shoe is missing."
        raise ValueError(f"{what} There are {', '.join(SCALES)}.")
    if not SMALLEST <= length <= LARGEST:
        raise ValueError(f"A foot of {float(length) / 10:.1f} cm is not one to knit for.")
    return length
