"""The header of a script: pattern, machine, yarns, gauges, sizes, options."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from lark import Token

from sockscript.numbers.quantity import MM_PER_UNIT, Exact, Quantity, read_amount, tidy
from sockscript.numbers.quantity import length as a_length
from sockscript.text.source import Problem, Span
from sockscript.tree.build_expressions import Parse, SlipError, string_value, word_of
from sockscript.tree.build_statements import StatementBuilder
from sockscript.tree.script import (
    Exchange,
    Gauge,
    MachineNeeds,
    Option,
    OwnSwatch,
    Sizes,
    Weighed,
    Yarn,
)

_ROLES = {"waste_role": "waste", "cord_role": "cord"}


def build_yarn(b: StatementBuilder, parse: Parse) -> Yarn:
    """``yarn NAME "…" 380 m per 100 g as waste``; also ``250 tex``, ``Nm 28/2``."""
    name, text, run, role = parse.children
    metres: Any = None
    ball: Any = None
    if run is not None:
        numbers = [b.amount(part).value for part in run.children
                   if part is not None and part.data == "amount"]
        if run.data == "band" and len(numbers) == 1:
            numbers.append(1)
        if not all(numbers):
            raise b.slip(run, "bad-number", "A yarn cannot have a 0 in its length or count.",
                         "Look at the band: for example 380 m per 100 g.")
        metres, ball = _run_length(run, numbers)
    kind: Any = "main" if role is None else _ROLES[role.data]
    return Yarn(b.whole, b.name(name), string_value(text), metres, kind, ball)


def _run_length(run: Parse, numbers: list[Exact]) -> tuple[Exact, Exact | None]:
    """Metres in a gram, and the grams of a ball where a band says so."""
    from sockscript.fit.yarn import GRAMS_PER_UNIT, METRES_PER_UNIT, metres_per_gram

    if run.data == "band":
        _, unit, _, weight = run.children
        metres = numbers[0] * METRES_PER_UNIT[word_of(unit)]
        grams = tidy(numbers[1] * GRAMS_PER_UNIT[word_of(weight)])
        return tidy(Fraction(metres) / grams), grams
    if run.data == "tex_count":
        return tidy(1000 / Fraction(numbers[0])), None
    system = word_of(run.children[0])
    if len(numbers) == 1:
        return metres_per_gram(system, numbers[0], 1), None
    # Metric and cotton counts put the plies behind the stroke, the worsted count before it.
    plies, single = numbers if system == "worsted count" else reversed(numbers)
    return metres_per_gram(system, single, plies), None


def build_gauge(b: StatementBuilder, parse: Parse) -> Gauge:
    """``gauge FABRIC 30 stitches, 42 rows per 10 cm``, or each over a length of its own."""
    fabric, stitches, across, rows, over, unit, measured, stretches = parse.children
    length = _over(b, over, unit)
    count, tall = b.amount(stitches), b.amount(rows)
    wide = _over(b, *across.children) if across is not None else length
    if not all(q.value for q in (length, wide, count, tall)):
        raise b.slip(parse, "bad-number", "A gauge cannot have a 0 in it.",
                     "Count stitches and rows over 10 cm of a washed and rested swatch.")
    count = Quantity(tidy(Fraction(count.value) * length.value / wide.value))
    state: Any = "washed" if measured is None else word_of(measured.children[0])
    stretch = None
    if stretches is not None:
        stretch = tidy(Fraction(b.amount(stretches.children[0]).value) / 100)
        if not 1 <= stretch <= 4:
            raise b.slip(stretches, "bad-number",
                         "A fabric stretches to between 100 % and 400 % of its width.",
                         "Measure a piece lying and pulled: 10 cm that pulls out to 18 cm "
                         "stretches to 180%.")
    return Gauge(b.whole, b.name(fabric) if fabric is not None else "plain",
                 tidy(Fraction(count.value) / length.value),
                 tidy(Fraction(tall.value) / length.value), count.value, tall.value, length,
                 state, stretch)


def _over(b: StatementBuilder, amount: Parse, unit: Parse) -> Quantity:
    """``10 cm``, ``4"`` or ``inch`` by itself."""
    if amount is None:
        return a_length(MM_PER_UNIT[word_of(unit)], inches=word_of(unit) not in ("mm", "cm", "m"))
    return b.length(amount, unit)


def build_swatch(b: StatementBuilder, parse: Parse) -> Weighed:
    """``swatch FABRIC 60 stitches, 84 rows, 16 g of YARN``."""
    from sockscript.fit.yarn import GRAMS_PER_UNIT

    fabric, stitches, rows, weight, unit, yarn = parse.children
    amounts = [b.amount(part).value for part in (stitches, rows, weight)]
    grams = tidy(amounts[2] * GRAMS_PER_UNIT[word_of(unit)])
    if not all(amounts):
        raise b.slip(parse, "bad-number", "A swatch cannot have a 0 in it.",
                     "Count its stitches and rows and weigh it on a kitchen or letter scale.")
    return Weighed(b.whole, b.name(fabric) if fabric is not None else "plain",
                   amounts[0], amounts[1], grams, b.name(yarn))


def build_exchange(b: StatementBuilder, parse: Parse) -> Exchange:
    """``exchange NAME for OTHER``."""
    name, other = parse.children
    return Exchange(b.at(parse), b.name(name), b.at(name), b.name(other), b.at(other))


def build_option(b: StatementBuilder, parse: Parse) -> Option:
    """``option NAME a "in words", b default b``."""
    def value(part: Parse) -> Quantity | str:
        kid = part.children[0]
        return b.name(kid) if isinstance(kid, Token) else b.amount(kid)

    name, *rest = parse.children
    b.listing = True
    listed = [part for part in rest if part is not None and part.data != "default"]
    values = tuple(map(value, listed))
    words = {value(part): string_value(token) for part in listed for token in part.children[1:]
             if token is not None}
    chosen = [part.children[0] for part in rest if part is not None and part.data == "default"]
    default = value(chosen[0]) if chosen else values[0]
    if default not in values:
        raise b.slip(parse, "bad-option", "The default is not one of the choices.",
                     "Name one that stands in the list before 'default'.")
    if len(set(values)) != len(values):
        raise b.slip(parse, "bad-option", "The same choice stands in the list twice.")
    if chosen and any(token is not None for token in chosen[0].children[1:]):
        raise b.slip(parse, "bad-option", "After 'default' a choice is only named.",
                     "Put its printed words behind it in the list.")
    if not all(text.strip() for text in words.values()):
        raise b.slip(parse, "bad-option", "A choice has printed words that say nothing.",
                     "Write what a member gets, as in 'gather \"a gathered toe\"'.")
    return Option(b.whole, b.name(name), values, default, words)


MOST_RACKING = 100
_ONCE = frozenset({"beds", "needle_count", "spacing", "dial", "pitches", "racking",
                   "front_circular"})
"""Lines of a machine block that can stand in it only once."""


class MachineBlock:
    """Gathers the lines under ``machine``."""

    def __init__(self, at: Span, name: str | None) -> None:
        self.fields: dict[str, Any] = {"at": at, "name": name}
        self.words: dict[str, str] = {}
        self.word_places: dict[str, Span] = {}
        self.given: set[str] = set()

    def add_word(self, b: StatementBuilder, parse: Parse) -> None:
        """Take in the machine's own word for a setting; raises SlipError."""
        name, word = parse.children
        setting = str(name).lower()
        if setting in self.words:
            raise b.slip(name, "named-twice", f"'{setting}' stands in the list of words twice.",
                         "Keep one of the two lines.")
        self.words[setting] = string_value(word)
        self.word_places[setting] = b.at(name)

    def add(self, b: StatementBuilder, parse: Parse) -> None:
        """Take in one line; raises SlipError."""
        kids = parse.children
        fields = self.fields
        if parse.data in _ONCE:
            if parse.data in self.given:
                word = b.source.line(b.whole.line).split()[0].lower()
                raise b.slip(parse, "named-twice",
                             f"'{word}' stands in the machine block twice.",
                             "Keep one of the two lines.")
            self.given.add(parse.data)
        match parse.data:
            case "beds":
                beds = read_amount(str(kids[0]))
                if beds not in (1, 2):
                    raise b.slip(parse, "bad-number", "A machine has 1 or 2 beds.")
                fields["beds"] = beds
            case "needle_count":
                count = Fraction(read_amount(str(kids[0])))
                if count.denominator != 1 or not 2 <= count <= 1000 or count % 2:
                    raise b.slip(parse, "bad-number",
                                 "A bed has an even number of needles, from 2 to 1000.",
                                 "Count one bed: as many needles left of the centre as right.")
                fields["needles"] = int(count)
            case "spacing":
                fields["spacing"] = b.length(kids[0], kids[1]).value
            case "dial":
                low, high, by = (b.amount(kid).value for kid in kids)
                if not by or high < low:
                    raise b.slip(parse, "bad-number",
                                 "A dial runs from its tightest to its loosest number by a step.",
                                 "For example: dial 0 to 10 by 1/3")
                fields["dial"] = (low, high, by)
            case "pitches":
                fields["pitches"] = tuple(word_of(kid) for kid in kids)
            case "racking":
                racking = Fraction(read_amount(str(kids[0])))
                if racking.denominator != 1 or not 0 <= racking <= MOST_RACKING:
                    raise b.slip(parse, "bad-number",
                                 f"Racking is a whole number of needles, up to {MOST_RACKING}.")
                fields["racking"] = int(racking)
            case "abilities":
                found = tuple(word_of(kid) for kid in kids)
                fields["abilities"] = (*fields.get("abilities", ()), *found)
            case "front_circular":
                fields["front_circular"] = word_of(kids[0])
            case "own_swatch":
                fields["swatches"] = (*fields.get("swatches", ()), _own_swatch(b, parse))

    def build(self) -> MachineNeeds:
        """The block as one value."""
        return MachineNeeds(**self.fields, words=self.words, word_places=self.word_places)


def _own_swatch(b: StatementBuilder, parse: Parse) -> OwnSwatch:
    """``swatch FABRIC "yarn" 30 stitches, 42 rows per 10 cm at stitch size 6``."""
    fabric, yarn, stitches, rows, over, unit, size = parse.children
    length = _over(b, over, unit)
    wide, tall = b.amount(stitches).value, b.amount(rows).value
    if not all((wide, tall, length.value)):
        raise b.slip(parse, "bad-number", "A swatch cannot have a 0 in it.",
                     "Count its stitches and rows over 10 cm, washed and rested.")
    return OwnSwatch(b.whole, b.name(fabric) if fabric is not None else "plain",
                     string_value(yarn), wide, tall, length, b.amount(size).value)


class SizeTable:
    """Gathers the rows under ``sizes``."""

    def __init__(self, b: StatementBuilder, parse: Parse) -> None:
        self.at = b.whole
        self.names = tuple(b.size_name(kid) for kid in parse.children)
        self.measures: dict[str, tuple[Quantity, ...]] = {}
        self.places: dict[str, Span] = {}
        self.from_feet: dict[str, tuple[Quantity, ...]] = {}
        self.feet_at: Span | None = None
        doubled = {name for name in self.names if self.names.count(name) > 1}
        if doubled:
            raise b.slip(parse, "bad-sizes",
                         f"The size '{sorted(doubled)[0]}' stands in the table twice.",
                         "Give each size a name of its own.")

    def add(self, b: StatementBuilder, parse: Parse) -> None:
        """Take in one row; raises SlipError when cells are missing or left over."""
        if parse.data == "feet_row":
            self._feet(b, parse)
            return
        name = b.name(parse.children[0])
        cells = parse.children[1:]
        self._one_each(b, name, len(cells))
        last_unit = cells[-1].children[1]
        units_given = [cell.children[1] is not None for cell in cells]
        one_for_all = last_unit is not None and sum(units_given) == 1
        values = []
        for cell in cells:
            amount, unit = cell.children
            unit = last_unit if one_for_all else unit
            values.append(b.amount(amount) if unit is None else b.length(amount, unit))
        if any(units_given) and not one_for_all and not all(units_given):
            raise b.slip(cells[units_given.index(False)], "missing-unit",
                         "This value has no unit, but others in the row have one.",
                         "Write cm, mm or in after every value, or once at the end of the row.")
        if name in self.measures:
            raise b.slip(parse.children[0], "named-twice",
                         f"'{name}' stands in the table twice.", "Keep one of the two rows.")
        self.measures[name] = tuple(values)
        self.places[name] = b.at(parse.children[0])

    def _one_each(self, b: StatementBuilder, name: str, given: int) -> None:
        if given != len(self.names):
            missing = self.names[given:]
            what = (f"No value for {' and '.join(missing)}." if missing else
                    "There are more values than sizes.")
            raise SlipError(Problem(
                "missing-cells", b.whole,
                f"'{name}' has {given} value{'s' * (given != 1)}, but there are "
                f"{len(self.names)} sizes: {what}",
                "Give every size its own value, in the order of the first line of the table."))

    def _feet(self, b: StatementBuilder, parse: Parse) -> None:
        """A row that names a foot of the built-in table for each size."""
        from sockscript.fit.foot_table import ROWS, foot

        if self.feet_at is not None:
            raise b.slip(parse, "named-twice", "'feet' stands in the table twice.",
                         "Keep one of the two rows.")
        self._one_each(b, "feet", len(parse.children))

        def called(cell: Parse) -> str:
            name, half = cell.children
            return b.name(name) + ("½" if half is not None else "")

        found = []
        for cell in parse.children:
            try:
                found.append(foot(called(cell)))
            except ValueError as error:
                # So that no line that speaks of one of its rows is told as well.
                nothing = tuple(Quantity(0, "mm") for _ in self.names)
                self.from_feet, self.feet_at = dict.fromkeys(ROWS, nothing), b.whole
                raise b.slip(cell, "unknown-foot",
                             f"There is no foot called '{called(cell)}' in the table of feet.",
                             str(error)) from None
        self.feet_at = b.whole
        for name, field in ROWS.items():
            lengths = [getattr(one, field) for one in found]
            if None not in lengths:
                self.from_feet[name] = tuple(Quantity(length, "mm") for length in lengths)

    def build(self) -> Sizes:
        """The table as one value; what the author measured stands before the table of feet."""
        measures = {**self.from_feet, **self.measures}
        if self.feet_at is not None:
            self.places = {**dict.fromkeys(self.from_feet, self.feet_at), **self.places}
        return Sizes(self.at, self.names, measures, self.places,
                     frozenset(self.from_feet) - frozenset(self.measures))
