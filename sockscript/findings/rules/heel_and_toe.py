"""Shapes that a foot would notice: the point of the heel, the tip of the toe, uneven shaping."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from functools import reduce
from operator import or_

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.expand.sections import SectionRecord
from sockscript.fabric.finished import finished
from sockscript.fabric.halves import halves_of
from sockscript.fabric.piece import Cup
from sockscript.fabric.sock import Sock, foot_round, sock_of
from sockscript.findings.kind import Kind
from sockscript.numbers.quantity import Quantity, length, show_number
from sockscript.operations.beds import BEDS, Bed
from sockscript.operations.ops import Fashion, Gather, Graft

HEEL_SHARE, HEEL_WITHIN = Fraction(1, 3), Fraction(13, 100)
"""Share of the heel's stitches left at its narrowest, and how far off it may be where the author
sets no target: common practice, no source."""
BLUNTEST, MOST_POINTED = Fraction(60, 100), Fraction(15, 100)
"""Share of the stitches round the foot that may be left to graft: common practice, no source
(about a third is usual)."""
INSTEP = Fraction(1, 3)
"""Stitches that wait during all short rows are no part of a cup if they are at least such a share:
the instep of a flat sock is half of them, and where needles go into hold one by one, only the
outermost at either end never knit (common practice, no source)."""
TOE_SHARE = (Fraction(9, 100), Fraction(36, 100))
"""Share of the foot's length that a toe takes: common practice, no source."""


HEEL_POINT_UNUSUAL = Kind(
    "heel-point-unusual", "advice",
    "In its shortest row the heel knits {left} of {whole} stitches: that is {way} beside {aim}.",
    "Change the number left in work, or say what you want: target heel width 1/3 within 1/10.")

TOE_TOO_BLUNT = Kind(
    "toe-too-blunt", "advice",
    "The {part} narrows to {left} of {around} stitches: it will be blunt.",
    "Go on narrowing, to about a third of them.")

TOE_TOO_POINTED = Kind(
    "toe-too-pointed", "advice",
    "The {part} narrows to {left} of {around} stitches: it will be pointed.",
    "Stop narrowing earlier, at about a third of them.")

TOE_DEPTH_UNUSUAL = Kind(
    "toe-depth-unusual", "advice",
    "The {shaping} are {way}: the toe is {shape}, {depth} of a foot of {foot}.",
    "Change how often they are made, or how many stitches {narrow}.")


def heel_point(run: Run) -> list[Mishap]:
    """A heel whose narrowest row is far from a third of its stitches, or from the target."""
    aim, within = HEEL_SHARE, HEEL_WITHIN
    for section in run.sections:
        for target in section.targets:
            if target.what == "heel width":
                aim, within = Fraction(target.value), Fraction(target.within)
    sock = sock_of(run)
    # Short rows of a piece without a toe may be anything: the corner of a shawl, a dart.
    # A flap is turned over its centre, which runs on under the foot.
    cups = [cup for cup in sock.heel if not cup.picked_up] if sock is not None and sock.closed \
        else []
    if (half := halves_of(run)) is not None:
        cups = [half.heel]
    narrowest = _narrowest(run, cups)
    if narrowest is None:
        return []
    left, whole, bed, _ = narrowest
    share = Fraction(left, whole)
    if abs(share - aim) <= within:
        return []
    section = next(one for one in run.sections if cups[0].first < one.last)
    return [Mishap(HEEL_POINT_UNUSUAL.fault(bed), run.moments[section.first].places[:1],
                   detail={"left": Quantity(left), "whole": Quantity(whole),
                           "way": "wide" if share > aim else "narrow", "aim": _share(aim)})]


def _narrowest(run: Run, cups: Iterable[Cup]) -> tuple[int, int, Bed, Transition] | None:
    """Of the short rows of some cups the shortest: how many stitches of how many of a bed it knits,
    on which bed, and where.

    What waits from the first of them to the last is no part of the cup: the instep of a flat sock
    that has its heel in the middle.
    """
    found: tuple[int, int, Bed, Transition] | None = None
    for cup in cups:
        inside = [change for change in run.passes() if cup.first <= change.number < cup.last]
        for bed in BEDS:
            short = [(change, state) for change in inside
                     if (state := change.before.bed(bed)).action != "rest"
                     and state.held_at_both_ends]
            knitted = reduce(or_, (state.in_work for _, state in short), 0)
            for change, state in short:
                working = state.in_work.bit_count()
                whole = state.loaded.bit_count()
                waiting = (state.loaded & ~knitted).bit_count()
                # Short rows that never become shorter are no point of a heel.
                if waiting >= INSTEP * whole and whole - waiting > working:
                    whole -= waiting
                if found is None or working < found[0]:
                    found = working, whole, bed, change
    return found


def _share(share: Fraction) -> str:
    return "a third" if share == HEEL_SHARE else f"{show_number(round(share * 100))} %"


def toe_shape(run: Run) -> list[Mishap]:
    """Toes that are closed over too many or too few stitches, or are too short or long."""
    if (half := halves_of(run)) is not None:
        return _cup(run, [half.toe])
    sock = sock_of(run)
    if sock is None:
        return []
    # A cup of short rows is closed over all its stitches: its shortest row tells how pointed it is.
    found = _cup(run, sock.toe_cups)
    parts = finished(run)
    if parts.heel is None or parts.foot is None:
        return found
    # A trial piece may end as it likes.
    if not sock.toe_cups and (parts.toe is not None or _for_a_foot(run)):
        found = _closed_over(run, sock)
    if parts.toe is None or not sock.toe:
        return found
    toe = _first_shaped(run, sock)
    if toe is None:
        return found
    share = parts.toe / parts.foot
    slow = share > TOE_SHARE[1]
    if slow or share < TOE_SHARE[0]:
        found.append(Mishap(
            TOE_DEPTH_UNUSUAL.fault(), run.moments[toe.first].places[:1],
            detail={"depth": length(round(parts.toe), run.script.inches),
                    "foot": length(round(parts.foot), run.script.inches),
                    "shaping": "increases" if sock.toe_first else "decreases",
                    "narrow": "it begins with" if sock.toe_first else "are left",
                    "way": "slow" if slow else "quick", "shape": "long" if slow else "short"}))
    return found


def _cup(run: Run, cups: Iterable[Cup]) -> list[Mishap]:
    narrowest = _narrowest(run, cups)
    if narrowest is None:
        return []
    left, whole, bed, change = narrowest
    return _narrowed(change, left, whole, bed)


def _narrowed(change: Transition, left: int, around: int, bed: Bed | None = None,
              part: str = "toe") -> list[Mishap]:
    """A toe, or a heel that is knitted like one, that comes to so many of the stitches."""
    share = Fraction(left, around)
    if MOST_POINTED <= share <= BLUNTEST:
        return []
    kind = TOE_TOO_BLUNT if share > BLUNTEST else TOE_TOO_POINTED
    return [change.mishap(kind.fault(bed), {
        "part": part, "left": Quantity(left), "around": Quantity(around)})]


def _for_a_foot(run: Run) -> bool:
    """Whether the script speaks of the length of a foot."""
    sizes = run.script.sizes
    return (sizes is not None and "foot-length" in sizes.measures) or any(
        target.what == "foot length" for section in run.sections for target in section.targets)


def _first_shaped(run: Run, sock: Sock) -> SectionRecord | None:
    """The section in which hands begin to narrow the toe."""
    rows = [one.moment for one in sock.piece.rows]
    first = min(one.moment for one in sock.toe)
    before = max((moment for moment in rows if moment < first), default=-1)
    moment = next((change.number for change in run.changes_by(Fashion)
                   if change.number > before), None)
    return None if moment is None else next(one for one in run.sections if moment < one.last)


def _closed_over(run: Run, sock: Sock) -> list[Mishap]:
    found: list[Mishap] = []
    for change in run.changes_by(Graft, Gather):
        op = change.op
        assert isinstance(op, (Graft, Gather))
        taken_up = sock.inset is not None and change.number > sock.inset.first
        around = sock.inset.widest if taken_up and sock.inset is not None else foot_round(sock)
        left = op.front.bit_count() + op.back.bit_count()
        # Drawn together, a toe may be as pointed as it likes.
        if around and (isinstance(op, Graft) or left > BLUNTEST * around):
            found += _narrowed(change, left, around, part="heel" if taken_up else "toe")
    return found
