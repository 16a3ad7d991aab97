"""The state of the machine in words, the same on a terminal and beside a picture."""

from __future__ import annotations

from sockscript.trace.state import BedState, Snapshot


def machine_words(state: Snapshot, beds: int) -> str:
    """``Carriage COL, at the left · RC 12 · half pitch, racked 1 to the right · comb hung``."""
    parts = [f"Carriage {'COL, at the left' if state.carriage == 'left' else 'COR, at the right'}",
             f"RC {state.counter}"]
    if beds > 1:
        way = "right" if state.racking > 0 else "left"
        parts.append(f"{state.pitch} pitch" + (
            f", racked {abs(state.racking)} to the {way}" if state.racking else ""))
    hung = [word for word, here in (("comb", state.comb), ("weights", state.weights)) if here]
    return " · ".join([*parts, *([f"{' and '.join(hung)} hung"] if hung else [])])


def bed_words(name: str, bed: BedState) -> str:
    """``Front bed: 32 stitches, set to knit, 4 of them in hold (held needles do not knit)``."""
    text = f"{name.capitalize()} bed: {bed.stitches()} stitches, set to {bed.action}"
    if bed.stitches("hold"):
        text += f", {bed.stitches('hold')} of them in hold"
    for way, mask in (("tuck", bed.tuck), ("slip", bed.slip)):
        if mask & bed.in_use:
            text += f", {(mask & bed.in_use).bit_count()} of its needles set to {way}"
    if bed.hold:
        text += " (held needles do not knit)" if bed.hold_respected else " (hold is cancelled)"
    return text


def whole_machine(state: Snapshot, beds: int, yarn: str) -> list[str]:
    """Carriage and counter, the beds, and the ``yarn`` in the feeder, a line each."""
    named = (("back", state.back), ("front", state.front))[2 - beds:]
    return [machine_words(state, beds), *(bed_words(name, bed) for name, bed in named),
            f"Yarn in the feeder: {yarn or 'none'}"]
