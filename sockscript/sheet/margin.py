"""What the machine shows after a step: stitches on the beds, carriage, row counter."""

from __future__ import annotations

from collections.abc import Sequence

from sockscript.numbers.figures import NONE, figure, side_by_side
from sockscript.operations.beds import Side
from sockscript.sheet.numbering import PrintedStep
from sockscript.trace.in_words import CARRIAGE_AT
from sockscript.trace.state import Snapshot


def abbreviations(steps: Sequence[PrintedStep]) -> list[str]:
    """What the short words beside some steps mean, as far as they are used."""
    shown = [step for step in steps if any(state is not None for state in step.states)]
    begins = {side for step in shown for side in step.begins if side is not None}
    sides = begins | {state.carriage for step in shown for state in step.states
                      if state is not None}
    found = [f"{short}: carriage at the {side}" for side, short in CARRIAGE_AT.items()
             if side in sides]
    if shown:
        found.append("RC: row counter")
    if begins:
        found.append("→: from the side where the carriage begins the step to the side where it "
                     "ends it")
    return found


def stitches_of(state: Snapshot) -> tuple[int, int, int]:
    """Stitches on the front bed and on the back bed, and how many of them wait in hold."""
    return (state.front.stitches(), state.back.stitches(),
            state.front.stitches("hold") + state.back.stitches("hold"))


def stitches_shown(states: Sequence[Snapshot | None]) -> str:
    """``front and back 32 each, in hold 10`` size by size."""
    front, back, held = (figure([None if s is None else stitches_of(s)[n] for s in states])
                         for n in range(3))
    if front == back and front != "0":
        parts = [f"front and back {front} each"]
    else:
        parts = [f"{name} {count}" for name, count in (("front", front), ("back", back))
                 if count != "0"]
    if held != "0":
        parts.append(f"in hold {held}")
    return ", ".join(parts) or "no stitches"


def carriage_shown(begins: Sequence[Side | None], states: Sequence[Snapshot | None]) -> str:
    """``COR → COL · RC 48 (52, 56)``: where the carriage begins to knit and where it ends."""
    if all(state is None for state in states):
        return ""
    after = _sides([None if state is None else state.carriage for state in states])
    before = "" if all(side is None for side in begins) else f"{_sides(begins)} → "
    counter = figure([None if state is None else state.counter for state in states])
    return f"{before}{after} · RC {counter}"


def _sides(sides: Sequence[Side | None]) -> str:
    return side_by_side([NONE if side is None else CARRIAGE_AT[side] for side in sides])

