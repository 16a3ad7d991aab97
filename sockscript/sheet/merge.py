"""The instructions of all sizes put together, line by line of the script."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Hashable, Sequence
from typing import Any, TypeVar

from attrs import evolve, fields

from sockscript.expand.printed import Printed, Repeating
from sockscript.expand.record import Instruction
from sockscript.numbers.figures import NONE, quantities, side_by_side
from sockscript.numbers.quantity import Quantity

T = TypeVar("T")


class MergedInstruction:
    """One instruction for all sizes.  ``by_size`` has None where a size does without it."""

    __slots__ = ("by_size", "printed", "rounds")

    def __init__(self, by_size: tuple[Instruction | None, ...]) -> None:
        self.by_size = by_size
        self.printed: Printed = blend([None if one is None else one.printed for one in by_size])
        self.rounds: list[AlikeRounds] = \
            _rounds(by_size) if isinstance(self.printed, Repeating) else []

    @property
    def present(self) -> list[Instruction]:
        """The instruction of each size that has it."""
        return [one for one in self.by_size if one is not None]


class AlikeRounds:
    """Times round a repeat that are all alike: how many in each size, and what they are."""

    __slots__ = ("body", "times")

    def __init__(self, times: tuple[int, ...], body: list[MergedInstruction]) -> None:
        self.times = times
        self.body = body


def merge(lists: Sequence[Sequence[Instruction]]) -> list[MergedInstruction]:
    """Align the instructions of all sizes and put them together.

    Those of one line that differ in more than numbers and names stay apart: a repeat too, if what
    is repeated is not the same.
    """
    return [MergedInstruction(row) for row in align(lists, _structure)]


def _structure(one: Instruction) -> Hashable:
    """What must be the same in all sizes for one sentence; of a repeat, with all in it."""
    rounds = [tuple(map(_structure, body)) for _, body in _grouped(one.rounds)]
    # Where all times round are alike, their number may differ.
    return one.key, shape(one.printed), tuple(rounds[:1] if len(set(rounds)) == 1 else rounds)


def blend(parts: Sequence[Any]) -> Any:
    """One part of an instruction from those of several sizes, which have one ``shape``; None
    stands for a size that does without."""
    present = [part for part in parts if part is not None]
    first = present[0]
    if all(part == first for part in present):
        return first
    if isinstance(first, Quantity):
        return quantities(parts)
    if isinstance(first, tuple):
        return tuple(blend([None if part is None else part[n] for part in parts])
                     for n in range(len(first)))
    if hasattr(first, "__attrs_attrs__"):
        return evolve(first, **{
            one.name: blend([None if part is None else getattr(part, one.name) for part in parts])
            for one in fields(type(first))})
    return side_by_side([NONE if part is None else str(part) for part in parts])


def shape(part: Any) -> Hashable:
    """What must be the same for parts of several sizes to be one sentence: all but numbers and
    the texts that may vary."""
    kind: type[Any] = type(part)
    if kind is str or kind is int:
        return part  # type: ignore[no-any-return]
    if isinstance(part, Quantity):
        return None
    if isinstance(part, tuple):
        return tuple(map(shape, part))
    if hasattr(kind, "__attrs_attrs__"):
        return (kind, *(shape(getattr(part, name)) for name in _constant(kind)))
    return part  # type: ignore[no-any-return]


_CONSTANT: dict[type, tuple[str, ...]] = {}


def _constant(kind: type[Any]) -> tuple[str, ...]:
    """The fields of a class that are the same in all sizes."""
    names = _CONSTANT.get(kind)
    if names is None:
        varies = getattr(kind, "varies", ())
        names = _CONSTANT[kind] = tuple(
            one.name for one in fields(kind) if one.name not in varies)
    return names


def align(lists: Sequence[Sequence[T]], key: Callable[[T], Hashable]
          ) -> list[tuple[T | None, ...]]:
    """Rows of the items that belong together, in an order that suits every list.

    The first list gives the order; items that it lacks are put in where the others have them.
    """
    rows: list[list[T | None]] = [[item] for item in lists[0]]
    known = list(map(key, lists[0])) if len(lists) > 1 else []
    for done, items in enumerate(lists[1:], start=1):
        new = [key(item) for item in items]
        merged: list[list[T | None]] = []
        if known == new:
            rows = [[*row, item] for row, item in zip(rows, items, strict=True)]
            continue
        keys: list[Hashable] = []
        matcher = difflib.SequenceMatcher(None, known, new, autojunk=False)
        for _, i1, i2, j1, j2 in matcher.get_opcodes():
            keys.extend(known[i1:i2])
            if known[i1:i2] == new[j1:j2]:
                merged.extend([*row, item] for row, item in
                              zip(rows[i1:i2], items[j1:j2], strict=True))
            else:
                merged.extend([*row, None] for row in rows[i1:i2])
                merged.extend([*[None] * done, item] for item in items[j1:j2])
                keys.extend(new[j1:j2])
        rows, known = merged, keys
    return [tuple(row) for row in rows]


def _signature(instructions: Sequence[Instruction]) -> tuple[object, ...]:
    return tuple((one.key, one.printed, tuple(map(_signature, one.rounds)))
                 for one in instructions)


def _rounds(by_size: tuple[Instruction | None, ...]) -> list[AlikeRounds]:
    """Group the times round that are alike, size by size, and put the groups together."""
    grouped = [_grouped(one.rounds) if one is not None else [] for one in by_size]
    rounds = []
    for index in range(max(len(groups) for groups in grouped)):
        times = tuple(groups[index][0] if index < len(groups) else 0 for groups in grouped)
        bodies = [groups[index][1] if index < len(groups) else [] for groups in grouped]
        rounds.append(AlikeRounds(times, merge(bodies)))
    return rounds


def _grouped(rounds: Sequence[list[Instruction]]) -> list[tuple[int, list[Instruction]]]:
    """Times round a repeat: how many in succession are exactly alike, and what they are."""
    groups: list[tuple[int, list[Instruction]]] = []
    last: tuple[object, ...] | None = None
    for body in rounds:
        signature = _signature(body)
        if signature == last:
            groups[-1] = (groups[-1][0] + 1, groups[-1][1])
        else:
            groups.append((1, body))
        last = signature
    return groups
