"""Which names fit at a place of a line, told by the words before it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from sockscript.findings.catalogue import KINDS
from sockscript.fit.foot_table import SIZES
from sockscript.service.document import Document
from sockscript.service.known import (
    KnownName,
    KnownTechnique,
    Takes,
    known_techniques,
    of_roles,
    technique,
)
from sockscript.service.mentions import Role
from sockscript.service.reading import by_looks
from sockscript.service.templates import TabStop, TemplatePart


class FittingName(NamedTuple):
    """A name that fits, what it is, and what to write."""

    label: str
    about: str
    parts: tuple[TemplatePart, ...]
    technique: bool = False


class FittingNames(NamedTuple):
    """Names that fit; ``only``: nothing else does."""

    names: tuple[FittingName, ...]
    only: bool = False


_FABRIC = re.compile(r"\b(stitches|rows|width|height)\([^()]*(\([^()]*\)[^()]*)*,\s*$", re.I)
_VALUES: tuple[Role, ...] = ("parameter", "let", "measurement", "option")
_WORDS: tuple[Role, ...] = ("yarn", "choice", "group", "word")
_GROUPS: tuple[Role, ...] = ("parameter", "group", "word")
_DEFINING = frozenset({"let", "option", "yarn", "gauge", "technique"})


def names_that_fit(document: Document, head: str, rule: str, names: tuple[KnownName, ...],
                   value: bool) -> FittingNames:
    """The names that can follow ``head``; ``value``: a value may stand there."""
    words = [piece.text.lower() for piece in by_looks(head)]
    first = words[0] if words else ""
    last = words[-1] if words else ""
    if rule == "size_row":
        return FittingNames(tuple(_feet()) if first == "feet" else (), True)
    if rule == "range_row" and len(words) < 2:
        return FittingNames(tuple(_ranges(names)) if not words else
                            _plain(of_roles(names, "fabric")) if first == "gauge" else
                            _plain(of_roles(names, *_VALUES)))
    if rule in ("machine_line", "word_line"):
        return FittingNames(())
    if rule == "line":
        if first == "do":
            found = _in_call(document, words, names)
            if found is not None:
                return found
        roles = _roles(first, words, last)
        if roles is not None:
            alone = (roles != _GROUPS and first != "sew") or first == "rehang"
            return FittingNames(_plain(of_roles(names, *roles)), alone)
        if first == "allow" and len(words) == 1:
            return FittingNames(tuple(_findings(document)), True)
        if first in _DEFINING and len(words) == 1:
            # A new name: only its author knows it.
            return FittingNames((), True)
        if first == "option" and "default" in words:
            return FittingNames(tuple(FittingName(word, "One of the choices before it.", (word,))
                                      for word in words[2:] if word not in (",", "default")))
        if first == "sizes" or (first == "option" and len(words) > 1):
            return FittingNames((), True)
    if _FABRIC.search(head):
        return FittingNames(_plain(of_roles(names, "fabric")), True)
    compared = _compared(words)
    if compared:
        return FittingNames((*_choices(document, compared), *_plain(of_roles(names, *_VALUES)),
                             *_plain(of_roles(names, "yarn"))))
    if value:
        return FittingNames(_plain(of_roles(names, *_VALUES)))
    return FittingNames(_plain(of_roles(names, "parameter")))


def _roles(first: str, words: list[str], last: str) -> tuple[Role, ...] | None:
    """What a name after some words is, where the words tell it alone."""
    if (first in ("thread", "cut") and len(words) == 1) or \
            (first == "thread" and last == "and") or words in (["knit", "in"], ["change", "to"]):
        return ("parameter", "yarn")
    if first == "swatch" and last == "of":
        return ("yarn",)
    if (first == "swatch" and len(words) == 1) or (first == "section" and last == "in"):
        return ("fabric",)
    if "size" in words and last in ("is", ",") and words[words.index("size") + 1:][:1] == ["is"]:
        return ("size",)
    if (first in ("scrap", "knit") and last == "as") or (first == "mark" and len(words) == 2):
        return ("parameter", "group")
    if first == "sew" and words[1:] == ["down"]:
        return ("parameter", "group")
    if (first == "rehang" and len(words) == 1) or (
            first == "graft" and (len(words) == 1 or last == "to")):
        return _GROUPS
    return None


def _plain(names: Iterable[KnownName]) -> tuple[FittingName, ...]:
    return tuple(FittingName(name.name, name.about, (name.name,)) for name in names)


def _feet() -> Iterator[FittingName]:
    for person, (low, high) in SIZES.items():
        for number in range(low, high + 1):
            name = f"{person}-{number}"
            yield FittingName(name, "A foot by its European shoe size.", (name,))


def _ranges(names: tuple[KnownName, ...]) -> Iterator[FittingName]:
    for name in of_roles(names, "measurement"):
        yield FittingName(name.name, name.about, (
            f"{name.name} ", TabStop("18"), " to ", TabStop("28"), " cm by ", TabStop("1"), " cm"))
    for name in of_roles(names, "let"):
        yield FittingName(name.name, name.about, (
            f"{name.name} ", TabStop("44"), " to ", TabStop("96"), " by ", TabStop("4")))


def _findings(document: Document) -> Iterator[FittingName]:
    """Findings, first those of the last version that could be knitted, and faults last."""
    good = document.last_good
    here = {finding.kind for finding in good.findings} if good is not None else set()
    for name, kind in sorted(KINDS.items(), key=lambda item: (
            item[0] not in here, item[1].severity == "fault")):
        yield FittingName(name, kind.advice, (name,))


def _compared(words: list[str]) -> str:
    """The name that is compared with what comes next (empty: nothing is)."""
    if words[-1:] == ["is"]:
        return words[-2] if len(words) > 1 else ""
    if words[-2:] == ["is", "not"]:
        return words[-3] if len(words) > 2 else ""
    return ""


def _choices(document: Document, name: str) -> Iterator[FittingName]:
    """The choices of an option, or the words with which a technique compares its value."""
    for option in document.examined.script.options:
        if option.name == name:
            for choice in option.values:
                if isinstance(choice, str):
                    yield FittingName(choice, f"One of the choices of '{name}'.", (choice,))


# ---- calls of techniques


def _in_call(document: Document, words: list[str], names: tuple[KnownName, ...]
             ) -> FittingNames | None:
    """Names in a line that begins with ``do``; None where a bed stands."""
    last = words[-1]
    if len(words) == 1:
        calls = tuple(_call(found, names) for found in known_techniques(document))
        return FittingNames(calls, True)
    called = technique(document, words[1])
    if last in ("with", ",") and "with" in words:
        if called is None:
            return FittingNames((), True)
        given = {word for word, after in pairwise(words) if after == "="}
        if words[2] == "on":
            given.add("bed")
        return FittingNames(tuple(
            FittingName(takes.name, _about(takes, called),
                        (f"{takes.name} = ", TabStop(_example(takes, names))))
            for takes in called.takes if takes.name.lower() not in given), True)
    if last == "=" and len(words) > 2:
        return FittingNames(tuple(_arguments(words[-2], called, names)))
    return None


def _call(found: KnownTechnique, names: Sequence[KnownName]) -> FittingName:
    """A technique with the values that it must be given."""
    parts: list[TemplatePart] = [found.name]
    asked = [takes for takes in found.takes if not takes.fallback]
    if any(takes.name == "bed" for takes in found.takes):
        parts.extend((" on ", TabStop("front")))
        asked = [takes for takes in asked if takes.name != "bed"]
    for number, takes in enumerate(asked):
        parts.extend((", " if number else " with ", f"{takes.name} = ",
                      TabStop(_example(takes, names))))
    return FittingName(found.name, found.about, tuple(parts), True)


def _about(takes: Takes, called: KnownTechnique) -> str:
    must = f"Where it is not given it is {takes.fallback}." if takes.fallback else \
        "It must be given."
    return f"A value of '{called.name}'. {must} {called.about}"


def _example(takes: Takes, names: Sequence[KnownName]) -> str:
    """What most likely stands for a value: a name of its own kind, or of its own name."""
    if takes.fallback:
        return takes.fallback
    same = [name.name for name in names if name.name.lower() == takes.name.lower()
            and name.role in (*_VALUES, *_WORDS)]
    if same:
        return same[0]
    if takes.name in ("yarn", "waste", "cord"):
        # The yarn for waste says so in its line.
        yarns = of_roles(names, "yarn")
        said = {"waste": "as waste", "cord": "ravel cord"}.get(takes.name, "")
        fits = [yarn.name for yarn in yarns
                if (said in yarn.about if said else " as " not in yarn.about)]
        if fits:
            return fits[0]
    return takes.name


def _arguments(name: str, called: KnownTechnique | None, names: Sequence[KnownName]
               ) -> Iterator[FittingName]:
    """What can be given for a value of a technique."""
    if name in ("yarn", "waste", "cord"):
        yield from _plain(of_roles(names, "yarn"))
    if called is not None:
        for word in called.words:
            yield FittingName(word, f"A word that '{called.name}' knows.", (word,))
    yield from _plain(of_roles(names, *_VALUES))
    yield from _plain(of_roles(names, *_WORDS))
