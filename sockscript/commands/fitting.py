"""What a member gives to ``fit``, and the size that it makes of a pattern."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from itertools import chain, count

from attrs import evolve
from lark.exceptions import LarkError

from sockscript.commands.band import read_band
from sockscript.commands.chosen import AskedForError, as_text, choices_asked, sizes_asked
from sockscript.commands.counted import FORMS, read_counted
from sockscript.commands.fitted_text import FittedSize
from sockscript.expand.values import CannotDoError, Names, Scope, evaluate, no_counts
from sockscript.fit.feet import SCALES, foot_length
from sockscript.numbers.quantity import (
    Exact,
    Quantity,
    QuantityError,
    length,
    read_amount,
    show,
    tidy,
)
from sockscript.text.parser import parse_text
from sockscript.text.source import Source, Span
from sockscript.tree.build_expressions import ExpressionBuilder
from sockscript.tree.script import Gauge, Script, Sizes
from sockscript.tree.slips import nearest

YOUR_SIZE = "Your size"
_SHOE = re.compile(r"([^0-9¼½¾]*)(.*)")
_SAME = {"woman": "women", "man": "men", "children": "child", "kid": "child", "kids": "child",
         "europe": "eu", "gb": "uk"}
"""Words for the scales of shoe sizes, besides those of the table."""
_PERSONS = frozenset({"women", "men", "child"})
WITH_THE_BALL = ("ankle-round", "heel-round", "calf-round")
"""Girths that go with that of the ball of the foot where they are not measured themselves."""
NARROWEST, WIDEST = Fraction(6, 10), Fraction(16, 10)
"""How far beyond the smallest and largest size of the pattern a measurement may lie."""


def fitting_asked(script: Script, given: Mapping[str, str], shoe: str | None, gauge: str | None,
             size: str | None, band: str | None, choose: list[str]
             ) -> tuple[FittedSize, list[str]]:
    """What is changed; what was taken from where, in words."""
    sizes = script.sizes
    if sizes is None:
        raise AskedForError("This pattern has no table of sizes, so there is nothing to fit.")
    wanted = {name: _length(name, value) for name, value in given.items()}
    if shoe is not None and _foot_length_row(sizes) in wanted:
        raise AskedForError(f"--shoe and --{_foot_length_row(sizes)} both say how long the foot "
                            "is: leave one of them out.")
    if shoe is not None:
        wanted.setdefault(_foot_length_row(sizes), length(_from_shoe(shoe), script.inches))
    for name, quantity in wanted.items():
        _sensible(sizes, name, quantity)
    gauges = _gauges(script, gauge) if gauge is not None else ()
    if not wanted and size is None:
        known = ", ".join(f"--{name}" for name in sizes.measures)
        raise AskedForError(f"Say for which foot: {known} or --shoe; or, to change the gauge or "
                            f"yarn alone, --size with one of {', '.join(sizes.names)}.")
    base = _nearest_size(sizes, wanted) if size is None else sizes_asked(script, [size])[0]
    said = [f"Fitted from size {sizes.names[base]}:"]
    measures = {}
    for name, values in sizes.measures.items():
        quantity = wanted.get(name, values[base])
        whose = "yours" if name in wanted else f"as in size {sizes.names[base]}"
        ball = sizes.measures.get("foot-round")
        if name in WITH_THE_BALL and name not in wanted and "foot-round" in wanted and ball:
            ratio = Fraction(wanted["foot-round"].value) / ball[base].value
            quantity = values[base]._replace(value=round(values[base].value * ratio))
            whose = "in proportion to yours"
        measures[name] = quantity
        said.append(f"  {name.replace('-', ' ')} {show(quantity)} ({whose})")
    said += [f"  {g.fabric}: {show(Quantity(g.stitches))} stitches, "
             f"{show(Quantity(g.rows))} rows over {show(g.over)}" for g in gauges]
    if band is not None:
        band = _sensible_band(script, band)
        said.append(f"  yarn: {band}")
    names = {name.lower() for name in sizes.names}
    mine = next(name for name in chain([YOUR_SIZE], (f"{YOUR_SIZE} {n}" for n in count(2)))
                if name.lower() not in names)
    asked = {text.partition("=")[0].strip().lower() for text in choose}
    settled = {name: as_text(value) for name, value in choices_asked(script, choose).items()
               if name in asked}
    return FittedSize(mine, sizes.names[base], measures, gauges, band or "", settled), said


def _sensible_band(script: Script, band: str) -> str:
    """The band as a script has it.  Raises AskedForError for words that are not on a band."""
    if not any(yarn.role == "main" for yarn in script.yarns):
        raise AskedForError("This pattern has no yarn of its own, so yours changes nothing.")
    found = read_band(band)
    if found is None:
        raise AskedForError(f"--yarn '{band}': write how far it runs, as on its band, for example "
                            "'400 m per 100 g' or '430 yards per 4 oz'.")
    return found[0]


def _length(name: str, value: str) -> Quantity:
    """A value from the command line: ``24.5cm``, ``9 3/4 in``, ``12``."""
    source = Source(f"--{name}", value)
    whole = Span(source, 1, 1, len(value) + 1)
    try:
        expression = ExpressionBuilder(source, 1, 0, whole).expr(
            parse_text(value, start="expr"))
        names = Names(Script(source), 0, {})
        found = evaluate(expression, Scope(names, {}, None), no_counts)
    except (LarkError, CannotDoError):
        found = value
    if isinstance(found, str) or found.unit not in ("", "mm"):
        raise AskedForError(f"--{name} {value}: a length should stand here, for example 24.5cm.")
    return found


def _sensible(sizes: Sizes, name: str, quantity: Quantity) -> None:
    """Raises AskedForError for a row that is not there or a value far from all sizes."""
    values = sizes.measures.get(name)
    if values is None:
        meant = nearest(name, set(sizes.measures))
        raise AskedForError(f"The table of sizes has no '{name}'. "
                            + (f"Did you mean --{meant}? " if meant else "")
                            + f"It has {', '.join(sizes.measures)}.")
    if quantity.unit != values[0].unit:
        needs = "a length with its unit, such as 24.5cm" if values[0].unit else "a plain number"
        raise AskedForError(f"--{name} needs {needs}.")
    low, high = min(v.value for v in values), max(v.value for v in values)
    if not low * NARROWEST <= quantity.value <= high * WIDEST:
        raise AskedForError(
            f"--{name} {show(quantity)} lies far outside the sizes of this pattern "
            f"({show(values[0]._replace(value=low))} to {show(values[0]._replace(value=high))}). "
            "Look at the number and its unit.")


def _foot_length_row(sizes: Sizes) -> str:
    for name in sizes.measures:
        if "foot" in name and "length" in name:
            return name
    raise AskedForError("The table of sizes has no row for the length of the foot "
                        "(foot-length), so a shoe size says nothing.")


def _from_shoe(shoe: str) -> Exact:
    """The length of the foot in mm for ``eu 39``, ``us women 8½``, ``women's us 8 1/2``, or a foot
    as the table of sizes calls it: ``woman-39``, ``man-uk-9``."""
    scale, number = (part.strip() for part in _SHOE.fullmatch(shoe.lower()).groups())  # type: ignore[union-attr]
    said_in = re.findall(r"[a-z]+", scale.replace("'s", "").replace("’s", ""))
    words = {_SAME.get(word, word) for word in said_in}
    if "us" not in words and words != {"child", "uk"} and words & _PERSONS:
        words = words - _PERSONS or {"eu"}  # these scales are the same for all
    named = next((name for name in SCALES if words == set(name.split("-"))), scale)
    try:
        return tidy(foot_length(named, Fraction(read_amount(number))))
    except (ValueError, QuantityError) as error:
        said = str(error) if "scale" in str(error) or "foot" in str(error) else \
            f"'{shoe}' is not a shoe size."
        raise AskedForError(f"{said} Write the scale and the number, for example --shoe 'eu 39' or "
                            "'us women 8½'.") from None


def _nearest_size(sizes: Sizes, wanted: Mapping[str, Quantity]) -> int:
    """The size that differs least, in proportion, from what was given."""
    def distance(size: int) -> Fraction:
        return sum((abs(1 - Fraction(quantity.value) / sizes.measures[name][size].value)
                    for name, quantity in wanted.items() if sizes.measures[name][size].value),
                   Fraction(0))

    return min(range(len(sizes.names)), key=lambda size: (distance(size), size))


def _gauges(script: Script, text: str) -> tuple[Gauge, ...]:
    """The script's gauges for the member's swatch of the first fabric; others in proportion."""
    if not script.gauges:
        raise AskedForError("This pattern has no gauge, so yours changes nothing.")
    first = script.gauges[0]
    counted = read_counted(text, otherwise=first.over)
    if counted is None:
        raise AskedForError(f"--gauge {text}: that is not a gauge. {FORMS}")
    wide = counted.swatch.stitches / counted.swatch.wide / first.stitches_per_mm
    tall = counted.swatch.rows / counted.swatch.tall / first.rows_per_mm
    if not all(Fraction(1, 3) <= ratio <= 3 for ratio in (wide, tall)):
        raise AskedForError(f"--gauge {text}: that is not near the gauge of this pattern "
                            f"({show(Quantity(first.stitches))} stitches, "
                            f"{show(Quantity(first.rows))} rows over {show(first.over)}).")
    return tuple(evolve(g, stitches_per_mm=g.stitches_per_mm * wide,
                        rows_per_mm=g.rows_per_mm * tall, stitches=tidy(g.stitches * wide),
                        rows=tidy(g.rows * tall)) for g in script.gauges)
