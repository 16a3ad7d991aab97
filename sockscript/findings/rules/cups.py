"""Short rows that are not worked back to where they began."""

from __future__ import annotations

from itertools import pairwise

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind
from sockscript.findings.origins import HELD_AT_AN_END
from sockscript.operations.beds import BEDS, SIDES, Bed, Side
from sockscript.operations.ops import Knit
from sockscript.trace.state import BedState

CUP_STOPS_EARLY = Kind(
    "cup-stops-early", "warning",
    "The short rows of the {bed} bed stop early: {amount} needles at the {name} come back from "
    "hold all at once, though they went into hold one after the other.",
    "Fetch them back one by one as well, until all stitches of the bed are in work again.",
    led=HELD_AT_AN_END,
    follows_anywhere=("short-rows-at-one-end", "unequal-short-rows"))


def cup_stops_early(run: Run) -> list[Mishap]:
    """Needles that went into hold in several steps and come back in one, after others came back
    step by step.

    Rows that only become shorter are a wedge, and may end at once; a part that was set aside in
    one go comes back in one.
    """
    return [mishap for bed in BEDS for mishap in _stopped(run, bed)]


def _stopped(run: Run, bed: Bed) -> list[Mishap]:
    found = []
    rows: list[BedState] = []
    for change in run.changes_by(Knit):
        state = change.before.bed(bed)
        if state.action == "rest" or not state.loaded:
            continue
        if state.hold_respected and state.held:
            rows.append(state)
            continue
        for side, mask in _at_once(rows):
            found.append(change.mishap(
                CUP_STOPS_EARLY.fault(bed, mask, amount=mask.bit_count(), name=side)))
        rows = []
    return found


def _at_once(rows: list[BedState]) -> list[tuple[Side, int]]:
    """The needles at either end that are in hold in the last of some rows, where they went into
    hold in several steps, and fewer came back at each step before."""
    found = []
    for side in SIDES:
        held = [state.hold_beyond(side) & state.loaded for state in rows]
        back = [(before & ~after).bit_count() for before, after in pairwise(held)]
        last = held[-1] if held else 0
        if any(back) and last.bit_count() > max(back) \
                and len({one & last for one in held if one & last}) > 1:
            found.append((side, last))
    return found
