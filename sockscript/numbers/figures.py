"""Numbers of several sizes side by side: ``48 (52, 56)``.

While a sentence is put together, the values of all sizes stand in it between three
noncharacters of Unicode, which are reserved for such use inside a program (The Unicode Standard,
23.7) and which ``text.source`` lets nobody bring in; ``words_of`` takes them apart again before
anything is laid out.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple, Union

from sockscript.numbers.quantity import Exact, Quantity, show
from sockscript.text.source import RESERVED

NONE = "–"
"""Stands in the place of a size that does without."""

_OPEN, _NEXT, _CLOSE = tuple(RESERVED)


class Figure(str):
    """The text of a value for all sizes printed; remembers the values (None: a size without)."""

    __slots__ = ("values",)
    values: tuple[Exact | None, ...]

    @classmethod
    def of(cls, values: Sequence[Exact | None], texts: Sequence[str]) -> Figure:
        """Put the texts of all sizes together."""
        figure = cls(side_by_side(texts))
        figure.values = tuple(values)
        return figure

    @property
    def is_one(self) -> bool:
        """Whether the value is 1 in every size (then nouns are in the singular)."""
        return all(value in (1, None) for value in self.values)


Amount = Union[Quantity, Figure]
"""A number of one size, or of several side by side."""


class BySize(NamedTuple):
    """What a place of a text says for each size; with a ``letter``, a table of its section has
    these values under it."""

    texts: tuple[str, ...]
    letter: str = ""

    def __str__(self) -> str:
        if self.letter:
            return f"[{self.letter}]"
        return f"{self.texts[0]} ({', '.join(self.texts[1:])})"


PrintedWords = tuple[Union[str, BySize], ...]
"""A text and, between its pieces, what differs from size to size."""


def side_by_side(texts: Sequence[str]) -> str:
    """The texts of all sizes for one place of a sentence; just the one that all have.

    A size without (``NONE``) keeps its place only where the others differ.
    """
    said = set(texts) - {NONE}
    if len(said) <= 1:
        return said.pop() if said else NONE if texts else ""
    return f"{_OPEN}{_NEXT.join(texts)}{_CLOSE}"


def words_of(text: str) -> PrintedWords:
    """A sentence taken apart where sizes differ."""
    first, *rest = text.split(_OPEN)
    pieces: list[str | BySize] = [first] if first else []
    for part in rest:
        inner, _, after = part.partition(_CLOSE)
        pieces.append(BySize(tuple(inner.split(_NEXT))))
        if after:
            pieces.append(after)
    return tuple(pieces)


def shown(text: str | PrintedWords) -> str:
    """A sentence as it is read: ``knit 48 (52, 56) rows``."""
    return "".join(map(str, words_of(text) if isinstance(text, str) else text))


def quantities(values: Sequence[Quantity | None]) -> Figure:
    """Quantities of several sizes, with their units."""
    return Figure.of([None if q is None else q.value for q in values],
                     [NONE if q is None else show(q) for q in values])


def figure(values: Sequence[int | None]) -> Figure:
    """Whole numbers of several sizes."""
    return Figure.of(values, [NONE if value is None else str(value) for value in values])


def number_of(amount: Amount, one: str, many: str) -> str:
    """``1 row``, ``48 (52, 56) rows``."""
    return f"{amount} {one if amount.is_one else many}"
