"""What is kept of a run: moments of the machine, printed instructions, things that went wrong."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple, Union

from sockscript.expand.described import ConditionSaid, FoundInstead
from sockscript.expand.printed import Printed
from sockscript.numbers.quantity import Quantity
from sockscript.operations.ops import Knit, Op
from sockscript.text.source import Span
from sockscript.trace.faults import Fault
from sockscript.trace.state import Snapshot

Item = Union[str, Quantity, ConditionSaid, FoundInstead]
"""What a finding tells beyond its fault."""

class Instruction:
    """One instruction as it is printed: a statement, a ``step`` with its words, or a repeat.

    ``places``: the line in the script, then the lines in techniques that printed it.
    ``first`` and ``last`` bound its moments (``last`` is one past); ``rounds`` holds, for a
    repeat, what each time round consisted of.
    """

    __slots__ = ("first", "last", "number", "places", "printed", "rounds", "section")

    def __init__(self, number: int, printed: Printed, places: tuple[Span, ...], section: int,
                 first: int) -> None:
        self.number = number
        self.printed = printed
        self.places = places
        self.section = section
        self.first = first
        self.last = first
        self.rounds: list[list[Instruction]] = []

    @property
    def span(self) -> Span:
        """The line that it was written in."""
        return self.places[-1]

    @property
    def key(self) -> tuple[tuple[str, int], ...]:
        """Which lines printed it, alike in all sizes: file and line."""
        return tuple((place.source.name, place.line) for place in self.places)


class Moment(NamedTuple):
    """One operation and the machine after it."""

    op: Op
    state: Snapshot
    instruction: int
    places: tuple[Span, ...]


class Transition(NamedTuple):
    """One operation of a run with the machine before and after it.

    ``number``: which of the moments it is.
    """

    number: int
    op: Op
    before: Snapshot
    after: Snapshot
    moment: Moment

    def mishap(self, fault: Fault, detail: Mapping[str, Item] | None = None) -> Mishap:
        """Something that goes wrong here."""
        return Mishap(fault, self.moment.places, self.number, self.moment.instruction, detail or {})


class Pass(Transition):
    """A change that comes of carriage passes."""

    __slots__ = ()
    op: Knit


class Mishap(NamedTuple):
    """A fault with where it happened.

    ``places``: the line in the script, then the lines in techniques that it went through.
    ``moment``: index of the operation (the last one before, for a line without one), and
    ``instruction`` of what is printed; -1 for what the header or the piece as a whole has.
    ``detail``: what a finding needs beyond the fault itself.
    """

    fault: Fault
    places: tuple[Span, ...]
    moment: int = -1
    instruction: int = -1
    detail: Mapping[str, Item] = {}
