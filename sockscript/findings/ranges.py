"""A pattern proved for all values in the ranges that it declares.

Every combination is knitted by the simulator, except what it has in common with others (see
``expand.many_values``); then the rules look through each as they do in a plain check.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Any, Literal, NamedTuple

from attrs import evolve

from sockscript.expand.conditions import compare
from sockscript.expand.many_values import Sharer, joined_run
from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.expand.values import CannotDoError, Names, Scope, Value, no_counts, number
from sockscript.fabric.finished import reading
from sockscript.findings.allow import allowances
from sockscript.findings.catalogue import KINDS
from sockscript.findings.in_one_run import Key, Shapes, seen_in, without_what_follows
from sockscript.findings.kind import Severity
from sockscript.findings.prove import Prepared
from sockscript.findings.rules.feet import measured
from sockscript.machine.load import lacks
from sockscript.machine.profile import Profile
from sockscript.numbers.quantity import Quantity, tidy
from sockscript.text.source import Problem, Span
from sockscript.tree import expressions as ex
from sockscript.tree.script import Gauge, Script, Sizes, WorksFor
from sockscript.tree.statements import Let

MOST_COMBINATIONS = 200_000
"""More would take hours; the steps of the ranges can be made larger."""


class RangeAxis(NamedTuple):
    """Something that varies: a ranged value, a gauge, an option, or the size."""

    label: str
    what: Literal["value", "stitches", "rows", "option", "size"]
    name: str
    values: tuple[Value, ...]


class BareFinding(NamedTuple):
    """What goes wrong in a combination: the kind of finding and the line of the script."""

    severity: Severity
    kind: str
    line: int
    name: str
    file: str = ""
    """Empty: that of the script itself."""

    @property
    def where(self) -> str:
        """``line 12``, or ``line 12 of lantern.sockscript``."""
        return f"line {self.line}" + (f" of {self.file}" if self.file else "")


BareFindings = frozenset[BareFinding]
"""Everything that goes wrong in one combination; empty: it knits."""


class Survey(NamedTuple):
    """The verdicts of a row of combinations: ``verdicts[which[n]]`` is that of the n-th.

    ``cut_short``: the script goes on for longer than any range needs, and was given up.
    """

    verdicts: tuple[BareFindings | None, ...]
    which: tuple[int, ...]
    cut_short: bool = False


Combination = tuple[int, ...]
"""One value of each dimension, by its index."""


def dimensions(script: Script) -> tuple[RangeAxis, ...]:
    """What varies: the ranges, then the options, then the sizes where they matter."""
    works_for = script.works_for
    assert works_for is not None
    found = [RangeAxis(one.label, one.what, one.name, one.values) for one in works_for.ranges]
    found.extend(RangeAxis(option.name, "option", option.name, (option.default, *(
        value for value in option.values if value != option.default)))
        for option in script.options)
    sizes = script.sizes
    if sizes is not None and len(sizes.names) > 1 and _size_matters(script, works_for):
        found.append(RangeAxis("size", "size", "size", sizes.names))
    return tuple(found)


def _size_matters(script: Script, works_for: WorksFor) -> bool:
    """Whether a measurement is left to the table of sizes, or a line asks for the size."""
    assert script.sizes is not None
    ranged = {one.name for one in works_for.ranges}
    return not ranged >= script.sizes.measures.keys() or _asks_size(
        [*script.sections, *script.techniques.values()])


def _asks_size(node: Any) -> bool:
    if isinstance(node, (tuple, list)):
        return any(_asks_size(part) for part in node)
    if isinstance(node, ex.SizeIs):
        return True
    attributes = getattr(type(node), "__attrs_attrs__", ())
    return any(_asks_size(getattr(node, attribute.name)) for attribute in attributes)


def combinations(dims: Sequence[RangeAxis]) -> int:
    """How many combinations there are."""
    return math.prod(len(dim.values) for dim in dims)


def combination(dims: Sequence[RangeAxis], index: int) -> Combination:
    """The combination with this number; the last dimension varies fastest."""
    chosen = []
    for dim in reversed(dims):
        index, value = divmod(index, len(dim.values))
        chosen.append(value)
    return tuple(reversed(chosen))


class RangeProof:
    """Proves one combination after another, sharing what they have in common."""

    def __init__(self, prepared: Prepared, profile: Profile) -> None:
        self.script = prepared.script
        self.dims = dimensions(prepared.script)
        self.sharer = Sharer(prepared.script, prepared.library, profile, reading)
        self.lacking = frozenset(BareFinding("fault", lack.kind, lack.at.line, "")
                                 for lack in lacks(prepared.script, profile))
        """What the machine has not, whatever the values are."""
        self._scripts: dict[tuple[Value, ...], Script] = {}
        self._shapes = Shapes()
        self._verdicts: dict[tuple[object, ...], BareFindings] = {}

    def survey(self, first: int, last: int) -> Survey:
        """The verdicts of the combinations from ``first`` up to, not including, ``last``."""
        numbers: dict[BareFindings | None, int] = {None: 0}
        which: list[int] = []
        for index in range(first, last):
            verdict = self.verdict(combination(self.dims, index))
            if self.sharer.exhausted:
                return Survey(tuple(numbers), tuple(which), True)
            which.append(numbers.setdefault(verdict, len(numbers)))
        return Survey(tuple(numbers), tuple(which), False)

    def verdict(self, chosen: Combination) -> BareFindings | None:
        """What goes wrong with these values; None if the ``where`` lines leave them out."""
        settled: dict[str, Value] = {}
        gauges: dict[tuple[str, str], Quantity] = {}
        size = 0
        for dim, index in zip(self.dims, chosen, strict=True):
            value = dim.values[index]
            if dim.what == "size":
                size = index
            elif dim.what in ("stitches", "rows"):
                assert isinstance(value, Quantity)
                gauges[dim.name, dim.what] = value
            else:
                settled[dim.name] = value
        script = self._script(gauges)
        names = Names(script, size, settled)
        if not _admissible(script, names):
            return None
        path = self.sharer.sections(names, size)
        run = Run(script, path[-1].after.engine, size, names)
        key = (*(done.number for done in path), *gauges.values(),
               *(value for value, _ in measured(run).values()), *_table(names))
        known = self._verdicts.get(key)
        if known is None:
            known = self._verdicts[key] = self.lacking.union(
                bare_findings(joined_run(run, path), self._shapes))
        return known

    def _script(self, gauges: dict[tuple[str, str], Quantity]) -> Script:
        key = tuple(gauges.values())
        found = self._scripts.get(key)
        if found is None:
            found = self._scripts[key] = evolve(
                self.script, gauges=tuple(_gauge(g, gauges) for g in self.script.gauges))
        return found


def _table(names: Names) -> Iterator[Value]:
    """The rows of the size table: each may be a target by itself."""
    sizes = names.script.sizes
    for name, at in sizes.places.items() if sizes is not None else ():
        yield names.get(name, at, no_counts)


def _gauge(gauge: Gauge, changed: dict[tuple[str, str], Quantity]) -> Gauge:
    stitches = changed.get((gauge.fabric, "stitches"), Quantity(gauge.stitches)).value
    rows = changed.get((gauge.fabric, "rows"), Quantity(gauge.rows)).value
    return evolve(gauge, stitches=stitches, rows=rows,
                  stitches_per_mm=tidy(Fraction(stitches) / gauge.over.value),
                  rows_per_mm=tidy(Fraction(rows) / gauge.over.value))


def _admissible(script: Script, names: Names) -> bool:
    assert script.works_for is not None
    scope = Scope(names, {}, None)
    for where in script.works_for.where:
        try:
            if not compare(number(where.left, scope, no_counts), where,
                           number(where.right, scope, no_counts)):
                return False
        except CannotDoError:
            # What cannot be worked out is told by the line of the pattern that needs it.
            continue
    return True


def bare_findings(run: Run, shapes: Shapes | None = None) -> set[BareFinding]:
    """What goes wrong in a run, as it is compared between runs."""
    seen: dict[Key, Mishap | Problem] = dict(seen_in(run, shapes))
    known = allowances(run.script)
    found = set()
    for key in without_what_follows(seen):
        what = seen[key]
        if isinstance(what, Mishap):
            own = [place for place in what.places if run.script.wrote(place)]
            at = own[-1] if own else what.places[-1]
            one = BareFinding(KINDS[what.fault.kind].severity, what.fault.kind, at.line,
                          what.fault.name, _other_file(run.script, at))
        else:
            at = what.at
            one = BareFinding("fault", what.kind, at.line, "", _other_file(run.script, at))
        if not any(allowed.covers(one.kind, at) for allowed in known):
            found.add(one)
    return found


def _other_file(script: Script, at: Span) -> str:
    return "" if at.source is script.source else at.source.name


def settled_script(script: Script, dims: Sequence[RangeAxis], chosen: Combination) -> Script:
    """The script with one size, one choice and the values of one combination, to be proved
    by itself."""
    values = {(dim.what, dim.name): dim.values[index]
              for dim, index in zip(dims, chosen, strict=True)}
    size = next((index for dim, index in zip(dims, chosen, strict=True) if dim.what == "size"), 0)
    changed: dict[str, Any] = {}
    sizes = script.sizes
    if sizes is not None:
        changed["sizes"] = Sizes(sizes.at, (sizes.names[size],), {
            name: (_quantity(values.get(("value", name), cells[size])),)
            for name, cells in sizes.measures.items()}, sizes.places)
    changed["options"] = tuple(
        evolve(option, values=(values["option", option.name],),
               default=values["option", option.name]) for option in script.options)
    changed["lets"] = tuple(
        Let(let.at, let.name, ex.Literally(let.value.at, _quantity(values["value", let.name])))
        if ("value", let.name) in values else let for let in script.lets)
    gauges: dict[tuple[str, str], Quantity] = {
        (name, what): _quantity(value) for (what, name), value in values.items()
        if what in ("stitches", "rows")}
    changed["gauges"] = tuple(_gauge(gauge, gauges) for gauge in script.gauges)
    return evolve(script, **changed)


def _quantity(value: Value) -> Quantity:
    assert isinstance(value, Quantity)
    return value
