"""Steps and sections that are new, gone or otherwise, told section by section."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sockscript.compare.model import Difference
from sockscript.compare.pairs import PairedSection, PairedStep, Sides
from sockscript.compare.rules import in_sizes, listed, numbers_in_a_row
from sockscript.numbers.figures import NONE, BySize, PrintedWords, words_of
from sockscript.sheet.numbering import PrintedStep

MOST_TOLD = 4
"""Steps of one section that are told word for word; more are only counted."""
LEAD = 40
"""Letters before those that differ, so that one sees where they stand."""
LONGEST = 160
"""Letters of a step that is told word for word."""


def step_changes(sections: Sequence[PairedSection], sides: Sides) -> Iterator[Difference]:
    """Everything that differs in sections and steps; the ``detail`` of each step last."""
    names = sides.common.names
    yield from _sections(sections)
    for section in sections:
        if section.was is not None and section.now is not None:
            yield from _worded(section, sides)
    pairs = [pair for section in sections for pair in section.steps]
    changed = [pair for pair in pairs if pair.how == "numbers" and pair.was is not None
               and pair.was.number is not None]
    if changed:
        every = sum(pair.was is not None and pair.was.number is not None for pair in pairs)
        numbers = numbers_in_a_row([pair.was.number for pair in changed
                                    if pair.was is not None and pair.was.number is not None])
        word = "step" if len(changed) == 1 else "steps"
        yield Difference("numbers", f"Only numbers differ in {len(changed)} of {every} steps "
                                    f"({word} {numbers}).", names)
    as_before = True
    for section in sections:
        for pair in section.steps:
            if pair.how == "numbers" and pair.was is not None and pair.now is not None:
                yield from _detail(pair, section.title, sides, as_before)
            as_before = not pair.how


def _sections(sections: Sequence[PairedSection]) -> Iterator[Difference]:
    """Sections that are new, gone, renamed or elsewhere."""
    gone = {one.title.lower() for one in sections if one.now is None}
    added = {one.title.lower() for one in sections if one.was is None}
    before = ""
    for one in sections:
        if one.now is None:
            if one.title.lower() not in added:
                yield Difference("section-gone", f"The section {_quoted(one.title)} is gone"
                                                 f"{_steps_of(one)}.", ())
        elif one.was is None:
            place = f"after {_quoted(before)}" if before else "at the beginning"
            moved = one.title.lower() in gone
            yield Difference("section-moved" if moved else "section-added",
                             f"The section {_quoted(one.title)} "
                             + (f"now stands {place}." if moved else
                                f"is new, {place}{_steps_of(one)}."), ())
        elif one.was.title != one.now.title:
            yield Difference("section-renamed",
                             f"The section {_quoted(one.was.title)} is now called "
                             f"{_quoted(one.now.title)}.", ())
        if one.now is not None:
            before = one.title


def _steps_of(section: PairedSection) -> str:
    steps = [pair.now or pair.was for pair in section.steps]
    numbers = [step.number for step in steps if step is not None and step.number is not None]
    return f" ({_count(numbers)})" if numbers else ""


def _count(numbers: Sequence[int]) -> str:
    return f"{'step' if len(numbers) == 1 else 'steps'} {numbers_in_a_row(numbers)}"


def _worded(section: PairedSection, sides: Sides) -> Iterator[Difference]:
    """Steps of a section that are new, gone or worded otherwise; many are only counted."""
    differ = [pair for pair in section.steps if pair.how in ("words", "wording")]
    many = len(differ) > MOST_TOLD
    if many:
        parts = []
        for word, steps in (
                ("new", [pair.now for pair in differ if pair.was is None]),
                ("gone", [pair.was for pair in differ if pair.now is None]),
                ("otherwise", [pair.now for pair in differ if pair.was and pair.now])):
            numbers = [step.number for step in steps if step is not None
                       and step.number is not None]
            if numbers:
                parts.append(f"{_count(numbers)} {'is' if len(numbers) == 1 else 'are'} {word}")
            if len(numbers) < len(steps):
                notes = len(steps) - len(numbers)
                parts.append(f"{notes} note{'' if notes == 1 else 's'} {word}")
        yield Difference("steps", f"{section.title}: {listed(parts)}.", sides.common.names)
    for pair in differ:
        yield _told(pair, section.title, sides, many)


def _told(pair: PairedStep, title: str, sides: Sides, detail: bool) -> Difference:
    sizes, where, was, now = _here(pair, sides)
    if pair.was is None or pair.now is None:
        step = pair.now or pair.was
        assert step is not None
        word = "new" if pair.was is None else "gone"
        return Difference(f"step-{'added' if word == 'new' else 'gone'}",
                          f"{title}: {_name(step)} is {word}{where}: {was or now}", sizes,
                          detail=detail)
    how = "is otherwise" if pair.how == "words" else \
        "has other words, the needles do the same"
    return Difference("step-otherwise" if pair.how == "words" else "step-words",
                      f"{title}: {_name(pair.was)}{_now(pair)} {how}{where}: {now} Was: {was}",
                      sizes, detail=detail)


def _detail(pair: PairedStep, title: str, sides: Sides, as_before: bool) -> Iterator[Difference]:
    """Both wordings of a step; of steps that read alike only the first is told that leaves the
    machine otherwise."""
    assert pair.was is not None
    sizes, where, was, now = _here(pair, sides)
    if now != was or as_before:
        words = f"{now} Was: {was}" if now != was else \
            f"{now} It reads as before, but the needles or stitches after it differ."
        yield Difference("step-numbers", f"{title}: {_name(pair.was)}{_now(pair)}{where}: {words}",
                         sizes, detail=True)


def _here(pair: PairedStep, sides: Sides) -> tuple[tuple[str, ...], str, str, str]:
    """The sizes in which a step differs, in a list and in words, and what it says in them."""
    here = [n for n, differs in enumerate(pair.sizes) if differs]
    names = sides.common.names
    sizes = tuple(names[n] for n in here)
    was, now = ("" if step is None else in_short(words_of(step.text), [columns[n] for n in here])
                for step, columns in ((pair.was, sides.common.was), (pair.now, sides.common.now)))
    alike = _alike(was, now)
    return sizes, in_sizes(sizes, names), _short(was, alike), _short(now, alike)


def _alike(was: str, now: str) -> int:
    """How many letters of two long texts are left out at their beginning, since they are alike:
    up to a few words before they part."""
    if max(len(was), len(now)) <= LONGEST:
        return 0
    part = next((n for n, (a, b) in enumerate(zip(was, now, strict=False)) if a != b), 0)
    return max(0, was.rfind(" ", 0, max(0, part - LEAD)) + 1)


def _short(text: str, skipped: int) -> str:
    text = "… " * bool(skipped) + text[skipped:]
    return text if len(text) <= LONGEST else text[:LONGEST].rsplit(" ", 1)[0] + " …"


def _now(pair: PairedStep) -> str:
    assert pair.was is not None and pair.now is not None
    return f" (now {pair.now.number})" if pair.was.number != pair.now.number else ""


def _name(step: PrintedStep) -> str:
    return f"step {step.number}" if step.number is not None else f"a {step.kind}"


def _quoted(title: str) -> str:
    return f"\"{title}\""


def in_short(words: PrintedWords, sizes: Sequence[int] | None = None) -> str:
    """A sentence with the least and the greatest of many sizes (None: of all)."""
    return "".join(_ends([part.texts[n] for n in sizes] if sizes is not None else part.texts)
                   if isinstance(part, BySize) else part for part in words)


def _ends(texts: Sequence[str]) -> str:
    said = [text for text in dict.fromkeys(texts) if text != NONE]
    try:
        ordered = sorted(said, key=float)
    except ValueError:
        return listed(said, "or")
    return f"{ordered[0]} to {ordered[-1]}" if len(ordered) > 1 else "".join(ordered)
