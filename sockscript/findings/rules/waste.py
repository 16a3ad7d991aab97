"""Waste yarn and ravel cord come out again: what they leave must have been provided for."""

from __future__ import annotations

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind, LedBy
from sockscript.findings.origins import WASTE_THREADED
from sockscript.operations import ops
from sockscript.operations.beds import BEDS, Bed

WASTE_KNITTED_IN = Kind(
    "waste-knitted-in", "fault",
    "{rows} of waste yarn on the {bed} bed {stay} in the knitting: when {they} {are} drawn out, it "
    "comes apart there.",
    "Thread the yarn that is meant. If the waste yarn keeps a place, name it:  mark slit heel on "
    "{bed}.",
    follows_anywhere=("slit-on-wrong-bed",),
    led=WASTE_THREADED)

EDGE_WILL_RUN = Kind(
    "edge-will-run", "warning",
    "The piece is begun with {rows} of waste yarn on the {bed} bed, and nothing secures the first "
    "row of its own yarn when {they} {come} out.",
    "Name the edge before the first row of the yarn (mark edge start on {bed}) and hang or graft "
    "it later, or cast on by hand.",
    led=WASTE_THREADED)


FEWEST_WASTE_ROWS = 4
"""Fewer rows of waste yarn do not keep the loops above them, with the comb and weights below:
common practice, no source."""

WASTE_TOO_SHORT = Kind(
    "waste-too-short", "advice",
    "The piece is begun with only {rows} of waste yarn on the {bed} bed: little keeps the open "
    "loops above from running.",
    f"Knit {FEWEST_WASTE_ROWS} rows or more, better {2 * FEWEST_WASTE_ROWS}, before the first row "
    "that stays.",
    led=WASTE_THREADED)

WASTE_KNITTED_ALONG = Kind(
    "waste-knitted-along", "fault",
    "{name} is knitted together with a yarn that stays: it lies in the same stitches and cannot be "
    "drawn out again.",
    "Knit it by itself, or take another yarn along: one that is not named as waste yarn or cord.",
    led=WASTE_THREADED)

OPENING_NOT_COVERED = Kind(
    "opening-not-covered", "fault",
    "No row is knitted over the waste yarn of '{as_written}': {needles} of the {bed} bed {hold} "
    "loops of waste yarn only, and what is done with them here comes apart when it is drawn out.",
    "Knit a row or more with the yarn of the piece over the waste yarn before this line.",
    led=LedBy(lambda change, mishap: isinstance(change.op, ops.KnitIn)
              and change.op.name == mishap.fault.name, "The waste yarn was knitted in here"))


def openings_covered(run: Run) -> list[Mishap]:
    """Lengths of waste yarn, knitted in by hand, with no row over them when their stitches are
    closed, or more waste yarn is knitted in."""
    bare: dict[Bed, list[ops.KnitIn]] = {bed: [] for bed in BEDS}
    found = []
    for change in run.changes() if run.changes_by(ops.KnitIn) else ():
        op = change.op
        if type(op) is ops.Knit:
            rows = change.before.turns(op.passes, run.engine.profile.front_circular)
            for bed in BEDS:
                if rows[bed]:
                    bare[bed].clear()
        for bed in BEDS:
            if isinstance(op, (ops.Graft, ops.Gather, ops.BindOff)):
                taken = op.on(bed)
            elif isinstance(op, ops.KnitIn) and op.bed is bed:
                taken = op.needles
            else:
                continue
            for one in bare[bed]:
                if taken & one.needles:
                    found.append(change.mishap(OPENING_NOT_COVERED.fault(
                        bed, needles=taken & one.needles, name=one.name)))
            bare[bed] = [one for one in bare[bed] if not taken & one.needles]
        if isinstance(op, ops.KnitIn) and op.waste in run.waste:
            bare[op.bed].append(op)
    return found


def waste_knitted_along(run: Run) -> list[Mishap]:
    """Rows in which a yarn that comes out again and one that stays are in the feeder together."""
    told: set[str] = set()
    found = []
    for change in run.passes():
        yarns = change.before.yarns
        comes_out = [yarn for yarn in yarns if yarn in run.waste]
        if len(comes_out) < len(yarns):
            for yarn in comes_out:
                if yarn not in told:
                    told.add(yarn)
                    found.append(change.mishap(WASTE_KNITTED_ALONG.fault(name=yarn)))
    return found


class _OnBed:
    """What hangs on one bed: rows of waste yarn on top of which the pattern's yarn may follow."""

    waste_rows = 0
    own_below = False
    yarn: str
    """Of the rows of waste yarn, if there are any."""
    marked: bool
    """Since the first of them."""


def waste_knitted_in(run: Run) -> list[Mishap]:
    """Rows of waste yarn between rows of the pattern's own, or the last before stitches are closed.

    A slit or an edge marked at the waste yarn says what becomes of the stitches when it is drawn
    out; without a mark the piece comes apart there.  At the beginning, waste yarn without a mark
    leaves an edge that runs.
    """
    beds = {bed: _OnBed() for bed in BEDS}
    found: list[Mishap] = []
    if not run.waste:
        return found
    for change in run.changes():
        op, before = change.op, change.before
        if isinstance(op, ops.Mark):
            beds[op.bed].marked = True
        elif type(op) is ops.Knit and before.feeder is not None:
            rows = before.turns(op.passes, run.engine.profile.front_circular)
            for bed in BEDS:
                if rows[bed]:
                    _knitted(found, beds[bed], bed, rows[bed], before.feeder in run.waste, change)
        elif isinstance(op, (ops.Graft, ops.Gather, ops.BindOff)):
            for bed in BEDS:
                here = beds[bed]
                mask = op.on(bed)
                if here.waste_rows and mask & before.bed(bed).loaded:
                    found.append(change.mishap(WASTE_KNITTED_IN.fault(
                        bed, amount=here.waste_rows, name=here.yarn)))
                    here.waste_rows = 0
        for bed in BEDS:
            if not change.after.bed(bed).loaded:
                beds[bed] = _OnBed()
    return found


def _knitted(found: list[Mishap], here: _OnBed, bed: Bed, rows: int, is_waste: bool,
             change: Transition) -> None:
    if is_waste:
        if not here.waste_rows:
            here.marked = False
        here.waste_rows += rows
        here.yarn = change.before.feeder or ""
        return
    too_short = here.waste_rows < FEWEST_WASTE_ROWS and not here.own_below
    if here.waste_rows and (too_short or not here.marked):
        kind = WASTE_TOO_SHORT if here.marked else \
            WASTE_KNITTED_IN if here.own_below else EDGE_WILL_RUN
        found.append(change.mishap(kind.fault(bed, amount=here.waste_rows, name=here.yarn)))
    here.waste_rows, here.own_below = 0, True
