"""Signs of our own for one needle: a character on a terminal, a shape in pictures and on the page.

A stitch is a ring, a stitch in hold a diamond; a dot inside says that there are two loops or
more.  Every legend takes its words from here.
"""

from __future__ import annotations

from typing import NamedTuple

from sockscript.trace.state import BedState


class Sign(NamedTuple):
    """How a needle is shown: its name, its character, and what it means."""

    name: str
    mark: str
    words: str


OUT = Sign("out", " ", "out of work")
EMPTY = Sign("empty", "-", "in work, empty")
ONE = Sign("one", "o", "one stitch")
TWO = Sign("two", "8", "two loops or more")
HELD = Sign("held", "^", "in hold, one stitch")
HELD_TWO = Sign("held-two", "%", "in hold, two loops or more")
UPPER = Sign("upper", "u", "upper working position")
LAID = Sign("laid", "&", "stitch with yarn laid over it")

SIGNS = (OUT, EMPTY, ONE, TWO, HELD, HELD_TWO, UPPER, LAID)


def sign(state: BedState, needle: int) -> Sign:
    """The one sign for a needle where there is room for one only."""
    bit = 1 << needle
    if state.loaded & bit and state.laid & bit:
        return LAID
    if state.upper & bit and state.loaded & bit:
        return UPPER
    return stitch_sign(state, needle)


def stitch_sign(state: BedState, needle: int) -> Sign:
    """What hangs on a needle, and whether it is in hold."""
    bit = 1 << needle
    if state.loaded & bit:
        if state.hold & bit:
            return HELD_TWO if state.double & bit else HELD
        return TWO if state.double & bit else ONE
    return EMPTY if state.in_use & bit else OUT


def symbol(state: BedState, needle: int) -> str:
    """The character for one needle."""
    return sign(state, needle).mark


def legend(seen: set[str]) -> str:
    """The characters that were used, in words."""
    return "; ".join(f"{one.mark} {one.words}" for one in SIGNS
                     if one.mark in seen and one is not OUT)
