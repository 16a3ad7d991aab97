"""Every size with every combination of choices, sharing what combinations have in common.

A section is performed once for all combinations that agree on the options it (and the sections
before it) looked at; only where a choice matters does the run fork.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from itertools import product
from operator import itemgetter
from typing import NamedTuple

from sockscript.expand.perform import Performer
from sockscript.expand.run import Run
from sockscript.expand.values import Names, Value
from sockscript.machine.profile import Profile
from sockscript.trace.engine import Engine
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


def explore(script: Script, performer: Performer, profile: Profile, size: int,
            choices: list[dict[str, Value]]) -> Iterator[Outcome]:
    """Run one size with each combination; outcomes come in the order of ``choices``.

    When the performer is exhausted, the combinations not tried yet go with the last outcome,
    which says so.
    """
    names = Names(script, size, choices[0])
    start = Run(script, Engine(profile), size, names)

    def perform(run: Run, index: int) -> None:
        performer.section(run, script.sections[index])

    yield from from_section(perform, performer, start, 0, choices)


def from_section(perform: Callable[[Run, int], None], performer: Performer, run: Run, index: int,
                 choices: list[dict[str, Value]]) -> Iterator[Outcome]:
    """Go on from a section with every combination of choices; ``perform`` does one section."""
    waiting = [(run, index, choices)]
    while waiting:
        run, index, remaining = waiting.pop()
        if index == len(run.script.sections):
            yield Outcome(run, tuple(remaining))
            continue
        chosen = remaining[0]
        branch = run.fork(chosen) if len(remaining) > 1 else run
        branch.names.forget(chosen)
        branch.names.looked_at = set()
        perform(branch, index)
        read = branch.names.looked_at & chosen.keys()
        if not read or performer.exhausted:
            alike, others = remaining, []
        else:
            settled = itemgetter(*sorted(read))
            same = settled(chosen)
            alike = [one for one in remaining if settled(one) == same]
            others = [one for one in remaining if settled(one) != same]
        if others:
            waiting.append((run, index, others))
        waiting.append((branch, index + 1, alike))
