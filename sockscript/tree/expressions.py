"""Tree nodes for numbers, conditions and needles.  Every node knows its place (``at``)."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, Union

from sockscript.numbers.quantity import Quantity
from sockscript.operations.model import node
from sockscript.operations.ops import Action, Pitch
from sockscript.text.source import Span

# ---- numbers


@node
class Literally:
    """A number as written, with its unit."""

    at: Span
    value: Quantity


@node
class Word:
    """A word used as a value: a bed, an end, or a choice."""

    at: Span
    word: str


@node
class Name:
    """A measurement, a `let`, an option or a parameter."""

    at: Span
    name: str


@node
class Call:
    """A function of the language: ``stitches(…)``, ``rows(…)`` …"""

    at: Span
    function: str
    arguments: tuple[Expr, ...]


@node
class Sum:
    """Two operands and ``+`` or ``-`` (also written plus, less) or ``*``, ``/``."""

    at: Span
    sign: Literal["+", "-", "*", "/"]
    left: Expr
    right: Expr


@node
class Round:
    """A value rounded to nearest, up or down, to ``multiple`` k + ``plus``."""

    at: Span
    value: Expr
    way: Literal["nearest", "up", "down"]
    multiple: Expr | None
    plus: Expr | None
    form: Literal["whole", "even", "odd", "multiple"]


Expr = Union[Literally, Word, Name, Call, Sum, Round]


def names_in(expr: Expr) -> Iterator[str]:
    """The names that a value is worked out from, left to right (not that of a fabric)."""
    waiting: list[Expr | None] = [expr]
    while waiting:
        one = waiting.pop()
        if isinstance(one, Name):
            yield one.name
        elif isinstance(one, Sum):
            waiting += [one.right, one.left]
        elif isinstance(one, Round):
            waiting += [one.plus, one.multiple, one.value]
        elif isinstance(one, Call):
            measured = one.function in ("stitches", "rows", "width", "height")
            waiting += reversed(one.arguments[:1] if measured else one.arguments)

# ---- needles


@node
class BedName:
    """``front``, ``back``, ``both``, or a parameter that holds a bed; ``other`` faces it."""

    at: Span
    word: str
    other: bool = False


@node
class End:
    """``left``, ``right``, ``carriage side``, ``far side``, or a parameter that holds one."""

    at: Span
    word: str


@node
class Point:
    """A single needle number: side and how many out from the centre."""

    at: Span
    side: str
    number: Expr


@node
class NeedleRange:
    """From one needle to another (or one alone, ``last`` None)."""

    at: Span
    first: Point
    last: Point | None


@node
class Everything:
    """All needles of a bed, the held ones or the empty ones in work."""

    at: Span
    which: Literal["all", "held", "empty"]


@node
class Centre:
    """So many needles about the centre of the bed."""

    at: Span
    count: Expr


@node
class AtEnd:
    """So many needles at an end of the work.

    ``reach``: counted among loaded needles (``stitches``), all needles not out of work
    (``needles``), needles in work but not held (``working``), or the held ones next to the
    working ones (``held``).
    """

    at: Span
    end: End
    count: Expr
    reach: Literal["stitches", "needles", "working", "held"]


@node
class Every:
    """Every n-th needle of a set, beginning with its ``start``-th from the left."""

    at: Span
    step: int
    start: Expr | None
    piece: NeedlePart


NeedlePart = Union[NeedleRange, Everything, Centre, AtEnd, Every]


@node
class Needles:
    """Needles of a bed; no pieces: every needle of the bed that has a loop or is in work."""

    at: Span
    pieces: tuple[NeedlePart, ...]
    bed: BedName


# ---- conditions


@node
class Any_:
    """At least one part is true."""

    at: Span
    parts: tuple[Condition, ...]


@node
class All:
    """Every part is true."""

    at: Span
    parts: tuple[Condition, ...]


@node
class Not:
    """The part is not true."""

    at: Span
    part: Condition


@node
class CountIs:
    """So many stitches: in all, in work (not held) or in hold; on a bed or on both."""

    at: Span
    count: Expr
    where: Literal["all", "work", "hold"]
    end: End | None
    bed: BedName | None


@node
class CarriageIs:
    """The side at which the carriage stands."""

    at: Span
    side: Literal["left", "right"]


@node
class CounterIs:
    """The row counter shows a number."""

    at: Span
    value: Expr


@node
class TubeIs:
    """A tube of so many stitches on each bed, facing each other."""

    at: Span
    count: Expr


@node
class BedsEqual:
    """As many stitches on the one bed as on the other."""

    at: Span


@node
class HungIs:
    """The comb or the weights are hung, or (``yarn``) a yarn is in the feeder."""

    at: Span
    what: Literal["comb", "weights", "yarn"]


@node
class ActionIs:
    """What a bed is set to."""

    at: Span
    bed: BedName
    action: Action


@node
class PitchOf:
    """The beds stand at half or full pitch."""

    at: Span
    pitch: Pitch


@node
class HoldIs:
    """Needles in hold are left alone on a bed."""

    at: Span
    bed: BedName


@node
class SizeIs:
    """The size is one of these."""

    at: Span
    names: tuple[str, ...]


@node
class Compare:
    """Two values compared."""

    at: Span
    left: Expr
    how: Literal["equal", "unequal", "more", "less_than", "at_least", "at_most", "multiple"]
    right: Expr


Condition = Union[
    Any_, All, Not, CountIs, CarriageIs, CounterIs, TubeIs, BedsEqual, HungIs, ActionIs,
    PitchOf, HoldIs, SizeIs, Compare
]
