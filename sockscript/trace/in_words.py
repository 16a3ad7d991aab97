"""The state of the machine in words: the same on a terminal, in pictures and on the page."""

from __future__ import annotations

from sockscript.operations.beds import Side
from sockscript.trace.state import BedState, Snapshot

CARRIAGE_AT: dict[Side, str] = {"left": "COL", "right": "COR"}
"""The short word for where the carriage stands, as machine knitters write it."""


def carriage_words(state: Snapshot) -> str:
    """``Carriage COL, at the left · RC 12``."""
    side = state.carriage
    return f"Carriage {CARRIAGE_AT[side]}, at the {side} · RC {state.counter}"


def set_words(state: Snapshot, beds: int) -> str:
    """``half pitch, racked 1 to the right · comb hung``; empty: nothing of the kind."""
    parts = []
    if beds > 1:
        way = "right" if state.racking > 0 else "left"
        racked = f", racked {abs(state.racking)} to the {way}" if state.racking else ""
        parts.append(f"{state.pitch} pitch{racked}")
    hung = [word for word, here in (("comb", state.comb), ("weights", state.weights)) if here]
    if hung:
        parts.append(f"{' and '.join(hung)} hung")
    return " · ".join(parts)


def whole_bed(name: str, bed: BedState) -> str:
    """``Front bed: 32 stitches, set to knit, 4 of them in hold (held needles do not knit)``."""
    count = bed.stitches()
    text = f"{name.capitalize()} bed: {count} {'stitch' if count == 1 else 'stitches'}, " \
           f"set to {bed.action}"
    if bed.stitches("hold"):
        text += f", {bed.stitches('hold')} of them in hold"
    for way, mask in (("tuck", bed.tuck), ("slip", bed.slip)):
        if mask & bed.in_use:
            text += f", {(mask & bed.in_use).bit_count()} of its needles set to {way}"
    if bed.hold:
        text += " (held needles do not knit)" if bed.hold_respected else " (hold is cancelled)"
    return text


def yarn_words(yarn: str) -> str:
    """``Yarn in the feeder: four-ply wool``."""
    return f"Yarn in the feeder: {yarn or 'none'}"


def whole_machine(state: Snapshot, beds: int, yarn: str) -> list[str]:
    """Carriage, counter and settings, the beds, and the ``yarn`` in the feeder, a line each."""
    named = (("back", state.back), ("front", state.front))[2 - beds:]
    machine = " · ".join(filter(None, (carriage_words(state), set_words(state, beds))))
    return [machine, *(whole_bed(name, bed) for name, bed in named), yarn_words(yarn)]
