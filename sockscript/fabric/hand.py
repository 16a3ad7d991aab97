"""A tube for a hand: one with an opening that is taken up as a thumb."""

from __future__ import annotations

from typing import NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.piece import Piece
from sockscript.fabric.pieces import pieces
from sockscript.fabric.sock import sock_of


class Hand(NamedTuple):
    """The tube and the thumbs (or fingers) that are knitted on its openings."""

    piece: Piece
    thumbs: tuple[Piece, ...]

    @property
    def closed(self) -> bool:
        """Whether it has an end, as a mitten has, or is open as a wrist warmer is."""
        return self.piece.ended == "closed" or self.piece.began == "closed"


def hand_of(run: Run) -> Hand | None:
    """A tube without a heel whose openings are taken up; None for anything else.

    An opening as wide as a heel's makes a sock (see ``sock``).
    """
    if sock_of(run) is not None:
        return None
    taken = [piece for piece in pieces(run)
             if piece.taken_up is not None and piece.taken_up[1] == "slit" and piece.rows]
    if not taken:
        return None
    assert taken[0].taken_up is not None
    whole = taken[0].taken_up[0]
    return Hand(whole, tuple(piece for piece in taken
                             if piece.taken_up is not None and piece.taken_up[0] is whole))
