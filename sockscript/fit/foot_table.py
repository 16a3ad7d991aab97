"""A table of feet by shoe size, for authors who have no measurements of their own.

Lengths come from the shoe size (see ``feet``).  What the girths rest on:

* **Grown feet**: ANSUR II, 2012, 4082 men and 1986 women, quoted second-hand: the mean foot, and
  how girths go with length.  Girth does not grow in proportion: a foot 10 mm longer than the mean
  is 6 mm rounder, not 9.  The correlations that are quoted (length and ball 0.78, heel 0.89,
  ankle 0.59) are over both sexes together; taken apart by the variances between and within the
  sexes they are 0.60, 0.79 and 0.47, and a slope is that times the standard deviation of the
  girth by that of the length (worked out anew in ``tests/fit``).  Short feet come out rounder.
* **Children**: 8.40 cm broad on 21.35 cm (469 children of 6 to 15; Baresova and others,
  International Journal of Foot and Ankle 5-058) and 2.47 times as round as broad, as the grown
  feet of the survey, gives 0.97 of the length, where women's mean is 0.93.  From one year to five
  the breadth stays in proportion to the length (107 children; Gould and others, Foot & Ankle,
  1990), so that the same holds for the small.  The ankle as round as the foot, the heel 1.35
  times as round: rules of thumb (knitty.com, sizing; rhyflowerknits.com, proper fit).
* **Calves** are from memory of the same survey, in proportion to the ankle.

Feet of one length differ in girth: nine in ten by no more than 7 % either way. A measured foot
is always better.
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


class _Line(NamedTuple):
    """A girth for a length: ``mean`` for the mean length, ``slope`` mm more for each mm more."""

    mean: Fraction
    slope: Fraction

    def girth(self, above: Fraction) -> Fraction:
        """The girth of a foot that is longer than the mean by ``above`` mm."""
        return self.mean + self.slope * above


class _Grown(NamedTuple):
    """Feet of one sex: the mean length, girths for a length, calves by the girth of the ankle."""

    length: Fraction
    ball: _Line
    ankle: _Line
    heel: _Line
    calf: Fraction


def _line(mean: str, slope: str) -> _Line:
    return _Line(Fraction(mean), Fraction(slope))


GROWN = {
    "woman": _Grown(Fraction("246.3"), _line("228.1", "0.57"), _line("215.7", "0.57"),
                    _line("310.3", "0.98"), Fraction(373) / Fraction("215.7")),
    "man": _Grown(Fraction("271.2"), _line("252.0", "0.59"), _line("229.3", "0.53"),
                  _line("343.5", "1.01"), Fraction(392) / Fraction("229.3")),
}
CHILD_BALL, CHILD_HEEL = Fraction("0.97"), Fraction("1.35")
"""The ball of a child's foot by its length; the heel by the ball."""
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
    if person == "child":
        ball = length * CHILD_BALL
        return Foot(round(length), round(ball), round(ball), round(ball * CHILD_HEEL), None)
    grown = GROWN[person]
    above = length - grown.length
    ankle = grown.ankle.girth(above)
    return Foot(round(length), round(grown.ball.girth(above)), round(ankle),
                round(grown.heel.girth(above)), round(ankle * grown.calf))
