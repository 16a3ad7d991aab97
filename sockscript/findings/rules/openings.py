"""Openings that are cut or drawn open later: what keeps their place must come out again."""

from __future__ import annotations

from collections.abc import Iterator

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind
from sockscript.findings.rules.edges import WASTE_ROWS
from sockscript.operations import ops
from sockscript.operations.beds import Bed
from sockscript.text.mend import Mend

OPENING_STAYS_SHUT = Kind(
    "opening-stays-shut", "fault",
    "{name} is knitted over the place of the opening, but it is not waste yarn: it stays in the "
    "knitting.",
    "Knit over this place in a yarn that is named as waste in the header:  yarn waste \"smooth "
    "yarn\" as waste.")


def _marked_rightly(mishap: Mishap, run: Run) -> Mend | None:
    """The other kind of mark in the line, if it is written there."""
    word, other = ("edge", "slit") if mishap.detail["right"] == "slit" else ("slit", "edge")
    at = mishap.places[-1].word(word)
    return at and at.replaced_by(other)


def _other_bed(mishap: Mishap, run: Run) -> Mend | None:
    """The other bed in the line, if this one is written there."""
    bed = mishap.fault.bed
    at = mishap.places[-1].word(bed.word) if bed is not None else None
    return at.replaced_by(bed.opposite.word) if at is not None and bed is not None else None


SLIT_ON_WRONG_BED = Kind(
    "slit-on-wrong-bed", "fault",
    "The row of waste yarn is on the {other} bed, but the slit is marked on the {bed} bed, in "
    "stitches that stay.",
    "Write  mark slit {name} on {other}.",
    mend=_other_bed)


WRONG_MARK = Kind(
    "wrong-mark", "fault",
    "The waste yarn on the {bed} bed has {below} below it: it keeps {kept}, but it is marked as "
    "{marked}.",
    "Write  mark {right} {name} on {bed}.",
    mend=_marked_rightly)


MARKED_TOO_EARLY = Kind(
    "marked-too-early", "fault",
    "The row above this mark is knitted in {name}, which is drawn out again: '{edge}' would be "
    "loops that come out with it.",
    "Mark the edge when the last row that comes out is knitted, right before the first row that "
    "stays.")


def opening_stays_shut(run: Run) -> list[Mishap]:
    """Openings kept with a yarn that does not come out: by hand, or by the row below a slit."""
    found = []
    for change in run.changes_by(ops.KnitIn, ops.Mark):
        op = change.op
        yarn = op.waste if isinstance(op, ops.KnitIn) else \
            _over_the_slit(run, change, op) if isinstance(op, ops.Mark) and op.kind == "slit" \
            else ""
        if yarn not in run.main_yarns:
            continue
        if isinstance(op, ops.Mark) and _waste_on(run, change, op.bed.opposite):
            found.append(change.mishap(SLIT_ON_WRONG_BED.fault(op.bed, name=op.name)))
        else:
            found.append(change.mishap(OPENING_STAYS_SHUT.fault(name=yarn)))
    return found


def _waste_on(run: Run, mark: Transition, bed: Bed) -> bool:
    """Whether the last row of a bed before a mark is one that comes out, and has no mark itself."""
    last, *_ = next(_back_from(run, mark, bed), (None,))
    if last is None or last.before.feeder is None or last.before.feeder in run.main_yarns:
        return False
    return not any(isinstance(change.op, ops.Mark) and change.op.bed is bed
                   and last.number < change.number < mark.number
                   for change in run.changes_by(ops.Mark))


def _over_the_slit(run: Run, mark: Transition, op: ops.Mark) -> str:
    """A yarn of the script's own of which any stitch at a mark is knitted; empty if none is."""
    left = mark.before.bed(op.bed).loaded
    for change, made, _ in _back_from(run, mark, op.bed):
        if change.before.feeder in run.main_yarns and made & left:
            return change.before.feeder or ""
        left &= ~made
        if not left:
            break
    return ""


def wrong_mark(run: Run) -> list[Mishap]:
    """An edge marked where knitting lies below the waste yarn too, or a slit where none does.

    So many rows of waste yarn as make an edge may part two pieces.
    """
    found = []
    for change in run.changes_by(ops.Mark):
        op = change.op
        if not isinstance(op, ops.Mark):
            continue
        rows = below = 0
        marked = change.before.bed(op.bed).loaded
        for earlier, made, times in _back_from(run, change, op.bed):
            if earlier.before.feeder in run.main_yarns or not made & marked:
                break
            rows += times
            below = earlier.before.bed(op.bed).loaded & marked
        if op.kind == "edge" and below and rows < WASTE_ROWS:
            right, words = "slit", ("knitting", "an opening", "an edge")
        elif op.kind == "slit" and rows and not below:
            right, words = "edge", ("no knitting", "the edge of a beginning", "a slit")
        else:
            continue
        found.append(change.mishap(WRONG_MARK.fault(op.bed, name=op.name), {
            "right": right, "below": words[0], "kept": words[1], "marked": words[2]}))
    return found


def marked_too_early(run: Run) -> list[Mishap]:
    """An edge marked before the last row that comes out again: its loops do not stay."""
    found = []
    for change in run.changes_by(ops.Mark):
        op = change.op
        if isinstance(op, ops.Mark) and op.kind == "edge":
            above = _next_row(run, change, op.bed)
            if above is not None and above not in run.main_yarns:
                found.append(change.mishap(MARKED_TOO_EARLY.fault(op.bed, name=above), {
                    "edge": op.name}))
    return found


def _next_row(run: Run, mark: Transition, bed: Bed) -> str | None:
    """The yarn of the next row over what is marked on a bed, if there is one."""
    marked = mark.before.bed(bed).loaded
    for change in run.passes():
        before = change.before
        if change.number > mark.number and before.bed(bed).worked & marked \
                and before.turns(change.op.passes, run.engine.profile.front_circular)[bed]:
            return before.feeder
    return None


def _back_from(run: Run, mark: Transition, bed: Bed) -> Iterator[tuple[Transition, int, int]]:
    """What made stitches on a bed, the last before a mark first: on which needles, in how many
    rows."""
    for change in reversed(run.changes_by(ops.Knit, ops.CastOn)):
        op, before = change.op, change.before
        if change.number > mark.number:
            continue
        if isinstance(op, ops.CastOn):
            if op.on(bed):
                yield change, op.on(bed), 1
        elif isinstance(op, ops.Knit):
            times = before.turns(op.passes, run.engine.profile.front_circular)[bed]
            if times:
                yield change, before.bed(bed).worked, times
