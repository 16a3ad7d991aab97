"""A single needle out of work between needles that knit: a ladder in plain fabric."""

from __future__ import annotations

from itertools import pairwise

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run, once_alike
from sockscript.findings.kind import Kind, LedBy
from sockscript.operations import ops
from sockscript.operations.beds import BEDS, Bed, indices
from sockscript.trace.state import Snapshot

ROWS_OF_A_LADDER = 4
"""Up to so many rows a gap is one of an edge or of a pattern: common practice, no source."""

LADDER = Kind(
    "ladder", "advice",
    "{Needles} of the {bed} bed {are} out of work between needles that knit: the strands that run "
    "past make a ladder, {rows} high.",
    "Bring the needle into work from the beginning (or hang a stitch on it). If the ladder is "
    "meant, as a fold line or to be latched up, allow it.",
    follows_anywhere=("picked-up-apart",),
    led=LedBy(lambda change, mishap: isinstance(change.op, (ops.Place, ops.Transfer))
              and mishap.fault.bed is not None
              and change.before.bed(mishap.fault.bed).in_use
              != change.after.bed(mishap.fault.bed).in_use,
              "Needles were brought into work, or taken out, last here"))


def ladders(run: Run) -> list[Mishap]:
    """Beds that knit plain rows with one needle out of work here and there.

    Every nth alike is a mock rib or an openwork, and over a needle of the other bed that knits in
    the same row it is a rib.
    """
    if not _any_gap(run):
        return []
    rows: dict[tuple[Bed, int], int] = {}
    first: dict[tuple[Bed, int], Transition] = {}
    for change in run.passes():
        for bed in BEDS:
            gaps = _single_gaps(change.before, bed)
            turns = change.before.turns(change.op.passes, run.engine.profile.front_circular)[bed] \
                if gaps else 0
            if turns:
                key = bed, gaps
                first.setdefault(key, change)
                rows[key] = rows.get(key, 0) + turns
    return [first[key].mishap(LADDER.fault(key[0], key[1], amount=count))
            for key, count in rows.items() if count > ROWS_OF_A_LADDER]


@once_alike
def _any_gap(run: Run) -> bool:
    """Whether a single needle without a stitch lies between two with one in any row."""
    sets = {state.loaded for change in run.passes()
            for state in (change.before.front, change.before.back)}
    return any(loaded << 1 & loaded >> 1 & ~loaded for loaded in sets)


def _single_gaps(state: Snapshot, bed: Bed) -> int:
    """The needles of a bed that are out of work each between two with stitches, if they are few or
    stand at no regular distance, and no rib is knitted."""
    here, other = state.bed(bed), state.bed(bed.opposite)
    gaps = here.loaded << 1 & here.loaded >> 1 & ~(here.loaded | here.in_use)
    if not gaps or (here.action != "circular" and other.loaded and other.action != "rest"):
        return 0
    places = [*indices(gaps)]
    distances = {far - near for near, far in pairwise(places)}
    return 0 if len(places) > 2 and len(distances) == 1 else gaps
