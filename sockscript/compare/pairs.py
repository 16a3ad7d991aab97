"""The steps of two versions side by side: which is which, and for which sizes it differs."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Hashable, Iterator, Sequence
from typing import Any, NamedTuple, TypeVar

from sockscript.compare.sizes import Common
from sockscript.expand.run import Run
from sockscript.machine.profile import Profile
from sockscript.numbers.figures import BySize, PrintedWords, words_of
from sockscript.operations.ops import Op
from sockscript.sheet.numbering import Plan, PlannedSection, PrintedStep
from sockscript.text.layout import without_comment
from sockscript.trace.state import Ledger, Snapshot

T = TypeVar("T")

ALIKE = 0.6
"""Steps whose words agree so far (of 1) are one step that is worded otherwise; sections whose
steps do are one section under another title."""

MOST_PAIRS = 40_000
"""Of steps that are laid beside each other one by one: far more than patterns have."""


class PairedStep(NamedTuple):
    """A step of one version and its counterpart (None: there is none).

    ``how`` it differs: not at all, in numbers, in words, or in "wording" alone while the needles
    do the same; ``sizes``: by the common sizes,
    whether it differs there.
    """

    was: PrintedStep | None
    now: PrintedStep | None
    how: str
    sizes: tuple[bool, ...]


class PairedSection(NamedTuple):
    """A section of one version and its counterpart, with their steps."""

    was: PlannedSection | None
    now: PlannedSection | None
    steps: tuple[PairedStep, ...]

    @property
    def title(self) -> str:
        """What it is called now, or was called."""
        section = self.now or self.was
        assert section is not None
        return section.title


class LaidOut(Plan):
    """A plan that takes over what another one has alike.

    ``usual``: the plan with other choices, whose first sections may be the very same.
    """

    def __init__(self, runs: Sequence[Run], profile: Profile, usual: LaidOut | None = None
                 ) -> None:
        self._usual = usual
        super().__init__(runs, profile)

    def _sections(self) -> tuple[PlannedSection, ...]:
        usual = self._usual
        if usual is None:
            return super()._sections()
        alike = 0
        while alike < len(usual.sections) and all(
                len(run.sections) > alike < len(other.sections)
                and run.sections[alike] is other.sections[alike]
                for run, other in zip(self.runs, usual.runs, strict=True)):
            alike += 1
        taken = usual.sections[:alike]
        self._next += sum(step.number is not None for section in taken for step in section.steps)
        return (*taken, *self._laid_out(alike))


class Sides(NamedTuple):
    """Both versions laid out, and their common sizes."""

    was: LaidOut
    now: LaidOut
    common: Common


def paired(sides: Sides) -> list[PairedSection]:
    """All sections of both, in an order that suits both."""
    keys: list[Callable[[PlannedSection], Hashable]] = [lambda section: section.title.lower()]
    return [_section(was, now, sides)
            for was, now in _matched(sides.was.sections, sides.now.sections, keys, _like_sections)]


def _section(was: PlannedSection | None, now: PlannedSection | None, sides: Sides
             ) -> PairedSection:
    old = _steps(was, sides.common.was)
    new = _steps(now, sides.common.now)

    def words(one: _Of) -> Hashable:
        return one.step.kind, one.texts

    rows = _matched(old, new, [words, lambda one: (one.line, one.skeleton),
                               lambda one: one.skeleton], _like_steps)
    return PairedSection(was, now, tuple(_step(one, other, sides) for one, other in rows))


class _Of(NamedTuple):
    """A step with what it says in each common size (None: a size does without), its words without
    numbers, and the line that prints it."""

    step: PrintedStep
    texts: tuple[str | None, ...]
    skeleton: str
    line: str


def _steps(section: PlannedSection | None, columns: Sequence[int]) -> list[_Of]:
    """The steps that a common size has."""
    found = []
    for step in section.steps if section is not None else ():
        words = words_of(step.text)
        texts = tuple(said(words, n) if any(told.by_size[n] is not None
                                            for told in step.instructions) else None
                      for n in columns)
        if any(text is not None for text in texts):
            span = step.instructions[0].present[0].span
            line = " ".join(without_comment(span.source.line(span.line)).split())
            found.append(_Of(step, texts, skeleton(words), line))
    return found


def said(words: PrintedWords, size: int) -> str:
    """What a sentence says for one size."""
    return "".join(part.texts[size] if isinstance(part, BySize) else part for part in words)


def skeleton(words: PrintedWords) -> str:
    """A sentence but for its numbers, and for the words that follow them."""
    text = "".join("0" if isinstance(part, BySize) else part for part in words)
    text = re.sub(r"\d[\d.]*", "#", text)
    return re.sub(r"\b(row|round|stitch|time|needle|end)(?:e?s)?\b", r"\1", text).replace(
        "these #", "this").replace("edge stitch", "# outer stitch")


def _like_steps(one: _Of, other: _Of) -> float:
    if (one.step.number is None) != (other.step.number is None):
        return 0.0
    if one.step.number is None:
        return 1.0 if one.step.kind == other.step.kind else 0.0
    return difflib.SequenceMatcher(None, one.skeleton.split(), other.skeleton.split(),
                                   autojunk=False).ratio()


def _like_sections(one: PlannedSection, other: PlannedSection) -> float:
    first, second = ([skeleton(words_of(step.text)) for step in section.steps]
                     for section in (one, other))
    return difflib.SequenceMatcher(None, first, second, autojunk=False).ratio()


def _matched(was: Sequence[T], now: Sequence[T], keys: Sequence[Callable[[T], Hashable]],
             like: Callable[[T, T], float]) -> Iterator[tuple[T | None, T | None]]:
    """Pairs of what belongs together: first what agrees in the first key, between those what
    agrees in the next, and last what is alike enough, all without crossing."""
    if not was or not now:
        yield from ((one, None) for one in was)
        yield from ((None, other) for other in now)
        return
    if not keys:
        yield from _alike(was, now, like)
        return
    key = keys[0]
    old, new = list(map(key, was)), list(map(key, now))
    if old == new:
        yield from zip(was, now, strict=True)
        return
    matcher: difflib.SequenceMatcher[Any] = difflib.SequenceMatcher(
        None, old, new, autojunk=len(old) * len(new) > MOST_PAIRS)
    i = j = 0
    for i1, j1, size in matcher.get_matching_blocks():
        yield from _matched(was[i:i1], now[j:j1], keys[1:], like)
        yield from zip(was[i1:i1 + size], now[j1:j1 + size], strict=True)
        i, j = i1 + size, j1 + size


def _alike(was: Sequence[T], now: Sequence[T], like: Callable[[T, T], float]
           ) -> Iterator[tuple[T | None, T | None]]:
    j = 0
    searched = len(was) * len(now) <= MOST_PAIRS
    for one in was if searched else ():
        found = next((n for n in range(j, len(now)) if like(one, now[n]) >= ALIKE), None)
        if found is None:
            yield one, None
            continue
        yield from ((None, other) for other in now[j:found])
        yield one, now[found]
        j = found + 1
    yield from ((one, None) for one in (() if searched else was))
    yield from ((None, other) for other in now[j:])


def _step(one: _Of | None, other: _Of | None, sides: Sides) -> PairedStep:
    """Two steps side by side, and whether words, numbers or needles differ in each size."""
    if one is None or other is None:
        only = one or other
        assert only is not None
        return PairedStep(one and one.step, other and other.step, "words",
                          tuple(text is not None for text in only.texts))
    work = tuple(
        text is not None and one.step.number is not None and
        _knitted(sides.was, one.step, m) != _knitted(sides.now, other.step, n)
        for text, m, n in zip(one.texts, sides.common.was, sides.common.now, strict=True))
    differs = tuple(otherwise or text != now for otherwise, text, now in
                    zip(work, one.texts, other.texts, strict=True))
    if not any(differs):
        how = ""
    elif one.skeleton == other.skeleton:
        how = "numbers"
    else:
        how = "words" if any(work) or one.step.number is None else "wording"
    return PairedStep(one.step, other.step, how, differs)


def _knitted(plan: Plan, step: PrintedStep, size: int) -> tuple[list[Op], object]:
    """What a step does in one size, and how it leaves the machine."""
    run = plan.runs[size]
    here = [told.by_size[size] for told in step.instructions]
    done = [moment.op for one in here if one is not None
            for moment in run.moments[one.first:one.last]]
    state = step.states[size]
    return done, stand(state)


def stand(state: Snapshot | None) -> object:
    """How the machine stands, without what was counted on the way."""
    return None if state is None else state._replace(ledger=Ledger())
