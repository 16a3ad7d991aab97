"""The block ``works for``: the ranges of values for which a pattern is said to knit."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, Literal

from sockscript.numbers.quantity import Quantity, show, tidy
from sockscript.text.source import Span
from sockscript.tree import expressions as ex
from sockscript.tree.build_expressions import Parse, SlipError, word_of
from sockscript.tree.build_statements import StatementBuilder
from sockscript.tree.script import Range, WorksFor

MOST_VALUES = 1000
"""In one range: more is a step that was meant to be larger."""


class WorksForBlock:
    """Gathers the lines under ``works for``."""

    def __init__(self, at: Span) -> None:
        self.at = at
        self.ranges: list[Range] = []
        self.where: list[ex.Compare] = []

    def add(self, b: StatementBuilder, parse: Parse) -> None:
        """Take in one line; raises SlipError."""
        kids = parse.children
        if parse.data == "range_where":
            left, how, right = kids
            self.where.append(ex.Compare(b.whole, b.expr(left), str(how.data),  # type: ignore[arg-type]
                                         b.expr(right)))
            return
        if parse.data == "range_of_gauge":
            fabric, low, high, word, step = kids
            what: Literal["stitches", "rows"] = word_of(word)  # type: ignore[assignment]
            new = Range(b.whole, what, b.name(fabric) if fabric is not None else "plain",
                        _values(b, parse, b.amount(low), b.amount(high),
                                Quantity(1) if step is None else b.amount(step)))
        else:
            name, low, high, step = kids
            new = Range(b.whole, "value", b.name(name), _bounds(b, parse, low, high, step))
        if any((old.what, old.name) == (new.what, new.name) for old in self.ranges):
            raise b.slip(parse, "named-twice", f"There are two ranges for '{new.label}'.",
                         "Keep one of them.")
        self.ranges.append(new)

    def build(self) -> WorksFor:
        """The block as one value."""
        return WorksFor(self.at, tuple(self.ranges), tuple(self.where))


def _bounds(b: StatementBuilder, parse: Parse, low: Parse, high: Parse,
            step: Parse | None) -> tuple[Quantity, ...]:
    """The values of ``13 to 27 cm by 1 cm``; a bound without a unit has that of the other."""
    parts: list[Any] = [low, high] if step is None else [low, high, step]
    units = [part.children[1] for part in parts]
    known = next((unit for unit in (units[1], units[0]) if unit is not None), None)
    quantities = [_bound(b, part, unit if unit is not None else known)
                  for part, unit in zip(parts, units, strict=True)]
    if len({quantity.unit for quantity in quantities}) > 1:
        raise b.slip(parse, "units-do-not-fit",
                     "Lengths and counts are mixed in this range.",
                     "For example:  foot-length 20 to 27 cm by 5 mm")
    if step is None:
        if quantities[0].unit == "mm":
            raise b.slip(parse, "missing-step", "This range of lengths does not say its steps.",
                         "Write how far apart the lengths are that should be tried, for example  "
                         "by 1 cm.")
        quantities.append(Quantity(1, quantities[0].unit))
    return _values(b, parse, *quantities)


def _bound(b: StatementBuilder, bound: Parse, unit: Parse | None) -> Quantity:
    amount = bound.children[0]
    if unit is None:
        return b.amount(amount)
    if unit.data == "count_unit":
        return Quantity(b.amount(amount).value, word_of(unit))
    return b.length(amount, unit)


def _values(b: StatementBuilder, parse: Parse, low: Quantity, high: Quantity,
            step: Quantity) -> tuple[Quantity, ...]:
    if high.value < low.value:
        raise b.slip(parse, "bad-number", "This range runs backwards: "
                     f"{show(low)} is more than {show(high)}.", "Write the smaller value first.")
    if not step.value:
        raise b.slip(parse, "bad-number", "Steps of 0 lead nowhere.",
                     "Write how far apart the values are that should be tried.")
    count = int((high.value - low.value) / Fraction(step.value)) + 1
    if count > MOST_VALUES:
        raise SlipError(b.slip(parse, "bad-number",
                               f"This range has {count} values; at most {MOST_VALUES} are tried.",
                               "Write larger steps after 'by'.").problem)
    return tuple(type(low)(tidy(low.value + n * step.value), low.unit) for n in range(count))
