"""What one run has knitted, in phrases with gaps for its numbers."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Literal, NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.finished import finished, length_of
from sockscript.fabric.halves import Halves, halves_of
from sockscript.fabric.hand import Hand, hand_of
from sockscript.fabric.piece import Piece
from sockscript.fabric.pieces import SEAM, pieces
from sockscript.fabric.sock import Sock, foot_round, rows_of_cups, sock_of
from sockscript.fabric.wales.told import TubeSeam, tube_seam
from sockscript.numbers.quantity import Exact, Quantity, length
from sockscript.operations import ops


class Gap(NamedTuple):
    """What stands in a gap of a phrase for one size.

    ``of``: what it is a count of, as other sentences name it (empty for a length); ``unit``: what
    is counted.
    """

    value: Quantity
    of: str = ""
    unit: Literal["stitches", "rows", "loops", "pieces"] = "stitches"


class Phrase(NamedTuple):
    """Words with gaps, and what stands in them."""

    words: str
    gaps: tuple[Gap, ...] = ()

    @property
    def values(self) -> list[Quantity]:
        """Counts, or lengths in mm."""
        return [gap.value for gap in self.gaps]


def _stitches(count: int, of: str) -> Gap:
    return Gap(Quantity(count), of)


def _rows(count: Exact, of: str) -> Gap:
    return Gap(Quantity(count), of, "rows")


def phrases(run: Run) -> Iterator[Phrase]:
    """What one run has knitted: what it is, its parts in the order of the work, what is open."""
    sock = sock_of(run)
    made = [piece for piece in pieces(run) if piece.rows]
    if sock is not None and sock.is_one:
        yield from _sock(run, sock)
    elif (half := halves_of(run)) is not None:
        yield from _halves(run, half)
    elif (hand := hand_of(run)) is not None:
        yield from _hand(run, hand)
    elif made:
        yield from _things(run, made)
    else:
        yield Phrase("Nothing")
        yield Phrase("no row was knitted")
    yield _left_open(run)


def _sock(run: Run, sock: Sock) -> Iterator[Phrase]:
    yield Phrase(("A toe-up " if sock.toe_first else "A cuff-down ")
                 + ("sock" if sock.closed else "tube with a heel"))
    whole = finished(run)
    leg = list(_leg(run, sock, whole.leg))
    foot = [*_heel(run, sock), *_foot(run, sock, whole.foot)]
    seam = tube_seam(run)
    counts = list(dict.fromkeys((_around(sock), foot_round(sock))))
    tube = Phrase(("tube of {} stitches" if sock.piece.tube else "knitted flat over {} stitches")
                  + (", {} round the foot" if len(counts) > 1 else "") + _seam(seam),
                  tuple(map(_stitches, counts, ("Tube" if sock.piece.tube else "Knitted flat",
                                                "Round the foot"))))
    if sock.toe_first:
        shut = "closed " if sock.piece.began == "closed" else ""
        begun = Phrase(f"begun {shut}over {{}} stitches",
                       (_stitches(sock.piece.rows[0].stitches, "Beginning"),))
        yield from (begun, tube, *foot[::-1], *leg, _closed(run))
    else:
        yield from (*leg, tube, *foot, _closed(run))


def _around(sock: Sock) -> int:
    """The stitches of the tube, without what a gusset adds for a while."""
    before = sock.foot if sock.toe_first else sock.leg
    gusset = any(cup.picked_up for cup in sock.heel) and before
    return max(one.stitches for one in (before if gusset else (*sock.foot, *sock.leg)))


def _leg(run: Run, sock: Sock, long: Fraction | None) -> Iterator[Phrase]:
    rib = [one for one in sock.leg if one.rib]
    if sum(one.rows for one in rib) > SEAM:
        yield Phrase("rib on both beds, {} stitches", (_stitches(max(
            one.stitches for one in rib), "Rib on both beds"),))
    if long:
        yield Phrase("{} from the edge to the heel", (_mm(run, long),))


def _heel(run: Run, sock: Sock) -> Iterator[Phrase]:
    if sock.inset is not None:
        yield Phrase("heel taken up from a slit, {} stitches around",
                     (_stitches(sock.inset.widest, "Heel taken up from a slit"),))
        return
    flap = next((cup for cup in sock.heel if cup.picked_up), None)
    if flap is not None:
        yield Phrase("heel flap with gusset, {}, turned over {} stitches, {} loops picked up",
                     (Gap(Quantity(flap.flap, "rows"), "Heel flap", "rows"),
                      _stitches(_narrowest(run, flap.first, flap.last), "Heel turned over"),
                      Gap(Quantity(flap.picked_up), "Picked up along the heel flap", "loops")))
        return
    narrow = min(_narrowest(run, cup.first, cup.last) for cup in sock.heel)
    halves = " in two halves" if len(sock.heel) > 1 else ""
    yield Phrase("heel cup" + halves + " of {} short rows, down to {} stitches",
                 (_rows(rows_of_cups(sock.heel), "Heel cup, short rows"),
                  _stitches(narrow, "Heel cup, down to")))


def _narrowest(run: Run, first: int, last: int) -> int:
    """The fewest stitches that a short row knits."""
    counts = []
    for moment in run.moments[first:last]:
        if type(moment.op) is not ops.Knit:
            continue
        # After the row: where hold is not respected it has brought all needles back to work.
        for state in (moment.state.front, moment.state.back):
            knits = state.in_work
            if state.action != "rest" and knits and knits != state.loaded:
                counts.append(knits.bit_count())
    return min(counts, default=0)


def _foot(run: Run, sock: Sock, long: Fraction | None) -> Iterator[Phrase]:
    if long is not None:
        yield Phrase("foot {} long", (_mm(run, long),))
    if sock.toe_cups:
        yield Phrase("toe of {} short rows",
                     (_rows(rows_of_cups(sock.toe_cups), "Toe, short rows"),))
    elif sock.toe:
        stitches = sorted({one.stitches for one in sock.toe})
        if len(stitches) > 1:
            ends, way = (stitches[-1], stitches[0]), "narrowed"
            if sock.toe_first:
                ends, way = ends[::-1], "widened"
            yield Phrase(f"toe of {{}} stitches, {way} to {{}}",
                         tuple(map(_stitches, ends, ("Toe", f"Toe, {way} to"))))


def _halves(run: Run, half: Halves) -> Iterator[Phrase]:
    whole = finished(run)
    yield Phrase("A sock in half its width, folded at heel and toe")
    yield Phrase("{} stitches", (_stitches(half.piece.widest, "Half its width"),))
    if whole.leg is not None:
        yield Phrase("{} from the edge to the heel", (_mm(run, whole.leg),))
    for name, cup in (("heel", half.heel), ("toe", half.toe)):
        yield Phrase(f"{name} of {{}} short rows, down to {{}} stitches",
                     (_rows(cup.rows, f"{name.capitalize()}, short rows"), _stitches(
                         _narrowest(run, cup.first, cup.last), f"{name.capitalize()}, down to")))
    if whole.foot is not None:
        yield Phrase("foot {} long", (_mm(run, whole.foot),))
    yield _closed(run)


def _hand(run: Run, hand: Hand) -> Iterator[Phrase]:
    yield Phrase("A mitten" if hand.closed else "A wrist warmer")
    for piece, name, of in ((hand.piece, "{} stitches around", "Around the hand"),
                            *((thumb, "thumb of {} stitches", "Thumb") for thumb in hand.thumbs)):
        long = length_of(piece.rows)
        seam = _seam(tube_seam(run)) if piece is hand.piece else ""
        yield Phrase(name + ("" if long is None else ", {} long") + seam,
                     (_stitches(piece.widest, of), *(() if long is None else (_mm(run, long),))))
    yield _closed(run, hand.thumbs[0].first)


def _things(run: Run, made: Sequence[Piece]) -> Iterator[Phrase]:
    """What was knitted, piece by piece, in phrases with their numbers."""
    tube = any(piece.tube for piece in made)
    what = "A ring, its last row grafted to its first" if any(piece.ring for piece in made) \
        else "A tube" if tube else "A flat piece"
    yield Phrase(what if len(made) == 1 else "{} pieces",
                 () if len(made) == 1 else (Gap(Quantity(len(made)), "Pieces", "pieces"),))
    seam = tube_seam(run)
    for piece in made:
        stitches = [one.stitches for one in piece.rows]
        rows: Exact = sum(one.rows for one in piece.rows)
        if min(stitches) == max(stitches):
            words, gaps = "{} stitches", [_stitches(stitches[0], "Stitches")]
        else:
            words = "{} stitches at the narrowest, {} at the widest"
            gaps = [_stitches(min(stitches), "At the narrowest"),
                    _stitches(max(stitches), "At the widest")]
        long = length_of(piece.rows)
        if long is None:
            # A row inside a hem counts half.
            words += ", {}" if rows == int(rows) else ", about {}"
            gaps.append(Gap(Quantity(math.ceil(rows), "rows"), "Rows", "rows"))
        else:
            words += ", {} round" if piece.ring else ", {} long"
            gaps.append(_mm(run, long))
        short = sum(cup.rows for cup in piece.cups)
        if short:
            words += " and {} short rows"
            gaps.append(_rows(short, "Short rows"))
        yield Phrase(words + (_seam(seam) if piece.tube else ""), tuple(gaps))
    if not any(piece.ring for piece in made):
        yield _closed(run)


def _mm(run: Run, mm: Fraction) -> Gap:
    return Gap(length(round(mm), run.script.inches))


def _seam(seam: TubeSeam | None) -> str:
    if seam is None:
        return ""
    return {"none": ", without a seam", "centre back": ", seam at the centre back",
            "instep": ", seam along the instep", "middle": ", seam in the middle of the "
            f"{seam.bed.word if seam.bed is not None else ''} bed",
            "side": f", seam at the {seam.side}", "beside": ", seam beside the middle of the "
            f"{seam.bed.word if seam.bed is not None else ''} bed",
            "two": ", joined at both sides"}[seam.where]


def _closed(run: Run, until: int | None = None) -> Phrase:
    """How the last stitches are closed, of all or of those before a moment."""
    taken = [moment.op for moment in run.moments[:until]
             if isinstance(moment.op, (ops.Graft, ops.Gather, ops.BindOff, ops.GraftGroups))
             or (isinstance(moment.op, ops.SewDown) and moment.op.part == "last")]
    if not taken:
        return Phrase("its last stitches are not closed")
    last = taken[-1]
    if isinstance(last, ops.GraftGroups):
        edges = {moment.op.name for moment in run.moments[:until]
                 if isinstance(moment.op, ops.Mark) and moment.op.kind == "edge"}
        if len({last.first, last.second} & edges) == 1:
            return Phrase("its last stitches grafted to a marked edge")
        return Phrase("closed by grafting")
    if isinstance(last, ops.SewDown):
        return Phrase("its last {} rows folded in and sewn down", (
            _rows(last.rows, "Folded in and sewn down"),))
    front, back = last.front.bit_count(), last.back.bit_count()
    if isinstance(last, ops.Graft):
        if front == back:
            return Phrase("closed by grafting, {} stitches from each bed",
                          (_stitches(front, "Grafted"),))
        return Phrase("closed by grafting {} stitches and {}", (
            _stitches(front, "Grafted, of the front bed"),
            _stitches(back, "Grafted, of the back bed")))
    if isinstance(last, ops.Gather):
        return Phrase("closed by drawing {} stitches together", (
            _stitches(front + back, "Drawn together"),))
    count = sum((op.front | op.back << run.engine.profile.needles).bit_count() for op in taken
                if isinstance(op, ops.BindOff))
    return Phrase("{} stitches bound off", (_stitches(count, "Bound off"),))


def _left_open(run: Run) -> Phrase:
    names = ", ".join(f"'{name}'" for name in run.engine.groups)
    state = run.moments[-1].state if run.moments else None
    hanging = state.stitches() if state is not None else 0
    if hanging:
        return Phrase("Left on the needles: {} stitches"
                      + (f"; left open: {names}." if names else "."),
                      (_stitches(hanging, "Left on the needles"),))
    return Phrase(f"Left open: {names}." if names else "Nothing is left open.")
