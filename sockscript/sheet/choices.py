"""Sections as they are printed: for one set of choices, or each choice as one whole block."""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from typing import NamedTuple, TypeVar

from attrs import evolve

from sockscript.numbers.figures import words_of
from sockscript.sheet.letters import Letters
from sockscript.sheet.margin import carriage_shown, stitches_of, stitches_shown
from sockscript.sheet.merge import align
from sockscript.sheet.numbering import Plan
from sockscript.sheet.outline import Figured, StepLine, Steps

T = TypeVar("T", bound=Hashable)

ChosenWords = tuple[str, ...]
"""What is chosen of each option, in words."""

MOST_BOXES = 500
"""Small boxes of one step."""


class _Told(NamedTuple):
    """A step before it has its number and its letters; texts hold all sizes."""

    numbered: bool
    kind: str
    only: tuple[str, ...]
    text: str
    shows: tuple[str, ...]
    times: tuple[int, ...]


def sections_of(plans: Sequence[tuple[ChosenWords, Plan]],
                pictures: Mapping[int, tuple[Figured, ...]], every_row: bool = False
                ) -> Iterator[Steps]:
    """The sections of one plan; of several, what differs stands as one block for each choice.

    ``pictures``: drawings by the number of their section.  ``every_row``: of one size, with a box
    for each row of a step and each time it is repeated.
    """
    choices = [words for words, _ in plans]
    told = [_told(plan) for _, plan in plans]
    # A run that stopped early has fewer sections.
    longest = max((plan for _, plan in plans), key=lambda plan: len(plan.sections))
    number = 1
    for index, section in enumerate(longest.sections):
        variants: dict[tuple[_Told, ...], list[ChosenWords]] = {}
        for words, sections in zip(choices, told, strict=True):
            if index < len(sections):
                variants.setdefault(sections[index], []).append(words)
        for steps, mine in variants.items():
            name = "" if len(mine) == len(choices) else f", with {common(mine, choices)}"
            block = _block(section.title + name, steps, len(longest.names), number,
                           every_row and len(longest.names) == 1)
            number += sum(line.number is not None for line in block.lines)
            yield evolve(block, pictures=pictures.get(index, ()))


def _told(plan: Plan) -> list[tuple[_Told, ...]]:
    """The steps of each section; counts are shown where they change."""
    sections = []
    before: list[object] = [None] * len(plan.runs)
    for section in plan.sections:
        steps = []
        for step in section.steps:
            now = [was if state is None else stitches_of(state)
                   for was, state in zip(before, step.states, strict=True)]
            shows = [stitches_shown(step.states) if now != before else "",
                     carriage_shown(step.begins, step.states)]
            before = now
            steps.append(_Told(step.number is not None, step.kind, step.only, step.text,
                               tuple(part for part in shows if part), step.times))
        sections.append(tuple(steps))
    return sections


def _block(title: str, steps: Sequence[_Told], sizes: int, number: int, every_row: bool) -> Steps:
    letters = Letters(sizes)
    lines = []
    for step in steps:
        lines.append(StepLine(number if step.numbered else None, step.kind, step.only,
                              letters.put_into(words_of(step.text)),
                              tuple(letters.put_into(words_of(part)) for part in step.shows),
                              _boxes(step.times[0]) if every_row else 0))
        number += step.numbered
    return evolve(Steps(title, tuple(lines)), letters=letters.rows())


def _boxes(times: int) -> int:
    """A single row has the box of its step; more than ``MOST_BOXES`` nobody ticks."""
    return times if 1 < times <= MOST_BOXES else 0


def by_choice(lists: Sequence[Sequence[T]], choices: Sequence[ChosenWords],
              key: Callable[[T], Hashable]) -> Iterator[tuple[str, T]]:
    """The lines of a list that each choice has, each once, with the choices that it is for.

    ``choices``: those of each list; "" is given for a line that all have alike.
    ``key``: what lines have in common that stand for each other.
    """
    for row in align(lists, key):
        told: dict[T, list[ChosenWords]] = {}
        for words, line in zip(choices, row, strict=True):
            if line is not None:
                told.setdefault(line, []).append(words)
        for line, mine in told.items():
            yield "" if len(mine) == len(choices) else common(mine, choices), line


def without_figures(text: str) -> Hashable:
    """A text but for its figures: what lines of several choices have in common."""
    return tuple(re.sub(r"\d[\d.]*", "", part) for part in words_of(text)
                 if isinstance(part, str))


def common(some: Sequence[ChosenWords], everything: Sequence[ChosenWords]) -> str:
    """In words only what tells these combinations of choices from the others."""
    shared = set(some[0]).intersection(*some)
    telling = shared.difference(set(everything[0]).intersection(*everything))
    return ", ".join(one for one in some[0] if one in telling) or " or ".join(map(", ".join, some))
