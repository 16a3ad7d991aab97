"""Numbers with what they count or measure, and the arithmetic that keeps them apart."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NamedTuple, Union

Exact = Union[int, Fraction]

MM_PER_UNIT: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "inch": Fraction(254, 10),
    "inches": Fraction(254, 10),
    **dict.fromkeys('"”″', Fraction(254, 10)),
}
"""Millimetres; the inch is 25.4 mm exactly (international yard and pound agreement, 1959)."""

VULGAR: dict[str, Fraction] = {
    "¼": Fraction(1, 4), "½": Fraction(1, 2), "¾": Fraction(3, 4), "⅓": Fraction(1, 3),
    "⅔": Fraction(2, 3), "⅛": Fraction(1, 8), "⅜": Fraction(3, 8), "⅝": Fraction(5, 8),
    "⅞": Fraction(7, 8),
}


class QuantityError(Exception):
    """Two quantities that do not go together; the text is for the author of the script."""

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


LARGEST = 10**12
"""No count or length in a pattern comes near this; a script that goes on squaring does."""


class Quantity(NamedTuple):
    """An exact number and its unit: ``""`` plain, ``mm``, ``stitches``, ``rows`` or ``%``."""

    value: Exact
    unit: str = ""

    def __str__(self) -> str:
        return show(self)

    @property
    def is_one(self) -> bool:
        """Whether nouns are in the singular."""
        return self.value == 1


class InchLength(Quantity):
    """A length, in millimetres like any other, that its author thinks of in inches.

    It equals the same length in centimetres; only ``show`` tells them apart.
    """

    __slots__ = ()


def length(mm: Exact, inches: bool) -> Quantity:
    """A length that is shown in inches or in centimetres."""
    return (InchLength if inches else Quantity)(tidy(mm), "mm")


def tidy(value: Exact) -> Exact:
    """A whole Fraction as an int, so that equal numbers look equal everywhere."""
    if isinstance(value, Fraction) and value.denominator == 1:
        return value.numerator
    return value


_AMOUNT = re.compile(
    r"(?:(?P<whole>\d+)(?:\s*-\s*|\s+))?(?P<above>\d+)\s*[/⁄]\s*(?P<below>\d+)"
    r"|(?P<units>\d*)\s*(?P<sign>[" + "".join(VULGAR) + r"])"
    r"|(?P<decimal>\d+(?:[.,]\d+)?|[.,]\d+)")


def read_amount(text: str) -> Exact:
    """The value of ``12``, ``1.5``, ``1,5``, ``3/4``, ``1 1/2``, ``1-1/2`` or ``1½``, exactly.

    Raises QuantityError for anything else.
    """
    match = _AMOUNT.fullmatch(text.strip())
    if match is None:
        raise QuantityError(f"'{text.strip()}' is not a number.")
    if match["decimal"]:
        return tidy(Fraction(match["decimal"].replace(",", ".")))
    if match["sign"]:
        return int(match["units"] or 0) + VULGAR[match["sign"]]
    if int(match["below"]) == 0:
        raise QuantityError("A fraction cannot have 0 below the line.")
    return tidy(int(match["whole"] or 0) + Fraction(int(match["above"]), int(match["below"])))


def kind_of(quantity: Quantity) -> str:
    """What a quantity is, in words: ``a length``, ``a count of stitches`` …"""
    return {"": "a plain number", "mm": "a length", "stitches": "a number of stitches",
            "rows": "a number of rows", "%": "a percentage"}[quantity.unit]


def show(quantity: Quantity) -> str:
    """A quantity as a reader would write it: ``48``, ``22.5 cm``, ``9¾ in``, ``10 %``."""
    number, unit = number_and_unit(quantity)
    return f"{number} {unit}" if unit else number


def number_and_unit(quantity: Quantity) -> tuple[str, str]:
    """The two parts of what is shown: ``22.5`` and ``cm``; no unit for what is counted."""
    value = quantity.value
    if isinstance(quantity, InchLength):
        return show_inches(value), "in"
    if quantity.unit == "mm":
        return _decimal(Fraction(value) / 10), "cm"
    return show_number(value), "%" if quantity.unit == "%" else ""


def show_number(value: Exact) -> str:
    """Thirds as such (a dial has them), else up to two decimals, no trailing zeros."""
    if isinstance(value, int):
        return str(value)
    if value.denominator == THIRDS:
        return with_fraction(value)
    return _decimal(value)


def _decimal(value: Exact) -> str:
    return f"{float(value):.2f}".rstrip("0").rstrip(".")


THIRDS = 3
FINEST, USUAL = 16, 8
"""Parts of an inch on a tape: the finest that are marked, and those that are read at a glance."""


def show_inches(mm: Exact, parts: int = USUAL) -> str:
    """A length as it is read off an inch tape, without the unit: ``9¾``, ``3/16``.

    What is a whole number of sixteenths stays so; all else goes to the nearest of ``parts``,
    or to the nearest sixteenth where that would leave nothing.
    """
    inches = Fraction(mm) / MM_PER_UNIT["in"]
    if (inches * FINEST).denominator == 1:
        return with_fraction(inches)
    near = Fraction(round(inches * parts), parts) or Fraction(round(inches * FINEST), FINEST)
    return with_fraction(near)


def with_fraction(value: Fraction) -> str:
    """A number with its fraction as such: ``9¾``, ``2 3/16``, ``⅓``."""
    whole, rest = divmod(abs(value), 1)
    sign = "-" if value < 0 else ""
    if not rest:
        return f"{sign}{whole}"
    printed = next((letter for letter, worth in VULGAR.items() if worth == rest), None)
    if printed is not None:
        return f"{sign}{whole or ''}{printed}"
    return f"{sign}{f'{whole} ' if whole else ''}{rest.numerator}/{rest.denominator}"


def add(left: Quantity, right: Quantity, sign: int = 1) -> Quantity:
    """Sum (or difference, ``sign`` -1).  A percentage is taken of the left side."""
    if right.unit == "%" and left.unit != "%":
        share = Fraction(right.value) / 100
        return type(left)(tidy(left.value * (1 + sign * share)), left.unit)
    value = tidy(left.value + sign * right.value)
    if left.unit == right.unit:
        return type(left)(value, left.unit)
    counts = ("stitches", "rows")
    if left.unit == "" and right.unit in counts:
        return Quantity(value, right.unit)
    if right.unit == "" and left.unit in counts:
        return Quantity(value, left.unit)
    verb = "added to" if sign > 0 else "taken from"
    first, second = (right, left)
    raise QuantityError(
        f"{kind_of(first).capitalize()} ({show(first)}) cannot be {verb} {kind_of(second)} "
        f"({show(second)}).", _conversion_hint(left, right))


def _conversion_hint(left: Quantity, right: Quantity) -> str:
    units = {left.unit, right.unit}
    if "mm" in units and "rows" in units:
        return "Turn the length into rows with rows(…), or the rows into a length with height(…)."
    if "mm" in units and "stitches" in units:
        return ("Turn the length into stitches with stitches(…), or the stitches into a length "
                "with width(…).")
    if "mm" in units:
        return "Write the unit after the number, for example 2 cm, or turn the length into " \
               "stitches(…) or rows(…)."
    if units == {"stitches", "rows"}:
        return "Stitches go across and rows go up: which of the two is meant?"
    return ""


def _within_reason(value: Exact) -> None:
    fraction = Fraction(value)
    if abs(fraction.numerator) > LARGEST**2 or fraction.denominator > LARGEST:
        raise QuantityError("This comes to a number too large or too fine to calculate with.",
                            "Look at what is multiplied or divided.")


def multiply(left: Quantity, right: Quantity) -> Quantity:
    """Product; at most one side may have a unit.  ``10% * x`` is a tenth of x."""
    for one, two in ((left, right), (right, left)):
        if one.unit == "%":
            return type(two)(tidy(Fraction(one.value) / 100 * two.value), two.unit)
    if left.unit and right.unit:
        raise QuantityError(
            f"{kind_of(left).capitalize()} ({show(left)}) cannot be multiplied by "
            f"{kind_of(right)} ({show(right)}).", "Multiply by a plain number.")
    value = tidy(left.value * right.value)
    _within_reason(value)
    return type(left if left.unit else right)(value, left.unit or right.unit)


def divide(left: Quantity, right: Quantity) -> Quantity:
    """Quotient; the same unit on both sides gives a plain number."""
    if right.value == 0:
        raise QuantityError("This divides by 0.", "Look at the value of what stands after the /.")
    value = tidy(Fraction(left.value) / right.value)
    _within_reason(value)
    if right.unit == left.unit:
        return Quantity(value)
    if right.unit == "":
        return type(left)(value, left.unit)
    raise QuantityError(
        f"{kind_of(left).capitalize()} ({show(left)}) cannot be divided by {kind_of(right)} "
        f"({show(right)}).", "Divide by a plain number, or by something of the same kind.")
