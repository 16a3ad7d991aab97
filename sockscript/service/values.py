"""The number that a name stands for in each size."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from sockscript.expand.values import (
    CannotDoError,
    Counts,
    Names,
    Scope,
    Value,
    evaluate,
)
from sockscript.fit.foot_table import ROWS, foot
from sockscript.numbers.quantity import Quantity, number_and_unit, show
from sockscript.service.document import Document
from sockscript.text.source import Problem, Span
from sockscript.tree import expressions as ex
from sockscript.tree import statements as st
from sockscript.tree.script import Script


class SizeValue(NamedTuple):
    """A value in one size (``size`` is empty where a script has no table of sizes)."""

    size: str
    value: str


class Values(NamedTuple):
    """A value in all sizes.  ``short`` is ``48 (52, 56)``.

    ``choices``: the choices that it was worked out for, where it depends on them.
    """

    short: str
    each: tuple[SizeValue, ...]
    choices: tuple[tuple[str, str], ...]


def values_of(document: Document, name: str, top: int = 0, line: int = 0) -> Values | None:
    """What a name stands for, in every size; options are at their defaults.

    ``top`` and ``line``: the line at the left margin under which the name stands, and its own,
    for a value given in a section.  None if it cannot be worked out, or depends on what is on
    the needles.  While the script has slips, the last version without any may have to answer.
    """
    script = document.examined.script
    found = _values(script, name, _given_in_section(script, top, line))
    if found is None and document.last_good is not None:
        found = _values(document.last_good.script, name, _GivenBefore())
    return found


def short_values(document: Document) -> dict[str, str]:
    """All values of the script that can be worked out, each as ``48 (52, 56) stitches``."""
    found: dict[str, str] = {}
    scripts = [document.examined.script]
    if document.last_good is not None and document.last_good is not document.examined:
        scripts.append(document.last_good.script)
    for script in scripts:
        named = [let.name for let in script.lets]
        if script.sizes is not None:
            named.extend(script.sizes.measures)
        sizes = len(script.sizes.names) if script.sizes is not None else 1
        choices: dict[str, Value] = {option.name: option.default for option in script.options}
        # What was worked out for one name is kept for the others.
        in_sizes = [Names(script, number, choices) for number in range(sizes)]
        for name in named:
            if name not in found:
                values = [_value(names, name, _GivenBefore(), script) for names in in_sizes]
                if None not in values:
                    found[name] = _short([value for value in values if value is not None])
    return found


def show_value(value: Value) -> str:
    """A value with what it counts: ``48 stitches``, ``22.5 cm``, ``graft``."""
    return " ".join(filter(None, _parts(value)))


def _parts(value: Value) -> tuple[str, str]:
    """A value, and what it counts or is measured in."""
    if isinstance(value, str):
        return value, ""
    number, unit = number_and_unit(value)
    return number, unit or value.unit


class _GivenBefore(NamedTuple):
    """What a section gives before a line: once and for all, or again and again as it goes on."""

    settled: tuple[st.Let, ...] = ()
    changing: frozenset[str] = frozenset()


def _given_in_section(script: Script, top: int, line: int) -> _GivenBefore:
    for section in script.sections:
        if section.at.line == top:
            every = [one for one in _lets(section.body) if one.at.line <= line]
            settled = [one for one in section.body
                       if isinstance(one, st.Let) and one.at.line <= line]
            return _GivenBefore(tuple(settled), frozenset(
                one.name for one in every if one not in settled))
    return _GivenBefore()


def _lets(body: st.Block) -> Iterator[st.Let]:
    for line in body:
        if isinstance(line, st.Let):
            yield line
        for block in ("body", "otherwise"):
            yield from _lets(getattr(line, block, ()))


def _values(script: Script, name: str, given: _GivenBefore) -> Values | None:
    sizes = script.sizes.names if script.sizes is not None else ("",)
    choices: dict[str, Value] = {option.name: option.default for option in script.options}
    found: list[Value] = []
    used: set[str] = set()
    for number in range(len(sizes)):
        names = Names(script, number, choices)
        value = _value(names, name, given, script)
        if value is None:
            return None
        found.append(value)
        used |= names.looked_at & choices.keys()
    settled = tuple((option, show_value(choices[option])) for option in choices if option in used)
    return Values(_short(found), tuple(map(SizeValue, sizes, map(show_value, found))), settled)


def _value(names: Names, name: str, given: _GivenBefore, script: Script) -> Value | None:
    """The value of a name in one size, or None."""
    at = Span(script.source, 1, 1, 1)

    def not_known(what: str, bed: str) -> int:
        raise CannotDoError(Problem("unknown-name", at, "What is on the needles is not known."))

    scope = Scope(names, {}, None)
    unknown = set(given.changing)
    for let in given.settled:
        value = _evaluated(let.value, scope, not_known)
        if value is None:
            unknown.add(let.name)
        else:
            scope.locals[let.name] = value
    # Such a name must not be taken for one of the script's own.
    if name in unknown or any(names.has(one) for one in unknown):
        return None
    return _evaluated(ex.Name(at, name), scope, not_known)


def _evaluated(value: ex.Expr, scope: Scope, counts: Counts) -> Value | None:
    try:
        return evaluate(value, scope, counts)
    except (CannotDoError, KeyError, RecursionError):
        # A function that does not exist is a KeyError: its name was not looked at yet.
        return None


def _short(found: Sequence[Value]) -> str:
    """``48 (52, 56) stitches``: the first size, and the others in brackets."""
    parts = list(map(_parts, found))
    unit = parts[0][1]
    alike = all(other == unit for _, other in parts)
    first, *others = [number if alike else f"{number} {other}".rstrip() for number, other in parts]
    said = first if set(others) <= {first} else f"{first} ({', '.join(others)})"
    return f"{said} {unit}" if alike and unit else said


def measures_of(script: Script, size: str) -> tuple[tuple[str, str], ...]:
    """The measurements of a size, as in the table."""
    sizes = script.sizes
    if sizes is None:
        return ()
    for number, name in enumerate(sizes.names):
        if name.lower() == size.lower():
            return tuple((measure, show_value(values[number]) if isinstance(
                values[number], Quantity) else str(values[number]))
                for measure, values in sizes.measures.items())
    return ()


def foot_measures(name: str) -> tuple[tuple[str, str], ...]:
    """The measurements of a foot of the built-in table (none for a foot that is not in it)."""
    try:
        found = foot(name)
    except ValueError:
        return ()
    lengths = ((measure, getattr(found, field)) for measure, field in ROWS.items())
    return tuple((measure, show(Quantity(length, "mm")))
                 for measure, length in lengths if length is not None)
