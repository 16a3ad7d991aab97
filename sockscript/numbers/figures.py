"""Numbers of several sizes side by side: ``48 (52, 56)``."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Union

from sockscript.numbers.quantity import Exact, Quantity, show


class Figure(str):
    """The text of a value for all sizes printed; remembers the values."""

    __slots__ = ("values",)
    values: tuple[Exact, ...]

    @classmethod
    def of(cls, values: Sequence[Exact], texts: Sequence[str]) -> Figure:
        """Put the texts of all sizes together."""
        figure = cls(side_by_side(texts))
        figure.values = tuple(values)
        return figure

    @property
    def is_one(self) -> bool:
        """Whether the value is 1 in every size (then nouns are in the singular)."""
        return all(value == 1 for value in self.values)


Amount = Union[Quantity, Figure]
"""A number of one size, or of several side by side."""


def side_by_side(texts: Sequence[str]) -> str:
    """``48 (52, 56)``; just ``48`` when all sizes have the same."""
    if len(set(texts)) <= 1:
        return texts[0] if texts else ""
    return f"{texts[0]} ({', '.join(texts[1:])})"


def quantities(values: Sequence[Quantity]) -> Figure:
    """Quantities of several sizes, with their units."""
    return Figure.of([q.value for q in values], [show(q) for q in values])


def figure(values: Sequence[int]) -> Figure:
    """Whole numbers of several sizes."""
    return Figure.of(values, [str(value) for value in values])


def number_of(amount: Amount, one: str, many: str) -> str:
    """``1 row``, ``48 (52, 56) rows``."""
    return f"{amount} {one if amount.is_one else many}"
