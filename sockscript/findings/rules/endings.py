"""What must not be left over when the pattern ends."""

from __future__ import annotations

from sockscript.expand.put_right import YARN
from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind, LineBefore
from sockscript.findings.origins import (
    COMB_HUNG,
    DROPPED,
    HELD,
    IT_THREADED,
    KNITTED_LAST,
    WEIGHTS_HUNG,
)
from sockscript.operations.beds import BEDS

HELD_NEVER_RETURNED = Kind(
    "held-never-returned", "fault",
    "{Needles} of the {bed} bed {are} still in hold with {loops}.",
    "Return the needles to work before this.",
    led=HELD)

LIVE_STITCHES_LEFT = Kind(
    "live-stitches-left", "fault",
    "The pattern ends with {loops} still on {needles} of the {bed} bed.",
    "Graft, bind off, gather or scrap off what is left.",
    led=KNITTED_LAST)

GROUP_LEFT = Kind(
    "group-left", "fault",
    "The pattern ends with '{name}' not taken up: {stitches} {stay} open.",
    "Rehang or graft these stitches before the end.",
    follows_anywhere=("slit-grafted",))

DROPPED_NEVER_LATCHED = Kind(
    "dropped-never-latched", "warning",
    "{Needles} of the {bed} bed {were} dropped and not latched up again: the ladder runs down the "
    "whole piece.",
    "Write  latch up …  before the next row; if the ladder is meant, allow it.",
    led=DROPPED)

YARN_LEFT_IN_FEEDER = Kind(
    "yarn-left-in-feeder", "warning",
    "The pattern ends with {name} still in the feeder.",
    "Cut it at the end.",
    led=IT_THREADED)

YARN_LEFT_WAITING = Kind(
    "yarn-left-waiting", "warning",
    "The pattern ends with {name} still waiting at an edge, uncut.",
    "Cut it by its name after its last row.",
    led=IT_THREADED)

NEVER_COMB_OFF = Kind(
    "never-comb-off", "warning",
    "The comb is still hung when the pattern ends.",
    "Write  remove comb  before the end.",
    mend=LineBefore("remove comb"),
    led=COMB_HUNG)

NEVER_WEIGHTS_OFF = Kind(
    "never-weights-off", "warning",
    "The last stitches are taken off and the pattern ends, but the weights are still hung.",
    "Write  remove weights  before the last stitches are taken off.",
    mend=LineBefore("remove weights"),
    led=WEIGHTS_HUNG)


def endings(run: Run) -> list[Mishap]:
    """Stitches, groups, ladders, yarn, comb and weights left at the end."""
    found: list[Mishap] = []
    if not run.moments or run.stopped is not None:
        return found
    left = run.moments[-1].state
    for bed in BEDS:
        state = left.bed(bed)
        held = state.held
        if held:
            found.append(run.at_the_end(HELD_NEVER_RETURNED.fault(bed, held)))
        if state.loaded & ~held:
            found.append(run.at_the_end(LIVE_STITCHES_LEFT.fault(bed, state.loaded & ~held)))
    for name, group in run.engine.groups.items():
        if group.kind != "edge":
            found.append(run.at_the_end(GROUP_LEFT.fault(amount=len(group.stacks), name=name)))
    for bed in BEDS:
        ladders = sum(1 << needle for needle, stack in run.engine.ladders(bed).items() if stack)
        if ladders:
            found.append(run.at_the_end(DROPPED_NEVER_LATCHED.fault(bed, ladders)))
    if YARN not in run.engine.put_right:
        found += [run.at_the_end(YARN_LEFT_IN_FEEDER.fault(name=yarn)) for yarn in left.yarns]
    found += [run.at_the_end(YARN_LEFT_WAITING.fault(name=yarn)) for yarn in run.engine.waiting]
    if run.engine.comb:
        found.append(run.at_the_end(NEVER_COMB_OFF.fault()))
    # On a piece that is not finished they go on hanging.
    if run.engine.weights and left.bare:
        found.append(run.at_the_end(NEVER_WEIGHTS_OFF.fault(name="weights")))
    return found
