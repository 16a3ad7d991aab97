"""Which bare words a technique takes as values: those it compares, and names for stitches."""

from __future__ import annotations

from collections.abc import Iterator
from types import NoneType
from typing import Any, NamedTuple

from sockscript.expand.techniques import Library
from sockscript.numbers.quantity import Quantity
from sockscript.text.source import Span
from sockscript.tree import expressions as ex
from sockscript.tree import instructions as ins
from sockscript.tree import statements as st

_NAMELESS = (Span, Quantity, str, int, NoneType)
"""What has no name in it that could be unknown."""


MOST_FOLLOWED = 60
"""Techniques that one call is followed through; those shipped reach at most ten."""


class WordsTaken(NamedTuple):
    """``words``: those that values are compared with, in the technique itself or in one that it
    hands them on to.  ``groups``: values that name stitches which are set aside or taken up."""

    words: set[str]
    groups: set[str]


class _Own(NamedTuple):
    """What a technique takes by its own lines, and what it hands on by name."""

    taken: WordsTaken
    calls: tuple[tuple[str, dict[str, str]], ...]


class HandedOn:
    """Follows values from a call through the techniques that it reaches."""

    def __init__(self, library: Library) -> None:
        self._library = library
        self._own: dict[str, _Own] = {}

    def words_taken(self, technique: st.Technique | None) -> WordsTaken:
        """The words that a call of a technique may hand over."""
        found = WordsTaken(set(), set())
        waiting: list[tuple[st.Technique, dict[str, str] | None]] = []
        waiting += [(technique, None)] if technique is not None else []
        seen: set[tuple[str, tuple[str, ...]]] = set()
        while waiting and len(seen) < MOST_FOLLOWED:
            inner, names = waiting.pop()
            key = inner.name, tuple(f"{name}={value}" for name, value in (names or {}).items())
            if key in seen:
                continue
            seen.add(key)
            taken, calls = self._of(inner)
            found.words.update(taken.words)
            found.groups.update(taken.groups if names is None else
                                (names[name] for name in taken.groups if name in names))
            for call, given in calls:
                other = self._library.get(call)
                handed = given if names is None else {
                    name: names[value] for name, value in given.items() if value in names}
                if other is not None and handed:
                    waiting.append((other, handed))
        return found

    def _of(self, technique: st.Technique) -> _Own:
        known = self._own.get(technique.name)
        if known is None:
            known = self._own[technique.name] = _Own(
                WordsTaken(_words_of(technique), _group_names(technique.body)),
                tuple((call.name, {name: value.name for name, value, _ in call.arguments
                                   if isinstance(value, ex.Name)})
                      for call in _calls(technique.body)))
        return known


def choices(technique: st.Technique | None, parameter: str) -> set[str]:
    """The words that one value of a technique is compared with, with the one it falls back on."""
    if technique is None:
        return set()
    found = {_word(one.default) for one in technique.parameters if one.name == parameter}
    return (found | _compared(technique.body, parameter)) - {""}


def _word(value: object) -> str:
    return value.name if isinstance(value, ex.Name) \
        else value.word if isinstance(value, ex.Word) else ""


def _compared(node: Any, parameter: str) -> set[str]:
    if isinstance(node, tuple):
        return set().union(*(_compared(part, parameter) for part in node)) if node else set()
    if isinstance(node, ex.Compare) and isinstance(node.left, ex.Name) \
            and node.left.name == parameter:
        return {_word(node.right)}
    if hasattr(type(node), "__attrs_attrs__"):
        return _compared(tuple(fields(node)), parameter)
    return set()


def fields(node: Any) -> Iterator[Any]:
    """What a node of the tree consists of, without what has no name in it."""
    for attribute in type(node).__attrs_attrs__:
        value = getattr(node, attribute.name)
        if not isinstance(value, _NAMELESS):
            yield value


def _calls(body: st.Block) -> Iterator[st.Do]:
    for line in body:
        if isinstance(line, st.Do):
            yield line
        for block in ("body", "otherwise"):
            yield from _calls(getattr(line, block, ()))


def _group_names(body: Any) -> set[str]:
    """The names by which a technique calls stitches that it sets aside."""
    found: set[str] = set()
    for line in body:
        if isinstance(line, (ins.MarkAs, ins.RehangGroup, ins.ScrapOffAs, ins.SewDownRows,
                             ins.KnitInWaste)):
            found.add(line.name)
        elif isinstance(line, ins.GraftTo):
            found |= {side.bed.word for side in (line.first, line.second) if not side.pieces}
        for block in ("body", "otherwise"):
            found |= _group_names(getattr(line, block, ()))
    return found


def _words_of(node: Any) -> set[str]:
    """The words that a technique compares its values with."""
    if isinstance(node, tuple):
        return set().union(*(_words_of(part) for part in node)) if node else set()
    found: set[str] = set()
    if isinstance(node, ex.Compare) and isinstance(node.right, ex.Name):
        found.add(node.right.name)
    if isinstance(node, st.Parameter) and isinstance(node.default, ex.Name):
        found.add(node.default.name)
    if hasattr(type(node), "__attrs_attrs__"):
        for part in fields(node):
            found |= _words_of(part)
    return found
