"""Choices side by side: steps that all choices share, and alternatives where they differ."""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable, Iterator, Sequence
from typing import NamedTuple, TypeVar

from sockscript.numbers.figures import side_by_side
from sockscript.sheet.merge import align
from sockscript.sheet.numbering import Plan, Step
from sockscript.trace.state import Snapshot

T = TypeVar("T", bound=Hashable)


class SheetStep(NamedTuple):
    """A step as it is laid out; ``number`` None is a remark.  ``shows``: the machine after it."""

    number: int | None
    kind: str
    text: str
    only: tuple[str, ...]
    shows: str


class SheetSection(NamedTuple):
    """A section as it is laid out."""

    title: str
    steps: tuple[SheetStep, ...]


def machine_shows(states: Sequence[Snapshot | None]) -> str:
    """``front and back 32 each · COR · RC 48 (52, 56)`` for the sizes that have the step."""
    known = [state for state in states if state is not None]
    if not known:
        return ""
    parts = []
    front, back = ([str(getattr(state, name).loaded.bit_count()) for state in known]
                   for name in ("front", "back"))
    if front == back and set(front) != {"0"}:
        parts.append(f"front and back {side_by_side(front)} each")
    else:
        parts += [f"{name} {side_by_side(counts)}" for name, counts in
                  (("front", front), ("back", back)) if set(counts) != {"0"}]
    held = [str(s.front.stitches("hold") + s.back.stitches("hold")) for s in known]
    if set(held) != {"0"}:
        parts.append(f"in hold {side_by_side(held)}")
    if not parts:
        parts.append("no stitches")
    sides = side_by_side(["COL" if state.carriage == "left" else "COR" for state in known])
    counter = side_by_side([str(state.counter) for state in known])
    return f"{', '.join(parts)} · {sides} · RC {counter}"


def side_by_side_sections(plans: Sequence[tuple[str, Plan]]) -> tuple[SheetSection, ...]:
    """The sections of one plan, or of several with their alternatives put together."""
    sections = []
    number = 0
    # A run that stopped early has fewer sections.
    longest = max((plan for _, plan in plans), key=lambda plan: len(plan.sections))
    choices = [words for words, _ in plans]
    for index, planned in enumerate(longest.sections):
        rows = align([plan.sections[index].steps if index < len(plan.sections) else ()
                      for _, plan in plans], _place)
        steps: list[SheetStep] = []
        alternatives: list[str] = []
        for row in _paired(rows):
            step, figures_for = _together(row, choices)
            if figures_for and figures_for not in alternatives:
                alternatives.append(figures_for)
            if step.number is not None:
                number += 1
                step = step._replace(number=number)
            steps.append(step)
        for text in alternatives:
            steps.insert(0, SheetStep(None, "note", text, (), ""))
        sections.append(SheetSection(planned.title, tuple(steps)))
    return tuple(sections)


def _place(step: Step) -> tuple[object, ...]:
    """What steps have in common that stand for each other: the innermost lines they come from.

    Two calls of one technique in different branches tell the same steps with other numbers.
    """
    return (step.number is None, tuple(told.present[0].key[-1] for told in step.instructions))


Row = Sequence["Step | None"]


def _paired(rows: Sequence[Row]) -> list[Row]:
    """Put two neighbouring rows into one where each choice has just one of the two steps."""
    found: list[Row] = []
    position = 0
    while position < len(rows):
        row = rows[position]
        following = rows[position + 1] if position + 1 < len(rows) else None
        around = [*rows[max(position - 1, 0):position], *rows[position + 2:position + 3]]
        if following is not None and _complement(row, following) and not any(
                _complement(other, row) or _complement(other, following) for other in around):
            found.append([one if one is not None else two
                          for one, two in zip(row, following, strict=True)])
            position += 2
        else:
            found.append(row)
            position += 1
    return found


def _complement(one: Row, two: Row) -> bool:
    both = list(zip(one, two, strict=True))
    return all((a is None) != (b is None) for a, b in both) and all(
        step is None or step.number is not None for row in (one, two) for step in row) and any(
        a is None for a, _ in both) and any(b is None for _, b in both)


def _together(row: Row, choices: Sequence[str]) -> tuple[SheetStep, str]:
    """One step for all choices, and how to read figures joined by 'or' (empty if none are)."""
    first = next(step for step in row if step is not None)
    texts: dict[str, list[str]] = {}
    shows: dict[str, None] = {}
    for words, step in zip(choices, row, strict=True):
        if step is not None:
            texts.setdefault(step.text, []).append(words)
            shows[machine_shows(step.states)] = None
    everywhere = all(step is not None for step in row)
    different = [show for show in shows if show]
    shown = (_figures_joined(different) or " / ".join(different)) if different else ""
    number = 0 if first.number is not None else None
    if len(texts) == 1 and everywhere:
        return SheetStep(number, first.kind, next(iter(texts)), first.only, shown), ""
    told = [_common(words, choices) for words in texts.values()]
    joined = _figures_joined(list(texts)) if everywhere else None
    if joined is not None:
        return SheetStep(number, first.kind, joined, first.only, shown), (
            f"Where numbers are joined by 'or', they are for {', or '.join(told)}.")
    parts = [f"{'Or, with' if position else 'With'} {words}: {text}"
             for position, (words, text) in enumerate(zip(told, texts, strict=True))]
    return SheetStep(number, first.kind, " ".join(parts), first.only, shown), ""


def by_choice(lists: Sequence[Sequence[T]], choices: Sequence[str],
              key: Callable[[T], Hashable]) -> Iterator[tuple[str, T]]:
    """The lines of a list that each choice has, each once, with the choices that it is for.

    ``choices``: the choices of each list in words; "" is given for a line that all have alike.
    ``key``: what lines have in common that stand for each other.
    """
    for row in align(lists, key):
        told: dict[T, list[str]] = {}
        for words, line in zip(choices, row, strict=True):
            if line is not None:
                told.setdefault(line, []).append(words)
        for line, mine in told.items():
            yield "" if len(mine) == len(choices) else _common(mine, choices), line


def without_figures(text: str) -> Hashable:
    """A text but for its figures: what lines of several choices have in common."""
    return tuple(_FIGURE.split(text)[::2])


_FIGURE = re.compile(r"(\d[\d.]*(?: \([\d., ]+\))?)")


def _figures_joined(texts: Sequence[str]) -> str | None:
    """Texts that differ only in their figures as one: ``until 10 or 12 stitches``; else None."""
    split = [_FIGURE.split(text) for text in texts]
    if len({tuple(parts[::2]) for parts in split}) != 1:
        return None
    columns = zip(*split, strict=True)
    return "".join(parts[0] if n % 2 == 0 else " or ".join(dict.fromkeys(parts))
                   for n, parts in enumerate(columns))


def _common(words: Sequence[str], everything: Sequence[str]) -> str:
    """Only those choices that tell these combinations from the others."""
    mine = [set(word.split(", ")) for word in words]
    shared = set.intersection(*mine)
    all_shared = set.intersection(*(set(word.split(", ")) for word in everything))
    telling = [part for part in words[0].split(", ") if part in shared - all_shared]
    return ", ".join(telling) or " or ".join(words)
