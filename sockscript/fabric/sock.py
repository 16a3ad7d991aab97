"""Where a piece has leg, heel, foot and toe: a sock found by its shape."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import NamedTuple

from sockscript.expand.run import Run, once, once_alike
from sockscript.fabric.halves import halves_of
from sockscript.fabric.piece import Cup, Piece, Rows
from sockscript.fabric.pieces import pieces
from sockscript.numbers.quantity import Exact
from sockscript.operations import ops
from sockscript.trace.state import Snapshot

NARROW = Fraction(6, 10)
"""An end with at most this share of the widest row's stitches is a toe, however it is closed: no
foot goes in there (the most that a toe is grafted over; common practice, no source)."""
INSET = Fraction(3, 4)
"""A heel taken up from a slit has at least this share of the widest row's stitches: a thumb has
fewer (common practice, no source)."""
TOE_PACE = 8
"""A toe narrows at least once in so many rounds (every second to every fourth: common practice, no
source)."""


class Sock(NamedTuple):
    """Where a run has leg, heel, foot and toe: rows and cups from the edge to the tip.

    ``heel``: the cups that make the heel with the rows ``between`` them, or none for a heel that
    is taken up from a slit, which is the piece ``inset``.  ``toe_cups``: a toe of short rows.
    ``leg``, ``foot`` and ``toe``: the rows all the way round (``foot`` without those of the toe).
    ``toe_first``: it was knitted from the toe up.  ``closed``: it has a toe at all; without one,
    ``foot`` is what follows the heel.
    """

    piece: Piece
    leg: tuple[Rows, ...]
    heel: tuple[Cup, ...]
    between: tuple[Rows, ...]
    inset: Piece | None
    foot: tuple[Rows, ...]
    toe: tuple[Rows, ...]
    toe_cups: tuple[Cup, ...]
    toe_first: bool
    closed: bool

    @property
    def is_one(self) -> bool:
        """Whether it is a sock, and no flat piece with short rows in it: it has a leg, and it is a
        tube or has a toe."""
        return bool(self.leg) and (self.closed or self.piece.tube)


@once
def sock_of(run: Run) -> Sock | None:
    """The sock that a run has knitted, found by its shape, or None if it is none.

    A heel is a cup of short rows or a slit that is taken up again; the toe lies at the end where
    the tube is closed: shut by the way it was cast on, grafted, gathered or joined, a cup at the
    very end, or too narrow for a foot.
    """
    if not _may_have_heel(run) or halves_of(run) is not None:
        return None  # what lies double has no rows all the way round
    made = pieces(run)
    insets = {piece.taken_up[0]: piece for piece in made
              if piece.taken_up is not None and piece.taken_up[1] == "slit"
              and piece.widest >= INSET * piece.taken_up[0].widest}
    for piece in made:
        heels = _heels(piece)
        if (heels or piece in insets) and piece.rows and not piece.ring:
            return _laid_out(piece, heels, insets.get(piece))
    return None


@once_alike
def _may_have_heel(run: Run) -> bool:
    """Whether a slit is kept, or a row leaves any stitches of a bed alone: without, there is
    neither cup nor inset."""
    return not run.kinds().isdisjoint((ops.Mark, ops.KnitIn)) or any(
        _leaves_alone(change.before, change.after) for change in run.passes())


def _leaves_alone(before: Snapshot, after: Snapshot) -> bool:
    if before.both_circular:
        return False  # rounds over a part of both beds are a branch of the tube, no short rows
    return any(now.loaded and (was.action in ("rest", "circular") or now.loaded & ~was.active)
               for was, now in ((before.front, after.front), (before.back, after.back)))


def _heels(piece: Piece) -> list[tuple[Cup, ...]]:
    """Cups, those together that have fewer rows between them than either is deep.

    A heel may be made in two parts: narrowing and widening with rounds between, or half at each
    edge of a flat piece.
    """
    groups: list[list[Cup]] = []
    for last, cup in zip((None, *piece.cups), piece.cups, strict=False):
        if last is not None and _count(piece.rows, last.last, cup.first) \
                < Fraction(min(cup.rows, last.rows)) / 2:
            groups[-1].append(cup)
        else:
            groups.append([cup])
    return [tuple(group) for group in groups]


def _count(rows: Iterable[Rows], first: int, last: int) -> Exact:
    """Rows all the way round among some moments."""
    return sum(one.rows for one in rows if first <= one.moment < last)


def rows_of_cups(group: Iterable[Cup]) -> Exact:
    """Rows of cups that make one heel: of those side by side the most, else all together."""
    cups = list(group)
    rows = [cup.rows for cup in cups]
    return max(rows) if side_by_side(cups) else sum(rows)


def side_by_side(cups: Sequence[Cup]) -> bool:
    """Whether no needle knits in all the short rows of two of these cups."""
    return all(not a.core & b.core for n, a in enumerate(cups) for b in cups[:n])


def _laid_out(piece: Piece, groups: list[tuple[Cup, ...]], inset: Piece | None) -> Sock:
    """Which cups are heel and toe, and which rows are leg and foot."""
    # One of several cups may be the toe, or the only one beside a heel that is taken up.
    spare = groups if inset is not None or len(groups) > 1 else []
    toe_first, closed = _toe_end(piece, spare)
    toe_cups: tuple[Cup, ...] = ()
    if closed and spare:
        group = spare[0 if toe_first else -1]
        if _at_end(piece, group, toe_first):
            toe_cups = group
            groups = [one for one in groups if one is not group]
    heel: tuple[Cup, ...] = ()
    if inset is not None and inset.taken_up is not None:
        first = last = piece.slits[inset.taken_up[2]]
    else:
        # Of several cups the deepest, and of those the one next to the toe.
        heel = max(groups if toe_first else groups[::-1], key=rows_of_cups)
        first, last = heel[0].first, heel[-1].last
    before = [one for one in piece.rows if one.moment < first]
    after = [one for one in piece.rows if one.moment >= last]
    leg, rest = (after, before[::-1]) if toe_first else (before, after)
    toe = 0
    if toe_cups:
        low, high = toe_cups[0].first, toe_cups[-1].last
        toe = sum(one.moment < high if toe_first else one.moment >= low for one in rest)
    elif closed:
        toe = _narrowing(rest)
    cut = len(rest) - toe
    return Sock(piece, tuple(leg), heel,
                tuple(one for one in piece.rows if first <= one.moment < last), inset,
                tuple(rest[:cut]), tuple(rest[cut:]), toe_cups, toe_first, closed)


def _toe_end(piece: Piece, cups: list[tuple[Cup, ...]]) -> tuple[bool, bool]:
    """Whether the toe is at the beginning, and whether there is one; any of ``cups`` may be it.

    An end that is shut for certain comes before one that is only narrow; if both are alike, the
    toe is knitted last.
    """
    marks = []
    for first, how, row in ((True, piece.began, piece.rows[0]), (False, piece.ended,
                                                                 piece.rows[-1])):
        narrow = row.stitches <= NARROW * piece.widest
        cup = bool(cups) and _at_end(piece, cups[0 if first else -1], first)
        marks.append(2 if how == "closed" else int(narrow or cup))
    return marks[0] > marks[1], any(marks)


def _at_end(piece: Piece, group: tuple[Cup, ...], first: bool) -> bool:
    """Whether fewer rows lie between a cup and an end of the piece than the cup is deep."""
    beyond = _count(piece.rows, 0, group[0].first) if first else \
        _count(piece.rows, group[-1].last, piece.rows[-1].moment + 1)
    return beyond < Fraction(rows_of_cups(group)) / 2


def _narrowing(rows: list[Rows]) -> int:
    """How many of these, counted from the tip at their end, belong to the toe."""
    plateaus = _plateaus(rows)
    if not plateaus:
        return 0
    around = _longest(plateaus)
    found = 0
    for n, (stitches, count, number) in enumerate(reversed(plateaus)):
        if stitches >= around or (n and count > TOE_PACE):
            break
        found += number
    return found


def foot_round(sock: Sock) -> int:
    """The stitches round the foot: those of its longest stretch of rows that are alike.

    A calf may be wider, and so may a gusset.
    """
    plateaus = _plateaus((*sock.foot, *sock.toe))
    return _longest(plateaus) if plateaus else sock.piece.widest


def _plateaus(rows: Iterable[Rows]) -> list[tuple[int, Exact, int]]:
    """Stretches of as many stitches: how many, over how many rows, in how many of these parts."""
    found: list[tuple[int, Exact, int]] = []
    for one in rows:
        if found and found[-1][0] == one.stitches:
            stitches, count, number = found.pop()
            found.append((stitches, count + one.rows, number + 1))
        else:
            found.append((one.stitches, one.rows, 1))
    return found


def _longest(plateaus: Iterable[tuple[int, Exact, int]]) -> int:
    return max(plateaus, key=lambda plateau: plateau[1])[0]
