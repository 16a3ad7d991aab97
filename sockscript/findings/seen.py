"""Everything that goes wrong in one run, each with a key by which runs are compared."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Union

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.rules import RULES
from sockscript.text.source import Problem, Span

Key = tuple[object, ...]
"""The kind, what tells it from others of the kind, and last the lines that it came through."""

FOLLOWS: dict[str, tuple[str, ...]] = {
    "nothing-knits": ("bed-left-resting", "not-set-to-circular"),
    "unequal-graft": ("graft-from-empty",),
}
"""What only follows from another finding of the same line is not told again."""


def seen_in(run: Run) -> Iterator[tuple[Key, Union[Mishap, Problem]]]:
    """Faults of the machine, what the rules see, and what stopped the run."""
    mishaps = [*run.mishaps]
    for rule in RULES:
        mishaps.extend(rule(run))
    for mishap in mishaps:
        yield (mishap.fault.kind, mishap.fault.name, _lines(mishap.places)), mishap
    problem = run.stopped
    # A repeat that never comes true has been told as a mishap.
    if problem is not None and problem.kind != "never-true":
        at = problem.at
        yield (problem.kind, at.start, ((at.source.name, at.line),)), problem


def without_what_follows(keys: Iterable[Key]) -> list[Key]:
    """The keys, without those that another one of the same line explains."""
    told = list(keys)
    causes = {(key[0], key[-1]) for key in told}
    return [key for key in told
            if not any((cause, key[-1]) in causes for cause in FOLLOWS.get(str(key[0]), ()))]


def _lines(places: tuple[Span, ...]) -> tuple[tuple[str, int], ...]:
    return tuple((place.source.name, place.line) for place in places)
