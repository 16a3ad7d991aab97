"""Ends of a tube that stay open or shut otherwise than a foot needs."""

from __future__ import annotations

from itertools import pairwise

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.fabric.begun import beginnings, piece_at
from sockscript.fabric.measures import is_rib
from sockscript.fabric.piece import Piece
from sockscript.fabric.pieces import pieces
from sockscript.fabric.sock import NARROW, sock_of
from sockscript.fabric.tubes import Tube, tubes_of
from sockscript.findings.kind import Kind, LedBy
from sockscript.numbers.quantity import Quantity
from sockscript.operations.beds import BEDS
from sockscript.operations.ops import (
    BindOff,
    CastOn,
    Fold,
    Gather,
    Graft,
    GraftGroups,
    Knit,
    Rehang,
    Transfer,
)

NARROW_END_OPEN = Kind(
    "narrow-end-open", "warning",
    "The tube narrows to {stitches}, and those of the two beds are bound off each by themselves: "
    "its end stays open.",
    "Graft the beds together (graft front to back), draw the stitches together (gather both), or "
    "lay those of one bed onto the other and bind them off as one; if an opening is meant, allow "
    "it.")

NARROW_START_OPEN = Kind(
    "narrow-start-open", "warning",
    "The tube begins on {stitches} that are cast on by hand, those of each bed by themselves, and "
    "widens from there: its end stays open.",
    "Begin with one row over both beds, which zigzags between them and closes the end (do "
    "tube-cast-on …), or with waste yarn and graft it later; if an opening is meant, allow it.")

GATHERED_APART = Kind(
    "gathered-apart", "warning",
    "The stitches of this tube are drawn together in two bunches, {one} and {other}: between them "
    "its end stays open.",
    "Draw one end of yarn through all stitches in the order of the round, the front bed and back "
    "along the back bed (gather both).",
    led=LedBy(lambda change, mishap: isinstance(change.op, Gather),
              "The first stitches were drawn together here"))

NO_WAY_IN = Kind(
    "no-way-in", "advice",
    "A sock that is closed at both ends: no foot gets in.",
    "Leave the end of the leg open: cast on an edge that opens (tubular-cast-on, waste-start), or "
    "bind off the last round bed by bed.",
    follows_anywhere=("tube-knitted-shut",))


def no_way_in(run: Run) -> list[Mishap]:
    """Socks with a shaped toe whose tube is shut at the end of the leg too, and that have no other
    opening."""
    sock = sock_of(run) if run.stopped is None else None
    if sock is None or {sock.piece.began, sock.piece.ended} != {"closed"}:
        return []
    taken_up = {other.taken_up[2] for other in pieces(run)
                if other.taken_up is not None and other.taken_up[0] is sock.piece}
    if not taken_up >= set(sock.piece.slits):
        return []
    toe_first, toe_last = (sock.piece.rows[n].stitches <= NARROW * sock.piece.widest
                           for n in (0, -1))
    if toe_first == toe_last:
        return []  # a bag, or a sample
    return [_shut(run, sock.piece, at_end=toe_first).mishap(NO_WAY_IN.fault())]


def _shut(run: Run, piece: Piece, at_end: bool) -> Transition:
    """Where a piece was shut at one of its ends, that which is no toe: the wider one."""
    if not at_end:
        return run.changes()[piece.first]
    last = piece.rows[-1].moment
    return next((change for change in run.changes_by(Graft, Gather, GraftGroups, BindOff)
                 if change.number > last), run.changes()[last])


def narrow_end_open(run: Run) -> list[Mishap]:
    """Tubes that narrow to less than lets a foot or hand through, and are then bound off on one
    bed and on the other."""
    return [mishap for tube in tubes_of(run) for mishap in _open(run, tube)]


def _open(run: Run, tube: Tube) -> list[Mishap]:
    ending = [change for change in run.changes()[tube.last:]
              if isinstance(change.op, BindOff) and change.before.stitches()]
    last = next((change for change in ending if not change.after.stitches()), None)
    if last is None or _beds(ending[0]) != 1 or _beds(last) != 1:
        return []
    end = ending[0].before.stitches()
    widest = max(change.before.stitches() for change in run.changes()[tube.first + 1:tube.last + 1])
    if end > NARROW * widest or ending[0].after.stitches() != last.before.stitches() \
            or _joined(run, ending[0].number):
        return []
    return [last.mishap(NARROW_END_OPEN.fault(amount=end))]


_JOINS_BEDS = (Knit, Transfer, Fold, Rehang)


def narrow_start_open(run: Run) -> list[Mishap]:
    """Tubes that begin on fewer stitches than let a foot or hand through, cast on by hand on one
    bed and on the other, and go on in rounds at once."""
    found = []
    begun = beginnings(run)
    for tube in tubes_of(run):
        piece = piece_at(run, tube.first)
        before = run.changes()[begun[piece]:tube.first] if piece >= 0 else []
        by_hand = [change for change in before if isinstance(change.op, CastOn)]
        if not by_hand or by_hand[0] is not before[0] \
                or any(isinstance(change.op, _JOINS_BEDS) for change in before):
            continue
        start = by_hand[-1].after.stitches()
        widest = max(change.before.stitches() for change in run.changes()[tube.first:tube.last])
        if start <= NARROW * widest:
            found.append(by_hand[0].mishap(NARROW_START_OPEN.fault(amount=start)))
    return found


def gathered_apart(run: Run) -> list[Mishap]:
    """Tubes of which some stitches are drawn together, and then the others for themselves."""
    found = []
    passes = [change.number for change in run.passes()]
    for first, second in pairwise(run.changes_by(Gather)):
        one, other = (change.before.stitches() - change.after.stitches()
                      for change in (first, second))
        left = first.after.stitches()
        if one and other and left == second.before.stitches() \
                and not any(first.number < number < second.number for number in passes) \
                and any(tube.first < first.number <= tube.last for tube in tubes_of(run)) \
                and not _joined(run, first.number):
            found.append(second.mishap(GATHERED_APART.fault(), {
                "one": Quantity(one), "other": Quantity(other)}))
    return found


def _joined(run: Run, end: int) -> bool:
    """Whether the last row before an end joins the two beds."""
    passes = [change for change in run.passes() if change.number < end]
    return bool(passes) and is_rib(passes[-1].before)


def _beds(change: Transition) -> int:
    """On how many beds stitches are bound off."""
    assert isinstance(change.op, BindOff)
    return sum(bool(change.op.on(bed)) for bed in BEDS)
