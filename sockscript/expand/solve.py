"""Counts of rows that are found from a length: ``knit rounds for a foot length of 24 cm``.

How many rows such a line needs depends on all that follows, since heel and toe count too.  The
rest of the script is therefore knitted once with a number taken for granted; the finished piece
is measured, and the number put right by what is missing.  That is exact, because each plain row
adds the same length.  The counts found are kept among the values that settle names
(``Names.choices``), so that whoever shares or reuses sections sees them as the answer to a
question like any other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from typing import NamedTuple

from sockscript.expand.run import Run
from sockscript.expand.sections import SectionRecord, WantedLength
from sockscript.numbers.quantity import Exact, Quantity
from sockscript.numbers.rounding import round_to


class TapeReading(NamedTuple):
    """What is read off a finished run, in mm: lengths by the words of the language (None where
    there is no such part), and what each moment adds to the length of the piece."""

    lengths: Mapping[str, Exact | None]
    gained: Mapping[int, Exact]


ReadTape = Callable[[Run], TapeReading]


def guesses(sections: list[SectionRecord]) -> Iterator[tuple[SectionRecord, WantedLength]]:
    """The lines that have knitted a number of rows taken for granted: of each length the first."""
    seen = set()
    for section in sections:
        for wanted in section.wanted:
            if wanted.guessed and wanted.what not in seen:
                seen.add(wanted.what)
                yield section, wanted


def counts_found(run: Run, read: ReadTape) -> dict[str, Quantity]:
    """The right numbers of rows for lines that took them for granted, by their hidden names.

    Where the length cannot be measured or the line adds nothing to it, the number taken for
    granted stays.
    """
    reading = read(run) if run.stopped is None else TapeReading({}, {})
    found = {}
    for section, wanted in guesses(run.sections):
        value = reading.lengths.get(wanted.what)
        gained = sum(reading.gained.get(section.first + one.moment, 0)
                     for one in section.wanted if one.name == wanted.name)
        count = wanted.rows
        if value is not None and gained:
            missing = (Fraction(wanted.aim) - value) * wanted.rows / gained
            count = max(0, int(round_to(count + missing, "nearest", wanted.step)))
        found[wanted.name] = Quantity(count, "rows")
    return found
