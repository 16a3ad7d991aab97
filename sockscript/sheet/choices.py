"""Choices side by side: steps that all choices share, and alternatives where they differ."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from sockscript.sheet.figures import side_by_side
from sockscript.sheet.merge import align
from sockscript.sheet.numbering import Plan, Step
from sockscript.trace.state import Snapshot


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
    """``front 32, back 32 · COR · RC 48 (52, 56)`` for the sizes that have the step."""
    known = [state for state in states if state is not None]
    if not known:
        return ""
    parts = []
    for name in ("front", "back"):
        counts = [str(getattr(state, name).loaded.bit_count()) for state in known]
        if set(counts) != {"0"}:
            parts.append(f"{name} {side_by_side(counts)}")
    held = [str((s.front.hold & s.front.loaded).bit_count()
                + (s.back.hold & s.back.loaded).bit_count()) for s in known]
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
    for index, planned in enumerate(longest.sections):
        rows = align([plan.sections[index].steps if index < len(plan.sections) else ()
                      for _, plan in plans], _place)
        steps = []
        for row in rows:
            first = next(step for step in row if step is not None)
            if first.number is not None:
                number += 1
            steps.append(_together(row, [words for words, _ in plans], len(plans),
                                   number if first.number is not None else None))
        sections.append(SheetSection(planned.title, tuple(steps)))
    return tuple(sections)


def _place(step: Step) -> tuple[object, ...]:
    return (step.number is None, tuple(told.present[0].key for told in step.instructions))


def _together(row: Sequence[Step | None], choices: Sequence[str], plans: int,
              number: int | None) -> SheetStep:
    first = next(step for step in row if step is not None)
    versions: dict[tuple[str, str], list[str]] = {}
    for words, step in zip(choices, row, strict=True):
        if step is not None:
            versions.setdefault((step.text, machine_shows(step.states)), []).append(words)
    if len(versions) == 1 and sum(map(len, versions.values())) == plans:
        text, shows = next(iter(versions))
        return SheetStep(number, first.kind, text, first.only, shows)
    texts = dict.fromkeys(text for text, _ in versions)
    if len(texts) == 1 and sum(map(len, versions.values())) == plans:
        shows = " / ".join(dict.fromkeys(shows for _, shows in versions))
        return SheetStep(number, first.kind, next(iter(texts)), first.only, shows)
    parts = [f"With {_common(words, choices)}: {text}" for (text, _), words in versions.items()]
    shows = " / ".join(dict.fromkeys(shows for _, shows in versions if shows))
    return SheetStep(number, first.kind, " Or: ".join(parts), first.only, shows)


def _common(words: Sequence[str], everything: Sequence[str]) -> str:
    """Only those choices that tell these combinations from the others."""
    mine = [set(word.split(", ")) for word in words]
    shared = set.intersection(*mine)
    telling = [part for part in words[0].split(", ") if part in shared]
    return ", ".join(telling) or " or ".join(words)
