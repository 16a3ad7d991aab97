"""One bed of the machine: which needle is where, and the loops and strands on it.

Needle sets are bit masks.  Single loops are one mask for each yarn; only a needle with two or
more loops has a stack of its own.  Strands are kept as ``mask -> how many on each``, so that a
whole row of tuck is one entry.
"""

from __future__ import annotations

from fractions import Fraction

from sockscript.operations.beds import indices
from sockscript.operations.ops import Action
from sockscript.trace.state import BedState, Needle, NeedleSets

Stack = tuple[str, ...]

MOST_STRANDS = 4
"""Tucked or wrapped strands that a needle takes and still knits off: common practice (three or
four tucks), no source."""


class BedStacks(NeedleSets):
    """The mutable state of one bed."""

    __slots__ = ("_view", "action", "double", "hold", "hold_respected", "ladders", "loaded",
                 "size", "slip", "stacks", "strands", "tuck", "upper", "wanted_cast_on",
                 "wanted_increase", "work", "yarns")

    def __init__(self) -> None:
        self.work = 0
        self.upper = 0
        self.hold = 0
        self.loaded = 0
        self.double = 0
        self.yarns: dict[str, int] = {}
        self.stacks: dict[int, Stack] = {}
        self.strands: dict[int, int] = {}
        self.wanted_increase = 0
        self.wanted_cast_on = 0
        self.ladders: dict[int, Stack] = {}
        self.action: Action = "rest"
        self.tuck = 0
        self.slip = 0
        self.hold_respected = False
        self.size: Fraction | None = None
        self._view: BedState | None = None

    def copy(self) -> BedStacks:
        """An independent copy."""
        twin = BedStacks.__new__(BedStacks)
        twin.work, twin.upper, twin.hold = self.work, self.upper, self.hold
        twin.loaded, twin.double = self.loaded, self.double
        twin.yarns = self.yarns.copy()
        twin.stacks = self.stacks.copy()
        twin.strands = self.strands.copy()
        twin.wanted_increase, twin.wanted_cast_on = self.wanted_increase, self.wanted_cast_on
        twin.ladders = self.ladders.copy()
        twin.tuck, twin.slip = self.tuck, self.slip
        twin.action, twin.hold_respected, twin.size = self.action, self.hold_respected, self.size
        twin._view = self._view
        return twin

    # ---- reading

    @property
    def loops(self) -> int:
        """How many loops the bed holds."""
        count = self.loaded.bit_count()
        if self.stacks:
            count += sum(len(stack) - 1 for stack in self.stacks.values())
        return count

    def view(self) -> BedState:
        """The bed as readers of a trace see it; the same object until something changes."""
        view = self._view
        if view is None:
            laid = 0
            for mask in self.strands:
                laid |= mask
            view = self._view = BedState(self.work, self.upper, self.hold, self.loaded,
                                         self.double, laid, self.loops, self.action,
                                         self.hold_respected, self.tuck, self.slip)
        return view

    def touched(self) -> None:
        """Forget the view; every change must call this."""
        self._view = None

    def loops_on(self, mask: int) -> int:
        """How many loops the needles of ``mask`` hold together."""
        count = (self.loaded & mask).bit_count()
        if self.double & mask:
            count += sum(len(stack) - 1 for n, stack in self.stacks.items() if mask >> n & 1)
        return count

    def stack(self, n: int) -> Stack:
        """The loops on one needle, oldest first."""
        bit = 1 << n
        if not self.loaded & bit:
            return ()
        if self.double & bit:
            return self.stacks[n]
        for yarn, mask in self.yarns.items():
            if mask & bit:
                return (yarn,)
        raise ValueError(n)

    def strands_on(self, n: int) -> int:
        """How many strands lie on one needle."""
        if not self.strands:
            return 0
        return sum(count for mask, count in self.strands.items() if mask >> n & 1)

    def heaped(self, mask: int) -> int:
        """The needles of ``mask`` with more than ``MOST_STRANDS`` strands."""
        at_least = [mask] + [0] * (MOST_STRANDS + 1)
        for laid, count in self.strands.items():
            for more in range(MOST_STRANDS + 1, 0, -1):
                at_least[more] |= at_least[max(0, more - count)] & laid
        return at_least[-1]

    def needle(self, n: int) -> Needle:
        """One needle in full."""
        bit = 1 << n
        position = ("work" if self.work & bit else "upper" if self.upper & bit
                    else "hold" if self.hold & bit else "out")
        return Needle(position, self.stack(n), self.strands_on(n))  # type: ignore[arg-type]

    def shape(self) -> tuple[object, ...]:
        """All that the next pass depends on, without the numbers that only grow.

        Strands count up to the number at which they are told of.
        """
        return (self.work, self.upper, self.hold, self.loaded, self.double,
                self.wanted_increase, self.wanted_cast_on,
                tuple([(mask, min(count, MOST_STRANDS + 1))
                       for mask, count in self.strands.items()]),
                tuple(sorted([item for item in self.yarns.items() if item[1]])),
                tuple(self.stacks.items()))

    def settings(self) -> tuple[object, ...]:
        """What is set on the carriage for this bed, and the ladders of dropped stitches."""
        return (self.action, self.tuck, self.slip, self.hold_respected, self.size,
                tuple(self.ladders.items()))

    # ---- changing

    def clear(self, mask: int) -> None:
        """Empty the needles of ``mask``: loops and strands go."""
        self._view = None
        if self.double & mask:
            for n in [n for n in self.stacks if mask >> n & 1]:
                del self.stacks[n]
            self.double &= ~mask
        keep = ~mask
        self.loaded &= keep
        for yarn in self.yarns:
            self.yarns[yarn] &= keep
        self.clear_strands(mask)

    def clear_strands(self, mask: int) -> None:
        """Take the strands off the needles of ``mask``."""
        if not self.strands:
            return
        left: dict[int, int] = {}
        for old, count in self.strands.items():
            rest = old & ~mask
            if rest:
                left[rest] = left.get(rest, 0) + count
        self.strands = left

    def lay(self, mask: int, count: int = 1) -> None:
        """Lay ``count`` strands over each needle of ``mask``."""
        if mask and count:
            self._view = None
            self.strands[mask] = self.strands.get(mask, 0) + count

    def form(self, mask: int, yarn: str) -> int:
        """New loops of ``yarn`` through all on the needles of ``mask``; returns loops joined."""
        self._view = None
        joined = 0
        doubles = self.double & mask
        if doubles:
            for n in indices(doubles):
                joined += len(self.stacks.pop(n)) - 1
            self.double &= ~mask
        keep = ~mask
        for other in self.yarns:
            self.yarns[other] &= keep
        self.yarns[yarn] = self.yarns.get(yarn, 0) | mask
        self.loaded |= mask
        if self.strands:
            self.clear_strands(mask)
        if self.wanted_increase or self.wanted_cast_on:
            self.wanted_increase &= keep
            self.wanted_cast_on &= keep
        return joined

    def lift(self, n: int) -> tuple[Stack, int]:
        """Take everything off one needle."""
        stack, strands = self.stack(n), self.strands_on(n)
        self.clear(1 << n)
        return stack, strands

    def put(self, n: int, stack: Stack, strands: int = 0) -> int:
        """Hang a stack on top of what a needle holds; returns how many loops it holds now."""
        self._view = None
        bit = 1 << n
        whole = self.stack(n) + stack
        if len(whole) == 1:
            self.yarns[whole[0]] = self.yarns.get(whole[0], 0) | bit
        elif whole:
            for yarn in self.yarns:
                self.yarns[yarn] &= ~bit
            self.stacks[n] = whole
            self.double |= bit
        if whole:
            self.loaded |= bit
            self.wanted_increase &= ~bit
            self.wanted_cast_on &= ~bit
            self.lay(bit, strands)
        return len(whole)

    def place(self, mask: int, position: str) -> None:
        """Push needles to a position (loops are not looked at)."""
        self._view = None
        keep = ~mask
        self.work &= keep
        self.upper &= keep
        self.hold &= keep
        if position == "work":
            self.work |= mask
        elif position == "upper":
            self.upper |= mask
        elif position == "hold":
            self.hold |= mask
        else:
            self.wanted_increase &= keep
            self.wanted_cast_on &= keep
