"""Where the working yarn leaves the work, and how far it may go on from there."""

from __future__ import annotations

from sockscript.operations.beds import BACK, FRONT, Side, Spot, facing_needle, highest, lowest
from sockscript.trace.faults import Fault
from sockscript.trace.machine import Machine

LONGEST_FLOAT = 5
"""Needles that a yarn may pass over without being a jump: common practice, no source."""


def along(machine: Machine, spot: Spot) -> int:
    """Where a needle stands along the beds: needles that face each other stand at one place."""
    bed, needle = spot
    return facing_needle(bed, needle, machine.racking) if bed is BACK else needle


def outermost(machine: Machine, front: int, back: int, side: Side) -> Spot:
    """The needle of two sets that stands nearest to an end; the front bed's if both do."""
    end = lowest if side == "left" else highest
    if not back:
        return FRONT, end(front)
    if not front:
        return BACK, end(back)
    one, two = (FRONT, end(front)), (BACK, end(back))
    ahead = along(machine, two) - along(machine, one)
    return two if (ahead < 0 if side == "left" else ahead > 0) else one


def nearer_end(machine: Machine, front: int, back: int) -> Spot:
    """The end of two sets, not both empty, that the yarn has the shorter way to.

    The left one if both are as near; the yarn must be attached.
    """
    left, right = (outermost(machine, front, back, side) for side in ("left", "right"))
    assert machine.attached is not None
    here = along(machine, machine.attached)
    nearer = abs(along(machine, right) - here) < abs(along(machine, left) - here)
    return right if nearer else left


def jump_to(machine: Machine, spot: Spot) -> list[Fault]:
    """The fault of a yarn that is attached too far away to go on at a needle."""
    if machine.attached is None:
        return []
    gap = abs(along(machine, spot) - along(machine, machine.attached))
    if gap <= LONGEST_FLOAT:
        return []
    return [Fault("yarn-jump", spot[0], 1 << spot[1], gap, leaves=machine.attached)]


def count_strands(machine: Machine, count: int) -> None:
    """The yarn in the feeder, or the two in it, was laid over so many stitches."""
    _count(machine, machine.yarn_strands, count)


def count_loops(machine: Machine, count: int) -> None:
    """The yarn in the feeder, or the two in it, formed so many loops."""
    _count(machine, machine.yarn_loops, count)


def _count(machine: Machine, totals: dict[str, int], count: int) -> None:
    for yarn in (machine.feeder, machine.along):
        if count and yarn is not None:
            totals[yarn] = totals.get(yarn, 0) + count
