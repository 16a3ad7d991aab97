"""The schematic: the piece lying flat with lettered dimension lines, and what each measures.

The outline is drawn to scale for one size from its finished measurements; the table has all
sizes.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.courses import courses
from sockscript.fabric.finished import Finished, Parts, finished, parts_of
from sockscript.fabric.measures import SectionMeasure, measures
from sockscript.operations.beds import BACK, FRONT
from sockscript.pictures.svg import PALE, SOFT, Drawing

TALL = 360.0
"""Height of the outline."""


class Dimension(NamedTuple):
    """One lettered measurement: what it is, and its length in mm for every size."""

    letter: str
    name: str
    values: tuple[Fraction | None, ...]

    def in_centimetres(self) -> list[str]:
        """The values as they are printed."""
        return ["–" if value is None else f"{float(value) / 10:.1f}" for value in self.values]


class _Part(NamedTuple):
    """A section to draw: its name, half girth and length in mm."""

    title: str
    width: float
    length: float


def dimensions(runs: Sequence[Run]) -> list[Dimension]:
    """The measurements of all sizes, from the simulated fabric; empty without a gauge.

    Sections and parts are those of the first run; where another lacks one, its value is None.
    """
    first = runs[0]
    found = [{m.title: m for m in measures(run)} for run in runs]
    rows: list[tuple[str, list[Fraction | None]]] = []
    for title in _upright(first):
        here = [one.get(title) for one in found]
        rows.append((f"{title}, round", [m.girth if m else None for m in here]))
        rows.append((f"{title}, length", [m.length if m else None for m in here]))
    parts = parts_of(first)
    if parts is not None:
        whole = [finished(run) for run in runs]
        foot = _foot_title(parts)
        if foot is not None:
            rows.append((f"{foot}, round",
                         [one[foot].girth if foot in one else None for one in found]))
        rows.append(("Heel depth, along the foot", [one.heel for one in whole]))
        if whole[0].foot is not None:
            rows.append(("Foot length, heel to tip", [one.foot for one in whole]))
            rows.append(("Toe depth", [one.toe for one in whole]))
    return [Dimension(chr(ord("A") + n), name, tuple(values))
            for n, (name, values) in enumerate(rows[:26])
            if any(value is not None for value in values)]


def _upright(run: Run) -> list[str]:
    """Sections above the heel (all where there is none), from the top of the piece down; those
    of a row or two, which no dimension line fits, are left out."""
    known = {m.title: m for m in measures(run) if m.girth is not None and m.rows > 3}
    parts = parts_of(run)
    if parts is None:
        return list(known)
    titles = [parts.sections[n].title for n in parts.leg if parts.sections[n].title in known]
    return titles if parts.toe > parts.heel or parts.toe == parts.heel else titles[::-1]


def _foot_title(parts: Parts) -> str | None:
    """The section between heel and toe, or None."""
    between = [n for n in parts.foot if n not in (parts.heel, parts.toe)]
    return parts.sections[between[0]].title if between else None


def schematic_picture(runs: Sequence[Run], drawn: int, *, heading: str,
                      name: str = "schematic", table: bool = True) -> str | None:
    """The schematic as SVG, to scale for ``runs[drawn]``; None if nothing can be measured.

    ``table``: whether the lettered measurements stand below the outline.
    """
    rows = dimensions(runs)
    if not rows:
        return None
    words = "; ".join(f"{row.letter} {row.name}: " + ", ".join(
        f"{run.size_name} {value} cm" for run, value in
        zip(runs, row.in_centimetres(), strict=True)) for row in rows)
    drawing = Drawing(name, heading, f"Outline of the piece lying flat. {words}.")
    if heading and table:
        drawing.text(20, 28, heading, 17, bold=True)
    outline = _Outline(drawing, runs[drawn], {row.name: row.letter for row in rows})
    outline.draw(96, 66 if table else 34)
    y = outline.bottom + 44
    drawing.text(20, y, f"Lying flat, to scale for {runs[drawn].size_name}: widths are half of the "
                 "girths.", 11, ink=SOFT)
    width = max(outline.right + 70, 400.0)
    if table:
        width = max(width, _table(drawing, runs, rows, y + 28))
        y += 34 + 18 * len(rows)
    drawing.fit(width, y + 14)
    return drawing.render()


def _table(drawing: Drawing, runs: Sequence[Run], rows: Sequence[Dimension], y: float) -> float:
    names = max(len(row.name) for row in rows) * 6.6 + 60
    x = 20 + names
    columns = []
    for run in runs:
        x += max(52.0, 7.4 * len(run.size_name) + 12)
        columns.append(x)
        drawing.text(x, y, run.size_name, 12, "end", bold=True)
    drawing.line(20, y + 5, x, y + 5, 0.8)
    for n, row in enumerate(rows):
        at = y + 22 + 18 * n
        drawing.text(20, at, row.letter, 12, bold=True)
        drawing.text(44, at, f"{row.name}{' (cm)' if n == 0 else ''}", 12)
        for column, value in zip(columns, row.in_centimetres(), strict=True):
            drawing.text(column, at, value, 12, "end")
    return x + 20


class _Outline:
    """The outline of one size and its dimension lines."""

    def __init__(self, drawing: Drawing, run: Run, letters: dict[str, str]) -> None:
        self.drawing = drawing
        self.letters = letters
        self.run = run
        self.parts = parts_of(run)
        known = {m.title: m for m in measures(run)}
        self.leg = [self._part(known[title]) for title in _upright(run)]
        self.whole: Finished = finished(run)
        foot = _foot_title(self.parts) if self.parts is not None else None
        self.foot = self._part(known[foot]) if foot is not None else None
        self.foot_name = foot or ""
        deep = sum(part.length for part in self.leg) + (self.foot.width if self.foot else 0)
        wide = max([part.width for part in self.leg], default=0)
        if self.whole.foot is not None:
            wide = max(wide, float(self.whole.foot))
        self.scale = min(TALL / max(deep, 1), 430 / max(wide, 1))
        self.right = self.bottom = 0.0

    @staticmethod
    def _part(measure: SectionMeasure) -> _Part:
        return _Part(measure.title, float(measure.girth or 0) / 2, float(measure.length or 0))

    def draw(self, left: float, top: float) -> None:
        """Outline and dimension lines from the top left corner of the piece."""
        y = top
        widest = max((part.width for part in self.leg), default=0.0) * self.scale
        middle = left + widest / 2
        for n, part in enumerate(self.leg):
            w, h = part.width * self.scale, part.length * self.scale
            x = middle - w / 2
            self.drawing.rect(x, y, w, h, "#f2f2f2", stroke=1.4)
            self.drawing.text(middle, y + h / 2 + 4, part.title, 11, "middle", SOFT)
            at = top - 14 if n == 0 else y + 12
            self._dimension(f"{part.title}, round", x, at, x + w, at)
            self._dimension(f"{part.title}, length", left - 30, y, left - 30, y + h)
            y += h
        self.right, self.bottom = left + widest, y
        if self.parts is not None and self.foot is not None and self.whole.foot is not None:
            self._foot(middle - (self.leg[-1].width if self.leg else self.foot.width)
                       * self.scale / 2, y)

    def _foot(self, x: float, y: float) -> None:
        """Heel, foot and toe at a right angle to the leg, the toe to the right."""
        assert self.foot is not None and self.whole.foot is not None
        scale = self.scale
        high = self.foot.width * scale
        long = float(self.whole.foot) * scale
        toe = float(self.whole.toe or 0) * scale
        heel = float(self.whole.heel or 0) * scale
        ankle = (self.leg[-1].width if self.leg else self.foot.width) * scale
        tip = self._tip_width() * scale
        low = y + high
        r = min(heel, high) * 0.45
        self.drawing.path(
            f"M{x:.1f},{y:.1f}V{low - r:.1f}Q{x:.1f},{low:.1f} {x + r:.1f},{low:.1f}"
            f"H{x + long - toe:.1f}L{x + long:.1f},{low - (high - tip) / 2:.1f}V"
            f"{y + (high - tip) / 2:.1f}L{x + long - toe:.1f},{y:.1f}H{x:.1f}Z", "#f2f2f2",
            width=1.4)
        side = (x + min(ankle, long) / 2, y + high / 2)
        self.drawing.polyline([(x, y), side, (x + heel, low)], width=1, dash="4 3")
        self.drawing.line(x + long - toe, y, x + long - toe, low, 1, dash="4 3")
        self.drawing.text(x + (heel + long - toe) / 2, y + high / 2 + 4, self.foot.title, 11,
                          "middle", SOFT)
        at = x + long - toe - 12
        self._dimension(f"{self.foot_name}, round", at, y, at, low)
        self._dimension("Foot length, heel to tip", x, low + 40, x + long, low + 40)
        self._dimension("Heel depth, along the foot", x, low + 18, x + heel, low + 18)
        self._dimension("Toe depth", x + long - toe, low + 18, x + long, low + 18)
        self.right, self.bottom = max(self.right, x + long), low + 44

    def _tip_width(self) -> float:
        """Half of the last (or first) row of the toe, in mm: the stitches of the fuller bed."""
        assert self.parts is not None
        title = self.parts.sections[self.parts.toe].title
        here = [c for c in courses(self.run) if self.run.sections[c.section].title == title
                and (c.worked[FRONT] or c.worked[BACK])]
        if not here or not self.run.script.gauges:
            return 0.0
        # A toe that is knitted first begins with its tip in either of its first two passes.
        ends = here[-2:] if self.parts.toe > self.parts.heel else here[:2]
        counts = [max(c.state.front.loaded.bit_count(), c.state.back.loaded.bit_count())
                  for c in ends]
        return float(min(counts) / self.run.script.gauges[0].stitches_per_mm)

    def _dimension(self, name: str, x1: float, y1: float, x2: float, y2: float) -> None:
        """A line with its letter on a white ground in the middle."""
        letter = self.letters.get(name)
        if letter is None:
            return
        self.drawing.arrow(x1, y1, x2, y2)
        x, y = (x1 + x2) / 2, (y1 + y2) / 2
        self.drawing.circle(x, y, 8, "#ffffff", PALE, 1)
        self.drawing.text(x, y + 4.2, letter, 12, "middle", bold=True)
