"""The primitive operations: all that the simulator knows how to do.

Everything a script says (techniques included) comes down to a list of these.
Needle sets are bit masks (see ``beds``); a pair of masks is ``(front, back)``.
What each one does at the machine is written in ``sockscript/trace/machine-model.md``.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Literal, Union

from sockscript.operations.beds import FRONT, Bed, Side
from sockscript.operations.model import model

Position = Literal["out", "work", "upper", "hold"]
Action = Literal["knit", "rest", "tuck", "circular"]
NeedleAction = Literal["knit", "tuck", "slip"]
Pitch = Literal["half", "full"]
Purpose = Literal["none", "increase", "cast-on"]
Move = tuple[Bed, int, Bed, int]
"""One loop moved by hand: from bed, from needle, to bed, to needle."""


class OnBeds:
    """An operation on a set of needles of each bed."""

    __slots__ = ()
    front: int
    back: int

    def on(self, bed: Bed) -> int:
        """The needles of one bed."""
        return self.front if bed is FRONT else self.back


@model
class SetPitch:
    """Shift the beds to half pitch (needles between each other) or full pitch (point to point)."""

    pitch: Pitch


@model
class Rack:
    """Rack the back bed to ``steps`` needles right of the middle (negative: left of it)."""

    steps: int


@model
class Place(OnBeds):
    """Push needles to a position.  ``purpose`` says why an empty needle is brought into work."""

    position: Position
    front: int
    back: int
    purpose: Purpose = "none"


@model
class SetBed:
    """What a bed does when the carriage passes."""

    bed: Bed
    action: Action


@model
class SetNeedles(OnBeds):
    """What some needles do when their bed knits: knit too, tuck, or slip."""

    action: NeedleAction
    front: int
    back: int


@model
class SetHold:
    """Whether needles in hold on this bed are left alone (``respected``) or knit."""

    bed: Bed
    respected: bool


@model
class SetSize:
    """Set the stitch-size dial of the beds in ``beds``."""

    beds: tuple[Bed, ...]
    size: Fraction


@model
class Thread:
    """Put a yarn in the feeder."""

    yarn: str


@model
class Add:
    """Put a second yarn into the feeder, to be knitted together with the one that is there."""

    yarn: str


@model
class Change:
    """Take up another yarn and let the one in the feeder wait at the edge, uncut."""

    yarn: str


@model
class Cut:
    """Cut the yarn in the feeder and take it out; both if there are two and none is named."""

    yarn: str | None = None


@model
class MoveCarriage:
    """Take the carriage to an end of the bed without knitting."""

    side: Side


@model
class Intent:
    """What the author says a pass does, so that a forgotten setting can be told.

    ``beds``: the beds that should work; empty when she did not say.
    ``rounds``: she counts rounds of a tube.  ``start``: the side she starts from.
    """

    beds: tuple[Bed, ...] = ()
    rounds: bool = False
    start: Side | None = None


@model
class Knit:
    """``passes`` carriage passes one after another with nothing done in between."""

    passes: int
    intent: Intent = Intent()


@model
class ResetCounter:
    """Set the row counter."""

    value: int


@model
class Transfer:
    """Lift loops, all at once, and hang them on other needles.

    ``onto``: the author means them to land on loops (a decrease).
    """

    moves: tuple[Move, ...]
    onto: bool = False


@model
class Fold:
    """Turn a group of stitches round about a fold line and hang it on the facing bed."""

    moves: tuple[Move, ...]


@model
class Fashion:
    """Move a group of edge stitches sideways; the needles in ``out`` then go out of work."""

    bed: Bed
    moves: tuple[tuple[int, int], ...]
    out: int


@model
class Wrap:
    """Lay the working yarn round a needle."""

    bed: Bed
    needle: int


@model
class HandsOnBeds(OnBeds):
    """Work by hand that needs only the needles."""

    front: int
    back: int


@model
class CastOn(HandsOnBeds):
    """Cast on by hand with the yarn in the feeder."""


@model
class BindOff(HandsOnBeds):
    """Bind off; the emptied needles go out of work."""


@model
class ScrapOff:
    """Take stitches off onto waste yarn under a name."""

    bed: Bed
    needles: int
    name: str


@model
class Rehang:
    """Hang a named group (scrapped off, an edge or a slit) on needles, in the order given."""

    name: str
    targets: tuple[tuple[Bed, int], ...]
    turned: bool = False
    onto: bool = False


@model
class Graft(HandsOnBeds):
    """Graft the stitches of one set to those of the other; the needles go out of work."""


@model
class GraftGroups:
    """Graft two named rows of stitches together: scrapped ones, or the open loops of an edge."""

    first: str
    second: str


@model
class Gather(HandsOnBeds):
    """Draw a yarn end through the stitches, pull up and fasten; the needles go out of work."""


@model
class Tackle:
    """Hang, move or remove the comb or the weights."""

    item: Literal["comb", "weights"]
    action: Literal["hang", "move", "remove"]


@model
class Drop(HandsOnBeds):
    """Drop stitches on purpose; they can be latched up again."""


@model
class LatchUp(HandsOnBeds):
    """Bring dropped stitches back up with a latch tool."""


@model
class Mark:
    """Name the place where waste yarn will come out.

    ``edge``: it frees the loops above it (a cast-on edge).
    ``slit``: it frees the loops below and above (an afterthought opening).
    ``yarn``: the yarn of the freed loops.
    """

    name: str
    kind: Literal["edge", "slit"]
    bed: Bed
    yarn: str


@model
class SewDown:
    """Fold the first or last ``rows`` of the piece to the inside and sew their edge down there.

    ``name``: a marked edge with open loops.  Stitches still on the needles are taken off.
    """

    part: Literal["first", "last"]
    rows: int
    name: str = ""


@model
class PickUp:
    """Pull loops out of the edge at a side of a bed: a second pull, which takes no stitch.

    ``rows``: the last so many that reach it.  ``targets``: the last row first.  ``yarn``: its own.
    """

    bed: Bed
    side: Side
    rows: int
    targets: tuple[tuple[Bed, int], ...]
    yarn: str
    onto: bool = False


@model
class SewSides:
    """The two side edges of the piece are sewn together when it is finished."""


@model
class KnitIn:
    """Knit a length of ``waste`` over some needles by hand, as the place of an opening.

    What comes out later are the loops below and above it, of ``yarn``, under ``name``.
    """

    bed: Bed
    needles: int
    waste: str
    name: str
    yarn: str


@model
class Fill:
    """Lift the purl bump of a neighbouring stitch onto an empty needle."""

    bed: Bed
    needle: int
    neighbour: int


Op = Union[
    SetPitch, Rack, Place, SetBed, SetHold, SetSize, Thread, Add, Change, Cut, MoveCarriage, Knit,
    ResetCounter, Transfer, Fold, Fashion, Wrap, CastOn, BindOff, ScrapOff, Rehang, Graft,
    GraftGroups, Gather, Tackle, Drop, LatchUp, Mark, Fill, KnitIn, SewDown, SewSides, PickUp,
    SetNeedles,
]
