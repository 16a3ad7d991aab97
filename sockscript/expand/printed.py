"""What a line prints: one class for each kind of instruction, with what its sentence needs.

``kind``: its name in data for other tools.  mypy names every ``match`` that lacks a ``Leaf``.
"""

from __future__ import annotations

from typing import ClassVar, Literal, Union

from sockscript.expand.described import ConditionSaid, EndWord, NeedleSet
from sockscript.numbers.figures import Amount
from sockscript.operations.beds import Side
from sockscript.operations.model import model
from sockscript.operations.ops import Action, NeedleAction, Pitch

WordPart = Union[str, Amount]
"""A piece of printed words: as the author wrote it, or a value."""

# ---- bed set-up


@model
class Pitching:
    """The beds at half or full pitch."""

    kind: ClassVar[str] = "pitch"
    pitch: Pitch


@model
class Racking:
    """The back bed racked to a side of the middle; 0 steps: back to the middle."""

    kind: ClassVar[str] = "rack"
    steps: Amount
    side: Side


@model
class Placing:
    """Needles to a position; ``returning``: from hold."""

    kind: ClassVar[str] = "place"
    position: Literal["out", "work", "upper", "hold"]
    needles: NeedleSet
    purpose: Literal["none", "increase", "cast-on"]
    returning: bool


@model
class BedSetting:
    """What a bed does in a pass."""

    kind: ClassVar[str] = "set-bed"
    bed: str
    action: Action


@model
class NeedleSetting:
    """What some needles do where their bed knits."""

    kind: ClassVar[str] = "set-needles"
    needles: NeedleSet
    action: NeedleAction


@model
class HoldSetting:
    """Whether held needles knit."""

    kind: ClassVar[str] = "hold-switch"
    bed: str
    respected: bool


@model
class Dialling:
    """The stitch size; ``bed`` empty: on all beds."""

    kind: ClassVar[str] = "stitch-size"
    size: Amount
    bed: str


# ---- carriage and yarn


@model
class Threading:
    """A yarn, in the author's words, into the feeder; ``along``: a second one with it."""

    kind: ClassVar[str] = "thread"
    yarn: str
    along: str


@model
class Adding:
    """A second yarn to be knitted together with the ``first``."""

    kind: ClassVar[str] = "add"
    yarn: str
    first: str


@model
class Changing:
    """Another yarn taken up; ``waits``: the one that stays at the edge, if there was one."""

    kind: ClassVar[str] = "change"
    yarn: str
    waits: str


@model
class Cutting:
    """A yarn cut; ``yarn`` empty: there was none.  ``along``: cut with it; ``left``: goes on."""

    kind: ClassVar[str] = "cut"
    yarn: str
    along: str
    left: str


@model
class CarriageMove:
    """The carriage to a side without knitting."""
    varies: ClassVar[tuple[str, ...]] = ("side",)
    kind: ClassVar[str] = "move-carriage"
    side: Side


@model
class Knitting:
    """Rows or rounds; ``bed`` and ``start`` are empty where the author does not say."""
    varies: ClassVar[tuple[str, ...]] = ("start",)
    kind: ClassVar[str] = "knit"
    count: Amount
    rounds: bool
    bed: str
    start: Side | Literal[""]


@model
class Counting:
    """The row counter set."""

    kind: ClassVar[str] = "counter"
    value: Amount


# ---- hands


@model
class Transferring:
    """Stitches to other needles; a ``target`` without pieces: those that face them."""

    kind: ClassVar[str] = "transfer"
    needles: NeedleSet
    target: NeedleSet
    onto: bool


@model
class Folding:
    """A group turned round and hung on the other bed."""

    kind: ClassVar[str] = "fold"
    needles: NeedleSet
    bed: str


@model
class EdgeMove:
    """Outer stitches moved sideways as a group."""

    kind: ClassVar[str] = "move-edge"
    count: Amount
    end: EndWord
    bed: str
    inwards: bool
    by: Amount


HandWord = Literal["wrap", "cast-on", "bind-off", "gather", "drop", "latch-up"]


@model
class ByHand:
    """Hand work that needs only needles."""

    work: HandWord
    needles: NeedleSet

    @property
    def kind(self) -> str:
        """The work itself."""
        return self.work


@model
class Scrapping:
    """Stitches taken off onto waste yarn under a name."""

    kind: ClassVar[str] = "scrap-off"
    needles: NeedleSet
    name: str


@model
class Rehanging:
    """Named stitches hung on needles again."""

    kind: ClassVar[str] = "rehang"
    name: str
    targets: tuple[NeedleSet, ...]
    onto: bool
    turned: bool


@model
class PickingUp:
    """Loops of a side edge hung on needles; ``loops``: how many."""

    kind: ClassVar[str] = "pick-up"
    loops: Amount
    count: Amount
    end: EndWord
    bed: str
    onto: bool
    needles: NeedleSet


@model
class Grafting:
    """The stitches of one bed grafted to those of the other."""

    kind: ClassVar[str] = "graft"
    first: NeedleSet
    second: NeedleSet


@model
class GraftingGroups:
    """Two named groups grafted; ``edges``: those of them that are open loops of an edge."""

    kind: ClassVar[str] = "graft-groups"
    first: str
    second: str
    edges: tuple[str, ...]


@model
class Tackling:
    """The comb or the weights."""

    kind: ClassVar[str] = "tackle"
    item: Literal["comb", "weights"]
    action: Literal["hang", "move", "remove"]


@model
class Marking:
    """The place where waste yarn will come out."""

    kind: ClassVar[str] = "mark"
    what: Literal["edge", "slit"]
    name: str
    bed: str


@model
class Filling:
    """Empty needles filled from the stitch beside them."""

    kind: ClassVar[str] = "fill"
    needles: NeedleSet
    end: EndWord


@model
class KnittingIn:
    """Waste yarn knitted in by hand over some needles, as the place of an opening."""

    kind: ClassVar[str] = "knit-in"
    yarn: str
    needles: NeedleSet
    name: str


@model
class SewingDown:
    """Rows folded to the inside and sewn down; ``name``: of a marked edge, empty without one."""

    kind: ClassVar[str] = "sew-down"
    part: Literal["first", "last"]
    count: Amount
    name: str


@model
class SewingSides:
    """The side edges are sewn together when the piece is finished."""

    kind: ClassVar[str] = "sew-sides"


# ---- the author's own words, and repeats


@model
class OwnWords:
    """A ``step`` in the author's words."""
    varies: ClassVar[tuple[str, ...]] = ("words",)
    kind: ClassVar[str] = "step"
    words: tuple[WordPart, ...]


@model
class Aside:
    """A note or a caution."""
    varies: ClassVar[tuple[str, ...]] = ("words",)
    weight: Literal["note", "caution"]
    words: tuple[WordPart, ...]

    @property
    def kind(self) -> str:
        """``note`` or ``caution``."""
        return self.weight


@model
class Repeating:
    """Lines done over and over; ``until`` is None where they are counted beforehand."""

    kind: ClassVar[str] = "repeat"
    until: ConditionSaid | None


Leaf = Union[
    Pitching, Racking, Placing, BedSetting, NeedleSetting, HoldSetting, Dialling, Threading, Adding,
    Changing, Cutting, CarriageMove, Knitting, Counting, Transferring, Folding, EdgeMove, ByHand,
    Scrapping, Rehanging, Grafting, GraftingGroups, Tackling, Marking, Filling, KnittingIn,
    SewingDown, SewingSides, PickingUp, OwnWords, Aside,
]
"""What is one sentence by itself."""

Printed = Union[Leaf, Repeating]
