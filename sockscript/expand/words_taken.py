"""Which bare words a technique takes as values: those it compares, and names for stitches."""

from __future__ import annotations

from collections.abc import Iterator
from types import NoneType
from typing import Any, NamedTuple

from sockscript.expand.techniques import DEEPEST_CALL, Library
from sockscript.numbers.quantity import Quantity
from sockscript.text.source import Span
from sockscript.tree import expressions as ex
from sockscript.tree import instructions as ins
from sockscript.tree import statements as st

_NAMELESS = (Span, Quantity, str, int, NoneType)
"""What has no name in it that could be unknown."""


class WordsTaken(NamedTuple):
    """``words``: those that values are compared with, in the technique itself or in one that it
    hands them on to.  ``groups``: values that name stitches which are set aside or taken up."""

    words: set[str]
    groups: set[str]


def words_taken(technique: st.Technique | None, library: Library,
                known: dict[str, WordsTaken], depth: int = 0) -> WordsTaken:
    """The words that a call of a technique may hand over.

    ``known``: what was found of others before, each looked at once; of one that ends up calling
    itself (told elsewhere) what is found so far.  ``depth``: calls on the way to it.
    """
    if technique is None or depth > DEEPEST_CALL:
        return WordsTaken(set(), set())
    if technique.name in known:
        return known[technique.name]
    taken = known[technique.name] = WordsTaken(_words_of(technique), _group_names(technique.body))
    for call in _calls(technique.body):
        inner = words_taken(library.get(call.name), library, known, depth + 1)
        for name, value, _ in call.arguments:
            if isinstance(value, ex.Name):
                taken.words.update(inner.words)
                if name in inner.groups:
                    taken.groups.add(value.name)
    return taken


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
