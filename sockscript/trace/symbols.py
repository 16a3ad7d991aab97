"""Signs of our own for one needle in plain characters."""

from __future__ import annotations

from sockscript.trace.state import BedState

OUT, EMPTY, ONE, TWO, HELD, HELD_TWO, UPPER, LAID = " ", "-", "o", "8", "^", "%", "u", "&"

LEGEND = (
    (OUT, "out of work"), (EMPTY, "in work, empty"), (ONE, "one stitch"),
    (TWO, "two loops or more"), (HELD, "in hold, one stitch"), (HELD_TWO, "in hold, two loops"),
    (UPPER, "upper working position"), (LAID, "stitch with yarn laid over it"),
)


def symbol(state: BedState, needle: int) -> str:
    """What is drawn for one needle."""
    bit = 1 << needle
    if state.loaded & bit and state.laid & bit:
        return LAID
    if state.hold & bit:
        return (HELD_TWO if state.double & bit else HELD) if state.loaded & bit else EMPTY
    if state.upper & bit and state.loaded & bit:
        return UPPER
    if state.loaded & bit:
        return TWO if state.double & bit else ONE
    return EMPTY if (state.work | state.upper) & bit else OUT


def legend(seen: set[str]) -> str:
    """The signs that were used, in words."""
    return "; ".join(f"{mark} {text}" for mark, text in LEGEND if mark in seen and mark != OUT)
