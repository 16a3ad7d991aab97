"""Every size with every combination of choices, sharing what combinations have in common.

A section is performed once for all combinations that agree on the options it (and the sections
before it) looked at; only where a choice matters does the run fork.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from itertools import product
from typing import NamedTuple

from sockscript.expand.perform import Performer
from sockscript.expand.run import Run
from sockscript.expand.solve import counts_found, guesses
from sockscript.expand.values import Value
from sockscript.tree.script import Script

MOST_COMBINATIONS = 2000
"""Of sizes and choices."""

Choices = Mapping[str, Value]


class Outcome(NamedTuple):
    """A finished run and the combinations of choices that it stands for."""

    run: Run
    choices: tuple[Choices, ...]


def all_choices(script: Script) -> list[dict[str, Value]]:
    """Every combination of the script's options, the defaults first."""
    lists = [[option.default, *(v for v in option.values if v != option.default)]
             for option in script.options]
    names = [option.name for option in script.options]
    return [dict(zip(names, values, strict=True)) for values in product(*lists)]


def from_section(perform: Callable[[Run, Choices, int], Run], performer: Performer, run: Run,
                 index: int, choices: list[dict[str, Value]], asks: bool) -> Iterator[Outcome]:
    """Go on from a section with every combination of choices; ``perform`` does one section with
    some choices and gives the run that goes on from there.

    Outcomes come in the order of ``choices``.  When the performer is exhausted, the combinations
    not tried yet go with the last outcome, which says so.
    ``asks``: a section with a line that finds its rows from a length is performed again once they
    are found; otherwise they are taken for granted.
    """
    waiting = [(run, index, choices)]
    while waiting:
        run, index, remaining = waiting.pop()
        if index == len(run.script.sections):
            yield Outcome(run, tuple(map(_own, remaining)))
            continue
        chosen = remaining[0]
        branch = perform(run, chosen, index)
        read = sorted(branch.names.looked_at & chosen.keys())
        alike, others = ((remaining, []) if performer.exhausted
                         else _apart(remaining, chosen, read))
        new = branch.sections[len(run.sections):]
        if asks and not performer.exhausted and any(guesses(new)):
            assert performer.read is not None
            outcomes = from_section(perform, performer, branch, index + 1, alike, False)
            found = [{**chosen, **choice, **counts_found(outcome.run, performer.read)}
                     for outcome in outcomes for choice in outcome.choices]
            waiting.append((run, index, found + others))
            continue
        if others:
            waiting.append((run, index, others))
        waiting.append((branch, index + 1, alike))


def _apart(choices: list[dict[str, Value]], chosen: dict[str, Value], read: list[str]
           ) -> tuple[list[dict[str, Value]], list[dict[str, Value]]]:
    """The choices that agree with ``chosen`` in the names that were read, and the others."""
    wanted = [chosen[name] for name in read]
    alike: list[dict[str, Value]] = []
    others: list[dict[str, Value]] = []
    for one in choices:
        (alike if [*map(one.get, read)] == wanted else others).append(one)
    return alike, others


def _own(choices: dict[str, Value]) -> dict[str, Value]:
    """The choices of the author, without the rows that were found."""
    return {name: value for name, value in choices.items() if " " not in name}
