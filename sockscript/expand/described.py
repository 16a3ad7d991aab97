"""Needles and conditions as a script says them, worked out for a size: data, not yet words.

A field of type ``Amount`` is a number of one size in a run, and of all sizes side by side on a
sheet; so is a field of text that its class names in ``varies``: such a text may differ from size
to size without changing the sentence.
"""

from __future__ import annotations

from typing import ClassVar, Literal, Union

from sockscript.numbers.figures import Amount
from sockscript.numbers.quantity import Quantity
from sockscript.operations.beds import Side
from sockscript.operations.model import model
from sockscript.operations.ops import Action, Pitch

EndWord = str
"""``left``, ``right``, ``carriage side`` or ``far side``; empty if none is named."""

Reach = Literal["stitches", "needles", "working", "held"]
"""What is counted from the end of a bed."""

# ---- needles


@model
class OneNeedle:
    """A needle by its name: ``L3``."""

    varies: ClassVar[tuple[str, ...]] = ("name",)
    name: str


@model
class NeedleRow:
    """From one needle to another."""

    varies: ClassVar[tuple[str, ...]] = ("first", "last")
    first: str
    last: str


@model
class NeedlesThat:
    """All needles in use, those in hold, or the empty ones."""

    are: Literal["all", "held", "empty"]


@model
class CentreNeedles:
    """So many in the middle of the bed."""

    count: Amount


@model
class OuterNeedles:
    """So many at an end."""

    end: EndWord
    count: Amount
    reach: Reach


@model
class EveryNth:
    """Every so many needles of a piece, beginning with one of them."""

    step: Amount
    start: Amount
    piece: NeedlePiece


NeedlePiece = Union[OneNeedle, NeedleRow, NeedlesThat, CentreNeedles, OuterNeedles, EveryNth]


@model
class NeedleSet:
    """Pieces of a bed (``front``, ``back`` or ``both``); none: the bed stands alone."""

    bed: str
    pieces: tuple[NeedlePiece, ...] = ()


# ---- conditions


@model
class Counted:
    """So many stitches: anywhere, in work or in hold; ``bed`` empty: on both together."""

    count: Amount
    where: Literal["all", "work", "hold"]
    end: EndWord
    bed: str


@model
class CarriageStands:
    """The carriage at a side."""

    side: Side


@model
class CounterShows:
    """The row counter at a number."""

    value: Amount


@model
class TubeHas:
    """So many stitches on each bed, facing each other."""

    count: Amount


@model
class BedsAlike:
    """As many stitches on one bed as on the other."""


@model
class Hangs:
    """The comb or the weights hung, or a yarn threaded."""

    what: Literal["comb", "weights", "yarn"]


@model
class SetTo:
    """A bed set to an action."""

    bed: str
    action: Action


@model
class AtPitch:
    """The beds at half or full pitch."""

    pitch: Pitch


@model
class HoldRespected:
    """Needles in hold left alone on a bed."""

    bed: str


@model
class SizeIn:
    """One of these sizes."""

    names: tuple[str, ...]


@model
class Compared:
    """One value beside another.

    Where the left one is a count of stitches, ``where`` and ``bed`` say of which; where it is a
    value of a name, ``name`` is that.
    """

    varies: ClassVar[tuple[str, ...]] = ("left", "right")
    left: Amount | str
    how: Literal["equal", "unequal", "more", "less_than", "at_least", "at_most", "multiple"]
    right: Amount | str
    where: Literal["", "all", "work", "hold"] = ""
    bed: str = ""
    name: str = ""


@model
class NotSo:
    """The contrary of a condition."""

    part: ConditionSaid


@model
class Several:
    """Conditions of which all, or any, should hold."""

    joined: Literal["and", "or"]
    parts: tuple[ConditionSaid, ...]


ConditionSaid = Union[Counted, CarriageStands, CounterShows, TubeHas, BedsAlike, Hangs, SetTo,
                      AtPitch, HoldRespected, SizeIn, Compared, NotSo, Several]

# ---- what was found instead


@model
class OnEachBed:
    """Stitches on the two beds."""

    front: int
    back: int


@model
class NotFacing:
    """Enough stitches, but they do not face each other."""


FoundInstead = Union[Quantity, str, OnEachBed, NotFacing]
