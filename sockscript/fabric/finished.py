"""The finished piece as it is worn: leg, heel, foot and toe, from the simulated fabric."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import NamedTuple

from sockscript.expand.run import Run, once
from sockscript.expand.sections import SectionRecord
from sockscript.expand.solve import TapeReading
from sockscript.fabric.amounts import gauge_for
from sockscript.fabric.halves import halves_of
from sockscript.fabric.measures import is_rib, measures
from sockscript.fabric.piece import Cup, Rows
from sockscript.fabric.pieces import pieces
from sockscript.fabric.sock import side_by_side, sock_of


class Finished(NamedTuple):
    """Lengths in millimetres; None where the piece has no such part or no gauge.

    ``leg`` from the edge to the heel, ``heel`` how deep the heel is, ``foot`` from the back of
    the heel to the tip of the toe, ``toe`` what narrows at its end, ``flap`` how far a flap that
    has a gusset hangs down the back of the heel.
    """

    leg: Fraction | None = None
    heel: Fraction | None = None
    foot: Fraction | None = None
    toe: Fraction | None = None
    flap: Fraction | None = None


RIB_STRETCH, PLAIN_STRETCH = Fraction(18, 10), Fraction(16, 10)
"""How wide rib and plain knit can be pulled without strain, as multiples of their width, where
the gauge does not say: common practice, no source (1.5 to 2 for rib)."""

@once
def finished(run: Run) -> Finished:
    """How long the parts of a sock are.

    Short rows are a cup folded in half: half of its rows lie along the foot. A heel that is taken
    up from a slit makes the foot longer by all of its depth (both the trade's own reckoning;
    common practice, no source).
    """
    if run.stopped is not None:
        return Finished()
    if (half := halves_of(run)) is not None:
        heel, toe = _mm_of_cups([half.heel]), _mm_of_cups([half.toe])
        return Finished(length_of(half.leg), heel,
                        _plus(_plus(heel, length_of(half.sole)), toe), toe)
    sock = sock_of(run)
    if sock is None:
        return Finished()
    leg, foot, toe, between = map(length_of, (sock.leg, sock.foot, sock.toe, sock.between))
    if sock.inset is not None:
        heel = _plus(length_of(sock.inset.rows), _mm_of_cups(sock.inset.cups))
    else:
        heel = _plus(between, _mm_of_cups(sock.heel))
    toe = _plus(toe, _mm_of_cups(sock.toe_cups))
    return Finished(leg if sock.leg else None, heel,
                    _plus(_plus(heel, foot), toe) if sock.closed else None,
                    (toe or None) if sock.closed else None, _mm_of_flaps(sock.heel))


def reading(run: Run) -> TapeReading:
    """The lengths of the whole piece for lines that find their rows, and what each moment adds."""
    whole = finished(run)
    worn = halves_of(run) or sock_of(run)
    rows = worn.piece.rows if worn is not None else []
    return TapeReading({"foot length": whole.foot, "leg length": whole.leg},
                       {one.moment: one.mm for one in rows if one.mm is not None})


def length_of(rows: Iterable[Rows]) -> Fraction | None:
    """How long some rows are together, in mm; None where one has no gauge."""
    found = Fraction(0)
    for one in rows:
        if one.mm is None:
            return None
        found += one.mm
    return found


def _mm_of_cups(group: Iterable[Cup]) -> Fraction | None:
    """How deep cups are; without a gauge None."""
    cups = list(group)
    depths = [cup.depth for cup in cups if cup.depth is not None]
    if len(depths) < len(cups):
        return None
    return max(depths) if depths and side_by_side(cups) else sum(depths, Fraction(0))


def _mm_of_flaps(group: Iterable[Cup]) -> Fraction | None:
    """How high the flaps of heels with a gusset are; None if there are none, or without a gauge."""
    found = [cup.flap_mm for cup in group if cup.flap_mm is not None]
    return max(found, default=None)


def _plus(one: Fraction | None, other: Fraction | None) -> Fraction | None:
    return None if one is None or other is None else one + other


class Parts(NamedTuple):
    """The sections with rows of a sock that has its heel in a section of its own, and the numbers
    of those that are its leg, heel, foot (what lies between heel and toe) and toe.

    Each section is in one of them at most, in the first of heel, toe, foot and leg.
    """

    sections: list[SectionRecord]
    leg: tuple[int, ...]
    heel: tuple[int, ...]
    foot: tuple[int, ...]
    toe: tuple[int, ...]
    toe_first: bool


@once
def parts_of(run: Run) -> Parts | None:
    """The sections of a sock; None for any other piece."""
    sock = sock_of(run)
    if sock is None:
        return None
    titles = {measure.title for measure in measures(run)}
    sections = [section for section in run.sections if section.title in titles]
    taken: set[int] = set()

    def holding(rows: Iterable[Rows], cups: Sequence[Cup]) -> tuple[int, ...]:
        moments = [*(one.moment for one in rows), *(cup.first for cup in cups)]
        # Flap, turn and gusset may have sections of their own.
        moments += [change.number for cup in cups if cup.picked_up
                    for change in run.passes() if cup.first <= change.number < cup.last]
        found = [n for n, section in enumerate(sections) if n not in taken
                 and any(section.first <= moment < section.last for moment in moments)]
        taken.update(found)
        return tuple(found)

    inset = sock.inset
    heel = holding(sock.between, sock.heel) if inset is None else holding(inset.rows, inset.cups)
    toe = holding(sock.toe, sock.toe_cups) if sock.closed else ()
    foot = holding(sock.foot, ())
    leg = holding(sock.leg, ())
    # A slit that is taken up in the section that keeps its place is no section of the heel.
    whole = inset is None or bool(toe or foot)
    return Parts(sections, leg, heel, foot, toe, sock.toe_first) if whole else None


class Opening(NamedTuple):
    """A section that has to go over the heel: its narrowest girth, and how far that pulls out.

    Both in millimetres.  ``rib``: knitted on both beds at once.
    """

    section: SectionRecord
    girth: Fraction
    reach: Fraction
    rib: bool


def openings(run: Run) -> list[Opening]:
    """What of each section lies between an open edge and the heel; without a heel, all of an open
    tube.

    How far a fabric pulls out is what its gauge says, or else common practice.
    """
    sock = sock_of(run)
    if sock is not None:
        leg = {one.moment for one in sock.leg}
    elif any(piece.ended == "closed" for piece in pieces(run)):
        return []
    else:
        leg = {one.moment for piece in pieces(run) for one in piece.rows}
    found = []
    for section in run.sections:
        gauge = gauge_for(run, section)
        counts = []
        rib = False
        for index, _, before, after, _ in run.changes()[section.first:section.last]:
            if index not in leg or before.bare:
                continue
            counts.append(after.stitches())
            rib = rib or is_rib(before)
        if gauge is None or not counts:
            continue
        girth = Fraction(min(counts)) / gauge.stitches_per_mm
        stretch = gauge.stretch or (RIB_STRETCH if rib else PLAIN_STRETCH)
        found.append(Opening(section, girth, girth * stretch, rib))
    return found
