"""What differs in the knitting itself: stitches, rows, finished measurements, yarn."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Literal

from sockscript.compare.model import Difference, Numbers
from sockscript.compare.pairs import PairedSection, Sides
from sockscript.compare.rules import (
    LONGER,
    MORE,
    MORE_OR_FEWER,
    WIDER,
    NumberChange,
    in_sizes,
    listed,
    rule,
)
from sockscript.expand.run import Run
from sockscript.fabric.amounts import yarn_amounts
from sockscript.fabric.measures import SectionMeasure, measures
from sockscript.findings.phrases import Phrase, phrases
from sockscript.numbers.quantity import Exact
from sockscript.pictures.dimensions import dimensions
from sockscript.sheet.numbering import Plan


def stitches_and_rows(sections: Sequence[PairedSection], sides: Sides) -> Iterator[Difference]:
    """Stitches round and rows of each section, then what else is knitted otherwise."""
    was, now = _measured(sides.was, sides.common.was), _measured(sides.now, sides.common.now)
    told: list[Numbers] = []
    every = sum(section.was is not None and section.now is not None for section in sections)
    for unit in ("stitches", "rows"):
        alike: dict[tuple[object, ...], list[tuple[str, Numbers]]] = {}
        for section in sections:
            if section.was is None or section.now is None:
                continue
            old, new = was.get(_place(sides.was, section.was)), now.get(
                _place(sides.now, section.now))
            if old is None or new is None:
                continue
            numbers = _numbers(unit, old, new)
            told.append(numbers)
            offs = tuple(None if a is None or b is None else b - a
                         for a, b in zip(numbers.was, numbers.now, strict=True))
            if any(offs) or (None in offs and numbers.was != numbers.now):
                alike.setdefault(offs, []).append((section.title, numbers))
        for found in alike.values():
            yield from _together(found, unit, sides, every)
    yield from _otherwise(sides, told)


def _place(plan: Plan, section: object) -> int:
    return next(n for n, one in enumerate(plan.sections) if one is section)


def _measured(plan: Plan, columns: Sequence[int]) -> dict[int, list[SectionMeasure | None]]:
    """The measures of the sections that have rows, by their place in the plan, for each size."""
    found: dict[int, list[SectionMeasure | None]] = {}
    for column, size in enumerate(columns):
        run = plan.runs[size]
        waiting = list(measures(run))
        for place, section in enumerate(run.sections):
            if waiting and waiting[0].title == section.title:
                found.setdefault(place, [None] * len(columns))[column] = waiting.pop(0)
    return found


def _numbers(unit: str, old: Sequence[SectionMeasure | None],
             new: Sequence[SectionMeasure | None]) -> Numbers:
    def values(here: Sequence[SectionMeasure | None]) -> tuple[Exact | None, ...]:
        return tuple(None if one is None else one.around if unit == "stitches" else one.rows
                     for one in here)

    return Numbers("stitches" if unit == "stitches" else "rows", values(old), values(new))


def _together(found: Sequence[tuple[str, Numbers]], unit: str, sides: Sides, every: int
              ) -> Iterator[Difference]:
    """Sections whose numbers changed alike, in one sentence."""
    title = "Everywhere" if 1 < len(found) == every else listed([title for title, _ in found])
    numbers = found[0][1]
    words = ("more round", "fewer round") if unit == "stitches" else MORE_OR_FEWER
    change = rule(numbers, sides.common.names, False, words)
    if change is None:
        return
    if all(other == numbers for _, other in found):
        yield change.told(unit, title)
        return
    # What they were and are differs from section to section.
    alike = change.told(unit, title)
    yield Difference(unit, alike.rule, alike.sizes, rule=alike.rule)
    for one, own in found:
        exact = rule(own, sides.common.names, False, words)
        if exact is not None:
            yield exact.told(unit, one, detail=True)


# ---- what is told back of it


def _otherwise(sides: Sides, told: Sequence[Numbers]) -> Iterator[Difference]:
    """Phrases that tell what is knitted: heel, toe, how it is closed; lengths are told elsewhere,
    and so are counts that are those of a whole section."""
    names = sides.common.names
    was, now = ([list(phrases(plan.runs[n])) for n in columns]
                for plan, columns in ((sides.was, sides.common.was),
                                      (sides.now, sides.common.now)))
    known = {(numbers.was, numbers.now) for numbers in told}
    worded: dict[tuple[str, str], list[str]] = {}
    counted: dict[str, dict[str, tuple[Phrase, Phrase]]] = {}
    for name, old, new in zip(names, was, now, strict=True):
        before, after = ({phrase.words: phrase for phrase in side} for side in (old, new))
        gone = [words for words in before if words not in after]
        come = [words for words in after if words not in before]
        if gone or come:
            pair = ("; ".join(_bare(words) for words in gone),
                    "; ".join(_bare(words) for words in come))
            worded.setdefault(pair, []).append(name)
        for words in before.keys() & after.keys():
            counted.setdefault(words, {})[name] = before[words], after[words]
    for (gone_words, come_words), sizes in worded.items():
        where = in_sizes(sizes, names)
        words = (f"Now{where}: {come_words} (was: {gone_words})." if gone_words and come_words else
                 f"Now also{where}: {come_words}." if come_words else
                 f"No longer{where}: {gone_words}.")
        yield Difference("knitted-otherwise", words, tuple(sizes))
    for words in dict.fromkeys(phrase.words for side in was for phrase in side):
        if words in counted:
            yield from _counts(counted[words], names, known)


def _bare(words: str) -> str:
    """A phrase without its gaps."""
    return " ".join(words.replace("{}", "…").split()).rstrip(".")


def _counts(by_size: Mapping[str, tuple[Phrase, Phrase]], names: Sequence[str],
            known: Collection[tuple[object, object]]) -> Iterator[Difference]:
    first = next(iter(by_size.values()))[0]
    for number, gap in enumerate(first.gaps):
        if not gap.of:
            continue
        pairs = [by_size.get(name) for name in names]
        old = tuple(None if pair is None else pair[0].values[number].value for pair in pairs)
        new = tuple(None if pair is None else pair[1].values[number].value for pair in pairs)
        if (old, new) in known:
            continue
        told = rule(Numbers(gap.unit, old, new), names, False, MORE_OR_FEWER)
        if told is not None:
            yield told.told("count", gap.of)


# ---- measurements and yarn


def _measures_of(plan: Plan, columns: Sequence[int]) -> dict[str, tuple[Exact | None, ...]]:
    """The finished measurements of some sizes, by name."""
    return {one.name: one.values for one in dimensions([plan.runs[n] for n in columns])}


def finished_measures(sides: Sides) -> Iterator[Difference]:
    """The measurements that a leaflet prints, where they differ by a millimetre or more."""
    old = _measures_of(sides.was, sides.common.was)
    new = _measures_of(sides.now, sides.common.now)
    inches = sides.now.runs[0].script.inches
    nothing = (None,) * len(sides.common.names)
    alike: dict[tuple[str, str], list[tuple[str, NumberChange]]] = {}
    for name in [*new, *(name for name in old if name not in new)]:
        words = WIDER if "round" in name.split(", ") else LONGER
        numbers = Numbers("mm", old.get(name, nothing), new.get(name, nothing))
        told = rule(numbers, sides.common.names, inches, words)
        if told is not None:
            alike.setdefault((told.change, told.values), []).append((name, told))
    for found in alike.values():
        first = found[0][1]
        yield first.told("measure", listed([name for name, _ in found]))


def yarn(sides: Sides) -> Iterator[Difference]:
    """Metres and grams of each yarn for a pair, rounded up to whole ones as on the leaflet."""
    old, new = ([_yarn(plan.runs[n]) for n in columns]
                for plan, columns in ((sides.was, sides.common.was),
                                      (sides.now, sides.common.now)))
    inches = sides.now.runs[0].script.inches
    names = list(dict.fromkeys(key for found in (*new, *old) for key in found))
    units: tuple[Literal["m", "g"], ...] = ("m", "g")
    for name in names:
        for unit in units:
            was, now = (tuple(found.get(name, {}).get(unit) for found in side)
                        for side in (old, new))
            told = rule(Numbers(unit, was, now), sides.common.names, inches, MORE)
            if told is not None:
                # Grams follow from the metres.
                yield told.told("yarn", name)
                break


def _yarn(run: Run) -> dict[str, dict[str, int]]:
    """By the words for a yarn: what a pair takes."""
    return {run.yarn_words[amount.yarn.name]: {unit: math.ceil(2 * value) for unit, value in (
        ("m", amount.metres), ("g", amount.grams)) if value is not None}
        for amount in yarn_amounts(run)}
