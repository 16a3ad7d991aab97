"""In one word where the seam of a tube runs, for whoever tells back what was knitted."""

from __future__ import annotations

from typing import Literal, NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.wales.facts import Neighbours, Seam
from sockscript.fabric.wales.follow import neighbours
from sockscript.operations.beds import Bed, Side

OFF_CENTRE = 2
"""Stitches at one side of a seam more than at the other: from two on it could lie better.  An odd
number of stitches has no middle.  Common practice, no source."""


class TubeSeam(NamedTuple):
    """Where the edges of a tube meet.

    ``where``: ``none`` (in the round from the first row to the last), ``centre back`` and
    ``instep`` (in the middle of the heel's bed or of the other), ``middle`` (of ``bed``, without a
    heel), ``side`` (between the beds, at ``side``), ``beside`` (off the middle of ``bed``), or
    ``two`` (two pieces joined side by side).
    """

    where: Literal["none", "centre back", "instep", "middle", "side", "beside", "two"]
    bed: Bed | None = None
    side: Side | None = None


def tube_seam(run: Run) -> TubeSeam | None:
    """The seam of the tube that a run knits; None if it knits none."""
    known = neighbours(run)
    if known.first_round is None:
        return None
    if not known.seams:
        return TubeSeam("none")
    seam = seam_at_heel(known) or known.seams[0]
    if sum(other.moment == seam.moment for other in known.seams) > 1:
        return TubeSeam("two")
    if seam.bed is None:
        return TubeSeam("side", None, seam.side)
    if abs(seam.off) >= OFF_CENTRE:
        return TubeSeam("beside", seam.bed)
    if not known.heels:
        return TubeSeam("middle", seam.bed)
    return TubeSeam("centre back" if known.heels[0].bed is seam.bed else "instep", seam.bed)


def seam_at_heel(known: Neighbours) -> Seam | None:
    """The seam as it lies when the first heel is knitted; None without a heel or a seam."""
    if not known.heels or not known.seams:
        return None
    before = [seam for seam in known.seams if seam.moment <= known.heels[0].moment]
    # A heel knitted before the first round: its bed closed the edges already.
    return before[-1] if before else known.seams[0]
