"""Everything that goes wrong in one run, each with a key by which runs are compared."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, Union

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.catalogue import KINDS
from sockscript.findings.rules import MEASURE_RULES, SHAPE_RULES
from sockscript.numbers.quantity import Quantity
from sockscript.text.source import Problem, Span

Key = tuple[object, ...]
"""The kind, what tells it from others of the kind, and last the lines that it came through."""


class Shapes:
    """Rules of shape that had nothing to say are not asked again of a run that looks alike.

    Those that had something to say are, since their words may hold numbers.
    """

    def __init__(self) -> None:
        self._alike: dict[tuple[object, ...], dict[object, Any]] = {}

    def mishaps(self, run: Run) -> Iterator[Mishap]:
        """What the rules of shape see in a run; its sections have been looked at by one
        ``Looks``, or all rules are asked."""
        looks = [record.look for record in run.sections]
        if None not in looks:
            run.alike = self._alike.setdefault((*looks, run.stopped is None), {})
        told = [(rule, rule(run)) for rule in run.alike.get(Shapes, SHAPE_RULES)]
        run.alike[Shapes] = tuple(rule for rule, mishaps in told if mishaps)
        for _, mishaps in told:
            yield from mishaps


def seen_in(run: Run, shapes: Shapes | None = None
            ) -> Iterator[tuple[Key, Union[Mishap, Problem]]]:
    """Faults of the machine, what the rules see, and what stopped the run."""
    yield from keyed(without_echoes(run))
    yield from keyed((shapes or Shapes()).mishaps(run))
    for rule in MEASURE_RULES:
        yield from keyed(rule(run))
    yield from stopped_by(run)


def without_echoes(run: Run) -> list[Mishap]:
    """What happened, without expectations that fail only since something told already.

    An expectation knows since which moment it is not met; if something went wrong in just that
    moment, it is the cause and the expectation its echo.
    """
    wrong = {mishap.moment for mishap in run.mishaps if not KINDS[mishap.fault.kind].echo}
    kept = []
    for mishap in run.mishaps:
        since = mishap.detail.get("since")
        if KINDS[mishap.fault.kind].echo and isinstance(since, Quantity) \
                and int(since.value) in wrong:
            continue
        kept.append(mishap)
    return kept


def keyed(mishaps: Iterable[Mishap]) -> Iterator[tuple[Key, Union[Mishap, Problem]]]:
    """Mishaps with their keys."""
    for mishap in mishaps:
        fault = mishap.fault
        yield (fault.kind, fault.name, fault.bed, _lines(mishap.places)), mishap


def stopped_by(run: Run) -> Iterator[tuple[Key, Union[Mishap, Problem]]]:
    """What stopped the run, with its key."""
    problem = run.stopped
    # A repeat that never comes true has been told as a mishap.
    if problem is not None and problem.kind != "never-true":
        at = problem.at
        yield (problem.kind, at.start, ((at.source.name, at.line),)), problem


def without_what_follows(keys: Iterable[Key]) -> list[Key]:
    """The keys, without those that another one explains."""
    told = list(keys)
    causes = {(key[0], key[-1]) for key in told}
    names = {key[0] for key in told}
    return [key for key in told if not _explained(key, causes, names)]


def _explained(key: Key, causes: set[tuple[object, object]], names: set[object]) -> bool:
    kind = KINDS.get(str(key[0]))
    return kind is not None and (any((cause, key[-1]) in causes for cause in kind.follows)
                                 or not names.isdisjoint(kind.follows_anywhere))


def _lines(places: tuple[Span, ...]) -> tuple[tuple[str, int], ...]:
    return tuple((place.source.name, place.line) for place in places)
