"""Numbers of several sizes side by side: ``48 (52, 56)``."""

from __future__ import annotations

from collections.abc import Sequence

from sockscript.expand.record import Item
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


def side_by_side(texts: Sequence[str]) -> str:
    """``48 (52, 56)``; just ``48`` when all sizes have the same."""
    if len(set(texts)) <= 1:
        return texts[0] if texts else ""
    return f"{texts[0]} ({', '.join(texts[1:])})"


def blend(items: Sequence[Item]) -> Item | Figure:
    """One item from those of several sizes, part by part."""
    first = items[0]
    if isinstance(first, Quantity):
        quantities = [item for item in items if isinstance(item, Quantity)]
        return Figure.of([q.value for q in quantities], [show(q) for q in quantities])
    if isinstance(first, tuple) and all(
            isinstance(item, tuple) and len(item) == len(first) for item in items):
        return tuple(blend([item[n] for item in items])  # type: ignore[misc]
                     for n in range(len(first)))
    return side_by_side([str(item) for item in items])


def figure(values: Sequence[int]) -> Figure:
    """Whole numbers of several sizes."""
    return Figure.of(values, [str(value) for value in values])


def number_of(text: object, one: str, many: str) -> str:
    """``1 row``, ``48 (52, 56) rows``."""
    single = text.is_one if isinstance(text, Figure) else str(text) == "1"
    return f"{text} {one if single else many}"
