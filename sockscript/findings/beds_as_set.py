"""How the beds stand where something goes wrong with them, and what sets them right."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.operations.beds import BACK, BEDS, facing


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
    before = run.changes()[mishap.moment].before
    return bool(before.racking) and not before.front.in_use & facing(BACK, before.back.in_use, 0)


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
