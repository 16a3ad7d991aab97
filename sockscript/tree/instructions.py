"""Tree nodes for what is done at the machine: beds, carriage, yarn and hands.

``at`` is the line.
"""

from __future__ import annotations

from typing import Literal, Union

from sockscript.operations.model import node
from sockscript.operations.ops import Action, Pitch
from sockscript.text.source import Span
from sockscript.tree.expressions import BedName, End, Expr, Needles

# ---- bed set-up


@node
class PitchIs:
    """Half or full pitch."""

    at: Span
    pitch: Pitch


@node
class RackTo:
    """Racking, counted from the middle."""

    at: Span
    steps: Expr
    side: Literal["left", "right"]


@node
class PlaceNeedles:
    """Needles to a position; ``returning`` if they come back from hold."""

    at: Span
    position: Literal["out", "work", "upper", "hold"]
    needles: Needles
    purpose: Literal["none", "increase", "cast-on"]
    returning: bool


@node
class SetBedTo:
    """What a bed does in a pass."""

    at: Span
    bed: BedName
    action: Action


@node
class SetNeedlesTo:
    """What some needles of a bed do when the carriage passes."""

    at: Span
    needles: Needles
    action: Literal["knit", "tuck", "slip"]


@node
class HoldSwitch:
    """Whether needles in hold are left alone."""

    at: Span
    bed: BedName
    respected: bool


@node
class StitchSize:
    """A number of the stitch-size dial, on one bed or on both."""

    at: Span
    size: Expr
    bed: BedName | None


# ---- carriage and yarn


@node
class ThreadYarn:
    """A yarn into the feeder; ``along``: a second one, to be knitted together with it."""

    at: Span
    yarn: str
    along: str | None


@node
class AddYarn:
    """A second yarn into the feeder, beside the one that is knitted with."""

    at: Span
    yarn: str


@node
class ChangeYarn:
    """Another yarn taken up while the one in the feeder waits at the edge."""

    at: Span
    yarn: str


@node
class CutYarn:
    """The yarn in the feeder cut; ``yarn`` if the author says which."""

    at: Span
    yarn: str | None


@node
class CarriageTo:
    """The carriage moved without knitting."""

    at: Span
    end: End


@node
class KnitRows:
    """Rows or rounds, with the bed and the side she says, if she does."""

    at: Span
    count: Expr
    rounds: bool
    bed: BedName | None
    start: End | None


@node
class KnitFor:
    """As many rows or rounds as the finished piece needs for a length; ``even``: an even number."""

    at: Span
    rounds: bool
    even: bool
    what: Literal["foot length", "leg length"]
    length: Expr


@node
class CounterTo:
    """The row counter set."""

    at: Span
    value: Expr


# ---- hands


@node
class TransferTo:
    """Stitches to other needles; ``onto`` if they should meet stitches there."""

    at: Span
    source: Needles
    target: Needles
    onto: bool


@node
class FoldOnto:
    """A group turned round and hung on the facing bed."""

    at: Span
    needles: Needles
    bed: BedName


@node
class MoveEdge:
    """Move the outer stitches of a bed sideways as a group."""

    at: Span
    count: Expr
    end: End
    bed: BedName
    inwards: bool
    by: Expr | None


@node
class HandWork:
    """One of the hand operations that need only needles."""

    at: Span
    kind: Literal["wrap", "cast-on", "bind-off", "gather", "drop", "latch-up"]
    needles: Needles


@node
class ScrapOffAs:
    """Stitches taken off onto waste yarn under a name."""

    at: Span
    needles: Needles
    name: str


@node
class RehangGroup:
    """Named stitches hung on needles again."""

    at: Span
    name: str
    onto: bool
    targets: tuple[Needles, ...]
    turned: bool


@node
class GraftTo:
    """Two beds, or two names of scrapped stitches or marked edges, grafted together."""

    at: Span
    first: Needles
    second: Needles


@node
class TackleDo:
    """The comb or the weights hung, moved or removed."""

    at: Span
    item: Literal["comb", "weights"]
    action: Literal["hang", "move", "remove"]


@node
class MarkAs:
    """The place where waste yarn will come out, under a name."""

    at: Span
    kind: Literal["edge", "slit"]
    name: str
    bed: BedName


@node
class FillFrom:
    """Empty needles filled from the stitch beside them."""

    at: Span
    needles: Needles
    end: End


@node
class KnitInWaste:
    """Waste yarn knitted in by hand over some needles, under the name of the opening."""

    at: Span
    yarn: str
    needles: Needles
    name: str


@node
class SewDownRows:
    """The first or the last rows folded in and sewn down; ``name``: of a marked edge."""

    at: Span
    part: Literal["first", "last"]
    name: str
    rows: Expr


@node
class PickUpAlong:
    """Loops of the last rows of a side edge hung on needles; ``onto``: on top of stitches."""

    at: Span
    rows: Expr
    end: End
    bed: BedName
    onto: bool
    needles: Needles


@node
class SewTheSides:
    """The two side edges of the piece are sewn together."""

    at: Span


WorkStatement = Union[
    PitchIs, RackTo, PlaceNeedles, SetBedTo, SetNeedlesTo, HoldSwitch, StitchSize, ThreadYarn,
    AddYarn, ChangeYarn, CutYarn, CarriageTo, KnitRows, KnitFor, CounterTo, TransferTo, FoldOnto,
    MoveEdge, HandWork, ScrapOffAs, RehangGroup, GraftTo, TackleDo, MarkAs, FillFrom,
    KnitInWaste, SewDownRows, SewTheSides, PickUpAlong,
]
