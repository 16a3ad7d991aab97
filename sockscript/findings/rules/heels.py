"""Heels that are knitted twice over, or more on one half than on the other."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from sockscript.expand.record import Mishap, Pass
from sockscript.expand.run import Run
from sockscript.fabric.measures import short_rows_of
from sockscript.fabric.sock import sock_of
from sockscript.findings.kind import Kind
from sockscript.findings.origins import HELD_AT_AN_END, SHORT_ROWS_BEGIN
from sockscript.numbers.quantity import Quantity
from sockscript.operations.beds import BEDS, Bed, highest, lowest
from sockscript.trace.state import BedState

ASKEW = Fraction(1, 10)
"""By such a share of its stitches one half of the short rows may differ from the other.  Common
practice, no source: turns that are not quite mirrored differ by up to 1/20, a row too many in
each turn by 1/8."""

FEWEST_TURNS = 6
"""Fewer sets of needles in hold are parts put aside, no heel: common practice, no source."""

SHORT_ROWS_ASKEW = Kind(
    "short-rows-askew", "warning",
    "The short rows knit {left} stitches left of the middle and {right} right of it: the heel sits "
    "askew.",
    "Work both halves alike: as many rows, and as many needles put into hold and fetched back.",
    led=SHORT_ROWS_BEGIN,
    follows_anywhere=("short-rows-at-one-end", "unequal-short-rows", "returned-at-carriage"))

MOST_ROWS_BETWEEN = 3
"""Rows over all stitches between the halves of a flat heel: one takes the carriage across, and two
more go there and back.  More of them make two cups of what they part.  Common practice, no
source."""

HEEL_HALVES_APART = Kind(
    "heel-halves-apart", "warning",
    "Between the two halves of the heel {rows} are knitted over all stitches: the one half sits so "
    "much higher than the other.",
    "Knit the second half right after the first; a row or two take the carriage across.",
    led=SHORT_ROWS_BEGIN)

HEEL_TWICE = Kind(
    "heel-twice", "warning",
    "A second cup of short rows follows on the {bed} bed without a round between: one heel sits in "
    "the other.",
    "Knit the heel once, or rounds between.",
    led=HELD_AT_AN_END)


def short_rows_askew(run: Run) -> list[Mishap]:
    """A heel in two halves with more stitches on one side of the middle than on the other.

    Where needles are held at both ends of a row the two ends are compared by other rules; a part
    put aside in one go is a slit.
    """
    sock = sock_of(run)
    if sock is None or not (sock.heel or sock.toe_cups):
        return []
    sides = [0, 0]
    across = 0
    turns = set()
    last: Pass | None = None
    for change, bed in _short_rows(run):
        state = change.before.bed(bed)
        if state.held_at_both_ends:
            return []
        turns.add(state.held)
        last, across = change, max(across, state.loaded.bit_count())
        for half, mask in enumerate(_halves(state)):
            sides[half] += (state.working & mask).bit_count() * change.op.passes
    # A whole row more for one half is seen.
    if last is None or len(turns) < FEWEST_TURNS \
            or abs(sides[0] - sides[1]) <= max(ASKEW * sum(sides), Fraction(across, 2)):
        return []
    return [last.mishap(SHORT_ROWS_ASKEW.fault(), {
        "left": Quantity(sides[0]), "right": Quantity(sides[1])})]


def heel_halves_apart(run: Run) -> list[Mishap]:
    """The halves of a flat heel, at the two edges, with more rows between them than take the
    carriage across."""
    sock = sock_of(run)
    if sock is None or sock.piece.tube:
        return []
    found = []
    for one, other in pairwise(sock.piece.cups):
        beside = highest(one.core) < lowest(other.core) or highest(other.core) < lowest(one.core)
        rows = sum(row.rows for row in sock.piece.rows if one.last <= row.moment < other.first)
        if beside and rows > MOST_ROWS_BETWEEN:
            found.append(run.changes()[other.first].mishap(
                HEEL_HALVES_APART.fault(amount=int(rows))))
    return found


def heel_twice(run: Run) -> list[Mishap]:
    """Needles that go into hold and come back, and do so again before a round is knitted, or in
    flat knitting before some whole rows are.

    The two halves of a flat heel stand side by side: their shortest rows have no needle in common.
    """
    if not run.holds():
        return []
    found = []
    for bed in BEDS:
        before = shortest = rows = 0
        for change in run.passes():
            state = change.before.bed(bed)
            other = change.before.bed(bed.opposite)
            if state.set_aside:
                if state.action != "rest" and (
                        not shortest or state.in_work.bit_count() < shortest.bit_count()):
                    shortest = state.in_work
                continue
            if shortest:  # all are back, or come back with this row
                if before & shortest:
                    found.append(change.mishap(HEEL_TWICE.fault(bed)))
                before, shortest, rows = shortest, 0, 0
            if not other.loaded:
                rows += change.op.passes
            if rows > MOST_ROWS_BETWEEN or (other.loaded and other.action != "rest"):
                before = 0
    return found


def _short_rows(run: Run) -> list[tuple[Pass, Bed]]:
    """Short rows with the bed that knits them, in the order of knitting; none of waste yarn."""
    found = [(row, bed) for bed in BEDS for short in short_rows_of(run)[bed] for row in short.rows
             if row.before.feeder not in run.waste and row.before.bed(bed).action != "circular"]
    return sorted(found, key=lambda row: row[0].number)


def _halves(state: BedState) -> tuple[int, int]:
    """The stitches left and right of the middle of all on a bed."""
    ends = lowest(state.loaded) + highest(state.loaded)
    right = ends // 2 + 1
    return state.loaded % (1 << (ends + 1) // 2), state.loaded >> right << right
