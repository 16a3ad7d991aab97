"""Shoe sizes against the published units and a worked case."""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest

from sockscript.fit.feet import BARLEYCORN, PARIS_POINT, SCALES, foot_length

UREG = pint.UnitRegistry()


def test_the_units_are_the_published_ones():
    """Paris point 2/3 cm, barleycorn 1/3 inch (metricviews.uk, 'The case for Mondopoint')."""
    assert float(PARIS_POINT) == pytest.approx((2 / 3 * UREG.cm).to("mm").magnitude)
    assert float(BARLEYCORN) == pytest.approx((1 / 3 * UREG.inch).to("mm").magnitude)


def test_the_worked_case_of_a_last():
    """Foot and allowance together 27.5 cm give 41.25 (stefaniaganassini.com, tables)."""
    assert foot_length("eu", Fraction("41.25")) == 275 - 15


# Computed from formulas quoted from memory (no standard's own table could be confirmed): they
# show that the scales agree with each other, not that makers follow them.
TABLE = [(220, "35.25", "2.98", "3.98", "4.98"), (235, "37.5", "4.76", "5.76", "6.76"),
         (245, "39", "5.94", "6.94", "7.94"), (255, "40.5", "7.12", "8.12", "9.12"),
         (270, "42.75", "8.89", "9.89", "10.89"), (285, "45", "10.66", "11.66", "12.66")]


@pytest.mark.parametrize("length, eu, uk, men, women", TABLE)
def test_the_scales_agree(length, eu, uk, men, women):
    for scale, size in (("eu", eu), ("uk", uk), ("us-men", men), ("us-women", women)):
        assert float(foot_length(scale, Fraction(size))) == pytest.approx(length, abs=0.1)


@pytest.mark.parametrize("length, eu, child", [(150, "24.75", "7.72"), (180, "29.25", "11.26")])
def test_child_sizes(length, eu, child):
    assert float(foot_length("eu", Fraction(eu))) == pytest.approx(length, abs=0.1)
    assert float(foot_length("uk-child", Fraction(child))) == pytest.approx(length, abs=0.1)


def test_mondopoint_is_the_length_itself():
    """ISO 9407: foot length in mm."""
    assert foot_length("mondopoint", Fraction(245)) == 245


@pytest.mark.parametrize("scale, size", [("eu", "3"), ("eu", "90"), ("mondopoint", "3000"),
                                         ("uk", "-30"), ("shoe", "39")])
def test_what_is_no_foot_is_refused(scale, size):
    with pytest.raises(ValueError, match=r"foot|scale"):
        foot_length(scale, Fraction(size))


@pytest.mark.parametrize("scale", SCALES)
def test_a_larger_size_is_a_longer_foot(scale):
    start = 200 if scale == "mondopoint" else 20 if scale == "eu" else 4
    lengths = [foot_length(scale, Fraction(start + n)) for n in range(6)]

    assert lengths == sorted(lengths) and len(set(lengths)) == 6
