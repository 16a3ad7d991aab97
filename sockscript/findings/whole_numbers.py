"""The best whole numbers: what is rounded in a script, and what the neighbours would give.

A ``let`` that rounds takes one of the numbers that its form allows.  Here the numbers next to it
are tried too, in every combination; each is knitted by the simulator and its finished
measurements are compared with the targets.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import NamedTuple

from sockscript.expand.many_values import Sharer, joined_run
from sockscript.expand.run import Run
from sockscript.expand.values import CannotDoError, Names, Scope, Value, evaluate, no_counts, number
from sockscript.fabric.finished import reading
from sockscript.findings.prove import Prepared
from sockscript.findings.ranges import bare_findings
from sockscript.findings.rules.targets import Deviation, deviations
from sockscript.machine.profile import Profile
from sockscript.numbers.quantity import Quantity
from sockscript.tree import expressions as ex
from sockscript.tree.script import Script
from sockscript.tree.statements import Let

MOST_ROUNDED = 5
"""Values whose neighbours are tried together; with more, only the first of them."""


class Trial(NamedTuple):
    """One set of whole numbers: what keeps it from being knitted, and how far it is from the
    targets."""

    numbers: Mapping[str, int]
    written: bool
    why_not: tuple[str, ...]
    """The findings against it, other than missed targets."""
    deviations: tuple[Deviation, ...]

    @property
    def total(self) -> Fraction:
        """Millimetres off, all targets together."""
        return sum((abs(d.off) for d in self.deviations), Fraction(0))


def rounded_lets(script: Script) -> list[Let]:
    """The values at the head of a script that are rounded."""
    return [let for let in script.lets if isinstance(let.value, ex.Round)][:MOST_ROUNDED]


def trials(prepared: Prepared, profile: Profile, size: int,
           choices: Mapping[str, Value]) -> list[Trial]:
    """Neighbouring numbers for one size: those written first, then by how far off they are.

    Of those that measure alike, only the one with the fewest changes is kept.
    """
    script = prepared.script
    sharer = Sharer(script, prepared.library, profile, reading)
    found = []
    written = dict(_as_written(script, size, choices))
    for numbers in _combinations(script, size, dict(choices), rounded_lets(script)):
        names = Names(script, size, {**choices, **numbers})
        path = sharer.sections(names, size)
        run = joined_run(Run(script, path[-1].after.engine, size, names), path)
        plain = {name: int(value.value) for name, value in numbers.items()}
        why_not = sorted({finding.kind for finding in bare_findings(run)
                          if finding.kind != "off-target" and finding.severity != "advice"})
        found.append(Trial(plain, plain == written, tuple(why_not), tuple(deviations(run))))
    found.sort(key=lambda t: (not t.written, bool(t.why_not), t.total, _changes(t, written),
                              tuple(t.numbers.values())))
    alike: dict[tuple[object, ...], Trial] = {}
    for trial in found:
        alike.setdefault((trial.why_not, *((d.section, d.target.what, d.value)
                                         for d in trial.deviations)), trial)
    return list(alike.values())


def _changes(trial: Trial, written: Mapping[str, int]) -> int:
    return sum(value != written.get(name) for name, value in trial.numbers.items())


def _as_written(script: Script, size: int,
                choices: Mapping[str, Value]) -> Iterator[tuple[str, int]]:
    names = Names(script, size, choices)
    for let in rounded_lets(script):
        try:
            value = names.get(let.name, let.at, no_counts)
        except CannotDoError:
            continue
        if isinstance(value, Quantity):
            yield let.name, int(value.value)


def _combinations(script: Script, size: int, settled: dict[str, Value],
                  left: list[Let]) -> Iterator[dict[str, Quantity]]:
    """The neighbours of each rounded value; a later one is worked out from the earlier."""
    if not left:
        yield {}
        return
    let, *rest = left
    assert isinstance(let.value, ex.Round)
    for value in _neighbours(let.value, Scope(Names(script, size, settled), {}, None)):
        for others in _combinations(script, size, {**settled, let.name: value}, rest):
            yield {let.name: value, **others}


def _neighbours(expr: ex.Round, scope: Scope) -> list[Quantity]:
    """The number that a rounding gives, and those next to it that its form allows."""
    try:
        chosen = evaluate(expr, scope, no_counts)
        step = {"whole": Fraction(1), "even": Fraction(2), "odd": Fraction(2)}.get(expr.form)
        if step is None:
            assert expr.multiple is not None
            step = Fraction(number(expr.multiple, scope, no_counts).value)
    except CannotDoError:
        return []
    assert isinstance(chosen, Quantity)
    values = (chosen.value - step, chosen.value, chosen.value + step)
    return [Quantity(int(value), chosen.unit) for value in values if value > 0]
