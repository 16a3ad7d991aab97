"""Turning stitches round from one bed to the other: before and after, each stitch numbered."""

from __future__ import annotations

from typing import NamedTuple

from sockscript.expand.run import Run
from sockscript.operations import ops
from sockscript.operations.beds import (
    BACK,
    BEDS,
    FRONT,
    Spot,
    highest,
    indices,
    lowest,
    needle_name,
)
from sockscript.pictures.beds import BedStrip, legend, used_needles
from sockscript.pictures.letters import width
from sockscript.pictures.svg import INK, SOFT, Drawing, Picture
from sockscript.trace.state import Snapshot
from sockscript.trace.symbols import Sign

NOTE = 15.0
"""Size of words: a turning of 60 stitches on paper has half of it in points."""


def fold_picture(run: Run, *, heading: str, name: str = "fold") -> Picture | None:
    """The first turning of a run as SVG; None if it has none.

    Stitches keep the number that they had before, counted from the left.  Folds that follow
    each other without a row between them are one picture.
    """
    turning = turning_of(run)
    return None if turning is None else _drawn(run, turning, heading, name)


class Turning(NamedTuple):
    """Folds that follow each other without a row between them.

    ``first``: the moment of the first; ``numbers``: of the stitches before, counted from the
    left; ``moved``: where those that are turned come to hang; ``described``: all in words.
    """

    first: int
    before: Snapshot
    after: Snapshot
    numbers: dict[Spot, int]
    moved: dict[Spot, Spot]
    described: str


def turning_of(run: Run) -> Turning | None:
    """The first turning of a run; None if it has none, or no stitch is turned by it."""
    found = _folds(run)
    if found is None:
        return None
    first, last = found
    before, after = run.moments[first - 1].state, run.moments[_settled(run, last)].state
    numbers = {spot: n for n, spot in enumerate(_stitches(before), start=1)}
    moved: dict[Spot, Spot] = {}
    for moment in run.moments[first:last + 1]:
        if isinstance(moment.op, ops.Fold):
            for bed, needle, to_bed, to_needle in moment.op.moves:
                moved[bed, needle] = (to_bed, to_needle)
    needles = run.engine.profile.needles
    turned = [spot for spot in moved if spot in numbers]
    if not turned:
        return None
    where = "; ".join(
        f"stitch {numbers[spot]} goes to {moved[spot][0].word} "
        f"{needle_name(moved[spot][1], needles)}" for spot in turned)
    return Turning(first, before, after, numbers, moved,
                   f"Turning {len(turned)} stitches from one bed to the other. {where}. The "
                   "others stay where they are.")


def _settled(run: Run, last: int) -> int:
    """The moment after which the needles that the turning left empty are out of work."""
    while last + 1 < len(run.moments):
        op = run.moments[last + 1].op
        if not (isinstance(op, ops.Place) and op.position == "out"):
            break
        last += 1
    return last


def _folds(run: Run) -> tuple[int, int] | None:
    """The first fold and the last one before the next row."""
    first = last = 0
    for index, moment in enumerate(run.moments):
        if isinstance(moment.op, ops.Fold):
            first, last = first or index, index
        elif first and isinstance(moment.op, ops.Knit):
            break
    return (first, last) if first else None


def _stitches(state: Snapshot) -> list[Spot]:
    return [(bed, needle) for bed, one in ((BACK, state.back), (FRONT, state.front))
            for needle in indices(one.loaded)]


def _drawn(run: Run, turning: Turning, heading: str, name: str) -> Picture:
    _, before, after, numbers, moved, described = turning
    needles, beds = run.engine.profile.needles, run.engine.profile.beds
    used = used_needles((before.front, before.back, after.front, after.back))
    first, last = max(lowest(used) - 1, 0), min(highest(used) + 1, needles - 1)
    drawing = Drawing(name, heading, described)
    drawing.heading(heading)
    seen: set[Sign] = set()
    y = 48.0
    wide = 0.0
    for title, state, spots in (
            ("Before", before, numbers),
            ("After", after, {moved.get(spot, spot): n for spot, n in numbers.items()})):
        drawing.text(20, y + 12, title, 16, bold=True)
        strip = BedStrip(drawing, state, first, last, needles, beds, 70, y + 42, carriage=False)
        strip.draw()
        for (bed, needle), number in spots.items():
            strip.label(bed, needle, str(number))
        if title == "Before":
            _ways(drawing, strip, moved)
        seen |= strip.seen
        y = strip.bottom + 20
        wide = strip.right + 40
    for note in ("Each stitch keeps the number it has before the turning, counted from the left.",
                 "A group turns over like a page: the stitch next to the fold lands facing its "
                 "neighbour."):
        drawing.text(20, y, note, NOTE, ink=SOFT)
        wide = max(wide, 40 + width(note, NOTE))
        y += 20
    end = legend(drawing, seen, 20, y + 12, wide - 20, NOTE)
    drawing.fit(wide, end + 12)
    return drawing.render()


def _ways(drawing: Drawing, strip: BedStrip, moved: dict[Spot, Spot]) -> None:
    """A curve from the outermost and the innermost stitch of each group to where it goes."""
    for bed in BEDS:
        spots = sorted(needle for b, needle in moved if b == bed)
        groups: list[list[int]] = []
        for needle in spots:
            if groups and needle == groups[-1][-1] + 1:
                groups[-1].append(needle)
            else:
                groups.append([needle])
        for group in groups:
            for needle in {group[0], group[-1]}:
                to_bed, to_needle = moved[bed, needle]
                x1, y1 = strip.x(bed, needle), strip.hook(bed, needle)
                x2, y2 = strip.x(to_bed, to_needle), strip.hook(to_bed, to_needle)
                down = 1 if y2 > y1 else -1
                y1 += 21 * down
                y2 -= 4 * down
                drawing.path(f"M{x1:.1f},{y1:.1f}C{x1:.1f},{(y1 + y2) / 2 + 8 * down:.1f} "
                             f"{x2:.1f},{(y1 + y2) / 2 - 8 * down:.1f} {x2:.1f},{y2:.1f}",
                             width=1.1, dash="4 2")
                drawing.polyline([(x2, y2), (x2 - 3, y2 - 6 * down), (x2 + 3, y2 - 6 * down)],
                                 INK, INK, 0.5, close=True)


