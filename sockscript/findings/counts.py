"""Where a number comes from with which nothing can be done, and which one would do."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from sockscript.expand.run import Run
from sockscript.expand.values import CannotDoError, no_counts
from sockscript.findings.finding import SecondPlace
from sockscript.findings.named_values import is_a_name, values_behind
from sockscript.findings.origins import last_count
from sockscript.numbers.quantity import Quantity
from sockscript.text.source import Problem, Span
from sockscript.tree import expressions as ex

SMALL_PART = 12
"""Patterns divide their stitches into so many parts at most (halves, quarters, sixths …)."""


class Behind(NamedTuple):
    """The lines behind a number, and what would make it come out."""

    places: tuple[SecondPlace, ...]
    advice: str = ""


NOTHING = Behind(())
ABOUT_COUNTS = frozenset({"not-whole", "negative-count", "never-true"})
"""Problems with a number: the lines are shown where its values were worked out."""


def behind_count(problem: Problem, places: tuple[Span, ...], run: Run) -> Behind:
    """What is behind a number that makes no sense: named values, or the stitches on the needles.

    ``places``: the way to the line, as for a mishap.
    """
    if problem.kind not in ABOUT_COUNTS:
        return NOTHING
    values = values_behind(run.script, reversed(places))
    led = last_count(run)
    if values:
        return Behind(values, _rounded_otherwise(problem, values, run)
                      or _unlike_other_sizes(problem, values, run))
    if led is None or not is_a_name(problem.at):
        return NOTHING
    return Behind((SecondPlace(led.at, led.label),
                   *values_behind(run.script, reversed(led.places))),
                  _multiple(problem, run))


def _rounded_otherwise(problem: Problem, values: tuple[SecondPlace, ...], run: Run) -> str:
    """What a value would have to be rounded to, of which the number is a small part."""
    shown = {place.at for place in values}
    for let in reversed(run.script.lets):
        if let.at not in shown or not isinstance(let.value, ex.Round):
            continue
        try:
            value = run.names.get(let.name, let.at, no_counts)
        except CannotDoError:
            continue  # told when a line comes to it
        if problem.amount is None or not isinstance(value, Quantity) or value.value <= 0:
            continue
        parts = (Fraction(problem.amount) / value.value).denominator
        if parts <= SMALL_PART:
            return f"'{let.name}' is {value} and must be a multiple of {parts} for this: round " \
                f"it there, to nearest multiple of {parts}."
    return ""


def _unlike_other_sizes(problem: Problem, values: tuple[SecondPlace, ...], run: Run) -> str:
    """A number in the table that cannot be parted as those of all other sizes can."""
    sizes = run.script.sizes
    if sizes is None or problem.kind != "not-whole" or problem.amount is None:
        return ""
    parts = Fraction(problem.amount).denominator
    shown = {place.at for place in values}
    for name, row in sizes.measures.items():
        if sizes.places[name] not in shown or any(value.unit for value in row):
            continue
        here = run.names.get(name, sizes.places[name], no_counts)
        unlike = [value for value in row if value.value % parts]
        if unlike == [here] and len(row) > 1:
            return f"'{name}' is {here} for this size and a multiple of {parts} for all others: " \
                "look at it in the table."
    return ""


def _multiple(problem: Problem, run: Run) -> str:
    """Of what the stitches on the needles must be a multiple, if a small part of them is meant."""
    stitches = run.moments[-1].state.stitches()
    if problem.amount is None or not stitches:
        return ""
    parts = (problem.amount / stitches).denominator
    if parts > SMALL_PART:
        return ""
    less = stitches - stitches % parts
    return f"{stitches} must be a multiple of {parts}: {less} or {less + parts} would do."
