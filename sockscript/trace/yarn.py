"""Where the working yarn leaves the work, and how far it may go on from there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sockscript.operations.beds import BACK, Bed, Side, facing_needle, highest, lowest
from sockscript.trace.faults import Fault

if TYPE_CHECKING:
    from sockscript.trace.engine import Engine

LONGEST_FLOAT = 5
"""Needles that a yarn may pass over without being a jump: common practice, no source."""

Spot = tuple[Bed, int]


def along(engine: Engine, spot: Spot) -> int:
    """Where a needle stands along the beds: needles that face each other stand at one place."""
    bed, needle = spot
    return facing_needle(bed, needle, engine.racking) if bed is BACK else needle


def outermost(engine: Engine, front: int, back: int, side: Side) -> Spot:
    """The needle of two sets that stands nearest to an end; the front bed's if both do."""
    end = lowest if side == "left" else highest
    if not back:
        return Bed.FRONT, end(front)
    if not front:
        return Bed.BACK, end(back)
    one, two = (Bed.FRONT, end(front)), (Bed.BACK, end(back))
    ahead = along(engine, two) - along(engine, one)
    return two if (ahead < 0 if side == "left" else ahead > 0) else one


def nearer_end(engine: Engine, front: int, back: int) -> Spot:
    """The end of two sets, not both empty, that the yarn has the shorter way to.

    The left one if both are as near; the yarn must be attached.
    """
    left, right = (outermost(engine, front, back, side) for side in ("left", "right"))
    assert engine.attached is not None
    here = along(engine, engine.attached)
    nearer = abs(along(engine, right) - here) < abs(along(engine, left) - here)
    return right if nearer else left


def jump_to(engine: Engine, spot: Spot) -> list[Fault]:
    """The fault of a yarn that is attached too far away to go on at a needle."""
    if engine.attached is None:
        return []
    gap = abs(along(engine, spot) - along(engine, engine.attached))
    if gap <= LONGEST_FLOAT:
        return []
    return [Fault("yarn-jump", spot[0], 1 << spot[1], gap, leaves=engine.attached)]


def count_strands(engine: Engine, count: int) -> None:
    """The yarn in the feeder was laid over so many stitches."""
    assert engine.feeder is not None
    if count:
        engine.yarn_strands[engine.feeder] = engine.yarn_strands.get(engine.feeder, 0) + count


def count_loops(engine: Engine, count: int) -> None:
    """The yarn in the feeder formed so many loops."""
    assert engine.feeder is not None
    if count:
        engine.yarn_loops[engine.feeder] = engine.yarn_loops.get(engine.feeder, 0) + count
