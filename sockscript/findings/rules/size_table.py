"""Rows of the size table are targets by themselves: what the finished sock should measure."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache
from typing import Any, NamedTuple, Union

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.expand.values import CannotDoError, Names, Scope, evaluate, no_counts
from sockscript.fabric.finished import finished
from sockscript.fabric.halves import halves_of
from sockscript.fabric.sock import sock_of
from sockscript.fabric.worn import MEASURES, measured_as, measured_on
from sockscript.findings.kind import Kind
from sockscript.findings.origins import measured
from sockscript.findings.rules.lengths import NOT_MEASURED, missing_part
from sockscript.findings.rules.why_missed import halved, leg_in_words, other_gauge
from sockscript.numbers.quantity import Exact, Quantity, length, show, show_inches
from sockscript.text.source import Span
from sockscript.tree import expressions as ex
from sockscript.tree.instructions import KnitFor
from sockscript.tree.script import Script
from sockscript.tree.statements import Target

SHOE_SIZE = Fraction(20, 3)
"""A foot may be off by one shoe size, 2/3 cm (the Paris point)."""
LENGTH_WITHIN = Fraction(10)
"""Legs and cuffs may be off by 1 cm: common practice, no source."""
STITCHES_WITHIN = 3
"""Girths may be off by so many stitches, or by as many as the script's own rounding gives:
common practice, no source."""
NO_EASE = (Fraction(80, 100), Fraction(105, 100))
"""Where no line says how much ease a girth has: socks are knitted up to a fifth narrower than the
foot (rib up to 25 %, plain knit 10 %: a handbook for sock knitters) and hardly wider."""
LESS_LONG = 20
"""A sock may be meant up to 2 cm shorter or longer than the foot: common practice, no source."""
EASED = (Fraction(6, 10), Fraction(14, 10))
"""What stands in ``stitches(…)`` is the girth with its ease if it is such a share of it: common
practice, no source."""

SIZE_MISSED = Kind(
    "size-missed", "warning",
    "'{words}' is {aim}, but the finished piece comes to {comes} there: {off} {way}{parts}.",
    "Look at the {knitted_on} that it is knitted on. {found}A 'target' says what else is meant.",
    follows=("unlikely-foot", "measurements-contradict"),
    follows_anywhere=("waste-knitted-in",),
    led=measured)


class RowUse(NamedTuple):
    """What the lines of a script say of a row of its table.

    ``girths``: every ``stitches(…)`` of it, with the multiple that it is rounded to.
    ``lengths``: the row less or plus something.  ``used``: it is named at all.
    """

    girths: tuple[tuple[ex.Call, int], ...]
    lengths: tuple[ex.Expr, ...]
    used: bool
    settled: bool
    """An explicit target or a line that finds its rows says what is meant."""


@lru_cache(maxsize=64)
def asked(script: Script, name: str) -> RowUse:
    """Look through the values and sections of a script for a row of its table."""
    lets = {let.name: let.value for let in script.lets}
    girths: list[tuple[ex.Call, int]] = []
    lengths: list[ex.Expr] = []
    used = settled = False
    roots = [*script.lets, *script.sections, *script.techniques.values()]
    for node, multiple in (pair for root in roots for pair in nodes(root)):
        if isinstance(node, ex.Name) and node.name == name:
            used = True
        elif isinstance(node, ex.Call) and node.function == "stitches" and node.arguments:
            if name in _names(node.arguments[0], lets):
                girths.append((node, multiple))
        elif isinstance(node, ex.Sum) and isinstance(node.left, ex.Name) \
                and node.left.name == name and isinstance(node.right, ex.Literally):
            lengths.append(node)
        elif isinstance(node, (Target, KnitFor)):
            settled = settled or _settles(node, name)
    return RowUse(tuple(girths), tuple(lengths), used, settled)


def _settles(node: Target | KnitFor, name: str) -> bool:
    """Whether a line says what is meant by a row of the table."""
    part = node.what.replace(" ", "-")
    if isinstance(node, KnitFor):
        return part == name and name in _names(node.length, {})
    return part == name or (node.what != "heel width" and name in _names(node.value, {}))


def nodes(root: Any, multiple: int = 1) -> Iterator[tuple[Any, int]]:
    """Every node of a tree, with the multiple to which it is rounded."""
    if isinstance(root, (tuple, list)):
        for part in root:
            yield from nodes(part, multiple)
        return
    attributes = getattr(type(root), "__attrs_attrs__", None)
    if attributes is None:
        return
    yield root, multiple
    if isinstance(root, ex.Round):
        form = root.multiple
        given = form.value.value if isinstance(form, ex.Literally) else 1
        # Rounding up or down may take away a whole multiple, rounding to the nearest half of one.
        multiple = max(multiple, int(given) * (1 if root.way == "nearest" else 2))
    for attribute in attributes:
        part = getattr(root, attribute.name)
        if not isinstance(part, (Span, Quantity, str)):
            yield from nodes(part, multiple)


def _names(expr: ex.Expr, lets: dict[str, ex.Expr]) -> set[str]:
    """The names that a value depends on, through those of the script's own values."""
    found: set[str] = set()
    waiting = [expr]
    while waiting:
        for node, _ in nodes(waiting.pop()):
            if isinstance(node, ex.Name) and node.name not in found:
                found.add(node.name)
                if node.name in lets:
                    waiting.append(lets[node.name])
    return found


Between = tuple[Exact, Exact, Exact, Union[ex.Call, None]]
"""What is aimed at, and between what it may lie, in mm; the stitches that are reckoned from it."""


class Aim(NamedTuple):
    """A row of the table for one size: between what lengths it may lie, and what it comes to (the
    nearest of what may be meant; None if the piece has no such part)."""

    name: str
    aim: Exact
    low: Exact
    high: Exact
    comes: Fraction | None
    call: ex.Call | None = None
    """Where the stitches of a girth are worked out."""

    @property
    def off(self) -> Fraction:
        """Millimetres more (negative: less) than aimed at, 0 where it lies between."""
        if self.comes is None or self.low <= self.comes <= self.high:
            return Fraction(0)
        return self.comes - self.aim


def aims(run: Run) -> list[Aim]:
    """The rows of the table that are targets by themselves, measured; none of a stopped run."""
    sizes = run.script.sizes
    if sizes is None or run.stopped is not None or not run.moments:
        return []
    found = []
    for name in MEASURES:
        if name not in sizes.measures:
            continue
        said = asked(run.script, name)
        at = sizes.places[name]
        by_table = name not in at.source.line(at.line)
        girth = name.endswith("-round")
        # The table of feet has more rows than a sock has parts, and a short sock has no calf.
        if said.settled or ((by_table or (girth and name != "foot-round")) and not said.used):
            continue
        comes = measured_as(run, name)
        if not said.used and sock_of(run) is None and halves_of(run) is None:
            continue  # no line is worked out from it, and the piece is no sock
        value = run.names.get(name, at, no_counts)
        if not isinstance(value, Quantity) or value.unit != "mm" or value.value <= 0:
            continue  # a foot of no size is told as such
        meant = _girths(run, said, value.value) if girth else _lengths(run, said, name, value.value)
        if meant:
            found.append(min((Aim(name, aim, low, high, length, call)
                              for aim, low, high, call in meant
                              for length in (comes or (None,))), key=lambda one: abs(one.off)))
    return found


def _girths(run: Run, said: RowUse, value: Exact) -> list[Between]:
    per_mm = run.script.gauges[0].stitches_per_mm if run.script.gauges else 1
    found: list[Between] = []
    for call, multiple in said.girths:
        length = _length(run, call.arguments[0])
        if length is not None and EASED[0] <= Fraction(length) / value <= EASED[1]:
            within = Fraction(max(STITCHES_WITHIN, multiple // 2 + 1)) / per_mm
            found.append((length, length - within, length + within, call))
    if said.girths and not found and sock_of(run) is None:
        return []  # a part of the girth, in a piece that is no sock: half of a slipper, say
    return found or [(value, value * NO_EASE[0], value * NO_EASE[1], None)]


def _lengths(run: Run, said: RowUse, name: str, value: Exact) -> list[Between]:
    within = SHOE_SIZE if name == "foot-length" else LENGTH_WITHIN
    eased: list[Exact] = []
    for expr in said.lengths:
        length = _length(run, expr)
        if length is not None and abs(Fraction(length) - value) <= LESS_LONG:
            eased.append(length)
    return [(length, length - within, length + within, None) for length in eased or [value]]


def _length(run: Run, expr: ex.Expr) -> Exact | None:
    """A length worked out for this size; None for anything else."""
    names: Names = run.names
    try:
        value = evaluate(expr, Scope(names, {}, None), no_counts)
    except CannotDoError:
        return None
    return value.value if isinstance(value, Quantity) and value.unit == "mm" else None


def size_missed(run: Run) -> list[Mishap]:
    """Rows of the table that the finished piece misses, or that it has no part for."""
    sizes = run.script.sizes
    found = []
    for one in aims(run):
        assert sizes is not None
        places = (sizes.places[one.name],)
        if one.comes is None:
            found.append(Mishap(NOT_MEASURED.fault(name=one.name), places,
                                detail={"missing": _missing(run, one.name)}))
        elif one.off:
            found.append(_missed(run, one, places))
    return found


def _missed(run: Run, one: Aim, places: tuple[Span, ...]) -> Mishap:
    assert one.comes is not None
    inches, girth = run.script.inches, one.name.endswith("-round")
    comes, off, where = one.comes, one.off, _where(run, one.name)
    words = one.name
    parts = other_gauge(run, one.name, one.call) if girth else \
        parts_in_words(run, off) if one.name == "foot-length" else \
        leg_in_words(run) if one.name == "leg-length" else ""
    line = None if girth or ": " in parts else halved(
        run, one.name, one.aim, comes, one.high - one.aim)
    if line is not None:
        comes = line.alone or comes
        off, parts = comes - one.aim, line.words
        where = {"from": Quantity(line.moment), "up to": Quantity(line.moment + 1)}
    elif one.call is not None:
        places, words = (one.call.at,), _as_written(one.call)
    part = one.name.replace("-", " ")
    return Mishap(SIZE_MISSED.fault(name=one.name), places, detail={
        "words": words, "aim": length(one.aim, inches), "comes": length(round(comes), inches),
        "off": so_far_off(off, inches), "way": "more" if off > 0 else "less", "parts": parts,
        "knitted_on": "stitches" if girth else "rows",
        "found": f"A line such as  knit rounds for a {part} of {one.name}  finds the rows itself. "
                 if one.name in ("foot-length", "leg-length") else "", **where})


def _as_written(call: ex.Call) -> str:
    """What stands between the brackets, without the fabric."""
    text = call.at.source.line(call.at.line)[call.at.start - 1:].partition("(")[2]
    return re.split("[,)]", text)[0].strip()


def _where(run: Run, name: str) -> dict[str, Quantity]:
    """The moments of the rows that are measured, so that a line among them is shown."""
    rows = measured_on(run, name)
    return {} if rows is None else {"from": Quantity(rows[0]), "up to": Quantity(rows[1])}


def _missing(run: Run, name: str) -> str:
    if name in ("foot-length", "leg-length"):
        return missing_part(run, name.replace("-", " "))
    if name == "cuff-length":
        return "neither a rib nor a section with a gauge of its own lies at the open edge"
    return "there is no gauge" if not run.script.gauges else "there is no such part"


def parts_in_words(run: Run, off: Fraction) -> str:
    """What heel and toe add to a foot, and whether just that is too much or too little."""
    whole = finished(run)
    known = [(part, mm) for part, mm in (("heel", whole.heel), ("toe", whole.toe)) if mm]
    inches = run.script.inches
    adds = " and ".join(f"the {part} {'' if n else 'adds '}{show(length(round(mm), inches))}"
                        for n, (part, mm) in enumerate(known))
    if not adds:
        return ""
    ways = [(f"the {part} was", mm) for part, mm in known]
    both = [("both were", sum((mm for _, mm in known), Fraction()))] if len(known) > 1 else []
    for parts, mm in both + ways:
        if abs(abs(off) - mm) <= SHOE_SIZE:
            return (f"; {adds}: {parts} "
                    f"{'left out of the sum' if off > 0 else 'taken off twice'}")
    return f"; {adds}"


def so_far_off(mm: Fraction, inches: bool) -> str:
    """A difference in the unit of the script: whole millimetres, or inches as on a tape."""
    return f"{show_inches(abs(mm))} in" if inches else f"{round(abs(mm))} mm"
