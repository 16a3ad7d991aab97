"""A table of feet by shoe size, for authors who have no measurements of their own.

Lengths come from the shoe size (see ``feet``).  Girths are proportions of the length: for adults
those of the mean foot in a survey of 4082 men and 1986 women (ANSUR II, 2012: foot length 271.2
and 246.3 mm, ball of foot 252.0 and 228.1, ankle 229.3 and 215.7, heel and ankle 343.5 and
310.3), as quoted second-hand; for children the rules of thumb that a foot is 0.95 as round as
long, the ankle as round as the foot, and the heel 1.35 times as round (common practice).  Calves
are from memory of the same survey.  Feet of one length differ in girth: nine in ten by
no more than 6 % either way. A measured foot is always better.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NamedTuple

from sockscript.fit.feet import foot_length
from sockscript.numbers.quantity import read_amount


class Foot(NamedTuple):
    """Measurements of a foot in whole millimetres.

    ``length`` as for ISO 9407, barefoot and standing; ``ball`` round the ball; ``ankle`` the
    narrowest round; ``heel`` round the heel and the bend of the instep; ``calf`` the widest.
    """

    length: int
    ball: int
    ankle: int
    heel: int
    calf: int | None


ROWS = {"foot-length": "length", "foot-round": "ball", "ankle-round": "ankle",
        "heel-round": "heel", "calf-round": "calf"}
"""What the measurements are called in a script."""


class _Proportions(NamedTuple):
    """Girths divided by the length of the foot."""

    ball: Fraction
    ankle: Fraction
    heel: Fraction
    calf: Fraction | None


PROPORTIONS = {
    "woman": _Proportions(Fraction("228.1") / Fraction("246.3"),
                          Fraction("215.7") / Fraction("246.3"),
                          Fraction("310.3") / Fraction("246.3"), Fraction(373) / Fraction("246.3")),
    "man": _Proportions(Fraction("252.0") / Fraction("271.2"),
                        Fraction("229.3") / Fraction("271.2"),
                        Fraction("343.5") / Fraction("271.2"), Fraction(392) / Fraction("271.2")),
    "child": _Proportions(Fraction("0.95"), Fraction("0.95"), Fraction("0.95") * Fraction("1.35"),
                          None),
}
SIZES = {"child": (16, 35), "woman": (34, 45), "man": (38, 51)}
"""The European sizes of each kind of foot."""

_SCALE = {("child", "uk"): "uk-child", ("woman", "uk"): "uk", ("man", "uk"): "uk",
          ("woman", "us"): "us-women", ("man", "us"): "us-men"}
_NAME = re.compile(r"(child|woman|man)-(?:(uk|us)-)?(\d{1,2}½?)")


def foot(name: str) -> Foot:
    """The foot called ``woman-38``, ``child-28``, ``man-uk-9`` or ``woman-us-8``.

    Raises ValueError for a name that is none of these or a size that is not in the table.
    """
    match = _NAME.fullmatch(name)
    if match is None:
        raise ValueError("Feet are called by person and shoe size, for example woman-38, man-43, "
                         "child-28, man-uk-9 or woman-us-8½.")
    person, scale, number = match.group(1), match.group(2), read_amount(match.group(3))
    low, high = SIZES[person]
    shortest, longest = foot_length("eu", Fraction(low)), foot_length("eu", Fraction(high))
    if scale is None:
        fits = low <= number <= high
        length = foot_length("eu", Fraction(number)) if fits else shortest
    elif (person, scale) in _SCALE:
        try:
            length = foot_length(_SCALE[person, scale], Fraction(number))
        except ValueError:
            length = Fraction(0)
        fits = shortest <= length <= longest
    else:
        raise ValueError("Children's feet are called by European or British size: child-28, "
                         "child-uk-10.")
    if not fits:
        raise ValueError(f"The table has no such size: it goes from {person}-{low} to "
                         f"{person}-{high}.")
    ratio = PROPORTIONS[person]
    return Foot(round(length), round(length * ratio.ball), round(length * ratio.ankle),
                round(length * ratio.heel),
                round(length * ratio.calf) if ratio.calf is not None else None)
