"""When two sections look alike to a rule that sees shapes and no lengths."""

from __future__ import annotations

from itertools import count

from sockscript.expand.record import Moment
from sockscript.expand.sections import SectionRecord
from sockscript.operations.ops import Knit
from sockscript.text.source import Source, Span
from sockscript.trace.state import Ledger

MANY_ROWS = 6
"""So many passes in one go that work all stitches look like any more of them."""


class Looks:
    """Gives sections that look alike the same number, and no other section ever that number."""

    def __init__(self) -> None:
        self._numbers: dict[tuple[object, ...], int] = {}
        self._next = count()

    def forget(self) -> None:
        """Keep memory bounded: what looks like a section from before gets a new number."""
        self._numbers = {}

    def number(self, record: SectionRecord, moments: list[Moment], source: Source, line: int
               ) -> int:
        """The number for a section of ``source`` that begins at ``line`` and did ``moments``."""
        known: dict[tuple[Span, ...], tuple[object, ...]] = {}

        def lines(places: tuple[Span, ...]) -> tuple[object, ...]:
            found = known.get(places)
            if found is None:
                found = known[places] = tuple(
                    place.line - line if place.source is source
                    else (place.source.name, place.line) for place in places)
            return found

        look = (record.title, record.fabric, *_words(record),
                *((_passes(moment), moment.state._replace(counter=0, ledger=Ledger()),
                   lines(moment.places)) for moment in moments))
        found = self._numbers.get(look)
        if found is None:
            found = self._numbers[look] = next(self._next)
        return found


def _passes(moment: Moment) -> object:
    """The operation; of many plain rows in one go only whether they are odd.

    Where stitches of a bed are left alone, how many rows the others are ahead matters.
    """
    op = moment.op
    if type(op) is Knit and op.passes > MANY_ROWS and not any(
            bed.loaded and (bed.action == "rest" or bed.loaded & ~bed.active)
            for bed in (moment.state.front, moment.state.back)):
        return op.intent, MANY_ROWS + op.passes % 2
    return op


def _words(record: SectionRecord) -> list[object]:
    """What the author says in words, and of which moments."""
    return [(*((first - record.first, last - record.first) for first, last in said.times),
             *said.parts) for said in record.in_words()]
