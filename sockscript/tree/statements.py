"""Tree nodes for the instructions of a script.  ``at`` is the line, ``body`` the block under it."""

from __future__ import annotations

from typing import Literal, Union

from sockscript.operations.ops import Action, Pitch
from sockscript.text.source import Span
from sockscript.tree.expressions import BedName, Condition, End, Expr, Needles
from sockscript.tree.node import node

Block = tuple["Statement", ...]


@node
class Words:
    """Printed words: plain text and, between braces, values."""

    at: Span
    parts: tuple[str | Expr, ...]


# ---- glue


@node
class Let:
    at: Span
    name: str
    value: Expr


@node
class Section:
    at: Span
    title: str
    fabric: str | None
    body: Block


@node
class Step:
    at: Span
    words: Words
    body: Block


@node
class Remark:
    """A note or a caution."""

    at: Span
    kind: Literal["note", "caution"]
    words: Words


@node
class Expect:
    at: Span
    condition: Condition


@node
class RepeatTimes:
    at: Span
    times: Expr
    body: Block


@node
class RepeatUntil:
    at: Span
    until: Condition
    body: Block


@node
class When:
    at: Span
    condition: Condition
    body: Block
    otherwise: Block


@node
class Parameter:
    at: Span
    name: str
    default: Expr | None


@node
class Technique:
    at: Span
    name: str
    parameters: tuple[Parameter, ...]
    body: Block


@node
class Do:
    at: Span
    name: str
    name_at: Span
    bed: BedName | None
    arguments: tuple[tuple[str, Expr, Span], ...]


# ---- bed set-up


@node
class PitchIs:
    at: Span
    pitch: Pitch


@node
class RackTo:
    at: Span
    steps: Expr
    side: Literal["left", "right"]


@node
class PlaceNeedles:
    at: Span
    position: Literal["out", "work", "upper", "hold"]
    needles: Needles
    purpose: Literal["none", "increase", "cast-on"]
    returning: bool


@node
class SetBedTo:
    at: Span
    bed: BedName
    action: Action


@node
class HoldSwitch:
    at: Span
    bed: BedName
    respected: bool


@node
class StitchSize:
    at: Span
    size: Expr
    bed: BedName | None


# ---- carriage and yarn


@node
class ThreadYarn:
    at: Span
    yarn: str


@node
class CutYarn:
    at: Span
    yarn: str | None


@node
class CarriageTo:
    at: Span
    end: End


@node
class KnitRows:
    at: Span
    count: Expr
    rounds: bool
    bed: BedName | None
    start: End | None


@node
class CounterTo:
    at: Span
    value: Expr


# ---- hands


@node
class TransferTo:
    at: Span
    source: Needles
    target: Needles
    onto: bool


@node
class FoldOnto:
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
    kind: Literal["wrap", "cast_on", "bind_off", "gather", "drop", "latch_up"]
    needles: Needles


@node
class ScrapOffAs:
    at: Span
    needles: Needles
    name: str


@node
class RehangGroup:
    at: Span
    name: str
    onto: bool
    targets: tuple[Needles, ...]
    turned: bool


@node
class GraftTo:
    at: Span
    first: Needles
    second: Needles


@node
class TackleDo:
    at: Span
    item: Literal["comb", "weights"]
    action: Literal["hang", "move", "remove"]


@node
class MarkAs:
    at: Span
    kind: Literal["edge", "slit"]
    name: str
    bed: BedName


@node
class FillFrom:
    at: Span
    needles: Needles
    end: End


Statement = Union[
    Let, Section, Step, Remark, Expect, RepeatTimes, RepeatUntil, When, Technique, Do, PitchIs,
    RackTo, PlaceNeedles, SetBedTo, HoldSwitch, StitchSize, ThreadYarn, CutYarn, CarriageTo,
    KnitRows, CounterTo, TransferTo, FoldOnto, MoveEdge, HandWork, ScrapOffAs, RehangGroup,
    GraftTo, TackleDo, MarkAs, FillFrom,
]
