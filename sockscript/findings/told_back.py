"""What was knitted, told back in a few sentences that a knitter compares with what she meant."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple

from sockscript.expand.explore import Outcome, all_choices
from sockscript.expand.run import Run
from sockscript.expand.values import Value
from sockscript.fabric.finished import finished
from sockscript.fabric.halves import Halves, halves_of
from sockscript.fabric.hand import Hand, hand_of
from sockscript.fabric.piece import Piece, Rows
from sockscript.fabric.pieces import SEAM, pieces
from sockscript.fabric.sock import Sock, foot_round, rows_of_cups, sock_of
from sockscript.fabric.wales.told import TubeSeam, tube_seam
from sockscript.findings.prove import Proof
from sockscript.numbers.quantity import Exact, Quantity, length, show, show_number
from sockscript.operations import ops


class Phrase(NamedTuple):
    """Words with gaps, and what stands in the gaps for one size: counts, or lengths in mm."""

    words: str
    values: tuple[Quantity, ...] = ()


def told_back(proof: Proof) -> list[str]:
    """Paragraphs: what the default choices knit, then what other sizes or choices knit otherwise.

    Numbers that differ from size to size are told from the smallest to the largest.
    """
    script = proof.prepared.script
    names = script.sizes.names if script.sizes is not None else ("",)
    choices = all_choices(script)
    first = [_run_with(outcomes, choices[0]) for outcomes in proof.outcomes]
    if any(run is None or run.stopped is not None for run in first):
        return []
    by_size = [list(phrases(run)) for run in first if run is not None]
    found = []
    for members in _alike(by_size):
        text = _sentence([by_size[n] for n in members])
        if len(members) < len(by_size):
            text = f"In {', '.join(names[n] for n in members)}: {text[:1].lower()}{text[1:]}"
        found.append(text)
    found.extend(_other_choices(proof, choices, by_size))
    return found


def _run_with(outcomes: Sequence[Outcome], chosen: Mapping[str, Value]) -> Run | None:
    return next((outcome.run for outcome in outcomes if chosen in outcome.choices), None)


def _alike(by_size: Sequence[Sequence[Phrase]]) -> list[list[int]]:
    """Sizes that are told in the same words, together."""
    groups: dict[tuple[str, ...], list[int]] = {}
    for n, told in enumerate(by_size):
        groups.setdefault(tuple(phrase.words for phrase in told), []).append(n)
    return list(groups.values())


def _sentence(told: Sequence[Sequence[Phrase]]) -> str:
    parts = [_together(alike) for alike in zip(*told, strict=True)]
    return f"{parts[0]}: {'; '.join(parts[1:-1])}. {parts[-1]}"


def _together(alike: Sequence[Phrase]) -> str:
    """One phrase of several sizes, with the least and the greatest of each number."""
    gaps = [_from_to([phrase.values[n] for phrase in alike])
            for n in range(len(alike[0].values))]
    return alike[0].words.format(*gaps)


def _from_to(values: Sequence[Quantity]) -> str:
    low, high = (choose(values, key=lambda one: one.value) for choose in (min, max))
    if low == high:
        return _shown(low)
    one, two = _shown(low), _shown(high)
    unit = one.rpartition(" ")[2]
    if low.unit and two.endswith(f" {unit}"):
        one = one.removesuffix(f" {unit}")
    return f"{one} to {two}"


def _shown(one: Quantity) -> str:
    if one.unit != "rows":
        return show(one)
    return "1 row" if one.value == 1 else f"{show_number(one.value)} rows"


def _other_choices(proof: Proof, choices: Sequence[Mapping[str, Value]],
                   by_size: Sequence[Sequence[Phrase]]) -> Iterator[str]:
    """For each option, what its other values knit in other words or numbers."""
    for option in proof.prepared.script.options:
        for value in option.values:
            if value == option.default:
                continue
            chosen = {**choices[0], option.name: value}
            runs = [_run_with(outcomes, chosen) for outcomes in proof.outcomes]
            if any(run is None or run.stopped is not None for run in runs):
                continue
            now = [list(phrases(run)) for run in runs if run is not None]
            changed = [[phrase for phrase in mine if phrase not in usual]
                       for mine, usual in zip(now, by_size, strict=True)]
            if not any(changed) or len({tuple(p.words for p in one) for one in changed}) > 1:
                continue
            parts = [_together(alike) for alike in zip(*changed, strict=True)]
            word = show(value) if isinstance(value, Quantity) else value
            yield f"With {option.name} {word}: {'; '.join(parts)}."


# ---- one run


def phrases(run: Run) -> Iterator[Phrase]:
    """What one run has knitted: what it is, its parts in the order of the work, what is open."""
    sock = sock_of(run)
    made = [piece for piece in pieces(run) if piece.rows]
    if sock is not None and (sock.closed or sock.piece.tube) and (sock.leg or sock.inset):
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
                  tuple(map(Quantity, counts)))
    if sock.toe_first:
        begun = Phrase("begun " + ("closed " if sock.closed else "") + "over {} stitches",
                       (Quantity(sock.piece.rows[0].stitches),))
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
        yield Phrase("rib on both beds, {} stitches", (Quantity(max(
            one.stitches for one in rib)),))
    if long:
        yield Phrase("{} from the edge to the heel", (_mm(run, long),))


def _heel(run: Run, sock: Sock) -> Iterator[Phrase]:
    if sock.inset is not None:
        yield Phrase("heel taken up from a slit, {} stitches around",
                     (Quantity(sock.inset.widest),))
        return
    flap = next((cup for cup in sock.heel if cup.picked_up), None)
    if flap is not None:
        yield Phrase("heel flap with gusset, {}, turned over {} stitches, {} loops picked up",
                     (Quantity(flap.flap, "rows"), Quantity(_narrowest(run, flap.first, flap.last)),
                      Quantity(flap.picked_up)))
        return
    narrow = min(_narrowest(run, cup.first, cup.last) for cup in sock.heel)
    halves = " in two halves" if len(sock.heel) > 1 else ""
    yield Phrase("heel cup" + halves + " of {} short rows, down to {} stitches",
                 (Quantity(rows_of_cups(sock.heel)), Quantity(narrow)))


def _narrowest(run: Run, first: int, last: int) -> int:
    """The fewest stitches that a short row knits."""
    counts = []
    for moment in run.moments[first:last]:
        if type(moment.op) is not ops.Knit:
            continue
        # After the row: where hold is not respected it has brought all needles back to work.
        for state in (moment.state.front, moment.state.back):
            knits = state.working & state.loaded
            if state.action != "rest" and knits and knits != state.loaded:
                counts.append(knits.bit_count())
    return min(counts, default=0)


def _foot(run: Run, sock: Sock, long: Fraction | None) -> Iterator[Phrase]:
    if long is not None:
        yield Phrase("foot {} long", (_mm(run, long),))
    if sock.toe_cups:
        yield Phrase("toe of {} short rows", (Quantity(rows_of_cups(sock.toe_cups)),))
    elif sock.toe:
        stitches = sorted({one.stitches for one in sock.toe})
        if len(stitches) > 1:
            ends, way = (Quantity(stitches[-1]), Quantity(stitches[0])), "narrowed"
            if sock.toe_first:
                ends, way = ends[::-1], "widened"
            yield Phrase(f"toe of {{}} stitches, {way} to {{}}", ends)


def _halves(run: Run, half: Halves) -> Iterator[Phrase]:
    whole = finished(run)
    yield Phrase("A sock in half its width, folded at heel and toe")
    yield Phrase("{} stitches", (Quantity(half.piece.widest),))
    if whole.leg is not None:
        yield Phrase("{} from the edge to the heel", (_mm(run, whole.leg),))
    for name, cup in (("heel", half.heel), ("toe", half.toe)):
        yield Phrase(f"{name} of {{}} short rows, down to {{}} stitches",
                     (Quantity(cup.rows), Quantity(_narrowest(run, cup.first, cup.last))))
    if whole.foot is not None:
        yield Phrase("foot {} long", (_mm(run, whole.foot),))
    yield _closed(run)


def _hand(run: Run, hand: Hand) -> Iterator[Phrase]:
    yield Phrase("A mitten" if hand.closed else "A wrist warmer")
    for piece, name in ((hand.piece, "{} stitches around"),
                        *((thumb, "thumb of {} stitches") for thumb in hand.thumbs)):
        long = _length(piece.rows)
        seam = _seam(tube_seam(run)) if piece is hand.piece else ""
        yield Phrase(name + ("" if long is None else ", {} long") + seam,
                     (Quantity(piece.widest), *(() if long is None else (_mm(run, long),))))
    yield _closed(run, hand.thumbs[0].first)


def _things(run: Run, made: Sequence[Piece]) -> Iterator[Phrase]:
    """What was knitted, piece by piece, in phrases with their numbers."""
    tube = any(piece.tube for piece in made)
    what = "A ring, its last row grafted to its first" if any(piece.ring for piece in made) \
        else "A tube" if tube else "A flat piece"
    yield Phrase(what if len(made) == 1 else "{} pieces",
                 () if len(made) == 1 else (Quantity(len(made)),))
    seam = tube_seam(run)
    for piece in made:
        stitches = [one.stitches for one in piece.rows]
        rows: Exact = sum(one.rows for one in piece.rows)
        words = "{} stitches" if min(stitches) == max(stitches) \
            else "{} stitches at the narrowest, {} at the widest"
        values = [Quantity(count) for count in dict.fromkeys((min(stitches), max(stitches)))]
        long = _length(piece.rows)
        if long is None:
            # A row inside a hem counts half.
            words += ", {}" if rows == int(rows) else ", about {}"
            values.append(Quantity(math.ceil(rows), "rows"))
        else:
            words += ", {} round" if piece.ring else ", {} long"
            values.append(_mm(run, long))
        short = sum(cup.rows for cup in piece.cups)
        if short:
            words += " and {} short rows"
            values.append(Quantity(short))
        yield Phrase(words + (_seam(seam) if piece.tube else ""), tuple(values))
    if not any(piece.ring for piece in made):
        yield _closed(run)


def _length(rows: Sequence[Rows]) -> Fraction | None:
    found = Fraction(0)
    for one in rows:
        if one.mm is None:
            return None
        found += one.mm
    return found


def _mm(run: Run, mm: Fraction) -> Quantity:
    return length(round(mm), run.script.inches)


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
        return Phrase("its last {} rows folded in and sewn down", (Quantity(last.rows),))
    front, back = last.front.bit_count(), last.back.bit_count()
    if isinstance(last, ops.Graft):
        if front == back:
            return Phrase("closed by grafting, {} stitches from each bed", (Quantity(front),))
        return Phrase("closed by grafting {} stitches and {}", (Quantity(front), Quantity(back)))
    if isinstance(last, ops.Gather):
        return Phrase("closed by drawing {} stitches together", (Quantity(front + back),))
    count = sum((op.front | op.back << run.engine.profile.needles).bit_count() for op in taken
                if isinstance(op, ops.BindOff))
    return Phrase("{} stitches bound off", (Quantity(count),))


def _left_open(run: Run) -> Phrase:
    names = ", ".join(f"'{name}'" for name in run.engine.groups)
    state = run.moments[-1].state if run.moments else None
    hanging = state.front.stitches() + state.back.stitches() if state is not None else 0
    if hanging:
        left = Phrase("Left on the needles: {} stitches", (Quantity(hanging),))
        return left._replace(words=left.words + (f"; left open: {names}." if names else "."))
    return Phrase(f"Left open: {names}." if names else "Nothing is left open.")
