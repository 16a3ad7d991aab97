"""What differs at the head of two patterns, and in the lists that are printed round the steps."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterator, Sequence

from sockscript.compare.model import Difference
from sockscript.compare.pairs import ALIKE, skeleton
from sockscript.compare.rules import listed
from sockscript.compare.steps import in_short
from sockscript.expand.run import Run
from sockscript.numbers.figures import PrintedWords, words_of
from sockscript.numbers.quantity import Quantity, show
from sockscript.sheet import facts
from sockscript.sheet.sheet import cautions, gauges, materials, remarks
from sockscript.tree.script import Option, Script

LISTINGS: dict[str, tuple[str, Callable[[Script, Sequence[Run]], Sequence[str]]]] = {
    "notes": ("Notes", lambda script, runs: remarks(script, runs, "note")),
    "materials": ("Materials", materials),
    "gauge": ("Gauge", lambda script, runs: gauges(script)),
    "tools": ("Tools", lambda script, runs: facts.tools(runs)),
    "needs": ("The machine needs", lambda script, runs: facts.machine_needs(runs)),
    "cautions": ("Cautions", lambda script, runs: cautions(script, [runs])),
    "finishing": ("Finishing", lambda script, runs: facts.finishing(runs)),
}


def about(was: Script, now: Script) -> Iterator[Difference]:
    """Title, author, version and licence."""
    for name, old, new in (("title", was.title, now.title), ("author", was.author, now.author),
                           ("version", was.version, now.version),
                           ("licence", was.licence, now.licence)):
        if old != new:
            words = f"{name.capitalize()}: {new or 'none'} (was {old or 'none'})."
            yield Difference(name, words, ())


def printed_round_the_steps(was: Sequence[Run], now: Sequence[Run]) -> Iterator[Difference]:
    """Notes, materials, gauge, tools, what the machine needs, cautions, finishing; of all sizes
    that a version has."""
    for name, (title, listing) in LISTINGS.items():
        old, new = ([words_of(item) for item in listing(runs[0].script, runs)]
                    for runs in (was, now))
        yield from _lists(name, title, old, new)


def _lists(name: str, title: str, was: Sequence[PrintedWords], now: Sequence[PrintedWords]
           ) -> Iterator[Difference]:
    old, new = list(map(in_short, was)), list(map(in_short, now))
    gone = [n for n, item in enumerate(old) if item not in new]
    come = [n for n, item in enumerate(new) if item not in old]
    for n in come:
        twin = next((m for m in gone if _likeness(was[m], now[n]) >= ALIKE), None)
        if twin is None:
            yield Difference(name, f"{title}, new: {_ended(new[n])}", ())
        else:
            gone.remove(twin)
            yield Difference(name, f"{title}: {_unended(new[n])} (was {_unended(old[twin])}).", ())
    yield from (Difference(name, f"{title}, gone: {_ended(old[m])}", ()) for m in gone)


def _likeness(one: PrintedWords, other: PrintedWords) -> float:
    return difflib.SequenceMatcher(None, skeleton(one).split(), skeleton(other).split(),
                                   autojunk=False).ratio()


def _ended(text: str) -> str:
    return text if text.endswith((".", "!", "?")) else f"{text}."


def _unended(text: str) -> str:
    return text.removesuffix(".")


def choices(was: Script, now: Script) -> Iterator[Difference]:
    """Options that are new or gone, their values, and which is the usual one."""
    old, new = ({option.name: option for option in script.options} for script in (was, now))
    for name in [*new, *(name for name in old if name not in new)]:
        if name not in old:
            yield Difference("choice-added", f"{name} is new: {_values(new[name])}.", ())
            continue
        if name not in new:
            yield Difference("choice-gone", f"{name} is gone (was {_values(old[name])}).", ())
            continue
        before, after = list(map(_word, old[name].values)), list(map(_word, new[name].values))
        for word, values in (("new", [one for one in after if one not in before]),
                             ("gone", [one for one in before if one not in after])):
            if values:
                yield Difference("choice", f"{name}: {listed(values)} "
                                           f"{'is' if len(values) == 1 else 'are'} {word}.", ())
        for value in old[name].values:
            said = [option.words.get(value, "") for option in (old[name], new[name])]
            if value in new[name].values and said[0] != said[1]:
                yield Difference("choice-words", f"{name} {_word(value)} is printed as "
                                                 f"{_quoted(said[1]) or 'it is'} (was "
                                                 f"{_quoted(said[0]) or 'as it is'}).", ())
        if _word(old[name].default) != _word(new[name].default):
            yield Difference("choice", f"{name}: {_word(new[name].default)} is now the usual one "
                                       f"(was {_word(old[name].default)}).", ())


def _quoted(words: str) -> str:
    return f'"{words}"' if words else ""


def _values(option: Option) -> str:
    return listed([_word(value) for value in option.values], "or")


def _word(value: Quantity | str) -> str:
    return show(value) if isinstance(value, Quantity) else value


def meant_for(was: Script, now: Script) -> Iterator[Difference]:
    """The ranges of feet and gauges that the pattern is said to be for."""
    if was.works_for is None or now.works_for is None:
        if was.works_for is not now.works_for:
            word = "now" if now.works_for is not None else "no longer"
            yield Difference("works-for", f"It {word} says for which measurements it works.", ())
        return
    old, new = ({one.label: one.values for one in side.ranges}
                for side in (was.works_for, now.works_for))
    for name in [*new, *(name for name in old if name not in new)]:
        if old.get(name) != new.get(name):
            told = [_range(side.get(name, ())) for side in (new, old)]
            yield Difference("works-for", f"Meant for {name.replace('-', ' ')} {told[0]} "
                                          f"(was {told[1]}).", ())


def _range(values: Sequence[Quantity]) -> str:
    if not values:
        return "of any value"
    return listed(list(dict.fromkeys((show(values[0]), show(values[-1])))), "to")
