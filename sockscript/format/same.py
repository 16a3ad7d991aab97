"""Whether two scripts mean the same: the same tree apart from the places in it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

import attrs

from sockscript.text.layout import without_comment
from sockscript.text.source import Source, Span
from sockscript.tree.script import Script


def comments(source: Source) -> list[str]:
    """What stands after each ``#`` of a source, from the first to the last."""
    rests = (raw[len(without_comment(raw)):].strip() for raw in source.lines)
    return [rest for rest in rests if rest]


def same_meaning(one: Script, other: Script) -> bool:
    """Whether two scripts have equal trees, the places left out, and the same comments."""
    return same_tree(one, other) and comments(one.source) == comments(other.source)


@cache
def _fields(kind: type) -> tuple[str, ...] | None:
    """The names of what a node of a tree has; None: it is no node."""
    return tuple(field.name for field in attrs.fields(kind)) if attrs.has(kind) else None


def same_tree(one: Any, other: Any) -> bool:
    """Whether two trees, or parts of them, are equal but for their places."""
    kind = one.__class__
    if kind is not other.__class__:
        return False
    if kind is Span or kind is Source:
        return True
    fields = _fields(kind)
    if fields is not None:
        return all(same_tree(getattr(one, name), getattr(other, name)) for name in fields)
    if isinstance(one, Mapping):
        return (list(one) == list(other)
                and all(same_tree(value, other[key]) for key, value in one.items()))
    if isinstance(one, (tuple, list)):
        return len(one) == len(other) and all(map(same_tree, one, other))
    return bool(one == other)
