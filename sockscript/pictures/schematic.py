"""The schematic: the piece lying flat with lettered dimension lines, and what each measures.

The outline is drawn to scale for one size from its finished measurements; the table has all
sizes.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.courses import courses
from sockscript.fabric.finished import Finished, finished, parts_of
from sockscript.fabric.measures import SectionMeasure, measures
from sockscript.operations.beds import BACK, FRONT
from sockscript.pictures.dimensions import (
    FLAP,
    Dimension,
    beds_of,
    dimensions,
    foot_title,
    stitches_of,
    upright,
)
from sockscript.pictures.letters import width
from sockscript.pictures.svg import PALE, SOFT, Drawing, Picture

ROOM, LEAFLET_ROOM = (432.0, 360.0), (250.0, 215.0)
"""Most width and height of the outline, by itself and on a leaflet, where its letters have to stay
readable."""
APART = 34.0
"""Between pieces that do not hang together while they are knitted."""


class _Part(NamedTuple):
    """A section to draw: its name, half girth and length in mm; ``steps``: half girths with
    the length that each has, from its top to its bottom; ``fresh``: it does not begin on the
    stitches of the one before."""

    title: str
    width: float
    length: float
    steps: tuple[tuple[float, float], ...]
    fresh: bool


def schematic_picture(runs: Sequence[Run], drawn: int, *, heading: str,
                      name: str = "schematic", table: bool = True) -> Picture | None:
    """The schematic as SVG, to scale for ``runs[drawn]``; None if nothing can be measured.

    ``table``: whether heading, explanation and the lettered measurements stand by the outline;
    without it, it is for a leaflet, which says these itself.
    """
    rows = dimensions(runs)
    if not rows:
        return None
    inches = runs[0].script.inches
    unit = "in" if inches else "cm"
    values = {row.name: row.in_both(inches) for row in rows}
    words = "; ".join(f"{row.letter} {row.name}: " + ", ".join(
        f"{run.size_name} {value} {unit}" for run, (value, _) in
        zip(runs, values[row.name], strict=True)) for row in rows)
    drawing = Drawing(name, heading, f"Outline of the piece lying flat. {words}.")
    if heading and table:
        drawing.heading(heading)
    # Where there is but one size, its numbers stand on the drawing itself.
    one = {name: both[0][0] for name, both in values.items()} if len(runs) == 1 else {}
    outline = _Outline(drawing, runs[drawn], {row.name: row.letter for row in rows}, one,
                       ROOM if table else LEAFLET_ROOM)
    if not table:
        outline.draw(64, 28)
        drawing.fit(outline.right + 24, outline.bottom + 14)
        return drawing.render()
    outline.draw(96, 66)
    y = outline.bottom + 44
    drawing.text(20, y, to_scale(runs, drawn), 11, ink=SOFT)
    right, bottom = _table(drawing, runs, rows, y + 28)
    drawing.fit(max(outline.right + 70, 460.0, right), bottom)
    return drawing.render()


def to_scale(runs: Sequence[Run], drawn: int) -> str:
    """What the outline shows, in words."""
    unit = f", in {'inches' if runs[0].script.inches else 'cm'}" if len(runs) == 1 else ""
    return f"Lying flat, to scale for {runs[drawn].size_name}{unit}: widths are half of the girths."


def _table(drawing: Drawing, runs: Sequence[Run], rows: Sequence[Dimension], y: float
           ) -> tuple[float, float]:
    """The measurements in both units; returns where they end at the right and below."""
    inches = runs[0].script.inches
    unit = "in" if inches else "cm"
    names = [f"{row.name}{f' ({unit})' if n == 0 else ''}" for n, row in enumerate(rows)]
    x = 44 + max(width(name, 12) for name in names) + 8
    columns = []
    for run in runs:
        x += max(56.0, width(run.size_name, 12, bold=True) + 12)
        columns.append(x)
        drawing.text(x, y, run.size_name, 12, "end", bold=True)
    drawing.line(20, y + 5, x, y + 5, 0.8)
    y += 22
    for row, name in zip(rows, names, strict=True):
        drawing.text(20, y, row.letter, 12, bold=True)
        drawing.text(44, y, name, 12)
        for column, (value, other) in zip(columns, row.in_both(inches), strict=True):
            drawing.text(column, y, value, 12, "end")
            if other:
                drawing.text(column, y + 13, other, 10, "end", SOFT)
        y += 32
    return x + 20, y


class _Outline:
    """The outline of one size and its dimension lines."""

    def __init__(self, drawing: Drawing, run: Run, letters: dict[str, str],
                 values: dict[str, str], room: tuple[float, float]) -> None:
        self.drawing = drawing
        self.letters = letters
        self.values = values
        self.run = run
        self.parts = parts_of(run)
        known = {m.title: m for m in measures(run)}
        self.leg = [self._part(known[title]) for title in upright(run)]
        self.whole: Finished = finished(run)
        foot = foot_title(run, self.parts) if self.parts is not None else None
        self.foot = self._part(known[foot]) if foot is not None else None
        self.foot_name = foot or ""
        deep = sum(part.length for part in self.leg) + (self.foot.width if self.foot else 0)
        gaps = APART * sum(part.fresh for part in self.leg)
        wide = max([part.width for part in self.leg], default=0)
        if self.whole.foot is not None:
            wide = max(wide, float(self.whole.foot))
        broad, tall = room
        self.scale = min(max(tall - gaps, tall / 2) / max(deep, 1), broad / max(wide, 1))
        self.right = self.bottom = self.free = 0.0

    def _part(self, measure: SectionMeasure) -> _Part:
        width = float(measure.girth or 0) / 2
        length = float(measure.length or 0)
        counts = stitches_of(self.run, measure.title) or [(measure.around, 1)]
        passes = sum(n for _, n in counts)
        if self.parts is not None and self.parts.toe_first:
            counts.reverse()
        first = next(s.first for s in self.run.sections if s.title == measure.title)
        before = self.run.moments[first - 1].state if first else None
        fresh = (self.parts is None and before is not None and bool(before.ledger.cast_on)
                 and not beds_of(before))
        around = max(measure.around, 1)
        return _Part(measure.title, width, length, tuple(
            (width * count / around, length * n / passes) for count, n in counts), fresh)

    def draw(self, left: float, top: float) -> None:
        """Outline and dimension lines from the top left corner of the piece."""
        y = top
        widest = max((part.width for part in self.leg), default=0.0) * self.scale
        middle = left + widest / 2
        self.right = left + widest
        for n, part in enumerate(self.leg):
            y += APART if part.fresh else 0
            self._leg_part(part, middle, y, left - 30, above=n == 0 or part.fresh)
            y += part.length * self.scale
        self.bottom = y
        if self.parts is not None and self.foot is not None and self.whole.foot is not None:
            self._foot(middle - (self.leg[-1].width if self.leg else self.foot.width)
                       * self.scale / 2, y)

    def _leg_part(self, part: _Part, middle: float, y: float, left: float, above: bool) -> None:
        """A section from ``y`` downwards, its name at the right of it."""
        scale, h = self.scale, part.length * self.scale
        corners: list[tuple[float, float]] = []
        at = y
        for across, length in part.steps:
            half = across * scale / 2
            if not corners or corners[-1][0] != half:
                corners += [(half, at), (half, at)]
            at += length * scale
            corners[-1] = (half, at)
        self.drawing.polyline([*((middle - w, at) for w, at in corners),
                               *((middle + w, at) for w, at in reversed(corners))],
                              "#f2f2f2", width=1.4, close=True)
        ends = [(corners[0][0], y - 14 if above else y + min(12, h / 3)),
                (corners[-1][0], y + h - min(12, h / 3))]
        if ends[0][0] < ends[1][0]:
            ends.reverse()
        # Two letters need room: where there is little, that of the wider line stands beside it.
        aside = 20 if abs(ends[0][1] - ends[1][1]) < 20 and ends[0][0] != ends[1][0] else 0
        for name, (w, at), share in zip(
                ("round", "round, narrow end"), ends,
                (1 + 11 / max(2 * ends[0][0], 1) if aside else 0.5, 0.5), strict=True):
            self._dimension(f"{part.title}, {name}", middle - w, at, middle + w, at, share)
        self._dimension(f"{part.title}, length", left, y, left, y + h)
        widest = max(w for w, _ in corners)
        self.free = max(self.free + 15, y + h / 2 + 4)
        x = middle + widest + 12 + aside
        self.drawing.text(x, self.free, part.title, 12, ink=SOFT)
        self.right = max(self.right, x + width(part.title, 12))

    def _foot(self, x: float, y: float) -> None:
        """Heel, foot and toe at a right angle to the leg, the toe to the right."""
        assert self.foot is not None and self.whole.foot is not None
        scale = self.scale
        high = self.foot.width * scale
        long = float(self.whole.foot) * scale
        toe = float(self.whole.toe or 0) * scale if "Toe depth" in self.letters else 0.0
        heel = float(self.whole.heel or 0) * scale
        ankle = (self.leg[-1].width if self.leg else self.foot.width) * scale
        tip = self._tip_width() * scale if toe else high
        low = y + high
        r = min(heel, high) * 0.45
        self.drawing.path(
            f"M{x:.1f},{y:.1f}V{low - r:.1f}Q{x:.1f},{low:.1f} {x + r:.1f},{low:.1f}"
            f"H{x + long - toe:.1f}L{x + long:.1f},{low - (high - tip) / 2:.1f}V"
            f"{y + (high - tip) / 2:.1f}L{x + long - toe:.1f},{y:.1f}H{x:.1f}Z", "#f2f2f2",
            width=1.4)
        side = (x + min(ankle, long) / 2, y + high / 2)
        if self.whole.flap is not None:
            # One half of the flap, which hangs down the back of the heel.
            flap = y + min(float(self.whole.flap) * scale, high)
            self.drawing.polyline([(side[0], y), (side[0], flap), (x, flap)], width=1, dash="4 3")
            self._dimension(FLAP, x - 30, y, x - 30, flap)
        else:
            self.drawing.polyline([(x, y), side, (x + heel, low)], width=1, dash="4 3")
        if toe:
            self.drawing.line(x + long - toe, y, x + long - toe, low, 1, dash="4 3")
        self.drawing.text(x + (heel + long - toe) / 2, y + high / 2 + 4, self.foot.title, 12,
                          "middle", SOFT)
        at = x + long - toe - 12
        self._dimension(f"{self.foot_name}, round", at, y, at, low)
        self._dimension("Foot length, heel to tip", x, low + 40, x + long, low + 40)
        self._dimension("Heel depth, along the foot", x, low + 18, x + heel, low + 18)
        self._dimension("Toe depth", x + long - toe, low + 18, x + long, low + 18)
        self.right, self.bottom = max(self.right, x + long), low + 44

    def _tip_width(self) -> float:
        """Half of the last (or first) round of the toe, in mm."""
        assert self.parts is not None
        titles = {self.parts.sections[n].title for n in self.parts.toe}
        here = [c for c in courses(self.run) if self.run.sections[c.section].title in titles
                and (c.worked[FRONT] or c.worked[BACK])]
        if not here or not self.run.script.gauges:
            return 0.0
        # A toe that is knitted first begins with its tip in either of its first two passes.
        ends = here[:2] if self.parts.toe_first else here[-1:]
        most = max(c.state.stitches() for c in ends)
        return most / 2 / float(self.run.script.gauges[0].stitches_per_mm)

    def _dimension(self, name: str, x1: float, y1: float, x2: float, y2: float,
                   share: float = 0.5) -> None:
        """A line with its letter on a white ground at a share of it."""
        letter = self.letters.get(name)
        if letter is None:
            return
        self.drawing.arrow(x1, y1, x2, y2)
        x, y = x1 + (x2 - x1) * share, y1 + (y2 - y1) * share
        value = self.values.get(name)
        if value is None:
            self.drawing.circle(x, y, 8, "#ffffff", PALE, 1)
            self.drawing.text(x, y + 4.2, letter, 12, "middle", bold=True)
            return
        wide = 12 + width(letter, 12, bold=True) + width(value, 12)
        self.drawing.rect(x - wide / 2, y - 8, wide, 16, "#ffffff", PALE, 1)
        self.drawing.text(x - wide / 2 + 4, y + 4.2, letter, 12, bold=True)
        self.drawing.text(x + wide / 2 - 4, y + 4.2, value, 12, "end")
