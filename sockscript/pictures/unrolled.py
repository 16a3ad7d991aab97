"""The whole piece as unrolled fabric: one cell for each stitch, in the order it was knitted.

The front bed's stitches are on the left, the back bed's on the right and mirrored, as if a tube
had been cut open at its left fold; cells have the proportions of the gauge.
"""

from __future__ import annotations

from typing import NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.courses import Course, courses
from sockscript.operations.beds import BACK, BEDS, FRONT, Bed, highest, indices, lowest
from sockscript.pictures.svg import INK, PALE, PAPER, SOFT, Drawing, number

CELL = 6.0
"""Width of a stitch."""

_FILLS = (("plain", PALE, ""), ("slant", PAPER, "M0,{h}L{w},0"), ("upright", PAPER, "M3,0L3,{h}"),
          ("cross", PAPER, "M0,{h}L{w},0M0,0L{w},{h}"), ("level", PAPER, "M0,2L{w},2"))
"""How the yarns of a piece are told apart: a grey, then hatchings."""


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


def fabric_picture(run: Run, *, heading: str, name: str = "fabric") -> str | None:
    """The unrolled fabric as SVG; None if nothing was knitted."""
    placed, bands = place(run)
    if not placed:
        return None
    gauge = run.script.gauges[0] if run.script.gauges else None
    cell_h = CELL * float(gauge.stitches_per_mm / gauge.rows_per_mm) if gauge is not None \
        else CELL * 0.75
    total = bands[-1].top
    drawing = Drawing(name, heading, _description(bands))
    drawing.text(20, 28, heading, 17, bold=True)
    picture = _Unrolled(drawing, run, placed, cell_h, total)
    picture.draw(bands)
    y = picture.key(picture.bottom + 34)
    drawing.fit(max(picture.right + 120, 620), y + 10)
    return drawing.render()


def _description(bands: list[Band]) -> str:
    words = [f"{band.title}: {band.top - band.bottom} rows, ends with "
             f"{band.last.state.front.loaded.bit_count()} stitches on the front bed and "
             f"{band.last.state.back.loaded.bit_count()} on the back bed" for band in bands]
    return "From the bottom: " + "; ".join(words) + "."


class _Unrolled:
    def __init__(self, drawing: Drawing, run: Run, placed: list[Placed], cell_h: float,
                 total: int) -> None:
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
        self.left, self.top = 150.0, 76.0
        self.panel = (self.last - self.first + 1) * CELL
        self.middle = self.left + self.panel + 10
        self.two = bool(used[FRONT] and used[BACK])
        # A piece of one bed has one panel, whichever bed it is.
        self.middle = self.middle if self.two else self.left
        self.right = self.middle + self.panel
        self.bottom = self.top + total * cell_h
        self.free = self.counts = self.bottom + 20
        self.yarns = list(dict.fromkeys(one.course.yarn or "" for one in placed))
        self.fills = {yarn: drawing.pattern(
            f"{kind}", CELL, cell_h, f"M0,0H{number(CELL)}V{number(cell_h)}"
            + marks.format(w=number(CELL), h=number(cell_h)), ground, self.left, self.top)
            for yarn, (kind, ground, marks) in
            zip(self.yarns, _FILLS * (len(self.yarns) // len(_FILLS) + 1), strict=False)}

    def x(self, bed: Bed, needle: int) -> float:
        """The left edge of the cell of a needle."""
        if bed == FRONT:
            return self.left + (needle - self.first) * CELL
        return self.middle + (self.last - needle) * CELL

    def draw(self, bands: list[Band]) -> None:
        """Cells, marks, and the sections beside them."""
        paths: dict[str, list[str]] = {yarn: [] for yarn in self.yarns}
        joins: list[str] = []
        laid: list[str] = []
        for course, height in self.placed:
            y = self.bottom - (height + 1) * self.cell_h
            for bed in BEDS:
                self._cells(paths[course.yarn or ""], bed, course.worked[bed], y)
                joins += self._marks(bed, course.joins[bed], y)
                laid += [f"M{number(self.x(bed, n) + CELL / 2)},{number(y + self.cell_h / 2)}h.01"
                         for n in indices(course.laid[bed] & ~course.joins[bed])]
        for yarn, parts in paths.items():
            self.drawing.path("".join(parts), self.fills[yarn], SOFT, 0.6)
        if joins:
            self.drawing.path("".join(joins), INK, "none", 0)
        if laid:
            self.drawing.element("path", d="".join(laid), stroke=INK, stroke_width=2.6,
                                 stroke_linecap="round", fill="none")
        if self.two:
            for words, x in (("front bed", self.left),
                             ("back bed, seen from outside the tube", self.middle)):
                self.drawing.text(x + self.panel / 2, self.top - 14, words, 11, "middle", SOFT)
        for band in bands:
            self._band(band)

    def _cells(self, parts: list[str], bed: Bed, mask: int, y: float) -> None:
        while mask:
            start = lowest(mask)
            run = (~(mask >> start) & ((mask >> start) + 1)).bit_length() - 1
            x = self.x(bed, start if bed == FRONT else start + run - 1)
            parts.append(f"M{number(x)},{number(y)}h{number(run * CELL)}v{number(self.cell_h)}"
                         f"h{number(-run * CELL)}z")
            mask &= ~(((1 << run) - 1) << start)

    def _marks(self, bed: Bed, mask: int, y: float) -> list[str]:
        """A small triangle on a stitch that closes a decrease."""
        return [f"M{number(self.x(bed, n) + 0.8)},{number(y + self.cell_h - 0.5)}"
                f"h{number(CELL - 1.6)}l{number(0.8 - CELL / 2)},{number(1 - self.cell_h)}z"
                for n in indices(mask)]

    def _band(self, band: Band) -> None:
        low = self.bottom - band.bottom * self.cell_h
        high = self.bottom - band.top * self.cell_h
        self.drawing.line(self.left - 16, low, self.right + 6, low, 1, INK, "2 2")
        rows = band.top - band.bottom
        middle = (low + high) / 2
        if low - high >= 26:
            self._label(middle - 2, band.title, bold=True)
            self.drawing.text(self.left - 130, self.free + 12, f"{rows} rows", 10.5)
        else:
            self._label(middle + 4, f"{band.title}: {rows} row{'s' * (rows != 1)}")
        state = band.last.state
        counts = f"{state.front.loaded.bit_count()} + {state.back.loaded.bit_count()}"
        self.counts = min(high + 10, self.counts - 12)
        self.drawing.text(self.right + 8, self.counts, counts, 10.5)

    def _label(self, y: float, words: str, bold: bool = False) -> None:
        """The name of a section, never over the one below it."""
        self.free = min(y, self.free - 14)
        self.drawing.text(self.left - 130, self.free, words, 11.5 if bold else 10.5, bold=bold)

    def key(self, y: float) -> float:
        """The legend: yarns and marks."""
        self.drawing.text(20, y + 9, "Legend", 12, bold=True)
        x = self.left
        words = {yarn.name: yarn.text for yarn in self.run.script.yarns}
        for yarn in self.yarns:
            w = 4 * CELL
            self.drawing.rect(x, y, w, self.cell_h * 2, self.fills[yarn], SOFT, 0.6)
            self.drawing.text(x + w + 8, y + 9, words.get(yarn, yarn), 12)
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
        self.drawing.text(20, y + 9, "The first row is at the bottom. On the right: stitches on "
                          "the front + the back bed at the end of the section.", 11, ink=SOFT)
        return y + 14
