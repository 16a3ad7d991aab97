"""The instructions of all sizes put together, line by line of the script."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Hashable, Sequence
from typing import Any, TypeVar

from attrs import evolve, fields

from sockscript.expand.printed import Printed, Repeating
from sockscript.expand.record import Instruction
from sockscript.numbers.figures import quantities, side_by_side
from sockscript.numbers.quantity import Quantity

T = TypeVar("T")


class Told:
    """One instruction for all sizes.  ``by_size`` has None where a size does without it."""

    __slots__ = ("by_size", "printed", "rounds")

    def __init__(self, by_size: tuple[Instruction | None, ...]) -> None:
        present = [one for one in by_size if one is not None]
        self.by_size = by_size
        self.printed: Printed = blend([one.printed for one in present])
        self.rounds: list[Round] = \
            _rounds(by_size) if isinstance(self.printed, Repeating) else []

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
    """Align the instructions of all sizes and put them together.

    Those of one line that differ in more than numbers and names stay apart.
    """
    return [Told(row) for row in align(lists, lambda one: (one.key, shape(one.printed)))]


def blend(parts: Sequence[Any]) -> Any:
    """One part of an instruction from those of several sizes, which have one ``shape``."""
    first = parts[0]
    if all(part == first for part in parts[1:]):
        return first
    if all(isinstance(part, Quantity) for part in parts):
        return quantities(parts)
    if isinstance(first, tuple) and not isinstance(first, Quantity):
        return tuple(blend(column) for column in zip(*parts, strict=True))
    if hasattr(first, "__attrs_attrs__"):
        return evolve(first, **{one.name: blend([getattr(part, one.name) for part in parts])
                                for one in fields(type(first))})
    return side_by_side([str(part) for part in parts])


def shape(part: Any) -> Hashable:
    """What must be the same for parts of several sizes to be one sentence: all but numbers and
    the texts that may vary."""
    if isinstance(part, Quantity):
        return None
    if isinstance(part, tuple):
        return tuple(map(shape, part))
    if hasattr(part, "__attrs_attrs__"):
        return (type(part), *(shape(getattr(part, one.name)) for one in fields(type(part))
                              if one.name not in getattr(type(part), "varies", ())))
    return part  # type: ignore[no-any-return]


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
    return tuple((one.key, one.printed, tuple(map(_signature, one.rounds)))
                 for one in instructions)


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
