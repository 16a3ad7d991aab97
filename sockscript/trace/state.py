"""The state of the machine at one moment, as readers of a trace see it."""

from __future__ import annotations

from typing import NamedTuple

from sockscript.operations.beds import FRONT, Bed, Side, highest, lowest, other_side
from sockscript.operations.ops import Action, Position


class Ledger(NamedTuple):
    """The bank book of stitches: what came in and where it went.

    ``cast_on + made`` equals loops on the needles plus all the others, at every moment.
    """

    cast_on: int = 0
    made: int = 0
    joined: int = 0
    bound_off: int = 0
    grafted: int = 0
    gathered: int = 0
    scrapped: int = 0
    dropped: int = 0


class NeedleSets:
    """The needles of a bed by what a pass does with them, worked out from where they stand."""

    __slots__ = ()

    work: int
    upper: int
    hold: int
    slip: int
    action: Action
    hold_respected: bool

    @property
    def in_use(self) -> int:
        """Needles that are not out of work."""
        return self.work | self.upper | self.hold

    @property
    def active(self) -> int:
        """Needles that a pass goes over if the bed acts: those in hold too where hold is cancelled,
        and whatever is set for single needles."""
        if self.hold_respected:
            return self.work | self.upper
        return self.work | self.upper | self.hold

    @property
    def worked(self) -> int:
        """Needles that a pass works if the bed acts: those that slip are left out."""
        return self.active & ~self.slip

    def acting(self, own_way: bool) -> int:
        """Needles that a pass works, which goes the bed's own way in circular or the other way."""
        acts = self.action in ("knit", "tuck") or (self.action == "circular" and own_way)
        return self.worked if acts else 0


class _BedFields(NamedTuple):
    """What is kept of a bed; ``BedState`` adds what is worked out from it."""

    work: int
    """In work (working position only)."""
    upper: int
    """In upper working position."""
    hold: int
    """In hold."""
    loaded: int
    """With at least one loop."""
    double: int
    """With two or more loops."""
    laid: int
    """With at least one strand (tucked or wrapped yarn) over the loops."""
    loops: int
    """How many loops in all."""
    action: Action
    hold_respected: bool
    tuck: int
    """Set to tuck where the bed knits."""
    slip: int
    """Set to slip where the bed knits."""


class BedState(_BedFields, NeedleSets):
    """One bed: needle sets are bit masks, bit 0 leftmost."""

    __slots__ = ()

    @property
    def working(self) -> int:
        """Needles in working or upper working position: they knit wherever the bed does."""
        return self.work | self.upper

    @property
    def in_work(self) -> int:
        """Needles with stitches in working or upper working position: those not in hold."""
        return (self.work | self.upper) & self.loaded

    @property
    def knitting(self) -> int:
        """Needles with stitches that a pass goes over if the bed is not at rest."""
        return self.active & self.loaded

    @property
    def held(self) -> int:
        """Needles with stitches in hold."""
        return self.hold & self.loaded

    @property
    def set_aside(self) -> int:
        """Needles with stitches that wait in hold: the carriage leaves them alone."""
        return self.hold & self.loaded if self.hold_respected else 0

    @property
    def held_at_both_ends(self) -> bool:
        """Whether needles wait in hold beyond both ends of those that knit."""
        held, knitting = self.set_aside, self.in_work
        return bool(held and knitting) and lowest(held) < lowest(knitting) \
            and highest(held) > highest(knitting)

    def stitches(self, where: str = "all") -> int:
        """Needles with stitches: ``all``, those in ``work`` (not held) or those in ``hold``."""
        if where == "work":
            return self.in_work.bit_count()
        return (self.held if where == "hold" else self.loaded).bit_count()

    def edge(self, side: Side) -> int:
        """The outermost needle with a stitch at an end; the bed has some."""
        return lowest(self.loaded) if side == "left" else highest(self.loaded)

    def hold_beyond(self, side: Side) -> int:
        """Needles in hold further out than all that work (all of them if none works)."""
        working = self.working
        if not working:
            return self.hold
        if side == "left":
            return self.hold & ((1 << lowest(working)) - 1)
        return self.hold >> highest(working) + 1 << highest(working) + 1


class Waiting(NamedTuple):
    """A yarn that waits at an edge, uncut: at which side, and the needle where it last knitted."""

    side: Side
    spot: tuple[Bed, int] | None


class Snapshot(NamedTuple):
    """The machine after one operation.  Cheap to keep; the ledger is per moment."""

    front: BedState
    back: BedState
    carriage: Side
    counter: int
    feeder: str | None
    along: str | None
    """A second yarn in the feeder, knitted together with the first."""
    attached: tuple[Bed, int] | None
    pitch: str
    racking: int
    comb: bool
    weights: bool
    ledger: Ledger
    waiting: tuple[tuple[str, Waiting], ...] = ()
    """Yarns that wait at an edge to be taken up again."""

    def bed(self, bed: Bed) -> BedState:
        """One of the two beds."""
        return self.front if bed is FRONT else self.back

    @property
    def bare(self) -> bool:
        """No needle has a stitch."""
        return not (self.front.loaded or self.back.loaded)

    @property
    def on_both(self) -> bool:
        """Both beds have stitches."""
        return bool(self.front.loaded and self.back.loaded)

    @property
    def both_circular(self) -> bool:
        """Both beds are set to circular."""
        return self.front.action == self.back.action == "circular"

    def stitches(self) -> int:
        """Needles with stitches on both beds together."""
        return self.front.loaded.bit_count() + self.back.loaded.bit_count()

    def acting(self, front_circular: Side) -> tuple[int, int]:
        """The needles of the front and the back bed that the next pass works.

        ``front_circular``: the way the carriage moves when the front bed knits in circular.
        """
        to_front = other_side(self.carriage) == front_circular
        return self.front.acting(to_front), self.back.acting(not to_front)

    @property
    def yarns(self) -> tuple[str, ...]:
        """The yarns in the feeder: none, one, or two that are knitted together."""
        return tuple(yarn for yarn in (self.feeder, self.along) if yarn is not None)

    def turns(self, passes: int, front_circular: Side) -> tuple[int, int]:
        """In how many of the next passes the front and the back bed knit anything."""
        to_front = other_side(self.carriage) == front_circular
        return (_turns(self.front, passes, to_front), _turns(self.back, passes, not to_front))


def _turns(state: BedState, passes: int, own_way: bool) -> int:
    if state.action == "rest" or not state.worked:
        return 0
    if state.action != "circular":
        return passes
    return (passes + 1) // 2 if own_way else passes // 2


class Needle(NamedTuple):
    """One needle in full, for whoever asks."""

    position: Position
    loops: tuple[str, ...]
    strands: int


class Group(NamedTuple):
    """Named stitches off the needles: ``scrap``, or freed by waste yarn: ``edge``, ``slit``."""

    kind: str
    stacks: tuple[tuple[str, ...], ...]
