"""The state of the machine, as the operations work on it."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import NamedTuple, Self, TypeVar

from sockscript.machine.profile import ANY_DOUBLE_BED, Profile
from sockscript.operations import ops
from sockscript.operations.beds import Bed, Side
from sockscript.trace.one_bed import BedStacks
from sockscript.trace.state import BedState, Group, Ledger, Needle, Snapshot, Waiting

_K = TypeVar("_K")


class Tally(NamedTuple):
    """The numbers that still grow when the shape of the machine repeats.

    The bank book does not: what is cast on or made fills a needle, what is joined or dropped
    empties or clears one, and no pass undoes that.
    """

    counter: int
    yarn_loops: dict[str, int]
    yarn_strands: dict[str, int]
    strands: tuple[dict[int, int], dict[int, int]]


class Machine:
    """A machine being worked: the operations change it, everything else reads it."""

    __slots__ = ("_snapshot", "along", "attached", "beds", "bound_off", "carriage", "cast_on",
                 "comb", "counter", "dropped", "ends", "feeder", "gathered", "grafted", "groups",
                 "joined", "last_yarn", "made", "pitch", "profile", "put_right", "racking",
                 "scrapped", "waiting", "weights",
                 "yarn_loops", "yarn_strands")

    def __init__(self, profile: Profile = ANY_DOUBLE_BED) -> None:
        self.profile = profile
        self.beds = (BedStacks(), BedStacks())
        self.carriage: Side = "right"
        self.counter = 0
        self.feeder: str | None = None
        self.along: str | None = None
        self.waiting: dict[str, Waiting] = {}
        self.last_yarn: str | None = None
        """The yarn threaded last, also when it has been cut."""
        self.put_right: frozenset[str] = frozenset()
        """What whoever works the machine has put right unasked (see ``expand.put_right``)."""
        self.attached: tuple[Bed, int] | None = None
        self.pitch: ops.Pitch = "half"
        self.racking = 0
        self.comb = False
        self.weights = False
        self.groups: dict[str, Group] = {}
        self.ends: dict[str, int] = {}
        self.yarn_loops: dict[str, int] = {}
        self.yarn_strands: dict[str, int] = {}
        self.cast_on = self.made = self.joined = self.bound_off = 0
        self.grafted = self.gathered = self.scrapped = self.dropped = 0
        self._snapshot: Snapshot | None = None

    def fork(self) -> Self:
        """An independent copy that goes on from here."""
        twin = type(self).__new__(type(self))
        for name in Machine.__slots__:
            setattr(twin, name, getattr(self, name))
        twin.beds = (self.beds[0].copy(), self.beds[1].copy())
        twin.groups = self.groups.copy()
        twin.waiting = self.waiting.copy()
        twin.ends = self.ends.copy()
        twin.yarn_loops = self.yarn_loops.copy()
        twin.yarn_strands = self.yarn_strands.copy()
        return twin

    # ---- reading

    def bed(self, bed: Bed) -> BedState:
        """One bed as readers see it."""
        return self.beds[bed].view()

    def needle(self, bed: Bed, index: int) -> Needle:
        """One needle in full."""
        return self.beds[bed].needle(index)

    def wanted(self, bed: Bed) -> tuple[int, int]:
        """Empty needles brought into work on purpose: to increase, to cast on."""
        return self.beds[bed].wanted_increase, self.beds[bed].wanted_cast_on

    def ladders(self, bed: Bed) -> Mapping[int, tuple[str, ...]]:
        """Stitches dropped on purpose, by needle."""
        return self.beds[bed].ladders

    @property
    def sizes(self) -> tuple[Fraction | None, Fraction | None]:
        """The stitch-size dial of the front and the back bed."""
        return self.beds[0].size, self.beds[1].size

    @property
    def ledger(self) -> Ledger:
        """The bank book so far."""
        return Ledger(self.cast_on, self.made, self.joined, self.bound_off, self.grafted,
                      self.gathered, self.scrapped, self.dropped)

    def snapshot(self) -> Snapshot:
        """The state now; the same object until the next operation."""
        found = self._snapshot
        if found is None:
            found = self._snapshot = Snapshot(
                self.beds[0].view(), self.beds[1].view(), self.carriage, self.counter,
                self.feeder, self.along, self.attached, self.pitch, self.racking, self.comb,
                self.weights, self.ledger, tuple(self.waiting.items()))
        return found

    def situation(self) -> tuple[object, ...]:
        """All that can matter from here on: everything but the totals and the row counter."""
        front, back = self.beds
        return (self.shape(), front.settings(), back.settings(), self.pitch, self.racking,
                self.comb, self.weights, tuple(self.groups.items()), self.put_right,
                tuple(self.waiting.items()),
                self.last_yarn if self.feeder is None else None)

    # ---- for repeated passes

    def shape(self) -> tuple[object, ...]:
        """All that the next pass depends on; equal shapes go on alike."""
        return (self.carriage, self.attached, self.feeder, self.along, self.beds[0].shape(),
                self.beds[1].shape())

    def tally(self) -> Tally:
        """The numbers that grow from one repeat of the shape to the next."""
        return Tally(self.counter, self.yarn_loops.copy(), self.yarn_strands.copy(),
                     (self.beds[0].strands.copy(), self.beds[1].strands.copy()))

    def grow(self, before: Tally, after: Tally, times: int) -> None:
        """Add what changed from ``before`` to ``after``, ``times`` more."""
        self.counter += (after.counter - before.counter) * times
        _extend(self.yarn_loops, before.yarn_loops, after.yarn_loops, times)
        _extend(self.yarn_strands, before.yarn_strands, after.yarn_strands, times)
        for stacks, was, now in zip(self.beds, before.strands, after.strands, strict=True):
            _extend(stacks.strands, was, now, times)


def _extend(totals: dict[_K, int], before: dict[_K, int], after: dict[_K, int],
            times: int) -> None:
    """Totals after ``times`` more of what led from ``before`` to ``after``."""
    for key, count in after.items():
        totals[key] = count + (count - before.get(key, 0)) * times
