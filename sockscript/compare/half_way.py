"""What a member half way through the old version must know of the new one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from sockscript.compare.model import HalfWay
from sockscript.compare.pairs import PairedSection, Sides, stand
from sockscript.compare.rules import FEW, listed
from sockscript.sheet.numbering import Plan, PlannedSection


class _PlaceInPlan(NamedTuple):
    """A step of the old version: its number, its section, whether it is the last there."""

    number: int
    section: str
    last: bool


def half_way(sections: Sequence[PairedSection], sides: Sides) -> tuple[HalfWay, ...]:
    """For each size, sizes of which the same can be said together.

    A step differs where its words or numbers, the needles that it moves or the way it leaves the
    machine differ; a note does not count.
    """
    told: dict[HalfWay, list[str]] = {}
    for column, name in enumerate(sides.common.names):
        told.setdefault(_of_size(sections, sides, column), []).append(name)
    return tuple(HalfWay(tuple(names), f"{_lead(names, sides.common.names, len(told))}{one.words}",
                         one.until, one.after, one.change_at) for one, names in told.items())


def _lead(names: Sequence[str], every: Sequence[str], ways: int) -> str:
    if ways == 1:
        return ""
    others = [name for name in every if name not in names]
    if len(others) < len(names) > FEW >= len(others):
        return f"Every size but {listed(others)}: "
    return f"{listed(names)}: "


def _of_size(sections: Sequence[PairedSection], sides: Sides, column: int) -> HalfWay:
    """What is to be said of one size, without its name."""
    places: list[_PlaceInPlan | None] = []
    differ: list[int] = []
    worded: list[int] = []
    begins: dict[int, str] = {}
    for section in sections:
        steps = [pair for pair in section.steps
                 if (pair.was or pair.now).number is not None]  # type: ignore[union-attr]
        if section.was is not None and section.now is not None and places \
                and _stands_alike(section, sides, column):
            begins[len(places)] = section.title
        old = [pair.was for pair in steps if pair.was is not None]
        for pair in steps:
            if pair.sizes[column] and pair.how == "wording":
                worded.append(len(places))
            elif pair.sizes[column]:
                differ.append(len(places))
            places.append(None if pair.was is None else _PlaceInPlan(
                pair.was.number or 0, section.was.title if section.was is not None else "",
                pair.was is old[-1]))
    if not differ:
        return HalfWay((), "only the words of steps differ: read them, and go on as you are."
                       if worded else "nothing differs: go on as you are.", _last(places), None)
    first, last = differ[0], differ[-1]
    until, after = _last(places[:first]), _place(places[:last + 1])
    changes = tuple(title for index, title in begins.items() if first < index <= last)
    return HalfWay((), _words(_place(places[:first]), after, _place(places), changes), until,
                   after.number if after is not None else 0, changes)


def _last(places: Sequence[_PlaceInPlan | None]) -> int:
    found = _place(places)
    return found.number if found is not None else 0


def _place(places: Sequence[_PlaceInPlan | None]) -> _PlaceInPlan | None:
    return next((place for place in reversed(places) if place is not None), None)


def _words(until: _PlaceInPlan | None, after: _PlaceInPlan | None, end: _PlaceInPlan | None,
           changes: Sequence[str]) -> str:
    parts = []
    if until is None:
        parts.append("it differs from the first step on: if you have begun, finish by the version "
                     "that you began with")
    else:
        parts.append(f"as far as {_named(until)} both are the same: if you are no further, go on "
                     "by the new version; later, finish by the old one")
    if changes:
        parts.append(f"the needles stand the same in both where {_sections(changes)} begins, so "
                     "that you can change to the new version there")
    if after is not None and end is not None and after.number < end.number:
        parts.append(f"if you are past {_named(after)}, nothing changes for you")
    return "; ".join(parts) + "."


def _sections(titles: Sequence[str]) -> str:
    return listed([f"\"{title}\"" for title in titles], "or")


def _named(place: _PlaceInPlan) -> str:
    return f"\"{place.section}\" (step {place.number})" if place.last else \
        f"step {place.number} (in \"{place.section}\")"


def _stands_alike(section: PairedSection, sides: Sides, column: int) -> bool:
    """Whether the machine stands the same in both where a section begins."""
    return (_at_beginning(sides.was, section.was, sides.common.was[column])
            == _at_beginning(sides.now, section.now, sides.common.now[column]))


def _at_beginning(plan: Plan, section: PlannedSection | None, size: int) -> object:
    """How the machine stands where a section begins, and what hangs on waste yarn there."""
    assert section is not None
    run = plan.runs[size]
    index = plan.sections.index(section)
    if index >= len(run.sections) or not run.sections[index].first:
        return None
    state = run.moments[run.sections[index].first - 1].state
    return stand(state), state.ledger.scrapped
