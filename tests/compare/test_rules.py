"""Numbers of many sizes as one sentence."""

from __future__ import annotations

from fractions import Fraction

import pytest

from sockscript.compare.model import Numbers
from sockscript.compare.rules import MORE_OR_FEWER, WIDER, numbers_in_a_row, rule

NAMES = ("S", "M", "L", "XL")


def said(was, now, unit="stitches", inches=False, words=MORE_OR_FEWER):
    found = rule(Numbers(unit, tuple(was), tuple(now)), NAMES[:len(was)], inches, words)
    return found.told("count", "Leg").words if found is not None else None


@pytest.mark.parametrize("was, now, told", [
    ([40, 44, 48, 52], [44, 48, 52, 56], "Leg: 4 stitches more in every size (was 40 to 52, now "
                                         "44 to 56)."),
    ([40, 44, 48, 52], [40, 40, 44, 48], "Leg: 4 stitches fewer in every size but S (was 44 to 52, "
                                         "now 40 to 48)."),
    ([40, 44, 48, 52], [40, 44, 48, 53], "Leg: 1 stitch more in XL (was 52, now 53)."),
    ([40, 44, 48, 52], [44, 50, 48, 50], "Leg: 4 to 6 stitches more in S and M, 2 stitches fewer "
                                         "in XL (was 40 to 52, now 44 to 50)."),
    ([40, None, 48, 52], [40, 8, 48, 52], "Leg: new in M (8)."),
    ([40, 8, 48, 52], [40, None, 48, 52], "Leg: gone in M (8)."),
    ([40], [44], "Leg: 4 stitches more (was 40, now 44)."),
    ([40, 44], [40, 44], None),
])
def test_a_rule(was, now, told):
    assert said(was, now) == told


def test_lengths_are_told_as_far_as_they_can_be_measured():
    """To the millimetre; on an inch tape to the eighth (3.175 mm)."""
    assert said([Fraction(200)], [Fraction(2004, 10)], "mm", words=WIDER) is None
    assert said([Fraction(200)], [Fraction(2006, 10)], "mm", words=WIDER) == \
        "Leg: 1 mm wider (was 20.0 cm, now 20.1 cm)."
    assert said([Fraction(2032, 10)], [Fraction(2047, 10)], "mm", True, WIDER) is None
    assert said([Fraction(2032, 10)], [Fraction(2096, 10)], "mm", True, WIDER) == \
        "Leg: ¼ in wider (was 8 in, now 8¼ in)."


@pytest.mark.parametrize("numbers, told", [
    ([1, 2, 3, 4, 7], "1 to 4 and 7"), ([5], "5"), ([9, 1, 2], "1, 2 and 9")])
def test_numbers_in_a_row(numbers, told):
    assert numbers_in_a_row(numbers) == told
