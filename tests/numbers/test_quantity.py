"""Arithmetic with units, rounding, and conversions against an independent units library."""

from __future__ import annotations

import math
import unicodedata
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.scripts import HEADER, findings, prepared

from sockscript.numbers.quantity import (
    Quantity,
    QuantityError,
    add,
    divide,
    multiply,
    read_amount,
    show,
    with_fraction,
)
from sockscript.numbers.rounding import round_to

UREG = pint.UnitRegistry()
numbers = st.fractions(min_value=-500, max_value=500, max_denominator=60)


@pytest.mark.parametrize("unit, name", [
    ("mm", "millimeter"), ("cm", "centimeter"), ("m", "meter"), ("in", "inch"),
    ("inch", "inch"), ("inches", "inch")])
@pytest.mark.parametrize("amount", ["1", "22.5", "9 3/4", "10½", "0.1"])
def test_lengths_are_what_pint_says(unit, name, amount):
    """pint's registry takes the international inch of 25.4 mm exactly."""
    sizes = prepared(f"sizes A\n    foot {amount} {unit}\n").script.sizes
    expected = (float(read_amount(amount)) * UREG(name)).to("millimeter").magnitude

    assert float(sizes.measures["foot"][0].value) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("over, unit, name", [("10", "cm", "centimeter"), ("4", "in", "inch"),
                                              ("100", "mm", "millimeter"), ("1", "in", "inch")])
def test_gauge_over_any_length_is_what_pint_says(over, unit, name):
    script = prepared(f"gauge plain 30 stitches, 42 rows per {over} {unit}\n").script
    per_mm = (30 / (float(over) * UREG(name))).to("1/millimeter").magnitude

    assert float(script.gauges[0].stitches_per_mm) == pytest.approx(per_mm, rel=1e-12)
    assert script.gauges[0].rows_per_mm / script.gauges[0].stitches_per_mm == Fraction(42, 30)


@pytest.mark.parametrize("text, value", [("12", 12), ("1.5", 1.5), ("1 1/2", 1.5), ("1½", 1.5),
                                         ("½", 0.5), ("⅓", Fraction(1, 3)), ("2⅞", 2.875),
                                         ("4/1", 4)])
def test_numbers_in_every_spelling(text, value):
    assert read_amount(text) == value


def test_nothing_is_divided_by_nought():
    with pytest.raises(QuantityError, match="cannot have 0 below the line"):
        read_amount("1/0")


@pytest.mark.parametrize("sign", "¼½¾⅓⅔⅛⅜⅝⅞")
def test_fractions_in_one_sign_are_worth_what_unicode_says(sign):
    """The numeric values of the Unicode Character Database, as Python has them."""
    value = Fraction(unicodedata.numeric(sign)).limit_denominator(8)

    assert read_amount(sign) == value and read_amount(f"3{sign}") == 3 + value
    assert with_fraction(value) == sign and with_fraction(-2 - value) == f"-2{sign}"
    assert with_fraction(-value) == f"-{sign}"


UNITS = ["", "mm", "stitches", "rows"]
CAN_ADD = {(a, b) for a in UNITS for b in UNITS
           if a == b or {a, b} in ({"", "stitches"}, {"", "rows"})}


@pytest.mark.parametrize("left", UNITS)
@pytest.mark.parametrize("right", UNITS)
@pytest.mark.parametrize("sign", [1, -1])
def test_only_like_things_are_added(left, right, sign):
    one, two = Quantity(10, left), Quantity(4, right)
    if (left, right) in CAN_ADD:
        assert add(one, two, sign) == Quantity(10 + 4 * sign, left or right)
    else:
        with pytest.raises(QuantityError):
            add(one, two, sign)


@pytest.mark.parametrize("left, right, sign, message, hint", [
    ("mm", "rows", 1, "A number of rows (4) cannot be added to a length (1 cm).", "height(…)"),
    ("rows", "mm", -1, "A length (0.4 cm) cannot be taken from a number of rows (10).", "rows(…)"),
    ("mm", "stitches", -1, "A number of stitches (4) cannot be taken from a length (1 cm).",
     "width(…)"),
    ("", "mm", 1, "A length (0.4 cm) cannot be added to a plain number (10).", "2 cm"),
    ("stitches", "rows", 1, "A number of rows (4) cannot be added to a number of stitches (10).",
     "which of the two is meant"),
    ("%", "rows", 1, "A number of rows (4) cannot be added to a percentage (10 %).", "")])
def test_what_cannot_be_added_is_named_with_what_would_help(left, right, sign, message, hint):
    with pytest.raises(QuantityError) as told:
        add(Quantity(10, left), Quantity(4, right), sign)

    assert told.value.message == message
    assert hint in told.value.hint and bool(hint) == bool(told.value.hint)


def test_a_sum_is_a_sum_unless_it_is_said_to_be_a_difference():
    assert add(Quantity(10, "rows"), Quantity(4)) == Quantity(14, "rows")
    assert add(Quantity(10, "rows"), Quantity(10, "%")) == Quantity(11, "rows")
    assert add(Quantity(10, "%"), Quantity(5, "%")) == Quantity(15, "%")
    assert multiply(Quantity(10, "%"), Quantity(60, "rows")) == Quantity(6, "rows")
    assert multiply(Quantity(60, "rows"), Quantity(10, "%")) == Quantity(6, "rows")


def test_numbers_beyond_all_reason_are_refused():
    """A million million, and its square, are far beyond any pattern: no source."""
    most = Quantity(10**12)
    assert multiply(most, most).value == 10**24
    assert divide(Quantity(1), most).value == Fraction(1, 10**12)
    for too_much in (lambda: multiply(most, Quantity(10**12 + 1)),
                     lambda: multiply(most, Quantity(-10**12 - 1)),
                     lambda: divide(Quantity(1), Quantity(10**12 + 1))):
        with pytest.raises(QuantityError, match="too large or too fine"):
            too_much()


@given(numbers, numbers)
def test_less_and_plus_a_percentage_are_of_the_left_side(x, p):
    assert add(Quantity(x, "mm"), Quantity(p, "%"), -1).value == x - x * p / 100


@given(numbers, numbers.filter(bool))
def test_dividing_undoes_multiplying(x, y):
    product = multiply(Quantity(x, "rows"), Quantity(y))

    assert divide(product, Quantity(y)) == Quantity(
        x.numerator if x.denominator == 1 else x, "rows")


def test_a_quotient_of_like_things_is_a_plain_number():
    assert divide(Quantity(30, "mm"), Quantity(10, "mm")) == Quantity(3)


@pytest.mark.parametrize("left, right", [("mm", "mm"), ("stitches", "rows"), ("mm", "rows")])
def test_counts_and_lengths_are_not_multiplied(left, right):
    with pytest.raises(QuantityError):
        multiply(Quantity(2, left), Quantity(2, right))


@given(numbers, st.integers(1, 12), st.integers(0, 11), st.sampled_from(["nearest", "up", "down"]))
def test_rounding_gives_the_right_member_of_the_right_set(x, multiple, plus, way):
    got = round_to(x, way, multiple, plus)

    assert (got - plus) % multiple == 0
    if way == "up":
        assert x <= got < x + multiple
    elif way == "down":
        assert x - multiple < got <= x
    else:
        assert abs(got - x) * 2 <= multiple


@pytest.mark.parametrize("line, value", [
    ("17.4 to nearest", 17), ("17.5 to nearest whole", 18), ("17.4 to nearest even", 18),
    ("17.4 up to odd", 19), ("17.4 down to multiple of 4", 16),
    ("17.4 to nearest multiple of 4 plus 2", 18), ("64 to nearest multiple of 4", 64),
])
def test_rounding_in_a_script(line, value):
    assert findings(f"let a = {line}\nexpect a is {value}\n") == []
    assert len(findings(f"let a = {line}\nexpect a is {value + 1}\n")) == 1


@pytest.mark.parametrize("multiple, plus", [
    (0, 0), (-4, 0), (Fraction(5, 2), 0), (4, Fraction(1, 2)), (Fraction(5, 2), Fraction(1, 2))])
def test_a_multiple_that_is_none_is_refused(multiple, plus):
    with pytest.raises(QuantityError, match="at least 1"):
        round_to(9, "nearest", multiple, plus)


def test_rounding_a_length_asks_for_stitches_or_rows():
    found = findings("let a = 12 cm to nearest even\n")

    assert "turned into stitches or rows" in found[0].message


@pytest.mark.parametrize("length, stitches, rows", [("10 cm", 30, 42), ("25.4 cm", 76.2, 106.68),
                                                    ("10 in", 76.2, 106.68)])
def test_stitches_and_rows_from_lengths_and_back(length, stitches, rows):
    """30 stitches and 42 rows over 10 cm, computed by hand."""
    body = (f"expect stitches({length}) is {stitches}\nexpect rows({length}) is {rows}\n"
            f"expect width(stitches({length})) is {length}\n"
            f"expect height(rows({length})) is {length}\n")

    assert findings(body) == []


def test_a_fabric_may_have_its_own_gauge():
    header = HEADER + "gauge rib 40 stitches, 44 rows per 10 cm\n"

    assert findings("expect stitches(10 cm, rib) is 40\nexpect rows(10 cm) is 42\n", header) == []


@pytest.mark.parametrize("quantity, text", [(Quantity(225, "mm"), "22.5 cm"), (Quantity(48), "48"),
                                            (Quantity(Fraction(1, 3)), "⅓"),
                                            (Quantity(Fraction(1, 4)), "0.25"),
                                            (Quantity(Fraction(5, 2), "rows"), "2.5"),
                                            (Quantity(Fraction(-7, 3)), "-2⅓"),
                                            (Quantity(10, "%"), "10 %")])
def test_quantities_are_shown_as_a_reader_writes_them(quantity, text):
    assert show(quantity) == text


def test_the_nearest_of_two_is_the_upper():
    assert round_to(Fraction(5, 2), "nearest") == 3
    assert math.isclose(round_to(62, "nearest", 4), 64)
