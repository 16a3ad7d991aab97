"""Which mentions are of the same thing: names are resolved as they are when a sock is knitted.

A name inside a section or technique is first one given there, then one of the script's own.  A
word that is the name of no value stands for itself: a yarn, a choice, a group of stitches.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from typing import Literal, NamedTuple

from sockscript.fit.foot_table import ROWS
from sockscript.service.mentions import Mention, Role, mentions
from sockscript.service.reading import LinesRead, ReadLine

Space = Literal["value", "word", "fabric", "technique", "size", "finding", "foot"]

SHARED: frozenset[Space] = frozenset({"word", "fabric", "technique", "size"})
"""Names that mean the same in a script and in the files that it uses."""

_SPACES: dict[Role, Space] = {
    "let": "value", "option": "value", "measurement": "value", "parameter": "value",
    "value": "value", "argument": "value", "yarn": "word", "choice": "word", "group": "word",
    "word": "word", "fabric": "fabric", "technique": "technique", "size": "size",
    "finding": "finding", "foot": "foot"}


class Symbol(NamedTuple):
    """One thing that has a name.

    ``scope``: the file (for a value), the section or technique (for a value given there); empty
    for names that files share.
    """

    space: Space
    scope: str
    name: str


class Occurrence(NamedTuple):
    """A mention of a symbol.  ``top``: the line at the left margin that it stands under."""

    symbol: Symbol
    line: int
    mention: Mention
    top: int
    in_technique: bool


class FileNames(NamedTuple):
    """All names of a file, in the order of their places.  ``label`` tells it from other files."""

    reading: LinesRead
    label: str
    occurrences: tuple[Occurrence, ...]
    by_symbol: dict[Symbol, tuple[Occurrence, ...]]
    by_line: dict[int, tuple[Occurrence, ...]]


class _GivenNames(NamedTuple):
    """Names of values: the file's own, and those given in a section or technique."""

    file: set[str]
    local: dict[int, set[str]]
    techniques: dict[int, str]


def file_names(reading: LinesRead, label: str) -> FileNames:
    """Resolve all names of a file; ``label`` tells it from others."""
    given = _given(reading)
    found = tuple(_occurrences(reading, given, label))
    by_symbol: dict[Symbol, list[Occurrence]] = defaultdict(list)
    by_line: dict[int, list[Occurrence]] = defaultdict(list)
    for one in found:
        by_symbol[one.symbol].append(one)
        by_line[one.line].append(one)
    return FileNames(reading, label, found, {key: tuple(all_) for key, all_ in by_symbol.items()},
                     {key: tuple(all_) for key, all_ in by_line.items()})


def _given(reading: LinesRead) -> _GivenNames:
    """Which techniques and local names the lines of a file give."""
    given = _GivenNames(set(), defaultdict(set), {})
    for line in reading.lines:
        at_top = line.number == line.top
        for mention in mentions(line.rule, line.text):
            if mention.role == "technique" and mention.defines and at_top:
                given.techniques[line.number] = mention.name
            if mention.role == "parameter":
                given.local[line.top].add(mention.name)
            elif mention.role in ("let", "option", "measurement") and mention.defines:
                names = given.local[line.top] if mention.role == "let" and not at_top \
                    else given.file
                names.add(mention.name)
            elif mention.role == "foot":
                given.file.update(ROWS)
    return given


def _occurrences(reading: LinesRead, given: _GivenNames, label: str) -> Iterator[Occurrence]:
    for line in reading.lines:
        inside = line.top in given.techniques or line.top_word == "technique"
        for mention in mentions(line.rule, line.text):
            symbol = _symbol(mention, line, given, label)
            yield Occurrence(symbol, line.number, mention, line.top, inside)


def _symbol(mention: Mention, line: ReadLine, given: _GivenNames, label: str) -> Symbol:
    """What is mentioned: a thing of the whole script, or of one technique or section."""
    name = mention.name
    space = _SPACES[mention.role]
    if mention.role == "argument":
        return Symbol("value", f"technique {mention.of}", name)
    if mention.role == "technique" or space not in ("value", "word"):
        return Symbol(space, "", name)
    # Yarns and groups may be told to a technique, choices and what is defined here may not.
    local = name in given.local.get(line.top, ()) and mention.role != "choice" and not (
        mention.defines and mention.role in ("yarn", "option", "measurement"))
    if local:
        technique = given.techniques.get(line.top)
        if technique is not None:
            return Symbol("value", f"technique {technique}", name)
        if name not in given.file:
            return Symbol("value", f"{label}:{line.top}", name)
        # A section gives a value of the script a new one: the two go by one name.
        return Symbol("value", label, name)
    if space == "value" or (mention.role == "word" and name in given.file):
        return Symbol("value", label, name)
    return Symbol("word", "", name)
