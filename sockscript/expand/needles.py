"""Which needles a script means: from words to sets of needles, by the state of the machine."""

from __future__ import annotations

from sockscript.expand import described as de
from sockscript.expand.described import NeedlePiece, NeedleSet
from sockscript.expand.run import Run
from sockscript.numbers.quantity import Quantity
from sockscript.operations.beds import (
    BEDS,
    Bed,
    indices,
    needle_index,
    other_side,
    outermost,
    span,
)
from sockscript.trace.faults import Fault
from sockscript.trace.state import BedState
from sockscript.tree import expressions as ex


class Chosen:
    """A set of needles: masks by bed, the needles in order, and the words for it."""

    __slots__ = ("beds", "masks", "words")

    def __init__(self, beds: tuple[Bed, ...], masks: tuple[int, int], words: NeedleSet) -> None:
        self.beds = beds
        self.masks = masks
        self.words = words

    def listed(self) -> list[tuple[Bed, int]]:
        """Bed and needle, front before back, left to right."""
        return [(bed, n) for bed in BEDS for n in indices(self.masks[bed])]


def choose(run: Run, needles: ex.Needles, bare_means: str) -> Chosen:
    """Work out ``needles``.  A bed alone means its ``loaded`` needles or those ``in-use``."""
    beds, bed_word = run.beds(needles.bed)
    masks = [0, 0]
    pieces: list[NeedlePiece] = []
    for bed in beds:
        state = run.engine.bed(bed)
        if not needles.pieces:
            masks[bed] = state.loaded if bare_means == "loaded" else state.in_use
            continue
        pieces = []
        for piece in needles.pieces:
            mask, described = _piece(run, piece, bed, state)
            masks[bed] |= mask
            pieces.append(described)
    return Chosen(beds, (masks[0], masks[1]), NeedleSet(bed_word, tuple(pieces)))


def _piece(run: Run, piece: ex.NeedlePart, bed: Bed, state: BedState) -> tuple[int, NeedlePiece]:
    """The needles of one piece of a list (``left 2``), and the same for a sentence."""
    if isinstance(piece, ex.NeedleRange):
        first, first_name = _point(run, piece.first, bed)
        if piece.last is None:
            return 1 << first, de.OneNeedle(first_name)
        last, last_name = _point(run, piece.last, bed)
        return span(*sorted((first, last))), de.NeedleRow(first_name, last_name)
    if isinstance(piece, ex.Everything):
        use = state.in_use
        mask = {"all": use, "held": state.hold, "empty": use & ~state.loaded}[piece.which]
        return mask, de.NeedlesThat(piece.which)
    if isinstance(piece, ex.Centre):
        count = run.count(piece.count, "stitches")
        needles = run.engine.profile.needles
        there = min(count, needles)
        if there < count:
            run.fault(Fault("needle-off-bed", bed=bed, amount=count), piece.at)
        start = needles // 2 - there // 2
        return span(start, start + there - 1), de.CentreNeedles(Quantity(count))
    if isinstance(piece, ex.AtEnd):
        return _at_end(run, piece, bed, state)
    inner, words = _piece(run, piece.piece, bed, state)
    begin = run.count(piece.start, "stitches") if piece.start is not None else 1
    if not begin:
        raise run.cannot("bad-number", piece.at, "Counting starts with 1.",
                         "For example: every 2nd from 1 of centre 20 of front.")
    mask = sum(1 << needle for needle in [*indices(inner)][begin - 1::piece.step])
    return mask, de.EveryNth(Quantity(piece.step), Quantity(begin), words)


def _at_end(run: Run, piece: ex.AtEnd, bed: Bed, state: BedState) -> tuple[int, NeedlePiece]:
    side, word = run.end(piece.end)
    count = run.count(piece.count, "stitches")
    if piece.reach == "held":
        mask = outermost(state.hold_beyond(side), other_side(side), count)
    else:
        base = {"stitches": state.loaded, "needles": state.in_use,
                "working": state.working}[piece.reach]
        mask = outermost(base, side, count)
    if mask.bit_count() < count:
        run.fault(Fault("too-few-needles", bed=bed, needles=mask, amount=count,
                        name=piece.reach if piece.reach in ("held", "working") else ""), piece.at)
    return mask, de.OuterNeedles(word, Quantity(count), piece.reach)


def _point(run: Run, point: ex.Point, bed: Bed) -> tuple[int, str]:
    """The place of a needle and its name; one past the end is taken for the last."""
    number = run.count(point.number, "stitches")
    needles = run.engine.profile.needles
    if number == 0:
        raise run.cannot("no-needle-0", point.at, f"There is no needle {point.side}0.",
                         "Needles are counted out from the centre: L1, L2 …, R1, R2 …")
    index = needle_index(point.side, number, needles)
    name = f"{point.side}{number}"
    if not 0 <= index < needles:
        run.fault(Fault("needle-off-bed", bed=bed, amount=number, name=name), point.at)
    return min(max(index, 0), needles - 1), name
