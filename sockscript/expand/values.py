"""What names stand for, and the values of expressions, for one size and one set of choices."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from typing import Union

from attrs import evolve

from sockscript.fit.yarn import end_to_leave
from sockscript.numbers import quantity as q
from sockscript.numbers.quantity import Quantity, QuantityError
from sockscript.numbers.rounding import round_to
from sockscript.text.problem_names import ProblemName
from sockscript.text.source import Problem, Span
from sockscript.trace.state import Snapshot
from sockscript.tree import expressions as ex
from sockscript.tree.script import Gauge, Script

Value = Union[Quantity, str]
"""A quantity, or a word: a bed, an end, a yarn, a choice."""


STEPS_DOWN = 3
"""Values that are worked out while others wait for them; further ones are worked out first."""
MOST_TOLD = 8
"""Names of a ring that are told."""


class CannotDoError(Exception):
    """A line that cannot be worked out or carried out for this size."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.message)
        self.problem = problem


def cannot(kind: ProblemName, at: Span, message: str, hint: str = "") -> CannotDoError:
    """The exception for a line that makes no sense for this size."""
    return CannotDoError(Problem(kind, at, message, hint))


class Names:
    """The values of the script's own names for one size; remembers what they depend on.

    ``choices`` settles the options, and may settle any other name.  ``looked_at`` names the
    settled ones that were read, and ``size``, ``needles`` and ``gauge`` where those were.
    """

    def __init__(self, script: Script, size: int, choices: Mapping[str, Value]) -> None:
        self.script = script
        self.size = size
        self.choices = dict(choices)
        self.looked_at: set[str] = set()
        self._lets = {let.name: let for let in script.lets}
        self._known: dict[str, tuple[Value, frozenset[str]]] = {}
        self._working_out: list[str] = []
        self._bare: Names | None = None

    def forget(self, choices: Mapping[str, Value]) -> None:
        """Go on with other choices: only what depends on changed ones is worked out anew."""
        changed = {name for name in choices if choices[name] != self.choices.get(name)}
        self.choices = dict(choices)
        self._known = {name: known for name, known in self._known.items()
                       if not known[1] & changed}

    def bare(self) -> Names:
        """The names that a technique from another file sees: none but the gauges."""
        if self._bare is None:
            bare = evolve(self.script, lets=(), options=(), sizes=None)
            self._bare = Names(bare, self.size, {})
        return self._bare

    def get(self, name: str, at: Span, counts: Counts) -> Value:
        """The value of a measurement, option or `let`."""
        known = self._known.get(name)
        if known is None:
            outer, self.looked_at = self.looked_at, set()
            try:
                value = self._work_out(name, at, counts)
                known = (value, frozenset(self.looked_at))
            finally:
                self.looked_at |= outer
            self._known[name] = known
        self.looked_at |= known[1]
        return known[0]

    def has(self, name: str) -> bool:
        """Whether the script gives this name a value."""
        sizes = self.script.sizes
        return (name in self._lets or name in self.choices
                or (sizes is not None and name in sizes.measures))

    def _settle(self, name: str, counts: Counts) -> None:
        """Work out what a name needs before the name itself, without going down step by step."""
        path = {name: self._needs(name)}
        while path:
            inmost = next(reversed(path))
            need = next((n for n in path[inmost] if n not in self._known), None)
            if need is None:
                path.popitem()
                if inmost != name:
                    self.get(inmost, self._lets[inmost].at, counts)
            elif need in path or need in self._working_out:
                raise self._circular([*self._working_out, *path], need)
            else:
                path[need] = self._needs(need)

    def _needs(self, name: str) -> Iterator[str]:
        """The values at the head of the script that a name is worked out from."""
        if name in self.choices:
            return iter(())
        return (used for used in ex.names_in(self._lets[name].value) if used in self._lets)

    def _circular(self, names: list[str], name: str) -> CannotDoError:
        ring = [*names[names.index(name):], name]
        if len(ring) > MOST_TOLD:
            ring = [*ring[:MOST_TOLD - 2], "…", ring[-1]]
        return cannot("circular-value", self._lets[name].at, f"'{name}' is worked out from "
                      "itself: " + " needs ".join(ring) + ".",
                      "Give one of them a value that does not need the others.")

    def _work_out(self, name: str, at: Span, counts: Counts) -> Value:
        if name in self.choices:
            self.looked_at.add(name)
            return self.choices[name]
        sizes = self.script.sizes
        if sizes is not None and name in sizes.measures:
            self.looked_at.add("size")
            return sizes.measures[name][self.size]
        let = self._lets.get(name)
        if let is None:
            raise cannot("unknown-name", at, f"Nothing is called '{name}'.")
        if name in self._working_out:
            raise self._circular(self._working_out, name)
        if len(self._working_out) >= STEPS_DOWN:
            self._settle(name, counts)
        self._working_out.append(name)
        try:
            return evaluate(let.value, Scope(self, {}, None), counts)
        finally:
            self._working_out.pop()


Counts = Callable[[str, str], int]
"""Reads the needles: ('all' | 'work' | 'hold', bed word) to a number of stitches."""


def no_counts(what: str, bed: str) -> int:
    """For values that are worked out before anything is knitted."""
    return 0


class Scope:
    """Where a line stands: its local values, the script's names, the fabric of its section.

    ``before``: the machine when the technique that the line is in was called.
    """

    __slots__ = ("before", "fabric", "locals", "names")

    def __init__(self, names: Names, local: dict[str, Value], fabric: str | None) -> None:
        self.names = names
        self.locals = local
        self.fabric = fabric
        self.before: Snapshot | None = None


def evaluate(expr: ex.Expr, scope: Scope, counts: Counts) -> Value:
    """The value of an expression.  Raises CannotDoError with the place of the part at fault."""
    if isinstance(expr, ex.Literally):
        return expr.value
    if isinstance(expr, ex.Name):
        local = scope.locals.get(expr.name)
        return local if local is not None else scope.names.get(expr.name, expr.at, counts)
    if isinstance(expr, ex.Word):
        return expr.word
    try:
        if isinstance(expr, ex.Sum):
            left = number(expr.left, scope, counts)
            right = number(expr.right, scope, counts)
            if expr.sign == "+":
                return q.add(left, right)
            if expr.sign == "-":
                return q.add(left, right, -1)
            return q.multiply(left, right) if expr.sign == "*" else q.divide(left, right)
        if isinstance(expr, ex.Round):
            return _round(expr, scope, counts)
        if isinstance(expr, ex.Call):
            _takes(expr)
            if expr.function == "yarn-end":
                return _yarn_end(expr, scope, counts)
            return _call(expr, scope, counts)
    except QuantityError as error:
        raise cannot("units-do-not-fit", expr.at, error.message, error.hint) from None
    raise TypeError(type(expr))


def number(expr: ex.Expr, scope: Scope, counts: Counts) -> Quantity:
    """The value of an expression that must be a number."""
    value = evaluate(expr, scope, counts)
    if isinstance(value, str):
        raise cannot("not-a-number", expr.at, f"'{value}' is a word, not a number.",
                     "Write a number here, or the name of a value that is one.")
    return value


def _round(expr: ex.Round, scope: Scope, counts: Counts) -> Quantity:
    value = number(expr.value, scope, counts)
    if value.unit == "mm":
        raise QuantityError("A length is rounded only after it is turned into stitches or rows.",
                            "Use stitches(…) or rows(…) first.")
    if expr.multiple is not None:
        of = number(expr.multiple, scope, counts).value
        more = number(expr.plus, scope, counts).value if expr.plus is not None else 0
        return Quantity(round_to(value.value, expr.way, of, more), value.unit)
    multiple, plus = {"whole": (1, 0), "even": (2, 0), "odd": (2, 1)}[expr.form]
    return Quantity(round_to(value.value, expr.way, multiple, plus), value.unit)


# ---- functions of the language


def _gauge(expr: ex.Call, scope: Scope, counts: Counts) -> Gauge:
    gauges = scope.names.script.gauges
    if not gauges:
        raise cannot("no-gauge", expr.at, "There is no gauge in this script.",
                     "Add a line such as  gauge plain 30 stitches, 42 rows per 10 cm.")
    fabric = scope.fabric
    if len(expr.arguments) > 1:
        named = expr.arguments[1]
        fabric = named.name if isinstance(named, ex.Name) else None
        if fabric is None:
            raise cannot("unknown-fabric", named.at, "The name of a fabric should stand here.",
                         f"For example: {expr.function}(…, {gauges[0].fabric}).")
    for gauge in gauges:
        if gauge.fabric == fabric:
            scope.names.looked_at.add("gauge")
            return gauge
    if len(expr.arguments) > 1:
        raise cannot("unknown-fabric", expr.arguments[1].at,
                     f"There is no gauge for '{fabric}'.",
                     f"There is one for {', '.join(g.fabric for g in gauges)}.")
    scope.names.looked_at.add("gauge")
    return gauges[0]


def _measured(expr: ex.Call, scope: Scope, counts: Counts, unit: str) -> Quantity:
    value = number(expr.arguments[0], scope, counts)
    if value.unit == unit or (value.unit == "" and unit != "mm"):
        return value
    needed = {"mm": "a length, such as 12 cm", "stitches": "a number of stitches",
              "rows": "a number of rows"}[unit]
    raise QuantityError(f"{expr.function}(…) needs {needed}, not {q.kind_of(value)} "
                        f"({q.show(value)}).")


def _takes(expr: ex.Call) -> None:
    """Raises QuantityError for a function with more or fewer values than it takes."""
    low, high = FUNCTIONS[expr.function]
    if not low <= len(expr.arguments) <= high:
        raise QuantityError(f"{expr.function}(…) takes {low if low == high else f'{low} or {high}'}"
                            f" value{'s' if high > 1 else ''}, not {len(expr.arguments)}.")


def _call(expr: ex.Call, scope: Scope, counts: Counts) -> Quantity:
    """The value of a function.  Raises QuantityError for one that cannot be worked out."""
    name = expr.function
    if name == "stitches":
        length = _measured(expr, scope, counts, "mm")
        return Quantity(q.tidy(length.value * _gauge(expr, scope, counts).stitches_per_mm),
                        "stitches")
    if name == "rows":
        length = _measured(expr, scope, counts, "mm")
        return Quantity(q.tidy(length.value * _gauge(expr, scope, counts).rows_per_mm), "rows")
    if name == "width":
        count = _measured(expr, scope, counts, "stitches")
        gauge = _gauge(expr, scope, counts)
        return gauge.over._replace(value=q.tidy(Fraction(count.value) / gauge.stitches_per_mm))
    if name == "height":
        count = _measured(expr, scope, counts, "rows")
        gauge = _gauge(expr, scope, counts)
        return gauge.over._replace(value=q.tidy(Fraction(count.value) / gauge.rows_per_mm))
    if name == "number":
        return Quantity(number(expr.arguments[0], scope, counts).value)
    if name in ("smaller", "larger"):
        left = number(expr.arguments[0], scope, counts)
        right = number(expr.arguments[1], scope, counts)
        difference = q.add(left, right, -1).value
        return left if (difference <= 0) == (name == "smaller") else right
    bed = evaluate(expr.arguments[0], scope, counts)
    scope.names.looked_at.add("needles")
    return Quantity(counts(COUNTED[name], str(bed)), "stitches")


def _yarn_end(expr: ex.Call, scope: Scope, counts: Counts) -> Value:
    """A length where the script has a gauge; otherwise words that say how to find it."""
    count = _measured(expr, scope, counts, "stitches")
    times = number(expr.arguments[1], scope, counts).value
    script = scope.names.script
    if not times:
        return end_to_leave(0, 0, script.inches)
    if not script.gauges:
        return f"{q.show(Quantity(times))} times the width of the stitches and a hand more"
    gauge = _gauge(ex.Call(expr.at, expr.function, expr.arguments[:1]), scope, counts)
    return end_to_leave(q.tidy(Fraction(count.value) / gauge.stitches_per_mm), times, script.inches)


COUNTED = {"count-on": "all", "count-working": "work", "count-held": "hold",
           "count-before": "before"}
"""What the functions count that look at the needles."""

FUNCTIONS: dict[str, tuple[int, int]] = {
    "stitches": (1, 2), "rows": (1, 2), "width": (1, 2), "height": (1, 2),
    "number": (1, 1), "smaller": (2, 2), "larger": (2, 2),
    "count-on": (1, 1), "count-working": (1, 1), "count-held": (1, 1), "count-before": (1, 1),
    "yarn-end": (2, 2),
}
"""The functions and how many values each takes (fewest, most)."""
