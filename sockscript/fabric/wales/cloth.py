"""The columns of cloth on the needles, and which are neighbours; see ``model.md``."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from itertools import pairwise
from typing import TypeVar

from sockscript.operations.beds import BACK, BEDS, FRONT, Bed, Spot

T = TypeVar("T")


class Cloth:
    """What hangs where, and what is joined to what.

    ``on``: needle to column, front and back bed.  ``beside``: the neighbours of each column, on
    the needles or off.  ``owner``: the column above (or below) a foot that waste yarn frees.
    """

    __slots__ = ("beside", "on", "owner")

    def __init__(self) -> None:
        self.on: tuple[dict[int, int], dict[int, int]] = ({}, {})
        self.beside: list[list[int]] = []
        self.owner: dict[int, int] = {}

    # ---- orders

    def row(self, bed: Bed) -> list[int]:
        """The columns of a bed from left to right."""
        on = self.on[bed]
        return [on[n] for n in sorted(on)]

    def round(self) -> list[int]:
        """The front bed from left to right, then the back bed from right to left."""
        back = self.on[BACK]
        return [*self.row(FRONT), *[back[n] for n in sorted(back, reverse=True)]]

    def rib(self, aside: int) -> list[int]:
        """Both beds by place, the back bed shifted to the right by so many needles."""
        both = list(self.on[FRONT].items())
        both += [(n + aside, column) for n, column in self.on[BACK].items()]
        # The front bed comes first where two needles face each other: at half pitch it does.
        both.sort(key=lambda one: one[0])
        return [column for _, column in both]

    def places(self) -> dict[int, Spot]:
        """Where every column hangs."""
        return {column: (bed, n) for bed in BEDS for n, column in self.on[bed].items()}

    # ---- neighbours

    def linked(self, one: int, two: int) -> bool:
        """Whether two columns are neighbours."""
        return two in self.beside[one]

    def new(self) -> int:
        """A column that has no neighbour yet."""
        self.beside.append([])
        return len(self.beside) - 1

    def link(self, one: int, two: int) -> None:
        """Make two columns neighbours."""
        mine, other = self.beside[one], self.beside[two]
        if one != two and two not in mine:
            mine.append(two)
            other.append(one)

    def unlink(self, one: int, two: int) -> None:
        """Part two neighbours."""
        if self.linked(one, two):
            self.beside[one].remove(two)
            self.beside[two].remove(one)

    def chain(self, columns: Sequence[int], closed: bool) -> None:
        """Columns made side by side: each has the ones before and after it as neighbours."""
        for one, two in pairs(columns, closed):
            self.link(one, two)

    def sew(self, order: Sequence[int], closed: bool, worked: Collection[int] | None) -> None:
        """The yarn runs along an order: who is next to whom in it are neighbours now.

        A column gives up its other neighbours for that.  Where the yarn begins, ends, or goes past
        columns in hold, it keeps one that the yarn does not work.
        ``worked``: the columns that it works, if not all.
        """
        beside: dict[int, list[int]] = {}
        for one, two in pairs(order, closed):
            if worked is None or (one in worked and two in worked):
                beside.setdefault(one, []).append(two)
                beside.setdefault(two, []).append(one)
        for column, along in beside.items():
            kept = [other for other in self.beside[column] if other not in beside]
            for other in self.beside[column][:]:
                if other not in along and (len(along) > 1 or other not in kept[:1]):
                    self.unlink(column, other)
            for other in along:
                self.link(column, other)

    def link_anew(self, order: Sequence[int], closed: bool) -> None:
        """Neighbours by the order alone, whatever they were."""
        for column in order:
            self.cut_out(column)
        self.chain(order, closed)

    # ---- coming and going

    def hang(self, bed: Bed, needle: int, column: int) -> None:
        """Hang a column; where one hangs already, it ends."""
        if needle in self.on[bed]:
            self.close_up(column)
        else:
            self.on[bed][needle] = column

    def lift(self, bed: Bed, needle: int) -> int | None:
        """Take the column off a needle; None if there is none."""
        return self.on[bed].pop(needle, None)

    def close_up(self, column: int) -> None:
        """A column ends; the two beside it are neighbours now."""
        beside = self.beside[column][:]
        self.cut_out(column)
        if len(beside) == 2:
            self.link(*beside)

    def cut_out(self, column: int) -> None:
        """A column ends and leaves edges."""
        for other in self.beside[column][:]:
            self.unlink(column, other)

    def insert(self, bed: Bed, needle: int, column: int) -> bool:
        """A stitch made between its neighbours on the needles, or at the end of the bed.

        False if it has none: it stands in a gap between two edges.
        """
        on = self.on[bed]
        left = max((n for n in on if n < needle), default=None)
        right = min((n for n in on if n > needle), default=None)
        on[needle] = column
        if left is not None and right is not None:
            if not self.linked(on[left], on[right]):
                return False
            self.unlink(on[left], on[right])
            self.link(on[left], column)
            self.link(column, on[right])
            return True
        inner = left if left is not None else right
        if inner is None or not self.beside[on[inner]]:
            return False
        # At the end of a bed of a tube it comes between the two beds.
        end, facing = on[inner], self.on[bed.opposite]
        if facing:
            outward = facing[max(facing) if right is None else min(facing)]
            if self.linked(end, outward):
                self.unlink(end, outward)
                self.link(column, outward)
        self.link(end, column)
        return True

    def feet(self, columns: Sequence[int]) -> list[int]:
        """Feet below (or above) some columns, with the neighbours that the columns have."""
        made = {column: self.new() for column in columns}
        for column, foot in made.items():
            self.owner[foot] = column
            for other in self.beside[column]:
                if other in made:
                    self.link(foot, made[other])
        return list(made.values())


def pairs(some: Sequence[T], closed: bool) -> Iterator[tuple[T, T]]:
    """Which follows which, in a ring also the first the last."""
    return pairwise([*some, *some[:1]] if closed else some)


def gone(before: Iterable[int], mask: int) -> list[int]:
    """The needles of some that a set does not have."""
    return [n for n in before if not mask >> n & 1]
