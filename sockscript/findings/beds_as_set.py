"""How the beds stand where something goes wrong with them, and what sets them right."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.operations.beds import BACK, BEDS, facing
from sockscript.operations.ops import Transfer
from sockscript.trace.state import Snapshot


def bed_at_rest(mishap: Mishap, run: Run) -> str:
    """The bed that has all stitches, where it is set to rest: only that keeps it from knitting."""
    before = run.changes()[mishap.moment].before
    loaded = [bed for bed in BEDS if before.bed(bed).loaded]
    if len(loaded) != 1 or before.bed(loaded[0]).action != "rest":
        return ""
    return loaded[0].word if before.bed(loaded[0]).working & before.bed(loaded[0]).loaded else ""


def what_to_set(mishap: Mishap, run: Run) -> str:
    """What to set so that a row knits."""
    bed = bed_at_rest(mishap, run)
    if bed:
        return f"The {bed} bed has the stitches, and is set to rest: write  set {bed} to knit  " \
            "before this row."
    return "Look at the settings of the beds and at the needles in work: one bed at rest and the " \
        "other one set to circular knits only every second row."


def racked_together(mishap: Mishap, run: Run) -> bool:
    """Whether needles that work face each other only because the beds are racked."""
    return only_by_racking(run.changes()[mishap.moment].before)


def only_by_racking(state: Snapshot) -> bool:
    """Whether the beds are racked, and unracked no needle in use would face another."""
    return state.racking != 0 and not state.front.in_use & facing(BACK, state.back.in_use, 0)


def apart(mishap: Mishap, run: Run) -> str:
    """What to do so that needles no longer meet."""
    if racked_together(mishap, run):
        return "Write  rack to 0  before this row: unracked, the needles of one bed lie between " \
            "those of the other"
    return "Use half pitch, or take every second needle of each bed out of work"


def racked(mishap: Mishap, run: Run) -> str:
    """That only the racking makes needles meet; empty where it does not."""
    return "The back bed is racked: unracked (rack to 0), no needle in work faces another." \
        if racked_together(mishap, run) else ""


def straight_across(mishap: Mishap, run: Run) -> str:
    """That the beds are racked, where stitches go from one to the other."""
    change = run.changes()[mishap.moment] if mishap.moment >= 0 else None
    if change is None or not isinstance(change.op, Transfer) or not change.before.racking \
            or all(move[0] is move[2] for move in change.op.moves):
        return ""
    return "; or write  rack to 0  before this line, if they should go straight across: the back " \
        f"bed is still racked by {abs(change.before.racking)}"


def bring_over(mishap: Mishap, run: Run) -> str:
    """How the carriage gets to the side where a row begins; before the first row none is to be
    counted."""
    if not any(change.number < mishap.moment for change in run.passes()):
        return f"No row is knitted before this line: say  from {mishap.fault.name}, or move the " \
            "carriage across (move carriage to far side) before the yarn is threaded."
    return "Count the rows before this line: one more or one less brings the carriage over, or " \
        "move it across with 'move carriage' while no yarn is in the feeder."


def _knits_instead(mishap: Mishap, run: Run) -> str:
    """The bed that knits in the place of the one that should; empty where neither does."""
    bed = mishap.fault.bed
    return bed.opposite.word if bed is not None and any(
        one.fault.kind == "bed-left-knitting" and one.moment == mishap.moment
        for one in run.mishaps) else ""


def instead(mishap: Mishap, run: Run) -> str:
    """That the other bed knits instead."""
    other = _knits_instead(mishap, run)
    return f" and the {other} bed knits" if other else ""


def both_set(mishap: Mishap, run: Run) -> str:
    """What to set the other bed to as well."""
    other = _knits_instead(mishap, run)
    return f"and  set {other} to rest  " if other else ""


def or_other(mishap: Mishap, run: Run) -> str:
    """That the other bed may be meant."""
    other = _knits_instead(mishap, run)
    return f", or name the {other} bed if that is meant" if other else ""
