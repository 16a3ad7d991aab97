"""Short rows that are not worked back to where they began, or not as they went in."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from sockscript.expand.record import Mishap, Pass
from sockscript.expand.run import Run
from sockscript.fabric.measures import short_rows_of
from sockscript.findings.kind import Kind
from sockscript.findings.origins import HELD_AT_AN_END, SHORT_ROWS_BEGIN
from sockscript.numbers.quantity import Quantity
from sockscript.operations.beds import BEDS, SIDES, Bed, Side
from sockscript.trace.state import BedState

CUP_STOPS_EARLY = Kind(
    "cup-stops-early", "warning",
    "The short rows of the {bed} bed stop early: {amount} needles at the {name} come back from "
    "hold all at once, though they went into hold one after the other.",
    "Fetch them back one by one as well, until all stitches of the bed are in work again.",
    led=HELD_AT_AN_END,
    follows_anywhere=("short-rows-at-one-end", "unequal-short-rows"))

LOPSIDED = Fraction(3, 2)
"""So many times as many rows to a needle in one half of a cup make it lopsided: one needle a row
in and two a row out are twice as many.  Common practice, no source."""

FEWEST_IN_A_HALF = 4
"""Fewer needles to a half show no pace: common practice, no source."""

CUP_LOPSIDED = Kind(
    "cup-lopsided", "advice",
    "The two halves of the cup on the {bed} bed are unlike: {went_in} needles went into hold in "
    "{rows_in} rows, {came_out} come back in {rows_out}. Its corners do not meet in the middle.",
    "Fetch as many needles back with each row as went into hold with each.",
    led=SHORT_ROWS_BEGIN,
    follows_anywhere=("short-rows-at-one-end", "unequal-short-rows", "returned-at-carriage"))


def cup_stops_early(run: Run) -> list[Mishap]:
    """Needles that went into hold in several steps and come back in one, after others came back
    step by step.

    Rows that only become shorter are a wedge, and may end at once; a part that was set aside in
    one go comes back in one.
    """
    return [mishap for bed in BEDS for mishap in _stopped(run, bed)]


def _stopped(run: Run, bed: Bed) -> list[Mishap]:
    return [short.end.mishap(CUP_STOPS_EARLY.fault(bed, mask, amount=mask.bit_count(), name=side))
            for short in short_rows_of(run)[bed] if short.end is not None
            for side, mask in _at_once([row.before.bed(bed) for row in short.rows])]


def _at_once(rows: list[BedState]) -> list[tuple[Side, int]]:
    """The needles at either end that are in hold in the last of some rows, where they went into
    hold in several steps, and fewer came back at each step before."""
    found = []
    for side in SIDES:
        if (rows[-1].hold_beyond(side) & rows[-1].loaded).bit_count() < 2:
            continue  # a single needle cannot stop early: nearly all cups end so
        held = [state.hold_beyond(side) & state.loaded for state in rows]
        back = [(before & ~after).bit_count() for before, after in pairwise(held)]
        if not any(back):
            continue
        last = waiting = held[-1]
        if held[0].bit_count() > max(back):
            last &= ~held[0]  # what was set aside in one go before the first short row
        if last.bit_count() > max(back) \
                and len({one & waiting for one in held if one & waiting}) > 1:
            found.append((side, last))
    return found


def cup_lopsided(run: Run) -> list[Mishap]:
    """A cup, held at both ends, whose rows grow shorter at another pace than they grow longer."""
    return [mishap for bed in BEDS for short in short_rows_of(run)[bed] if short.end is not None
            for mishap in _halves_of(short.rows, bed)]


def _halves_of(rows: Sequence[Pass], bed: Bed) -> list[Mishap]:
    """What is wrong with the pace of some short rows: needles of the two halves, a row."""
    held = [row.before.bed(bed).held.bit_count() for row in rows]
    passes = [row.op.passes for row in rows]
    first, last = held.index(max(held)), len(held) - 1 - held[::-1].index(max(held))
    rows_in, rows_out = sum(passes[:first]), sum(passes[last + 1:])
    went_in, came_out = held[first] - held[0], held[last] - held[-1]
    if min(went_in, came_out) < FEWEST_IN_A_HALF or min(rows_in, rows_out) < 2 \
            or not rows[first].before.bed(bed).held_at_both_ends:
        return []
    steeper, flatter = sorted((Fraction(rows_in, went_in), Fraction(rows_out, came_out)))
    if flatter < LOPSIDED * steeper:
        return []
    return [rows[last + 1].mishap(CUP_LOPSIDED.fault(bed), {
        "went_in": Quantity(went_in), "rows_in": Quantity(rows_in, "rows"),
        "came_out": Quantity(came_out), "rows_out": Quantity(rows_out, "rows")})]
