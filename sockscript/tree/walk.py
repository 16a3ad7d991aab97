"""Every node of a part of a script."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from sockscript.numbers.quantity import Quantity
from sockscript.text.source import Span
from sockscript.tree import expressions as ex

MOST_PARTS = 1000
"""Of so many parts what was read off them is kept: an editor asks it of each version again."""


@lru_cache(maxsize=MOST_PARTS)
def nodes(root: Any) -> tuple[tuple[Any, int], ...]:
    """The nodes of a statement, an expression or several of them, each with the multiple to which
    it is rounded (1 where it is not)."""
    return tuple(_walk(root, 1))


def _walk(root: Any, multiple: int) -> Iterator[tuple[Any, int]]:
    if isinstance(root, (tuple, list)):
        for part in root:
            yield from _walk(part, multiple)
        return
    attributes = getattr(type(root), "__attrs_attrs__", None)
    if attributes is None:
        return
    yield root, multiple
    if isinstance(root, ex.Round):
        form = root.multiple
        given = form.value.value if isinstance(form, ex.Literally) else \
            {"even": 2, "odd": 2}.get(root.form, 1)
        # Rounding up or down may take away a whole multiple, rounding to the nearest half of one.
        multiple = max(multiple, int(given) * (1 if root.way == "nearest" else 2))
    for attribute in attributes:
        part = getattr(root, attribute.name)
        if not isinstance(part, (Span, Quantity, str)):
            yield from _walk(part, multiple)
