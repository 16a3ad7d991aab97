"""The instructions of all sizes put together, line by line of the script."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Hashable, Mapping, Sequence
from typing import TypeVar

from sockscript.expand.record import Instruction, Item
from sockscript.sheet.figures import Figure, blend

T = TypeVar("T")


class Told:
    """One instruction for all sizes.  ``by_size`` has None where a size does without it."""

    __slots__ = ("by_size", "kind", "rounds", "values")

    def __init__(self, by_size: tuple[Instruction | None, ...]) -> None:
        present = [one for one in by_size if one is not None]
        self.by_size = by_size
        self.kind = present[0].kind
        self.values: Mapping[str, Item | Figure] = {
            name: blend([one.values[name] for one in present]) for name in present[0].values}
        self.rounds: list[Round] = _rounds(by_size) if self.kind == "repeat" else []

    @property
    def present(self) -> list[Instruction]:
        """The instruction of each size that has it."""
        return [one for one in self.by_size if one is not None]


class Round:
    """Times round a repeat that are all alike: how many in each size, and what they are."""

    __slots__ = ("body", "times")

    def __init__(self, times: tuple[int, ...], body: list[Told]) -> None:
        self.times = times
        self.body = body


def merge(lists: Sequence[Sequence[Instruction]]) -> list[Told]:
    """Align the instructions of all sizes and put them together."""
    return [Told(row) for row in align(lists, lambda one: (one.key, one.kind))]


def align(lists: Sequence[Sequence[T]], key: Callable[[T], Hashable]
          ) -> list[tuple[T | None, ...]]:
    """Rows of the items that belong together, in an order that suits every list.

    The first list gives the order; items that it lacks are put in where the others have them.
    """
    rows: list[list[T | None]] = [[item] for item in lists[0]]
    for done, items in enumerate(lists[1:], start=1):
        known: list[Hashable] = [key(next(i for i in row if i is not None)) for row in rows]
        new = [key(item) for item in items]
        merged: list[list[T | None]] = []
        if known == new:
            merged = [[*row, item] for row, item in zip(rows, items, strict=True)]
        else:
            matcher = difflib.SequenceMatcher(None, known, new, autojunk=False)
            for _, i1, i2, j1, j2 in matcher.get_opcodes():
                same = known[i1:i2] == new[j1:j2]
                if same:
                    merged.extend([*row, item] for row, item in
                                  zip(rows[i1:i2], items[j1:j2], strict=True))
                else:
                    merged.extend([*row, None] for row in rows[i1:i2])
                    merged.extend([*[None] * done, item] for item in items[j1:j2])
        rows = merged
    return [tuple(row) for row in rows]


def _signature(instructions: Sequence[Instruction]) -> tuple[object, ...]:
    return tuple((one.key, one.kind, tuple(one.values.items()),
                  tuple(_signature(body) for body in one.rounds)) for one in instructions)


def _rounds(by_size: tuple[Instruction | None, ...]) -> list[Round]:
    """Group the times round that are alike, size by size, and put the groups together."""
    grouped: list[list[tuple[int, list[Instruction]]]] = []
    for one in by_size:
        groups: list[tuple[int, list[Instruction]]] = []
        last: tuple[object, ...] | None = None
        for body in one.rounds if one is not None else ():
            signature = _signature(body)
            if signature == last:
                groups[-1] = (groups[-1][0] + 1, groups[-1][1])
            else:
                groups.append((1, body))
            last = signature
        grouped.append(groups)
    rounds = []
    for index in range(max(len(groups) for groups in grouped)):
        times = tuple(groups[index][0] if index < len(groups) else 0 for groups in grouped)
        bodies = [groups[index][1] if index < len(groups) else [] for groups in grouped]
        rounds.append(Round(times, merge(bodies)))
    return rounds
