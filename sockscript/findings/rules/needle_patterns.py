"""Patterns of single needles: floats, long slips, tucks side by side, loose edges."""

from __future__ import annotations

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind
from sockscript.findings.origins import NEEDLES_SET
from sockscript.operations.beds import BEDS, Bed, highest, lowest
from sockscript.operations.ops import Knit, SetNeedles
from sockscript.text.source import Span
from sockscript.trace.state import BedState, Snapshot
from sockscript.trace.yarn import LONGEST_FLOAT

MOST_SLIPPED = 4
"""Rows that a stitch may be slipped before it is pulled long: common practice, no source."""
MOST_TUCKS_BESIDE = 2
"""Needles side by side that may tuck in one row: common practice, no source."""

FLOAT_TOO_LONG = Kind(
    "float-too-long", "warning",
    "The yarn passes behind {needles} of the {bed} bed without a stitch between: such a float "
    "catches on fingers and toes.",
    "At most {amount} needles side by side should slip in a row (common practice); let one between "
    "them knit.",
    led=NEEDLES_SET)

SLIPPED_TOO_LONG = Kind(
    "slipped-too-long", "warning",
    "{Needles} of the {bed} bed {are} slipped for more than {amount} rows: stitches are pulled "
    "long.",
    "Knit them off after {amount} rows at most (common practice).",
    led=NEEDLES_SET)

TUCKS_SIDE_BY_SIDE = Kind(
    "tucks-side-by-side", "warning",
    "{Needles} of the {bed} bed tuck side by side: nothing draws the yarn down between them, and "
    "it jumps off or drops.",
    "At most {amount} needles side by side should tuck in a row (common practice); let one between "
    "them knit.",
    led=NEEDLES_SET)

EDGE_IN_PATTERN = Kind(
    "edge-in-pattern", "advice",
    "{Needles} at the edge of the {bed} bed {are} tucked or slipped: the yarn turns loosely there.",
    "Let the outermost stitch of an open edge knit in every row.",
    led=NEEDLES_SET)

NEEDLES_SET_IN_VAIN = Kind(
    "needles-set-in-vain", "warning",
    "{Needles} of the {bed} bed {are} set to {name}, but the bed {does}, so that it does nothing.",
    "First set the bed to knit or to circular, then its needles.")


def needle_patterns(run: Run) -> list[Mishap]:
    """What single needles that tuck or slip do in the passes after they are set."""
    if not run.changes_by(SetNeedles):
        return []
    found: list[Mishap] = []
    told: set[tuple[str, Bed, tuple[Span, ...]]] = set()
    slipped: dict[Bed, list[tuple[int, int]]] = {bed: [] for bed in BEDS}

    def tell(kind: Kind, change: Transition, bed: Bed, needles: int, amount: int = 0) -> None:
        """Once for each line: a repeat does the same again."""
        line = kind.name, bed, change.moment.places
        if needles and line not in told:
            told.add(line)
            found.append(change.mishap(kind.fault(bed, needles, amount)))

    for change in run.changes_by(Knit, SetNeedles):
        op, before = change.op, change.before
        if type(op) is SetNeedles:
            found += _in_vain(change, op)
            continue
        assert type(op) is Knit
        rows = before.turns(op.passes, run.engine.profile.front_circular)
        for bed in BEDS:
            state = before.bed(bed)
            slipped[bed] = _longer(slipped[bed], state, rows[bed])
            if not rows[bed] or state.action == "tuck" or not state.tuck | state.slip:
                continue
            over = sum(mask for mask, count in slipped[bed] if count > MOST_SLIPPED)
            tell(SLIPPED_TOO_LONG, change, bed, over, MOST_SLIPPED)
            knitted = state.knitting
            if not _meanwhile(before, bed):
                tell(FLOAT_TOO_LONG, change, bed,
                     _side_by_side(knitted & state.slip, knitted, LONGEST_FLOAT), LONGEST_FLOAT)
                tell(TUCKS_SIDE_BY_SIDE, change, bed,
                     _side_by_side(knitted & state.tuck & ~state.slip, knitted, MOST_TUCKS_BESIDE),
                     MOST_TUCKS_BESIDE)
                tell(EDGE_IN_PATTERN, change, bed, _open_edge(before, bed)
                     & (state.tuck | state.slip))
    return found


def _in_vain(change: Transition, op: SetNeedles) -> list[Mishap]:
    """Needles of a bed that does not knit: what is set for the bed comes first."""
    return [change.mishap(NEEDLES_SET_IN_VAIN.fault(bed, op.on(bed), name=op.action), {
                "does": "rests" if change.before.bed(bed).action == "rest" else
                "is set to tuck with all its needles"})
            for bed in BEDS if op.on(bed) and op.action != "knit"
            and change.before.bed(bed).action in ("rest", "tuck")]


def _longer(slipped: list[tuple[int, int]], state: BedState, rows: int) -> list[tuple[int, int]]:
    """For how many rows needles have slipped, after so many more (where all slip the bed rests)."""
    if not rows or not state.worked:
        return slipped
    slips = state.slip & state.knitting
    kept = [(still, count + rows) for mask, count in slipped if (still := mask & slips)]
    fresh = slips & ~sum(mask for mask, _ in kept)
    return [*kept, (fresh, rows)] if fresh else kept


def _meanwhile(state: Snapshot, bed: Bed) -> bool:
    """Whether the other bed knits in the same pass, and holds the yarn between."""
    other = state.bed(bed.opposite)
    return other.action in ("knit", "tuck") and bool(other.worked & other.loaded)


def _side_by_side(mask: int, knitted: int, most: int) -> int:
    """Those of some needles that stand more than ``most`` in a row among those with stitches."""
    found = together = count = 0
    for needle in range(knitted.bit_length()):
        bit = 1 << needle
        if not knitted & bit:
            continue
        together, count = (together | bit, count + 1) if mask & bit else (0, 0)
        if count > most:
            found |= together
    return found


def _open_edge(state: Snapshot, bed: Bed) -> int:
    """The outermost stitches of rows knitted flat on one bed; a tube has none."""
    here, other = state.bed(bed), state.bed(bed.opposite)
    if (here.action == other.action == "circular" and other.worked) or not here.loaded:
        return 0
    return (1 << lowest(here.loaded) | 1 << highest(here.loaded)) & here.active
