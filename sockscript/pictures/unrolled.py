"""The whole piece as unrolled fabric: one cell for each stitch, in the order it was knitted.

The front bed's stitches are on the left, the back bed's on the right and mirrored, as if a tube
had been cut open at its left fold; cells have the proportions of the gauge.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import cycle
from typing import NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.amounts import gauge_for
from sockscript.fabric.courses import Course, courses
from sockscript.fabric.hems import rows_inside
from sockscript.fabric.measures import is_rib, rows_knitted
from sockscript.fabric.pieces import SEAM
from sockscript.operations.beds import BACK, BEDS, FRONT, Bed, highest, indices, lowest
from sockscript.operations.ops import PickUp
from sockscript.pictures.svg import INK, PALE, PAPER, SOFT, Drawing, Picture, number

CELL = 6.0
"""Width of a stitch."""

_MARKS = ("M0,{h}L{w},0", "M0,0L{w},{h}", "M0,{h}L{w},0M0,0L{w},{h}", "M2,0V{h}M4,0V{h}")
_DARK = "#a0a0a0"
_FILLS = ((PALE, ""), (_DARK, ""), (PAPER, _MARKS[0]), (PAPER, ""),
          *((PAPER, marks) for marks in _MARKS[1:]), *((PALE, marks) for marks in _MARKS),
          *((_DARK, marks) for marks in _MARKS))
"""How the yarns of a piece are told apart: grounds and hatchings."""
_TUCK, _SLIP = "m-1.8,1.2l1.8,-2.8l1.8,2.8", "m-2.2,0h4.4"
"""A roof over the stitch over which the yarn is laid; a bar where it passes behind."""
TITLE, LINE = 28.0, 14.0
"""Height of the name of a section with its rows below it, and of one line."""


class Band(NamedTuple):
    """A section in the picture: rows from ``bottom`` up to ``top`` (in courses from below)."""

    title: str
    bottom: int
    top: int
    last: Course


class Placed(NamedTuple):
    """A course with its height: the row of the picture in which it lies."""

    course: Course
    height: int


def place(run: Run) -> tuple[list[Placed], list[Band]]:
    """The height of every course.

    A section begins above everything before it.  In it each bed counts its own rows, so that the
    two halves of a round lie at one height, and short rows stand alone above the bed that knits
    them.
    """
    placed: list[Placed] = []
    bands: list[Band] = []
    base = 0
    for section, record in enumerate(run.sections):
        here = [course for course in courses(run) if course.section == section
                and (course.worked[FRONT] or course.worked[BACK]) and course.yarn is not None]
        if not here:
            continue
        height = {FRONT: base, BACK: base}
        for course in here:
            acting = [bed for bed in BEDS if course.worked[bed]]
            at = max(height[bed] for bed in acting)
            for bed in acting:
                height[bed] = at + 1
            placed.append(Placed(course, at))
        top = max(height.values())
        bands.append(Band(record.title, base, top, here[-1]))
        base = top
    return placed, bands


def fabric_picture(run: Run, *, heading: str, name: str = "fabric") -> Picture | None:
    """The unrolled fabric as SVG; None if nothing was knitted."""
    placed, bands = place(run)
    if not placed:
        return None
    gauge = run.script.gauges[0] if run.script.gauges else None
    cell_h = CELL * float(gauge.stitches_per_mm / gauge.rows_per_mm) if gauge is not None \
        else CELL * 0.75
    drawing = Drawing(name, heading, _description(bands))
    drawing.heading(heading)
    picture = _Unrolled(drawing, run, placed, cell_h, bands)
    picture.draw(bands)
    y = picture.key(picture.bottom + 34)
    drawing.fit(max(picture.right + 120, 620), y + 10)
    return drawing.render()


def _description(bands: list[Band]) -> str:
    words = [f"{band.title}: {band.top - band.bottom} rows, ends with "
             f"{band.last.state.front.loaded.bit_count()} stitches on the front bed and "
             f"{band.last.state.back.loaded.bit_count()} on the back bed" for band in bands]
    return "From the bottom: " + "; ".join(words) + "."


def lifts(bands: list[Band], cell_h: float) -> list[float]:
    """How high above the bottom the name of each section stands: at its middle, and never over
    the name of the one below."""
    found: list[float] = []
    free = 0.0
    for band in bands:
        middle = (band.bottom + band.top) / 2 * cell_h
        two_lines = (band.top - band.bottom) * cell_h >= TITLE
        found.append(max(middle + 2 if two_lines else middle - 4, free + 12 * two_lines))
        free = found[-1] + LINE
    return found


class _Unrolled:
    def __init__(self, drawing: Drawing, run: Run, placed: list[Placed], cell_h: float,
                 bands: list[Band]) -> None:
        self.drawing = drawing
        self.run = run
        self.placed = placed
        self.cell_h = cell_h
        used = [0, 0]
        for one in placed:
            for bed in BEDS:
                used[bed] |= one.course.worked[bed]
        both = used[FRONT] | used[BACK]
        self.first, self.last = lowest(both), highest(both)
        total = bands[-1].top * cell_h
        # The names of many narrow sections need more height than their rows.
        self.lifts = lifts(bands, cell_h)
        self.left, self.top = 150.0, 76.0 + max(0, self.lifts[-1] + LINE - total)
        self.panel = max((self.last - self.first + 1) * CELL, 11 * CELL)
        self.beds = [bed for bed in BEDS if used[bed]]
        self.middle = self.left + self.panel + 2 * CELL
        self.right = self.middle + self.panel if len(self.beds) > 1 else self.left + self.panel
        self.bottom = self.top + total
        self.counts = self.bottom + 20
        # The piece itself has the plain look; what is taken out again has the others.
        self.yarns = sorted(dict.fromkeys(one.course.state.yarns for one in placed),
                            key=lambda yarns: not run.waste.isdisjoint(yarns))
        # Only the lines between stitches: those between rows are the outlines of the rows.
        self.fills = {yarn: drawing.pattern(
            f"yarn-{n}", CELL, cell_h, f"M0,0V{number(cell_h)}"
            + marks.format(w=number(CELL), h=number(cell_h)), ground, self.left, self.top)
            for n, (yarn, (ground, marks)) in enumerate(zip(self.yarns, cycle(_FILLS),
                                                            strict=False))}

    def x(self, bed: Bed, needle: int) -> float:
        """The left edge of the cell of a needle."""
        if bed == FRONT or len(self.beds) == 1:
            return self.left + (needle - self.first) * CELL
        return self.middle + (self.last - needle) * CELL

    def draw(self, bands: list[Band]) -> None:
        """Cells, marks, and the sections beside them."""
        paths: dict[tuple[str, ...], list[str]] = {yarn: [] for yarn in self.yarns}
        joins: list[str] = []
        picked_up: list[tuple[float, float]] = []
        hung = {bed: 0 for bed in BEDS}
        edges = [(change.number, change.op) for change in self.run.changes()
                 if isinstance(change.op, PickUp)]
        laid: list[str] = []
        tucked: list[str] = []
        slipped: list[str] = []
        for course, height in self.placed:
            y = self.bottom - (height + 1) * self.cell_h
            while edges and edges[0][0] < course.moment:
                for bed, needle in edges.pop(0)[1].targets:
                    hung[bed] |= 1 << needle
            for bed in BEDS:
                picked_up += [(self.x(bed, n) + CELL / 2, y + self.cell_h / 2)
                              for n in indices(hung[bed] & course.worked[bed])]
                hung[bed] &= ~course.worked[bed]
                self._cells(paths[course.state.yarns], bed,
                            course.worked[bed] | course.slipped[bed], y)
                tucked += self._signs(bed, course.tucked[bed], y, _TUCK)
                slipped += self._signs(bed, course.slipped[bed], y, _SLIP)
                joins += self._marks(bed, course.joins[bed], y)
                laid += [f"M{number(self.x(bed, n) + CELL / 2)},{number(y + self.cell_h / 2)}h.01"
                         for n in indices(course.laid[bed] & ~course.joins[bed]
                                          & ~course.tucked[bed])]
        for yarn, parts in paths.items():
            self.drawing.path("".join(parts), self.fills[yarn], SOFT, 0.6)
        if joins:
            self.drawing.path("".join(joins), INK, "none", 0)
        if laid:
            self.drawing.element("path", d="".join(laid), stroke=INK, stroke_width=2.6,
                                 stroke_linecap="round", fill="none")
        for strokes in (tucked, slipped):
            if strokes:
                self.drawing.element("path", d="".join(strokes), stroke=INK, stroke_width=0.9,
                                     fill="none")
        for x, y in picked_up:
            self.drawing.circle(x, y, 1.4, PAPER, INK, 0.8)
        for bed in self.beds:
            x = min(self.x(bed, self.first), self.x(bed, self.last))
            self.drawing.text(x + self.panel / 2, self.top - 14, f"{bed.word} bed", 11, "middle",
                              SOFT)
        for band, lift in zip(bands, self.lifts, strict=True):
            self._band(band, self.bottom - lift)

    def _cells(self, parts: list[str], bed: Bed, mask: int, y: float) -> None:
        while mask:
            start = lowest(mask)
            run = (~(mask >> start) & ((mask >> start) + 1)).bit_length() - 1
            x = min(self.x(bed, start), self.x(bed, start + run - 1))
            parts.append(f"M{number(x)},{number(y)}h{number(run * CELL)}v{number(self.cell_h)}"
                         f"h{number(-run * CELL)}z")
            mask &= ~(((1 << run) - 1) << start)

    def _marks(self, bed: Bed, mask: int, y: float) -> list[str]:
        """A small triangle on a stitch that closes a decrease."""
        return [f"M{number(self.x(bed, n) + 0.8)},{number(y + self.cell_h - 0.5)}"
                f"h{number(CELL - 1.6)}l{number(0.8 - CELL / 2)},{number(1 - self.cell_h)}z"
                for n in indices(mask)]

    def _signs(self, bed: Bed, mask: int, y: float, sign: str) -> list[str]:
        """A sign on each of some stitches, drawn from the middle of its cell."""
        return [f"M{number(self.x(bed, n) + CELL / 2)},{number(y + self.cell_h / 2)}{sign}"
                for n in indices(mask)]

    def _band(self, band: Band, y: float) -> None:
        """The line where a section begins, its name at ``y`` and its stitches at the end."""
        low = self.bottom - band.bottom * self.cell_h
        high = self.bottom - band.top * self.cell_h
        self.drawing.line(self.left - 16, low, self.right + 6, low, 1, INK, "2 2")
        rows = band.top - band.bottom
        if low - high >= TITLE:
            self.drawing.text(self.left - 130, y, band.title, 11.5, bold=True)
            self.drawing.text(self.left - 130, y + 12, f"{rows} rows", 10.5)
        else:
            self.drawing.text(self.left - 130, y, f"{band.title}: {rows} row{'s' * (rows != 1)}",
                              10.5)
        beds = {FRONT: band.last.state.front, BACK: band.last.state.back}
        counts = " + ".join(str(beds[bed].loaded.bit_count()) for bed in self.beds)
        self.counts = min(high + 10, self.counts - LINE)
        self.drawing.text(self.right + 8, self.counts, counts, 10.5)

    def key(self, y: float) -> float:
        """The legend: yarns and marks."""
        self.drawing.text(20, y + 9, "Legend", 12, bold=True)
        x = self.left
        words = self.run.yarn_words
        for together in self.yarns:
            w = 4 * CELL
            self.drawing.rect(x, y, w, self.cell_h * 2, self.fills[together], SOFT, 0.6)
            self.drawing.text(x + w + 8, y + 9,
                              " and ".join(words.get(yarn, yarn) for yarn in together), 12)
            y += 20
        if any(course.joins[FRONT] | course.joins[BACK] for course, _ in self.placed):
            self.drawing.path(f"M{number(x + 8)},{number(y + 10)}h8l-4,-9z", INK, "none", 0)
            self.drawing.text(x + 4 * CELL + 8, y + 9, "a decrease: two stitches knitted together",
                              12)
            y += 20
        if any(course.laid[FRONT] | course.laid[BACK] for course, _ in self.placed):
            self.drawing.circle(x + 12, y + 5, 1.5, INK, INK, 0)
            self.drawing.text(x + 4 * CELL + 8, y + 9,
                              "a stitch knitted together with yarn laid over it", 12)
            y += 20
        for sign, words_of, masks in (
                (_TUCK, "tucked: the yarn is laid over the stitch",
                 (one.course.tucked for one in self.placed)),
                (_SLIP, "slipped: the yarn passes behind",
                 (one.course.slipped for one in self.placed))):
            if any(front | back for front, back in masks):
                self.drawing.element("path", d=f"M{number(x + 12)},{number(y + 5)}{sign}",
                                     stroke=INK, stroke_width=0.9, fill="none")
                self.drawing.text(x + 4 * CELL + 8, y + 9, words_of, 12)
                y += 20
        if any(isinstance(moment.op, PickUp) for moment in self.run.moments):
            self.drawing.circle(x + 12, y + 5, 1.4, PAPER, INK, 0.8)
            self.drawing.text(x + 4 * CELL + 8, y + 9, "a loop picked up along an edge", 12)
            y += 20
        self.drawing.text(20, y + 9, "The first row is at the bottom. On the right: stitches "
                          + ("on the front + the back bed " if len(self.beds) > 1 else "")
                          + "at the end of the section.", 11, ink=SOFT)
        if len(self.beds) > 1:
            y += 15
            self.drawing.text(20, y + 9, "The back bed is seen from outside the tube.", 11,
                              ink=SOFT)
        for line in (*_scale(self.run, self.placed), *_folded(self.run)):
            y += 15
            self.drawing.text(20, y + 9, line, 11, ink=SOFT)
        return y + 14


def _scale(run: Run, placed: list[Placed]) -> list[str]:
    """What is drawn to scale, and what is not."""
    if not run.script.gauges:
        return ["Not to scale: the pattern has no gauge."]
    first = run.script.gauges[0].fabric
    ribs = Counter(run.sections[one.course.section].title for one in placed
                   if is_rib(one.course.state))
    gauges = [gauge_for(run, run.sections[one.course.section]) for one in placed]
    others = dict.fromkeys(gauge.fabric for gauge in gauges
                           if gauge is not None and gauge.fabric != first)
    odd = [*(f"{title} (a rib lies half as wide as its needles)" for title, rows in ribs.items()
             if rows > SEAM),
           *(f"rows of the gauge {fabric}" for fabric in others)]
    lines = [f"A cell is a stitch, as wide and as high as the gauge {first} says."]
    return [*lines, f"Not to scale: {'; '.join(odd)}."] if odd else lines


def _folded(run: Run) -> list[str]:
    """How many rows of each section lie inside a hem, on the bed that has most of them."""
    inside: dict[int, list[Fraction]] = {}
    for moment, rows in rows_inside(run, rows_knitted(run)).items():
        section = next(n for n, one in enumerate(run.sections) if one.first <= moment < one.last)
        found = inside.setdefault(section, [Fraction(0), Fraction(0)])
        for bed in BEDS:
            found[bed] += rows[bed]
    return [f"Folded, the hem has {number(float(max(rows)))} rows of "
            f"{run.sections[section].title} inside." for section, rows in inside.items()
            if max(rows)]
