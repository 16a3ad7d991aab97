"""The finished fabric of each section, read off the simulation: girth and length."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from sockscript.expand.record import Pass
from sockscript.expand.run import Run, once
from sockscript.fabric.amounts import gauge_for
from sockscript.fabric.hems import RowsByBed, rows_inside
from sockscript.numbers.quantity import Exact
from sockscript.operations import ops
from sockscript.operations.beds import BEDS, Bed
from sockscript.trace.state import Snapshot


class SectionMeasure(NamedTuple):
    """One section of one size as finished fabric.

    ``around`` most stitches in it, ``rows`` rows of the longest wale, ``inside`` those of them
    that lie inside a hem; ``girth`` and ``length`` in millimetres by the gauge of the section's
    fabric (None without a gauge).
    """

    title: str
    around: int
    rows: int
    inside: Fraction
    girth: Fraction | None
    length: Fraction | None

    @property
    def deep(self) -> Fraction:
        """Rows that its length has: without those inside a hem."""
        return self.rows - self.inside


@once
def measures(run: Run) -> list[SectionMeasure]:
    """Finished measurements of each section, from the stitches and rows that were knitted.

    Girth is stitches divided by stitches per mm; length is rows divided by rows per mm, where the
    rows of a section are those of the bed that knitted most of them (in a tube each pass knits
    one bed, so a round is one row).  Short rows count in full at the centre of the heel, rows
    inside a hem not at all.
    """
    rows_of = rows_knitted(run)
    showing = rows_that_show(run)
    found = []
    for section in run.sections:
        rows = [0, 0]
        shown: list[Exact] = [0, 0]
        around = 0
        for n in range(section.first, section.last):
            if n in rows_of:
                for bed in BEDS:
                    rows[bed] += rows_of[n][bed]
                    shown[bed] += showing[n][bed]
                around = max(around, run.moments[n].state.stitches())
        if not any(rows):
            continue
        deep = Fraction(max(shown))
        gauge = gauge_for(run, section)
        girth = Fraction(around) / gauge.stitches_per_mm if gauge is not None else None
        length = deep / gauge.rows_per_mm if gauge is not None else None
        found.append(SectionMeasure(section.title, around, max(rows),
                                    max(rows) - deep, girth, length))
    return found


@once
def rows_that_show(run: Run) -> dict[int, tuple[Exact, Exact]]:
    """Rows of the front and the back bed, by the index of the moment that knits them, without
    those inside a hem and those of waste yarn."""
    knitted = rows_knitted(run)
    found: dict[int, tuple[Exact, Exact]] = {**knitted}
    for n, (front, back) in rows_inside(run, knitted).items():
        found[n] = knitted[n][0] - front, knitted[n][1] - back
    return found


@once
def rows_knitted(run: Run) -> dict[int, RowsByBed]:
    """Rows that the beds knit in every pass, by the index of its moment; none of waste yarn."""
    found = {}
    way = run.engine.profile.front_circular
    for change in run.passes():
        if change.before.feeder not in run.waste:
            found[change.number] = change.before.turns(change.op.passes, way)
    return found


def passes_of(run: Run, first: int, last: int) -> Iterator[
        tuple[ops.Knit, Snapshot, Snapshot]]:
    """The carriage passes among some moments, with the machine before and after."""
    for change in run.passes():
        if first <= change.number < last:
            yield change.op, change.before, change.after


class ShortRows(NamedTuple):
    """Passes over a bed of which some stitches wait in hold, one after the other.

    ``end``: the pass over the whole bed that follows; None where none does.
    """

    rows: tuple[Pass, ...]
    end: Pass | None


@once
def short_rows_of(run: Run) -> dict[Bed, list[ShortRows]]:
    """The short rows of each bed; passes in which it rests are none of its rows."""
    found: dict[Bed, list[ShortRows]] = {bed: [] for bed in BEDS}
    for bed in BEDS if run.holds() else ():
        rows: list[Pass] = []
        for change in run.passes():
            state = change.before.bed(bed)
            if state.action == "rest" or not state.loaded:
                continue
            if state.set_aside:
                rows.append(change)
            elif rows:
                found[bed].append(ShortRows(tuple(rows), change))
                rows = []
        if rows:
            found[bed].append(ShortRows(tuple(rows), None))
    return found


def is_rib(state: Snapshot) -> bool:
    """Both beds knit in every row, and both have stitches."""
    return state.front.action == state.back.action == "knit" and state.on_both
