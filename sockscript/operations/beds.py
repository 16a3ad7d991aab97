"""Beds and needles: how the numbers on the machine map to bit positions.

Needles are counted out from the centre of each bed: L1, L2 … to the left and
R1, R2 … to the right; there is no needle 0.  A bed of N needles is held as an
integer whose bit 0 is the leftmost needle (L N/2) and whose bit N-1 is the
rightmost (R N/2), so "further left" is always "lower bit".
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import IntEnum
from typing import Literal

Side = Literal["left", "right"]
SIDES: tuple[Side, Side] = ("left", "right")


class Bed(IntEnum):
    """One of the two facing needle beds."""

    FRONT = 0
    BACK = 1

    @property
    def word(self) -> str:
        """The bed's name in a script: ``front`` or ``back``."""
        return "front" if self is FRONT else "back"

    @property
    def opposite(self) -> Bed:
        """The bed that faces this one."""
        return BACK if self is FRONT else FRONT


# Members of an enumeration are looked up slowly: these names are for all that is done often.
FRONT, BACK = Bed.FRONT, Bed.BACK
BEDS = (FRONT, BACK)

Spot = tuple[Bed, int]
"""A bed and a needle."""


def other_side(side: Side) -> Side:
    """The end of the bed opposite to ``side``."""
    return "right" if side == "left" else "left"


def needle_name(index: int, needles: int) -> str:
    """The number printed on the machine for bit ``index`` of a bed of ``needles``."""
    half = needles // 2
    return f"L{half - index}" if index < half else f"R{index - half + 1}"


def needle_index(side: str, number: int, needles: int) -> int:
    """The bit of needle ``side``+``number``; may lie off the bed (negative or >= needles)."""
    half = needles // 2
    return half - number if side.upper() == "L" else half + number - 1


def lowest(mask: int) -> int:
    """Index of the leftmost needle in a non-empty set."""
    return (mask & -mask).bit_length() - 1


def highest(mask: int) -> int:
    """Index of the rightmost needle in a non-empty set."""
    return mask.bit_length() - 1


def indices(mask: int) -> Iterator[int]:
    """The needles of a set, from left to right."""
    while mask:
        bit = mask & -mask
        yield bit.bit_length() - 1
        mask ^= bit


def span(first: int, last: int) -> int:
    """The set of all needles from ``first`` to ``last`` inclusive (empty if reversed)."""
    return ((1 << (last - first + 1)) - 1) << first if last >= first else 0


def facing_needle(bed: Bed, needle: int, racking: int) -> int:
    """The needle of the other bed that faces a needle of ``bed``; may lie off the bed.

    Racked by r, back needle i faces front needle i + r.
    """
    return needle + racking if bed is BACK else needle - racking


def facing(bed: Bed, mask: int, racking: int) -> int:
    """The needles of the other bed that face a set of ``bed``."""
    shift = racking if bed is BACK else -racking
    return mask << shift if shift >= 0 else mask >> -shift


def outermost(mask: int, side: Side, count: int) -> int:
    """The ``count`` needles of ``mask`` nearest to the ``side`` end (fewer if it has fewer)."""
    taken = 0
    for _ in range(count):
        if not mask:
            break
        bit = 1 << (lowest(mask) if side == "left" else highest(mask))
        taken |= bit
        mask ^= bit
    return taken


def needle_ranges(mask: int, needles: int) -> str:
    """A set in words: ``L16 to R16``, ``L4 and R2 to R5`` (``none`` if empty)."""
    parts: list[str] = []
    while mask:
        first = lowest(mask)
        run = (~(mask >> first) & ((mask >> first) + 1)).bit_length() - 1
        last = first + run - 1
        name = needle_name(first, needles)
        parts.append(name if run == 1 else f"{name} to {needle_name(last, needles)}")
        mask &= ~span(first, last)
    return " and ".join(filter(None, (", ".join(parts[:-1]), *parts[-1:]))) or "none"
