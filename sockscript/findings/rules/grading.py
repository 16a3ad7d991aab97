"""The header by itself: a gauge the wrong way round, a table that leaps, an ease left out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.fabric.amounts import gauge_for
from sockscript.fabric.measures import is_rib, passes_of
from sockscript.findings.kind import Kind
from sockscript.numbers.quantity import Exact, Quantity, show
from sockscript.tree import expressions as ex
from sockscript.tree.script import Sizes
from sockscript.tree.walk import nodes

STEP = Fraction(16, 10)
"""From one size to the next no measurement grows by more than 60 %, unless others do too: from a
toddler's foot to a child's it is half as much again at most (common practice, no source)."""
NEAR = Fraction(125, 100)
"""A value in another unit fits if it lies within a quarter of its neighbours: common practice, no
source."""
OUT_OF_ROW, ENOUGH = Fraction(14, 10), 8
"""A count that is so many times as large as those of both neighbouring sizes (or they as it) is out
of order, if the largest of the three is so large: small numbers jump by rounding (common practice,
no source)."""
ROUNDER, GROWN = Fraction(105, 100), 200
"""Feet that are all at least so much rounder than long, and at least so long (mm), are none: the
ball of a grown foot is 0.93 of its length (ANSUR II, 2012, second-hand)."""
RANKS = {word: rank for rank, words in enumerate((
    ("xxs",), ("xs", "extra-small", "extra small"), ("s", "small"), ("m", "medium"),
    ("l", "large"), ("xl", "extra-large", "extra large", "extra-l"), ("xxl",), ("xxxl",)))
    for word in words}
"""The order of the usual names of sizes."""
USUAL = {"cuff-length": (15, 300), "leg-length": (20, 800)}
"""In mm; what lies outside as it stands and inside with another unit has the wrong one (common
practice, no source).  Measurements of the foot itself are looked at by ``feet``."""

GAUGE_EXCHANGED = Kind(
    "gauge-exchanged", "advice",
    "The gauge of '{name}' has {gauge_stitches} stitches and only {gauge_rows} rows: plain knit "
    "has about 1.3 times as many rows as stitches.",
    "Look at your swatch: perhaps stitches and rows are exchanged.")

GRADING_UNEVEN = Kind(
    "grading-uneven", "advice", "{what}.",
    "Look at the numbers of this row and at their units.",
    follows_anywhere=("unlikely-foot", "measurements-contradict"))

EASE_LEFT_OUT = Kind(
    "ease-left-out", "advice",
    "'{name}' is turned into stitches as it is, but '{eased}' with an ease.",
    "Socks are knitted narrower than the leg and foot, plain knit by a tenth: write for example  "
    "{name} less 10%.")

Sizing = Sequence[Sequence[Run]]


def gauge_exchanged(run: Run) -> list[Mishap]:
    """Plain knit with as many stitches as rows or more.

    By the geometry of plain knit there are 1.3 times as many rows (Munden: kc / kw); a rib that
    draws in may have more stitches.  Where rib and plain knit share a gauge, it is that of the
    fabric that has more rows.
    """
    wide = [gauge for gauge in run.script.gauges if gauge.stitches_per_mm >= gauge.rows_per_mm]
    if not wide:
        return []
    ribbed: Counter[str] = Counter()
    """By fabric: rows of sections that have rib, less those of sections that have none."""
    for section in run.sections:
        gauge = gauge_for(run, section)
        knitted = [(op.passes, is_rib(before)) for op, before, _ in
                   passes_of(run, section.first, section.last)]
        if gauge is not None:
            rows = sum(passes for passes, _ in knitted)
            ribbed[gauge.fabric] += rows if any(rib for _, rib in knitted) else -rows
    return [Mishap(GAUGE_EXCHANGED.fault(name=gauge.fabric), (gauge.at,),
                   detail={"gauge_stitches": Quantity(gauge.stitches),
                           "gauge_rows": Quantity(gauge.rows)})
            for gauge in wide if ribbed[gauge.fabric] <= 0]


def grading(by_size: Sizing) -> list[Mishap]:
    """Rows of the table that run backwards or leap where the others do not."""
    sizes = by_size[0][0].script.sizes
    if sizes is None:
        return []
    rows = {name: [Fraction(value.value) for value in values]
            for name, values in sizes.measures.items()
            if all(value.unit == "mm" and value.value > 0 for value in values)}
    found = [*_wrong_unit(sizes, rows), *_rows_exchanged(sizes, rows),
             *_counts_out_of_order(sizes, [*rows.values()])]
    wrong = {mishap.fault.name for mishap in found}
    for name, row in rows.items():
        others = [other for key, other in rows.items() if key != name]
        told = _backwards(sizes, name, row, others) or _leap(sizes, name, row, others)
        if told is not None and name not in wrong:
            found.append(told)
    return found


def _wrong_unit(sizes: Sizes, rows: dict[str, list[Fraction]]) -> Iterator[Mishap]:
    for name, (low, high) in USUAL.items():
        row = rows.get(name, [])
        for factor in (10, Fraction(1, 10)):
            if row and all(not low <= value <= high and low <= value * factor <= high
                           for value in row):
                yield _told(sizes, name, f"'{name}' is {show(sizes.measures[name][0])} for "
                            f"{sizes.names[0]}; {_as_meant(sizes, name, 0, factor)} is usual")


def _rows_exchanged(sizes: Sizes, rows: dict[str, list[Fraction]]) -> Iterator[Mishap]:
    """Girth and length of grown feet, each in the row of the other; one foot alone may be wide."""
    around, along = rows.get("foot-round", []), rows.get("foot-length", [])
    if len(along) > 1 and len(around) == len(along) and min(along) >= GROWN \
            and all(ball >= ROUNDER * foot for ball, foot in zip(around, along, strict=True)):
        yield _told(sizes, "foot-round", "'foot-round' is larger than 'foot-length' in every size: "
                    "grown feet are longer than round, and the two rows may be exchanged")


def _counts_out_of_order(sizes: Sizes, lengths: list[list[Fraction]]) -> Iterator[Mishap]:
    """Rows of plain numbers in which that of one size stands out, where the sizes run one way."""
    for name, values in sizes.measures.items():
        if any(value.unit or value.value <= 0 for value in values):
            continue
        row = [Fraction(value.value) for value in values]
        out = [n for n in range(1, len(row) - 1)
               if _sign(row, n - 1) * _sign(row, n) < 0
               and min(_ratio(row[n], row[n - 1]), _ratio(row[n], row[n + 1])) >= OUT_OF_ROW
               and max(row[n - 1:n + 2]) >= ENOUGH
               and _expected(sizes, n - 1, lengths) * _expected(sizes, n, lengths) > 0]
        if len(out) == 1:
            yield _told(sizes, name, f"'{name}' is {values[out[0]]} for {sizes.names[out[0]]}, but "
                        + " and ".join(f"{values[near]} for {sizes.names[near]}"
                                       for near in (out[0] - 1, out[0] + 1)))


def _backwards(sizes: Sizes, name: str, row: list[Fraction], others: list[list[Fraction]]
               ) -> Mishap | None:
    """The first step of a row that goes the other way than all that say something there."""
    against = [n for n in range(len(row) - 1) if _sign(row, n) * _expected(sizes, n, others) < 0]
    if not against:
        return None
    if len(against) == sum(_sign(row, n) != 0 for n in range(len(row) - 1)) > 1:
        return _told(sizes, name, f"'{name}' runs the other way than the sizes: from "
                     f"{_value(sizes, name, 0)} to {_value(sizes, name, len(row) - 1)}")
    n = against[0]
    odd = _odd_one(row, n)
    if odd is not None:
        beside = " and ".join(f"{show(sizes.measures[name][near])} for {sizes.names[near]}"
                              for near in (odd - 1, odd + 1) if 0 <= near < len(row))
        return _told(sizes, name, f"'{name}' is {show(sizes.measures[name][odd])} for "
                     f"{sizes.names[odd]}, but {beside}" + _fitting(sizes, name, row, (odd,)))
    return _told(sizes, name, f"'{name}' goes from {_value(sizes, name, n)} to "
                 f"{_value(sizes, name, n + 1)}, against the other sizes and rows"
                 + _fitting(sizes, name, row, (n + 1, n)))


def _odd_one(row: list[Fraction], n: int) -> int | None:
    """Which of the two values of a backward step is the slip, where only without that one the row
    goes the right way in small steps."""
    wrong = _sign(row, n)
    fits = []
    for at in (n, n + 1):
        steps = [(_ratio(a, b), (b > a) - (b < a)) for a, b in pairwise(row[:at] + row[at + 1:])]
        ways = {way for _, way in steps}
        if all(ratio <= STEP for ratio, _ in steps) and -wrong in ways and wrong not in ways:
            fits.append(at)
    return fits[0] if len(fits) == 1 else None


def _expected(sizes: Sizes, n: int, others: list[list[Fraction]]) -> int:
    """Whether measurements grow (1) or shrink (-1) from a size to the next, as far as can be told.

    The usual names of sizes say so; else at least two other rows that agree.
    """
    ranks = [RANKS.get(name.lower()) for name in sizes.names[n:n + 2]]
    if ranks[0] is not None and ranks[1] is not None:
        return (ranks[1] > ranks[0]) - (ranks[1] < ranks[0])
    signs = [sign for sign in (_sign(other, n) for other in others) if sign]
    return signs[0] if len(signs) > 1 and len(set(signs)) == 1 else 0


def _sign(row: list[Fraction], n: int) -> int:
    return (row[n + 1] > row[n]) - (row[n + 1] < row[n])


def _leap(sizes: Sizes, name: str, row: list[Fraction], others: list[list[Fraction]]
          ) -> Mishap | None:
    """A step much larger than all others of the row and of the other rows at this place."""
    steps = [_ratio(a, b) for a, b in pairwise(row)]
    for n, step in enumerate(steps):
        half = 1 + (step - 1) / 2
        # A single value that stands out makes a large step on either side of it.
        rest = [one for at, one in enumerate(steps) if abs(at - n) > 1]
        rest += [_ratio(other[n], other[n + 1]) for other in others]
        if step > STEP and rest and max(rest) < half:
            return _told(sizes, name, f"'{name}' leaps from {_value(sizes, name, n)} to "
                         f"{_value(sizes, name, n + 1)}, far more than other sizes and rows"
                         + _fitting(sizes, name, row, (n + 1, n)))
    return None


def _ratio(a: Fraction, b: Fraction) -> Fraction:
    return max(a, b) / min(a, b)


def _fitting(sizes: Sizes, name: str, row: list[Fraction], which: tuple[int, ...]) -> str:
    """Which of some values fits its neighbours in another unit."""
    for at in which:
        beside = [row[near] for near in (at - 1, at + 1) if 0 <= near < len(row)]
        for factor in (10, Fraction(1, 10)):
            if all(_ratio(row[at] * factor, one) <= NEAR for one in beside):
                return f"; {_as_meant(sizes, name, at, factor)} would fit"
    return ""


def _as_meant(sizes: Sizes, name: str, at: int, factor: Exact) -> str:
    length = Fraction(sizes.measures[name][at].value) * factor
    return show(Quantity(length, "mm"))


def _value(sizes: Sizes, name: str, at: int) -> str:
    return f"{show(sizes.measures[name][at])} ({sizes.names[at]})"


def _told(sizes: Sizes, name: str, what: str) -> Mishap:
    return Mishap(GRADING_UNEVEN.fault(name=name), (sizes.places[name],),
                  detail={"what": what})


def ease_left_out(by_size: Sizing) -> list[Mishap]:
    """One girth of the table that is knitted as it is, while all others are knitted with ease."""
    script = by_size[0][0].script
    if script.sizes is None:
        return []
    plain: dict[str, ex.Expr] = {}
    eased: dict[str, ex.Expr] = {}
    for root in (*script.lets, *script.sections):
        for node, _ in nodes(root):
            if not isinstance(node, ex.Call) or node.function != "stitches" or not node.arguments:
                continue
            inside = node.arguments[0]
            names = {one.name for one, _ in nodes(inside) if isinstance(one, ex.Name)}
            for name in names & script.sizes.measures.keys():
                (plain if isinstance(inside, ex.Name) else eased).setdefault(name, node)
    bare = [name for name in plain if name not in eased and name.endswith("-round")]
    if len(bare) != 1 or not eased:
        return []
    other = next(iter(eased))
    return [Mishap(EASE_LEFT_OUT.fault(name=bare[0]), (plain[bare[0]].at,),
                   detail={"eased": other})]
