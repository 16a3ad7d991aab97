"""A sock knitted flat in half its width: down the front, round the toe, back along the sole, round
the heel and up the back, or the other way round; it is sewn at both sides."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from sockscript.expand.run import Run, once
from sockscript.fabric.piece import Cup, Piece, Rows
from sockscript.fabric.pieces import SEAM, pieces
from sockscript.operations.beds import BEDS
from sockscript.operations.ops import SewSides


class Halves(NamedTuple):
    """Where a piece that lies double has its parts.

    ``leg``: the rows between the heel and the edge next to it.  ``sole``: those between heel and
    toe.  The rows of the other half, leg and instep, are not told from each other.
    """

    piece: Piece
    leg: tuple[Rows, ...]
    sole: tuple[Rows, ...]
    heel: Cup
    toe: Cup


@once
def halves_of(run: Run) -> Halves | None:
    """The sock that a run has knitted in half its width, or None.

    Short rows over all the stitches fold a flat piece: two such cups, with rows before, between
    and after them, lie double when the sides are sewn.  The longer end has the instep in it.
    """
    if not run.changes_by(SewSides):
        return None
    for piece in pieces(run):
        if piece.tube or len(piece.cups) != 2 or not all(_whole(run, cup) for cup in piece.cups):
            continue
        one, other = piece.cups
        before, sole, after = (
            tuple(rows for rows in piece.rows if low <= rows.moment < high)
            for low, high in ((0, one.first), (one.last, other.first),
                              (other.last, len(run.moments))))
        if min(_count(part) for part in (before, sole, after)) <= SEAM:
            continue
        if _count(before) > _count(after):
            return Halves(piece, after, sole, other, one)
        return Halves(piece, before, sole, one, other)
    return None


def _count(rows: tuple[Rows, ...]) -> Fraction:
    return sum((Fraction(one.rows) for one in rows), Fraction(0))


def _whole(run: Run, cup: Cup) -> bool:
    """Whether all stitches but the outermost knit in some row of a cup."""
    worked, loaded = [0, 0], [0, 0]
    for change in run.passes():
        if cup.first <= change.number < cup.last:
            for bed in BEDS:
                state = change.before.bed(bed)
                loaded[bed] |= state.loaded
                if state.action != "rest":
                    worked[bed] |= state.knitting
    return all((all_of & ~some).bit_count() <= 2
               for all_of, some in zip(loaded, worked, strict=True))
