"""The finished piece seen from the side, to scale, with what it measures there."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING, Any, NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.finished import parts_of
from sockscript.pictures.shape import Shape, shape_of
from sockscript.pictures.svg import INK, SOFT, Drawing, Picture, number

if TYPE_CHECKING:
    from sockscript.pictures.shape import Floats

SCALE = 1.7
"""Units for a millimetre; a piece that would be taller than ``TALLEST`` is drawn smaller."""
TALLEST = 640.0
NEAR = 3.0
"""Millimetres behind the middle that are still drawn, so that no gap shows at the edge."""
SHADES = ("#b8b8b8", "#c9c9c9", "#d9d9d9", "#e8e8e8", "#f5f5f5")


class Measured(NamedTuple):
    """A length or girth taken from the relaxed shape, in mm."""

    name: str
    value: float


def girth(shape: Shape, ring: tuple[int, ...]) -> float:
    """How long the way round a course is, in mm."""
    points = shape.points
    return sum(_distance(points[a], points[b])
               for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))


def measured(run: Run, shape: Shape) -> list[Measured]:
    """Girth of each section at its middle; foot (heel to tip) and leg (edge to the start of the
    heel, along the wales) of a sock with a short-row heel."""
    found = []
    for section, record in enumerate(run.sections):
        rings = _rings_of(shape, section)
        if len(rings) > 3:
            found.append(Measured(f"{record.title}, round",
                                  girth(shape, rings[len(rings) // 2])))
    parts = parts_of(run)
    if parts is not None and parts.toe != parts.heel:
        low, high = _foot_ends(run, shape)
        found.append(Measured("Foot, heel to tip", high - low))
        leg = [run.sections.index(parts.sections[n]) for n in parts.leg]
        found.append(Measured("Leg, to the heel", sum(_deep(shape, n) for n in leg)))
    return found


def _distance(a: Any, b: Any) -> float:
    return math.dist(a.tolist(), b.tolist())


def _rings_of(shape: Shape, section: int) -> list[tuple[int, ...]]:
    """The rows of a section that go all round, without those inside a hem."""
    return [ring for at, ring in enumerate(shape.rings)
            if shape.graph.loops[ring[0]].section == section and at not in shape.inside]


def _deep(shape: Shape, section: int) -> float:
    """The length of a section along its wales: row by row, the mean over the stitches."""
    total = 0.0
    for ring in _rings_of(shape, section):
        steps = [_distance(shape.points[n], shape.points[p]) for n in ring
                 for p in shape.graph.loops[n].parents if shape.real[p]]
        total += sum(steps) / len(steps) if steps else 0.0
    return total


def _centre(shape: Shape, ring: tuple[int, ...]) -> Floats:
    import numpy as np

    return np.asarray(shape.points[list(ring)].mean(axis=0))


def _foot_axis(run: Run, shape: Shape) -> Floats:
    """The way from heel to toe, of length 1."""
    import numpy as np

    parts = parts_of(run)
    assert parts is not None
    between = [run.sections.index(parts.sections[n]) for n in parts.foot
               if n not in (parts.heel, parts.toe)]
    rings = [ring for section in between for ring in _rings_of(shape, section)]
    if len(rings) < 2:
        rings = list(shape.rings)
    way = _centre(shape, rings[-1]) - _centre(shape, rings[0])
    if parts.toe < parts.heel:
        way = -way
    return np.asarray(way / np.linalg.norm(way))


def _foot_ends(run: Run, shape: Shape) -> tuple[float, float]:
    """How far the foot (with heel and toe) reaches along its axis, in mm."""
    parts = parts_of(run)
    assert parts is not None
    sections = {run.sections.index(parts.sections[n]) for n in parts.foot}
    along = shape.points @ _foot_axis(run, shape)
    inside = [along[n] for n, loop in enumerate(shape.graph.loops)
              if shape.real[n] and loop.section in sections]
    return min(inside), max(inside)


def sock_picture(run: Run, *, heading: str, name: str = "sock") -> Picture | None:
    """The side view as SVG; None where no shape can be made (see ``shape_of``)."""
    shape = shape_of(run)
    if shape is None or len(shape.rings) < 2:
        return None
    view, depth = _side_view(run, shape)
    values = measured(run, shape)
    words = "; ".join(f"{one.name}: {one.value / 10:.1f} cm" for one in values)
    drawing = Drawing(name, heading, f"The finished piece seen from the side. {words}.")
    drawing.heading(heading)
    low, high = view.min(axis=0), view.max(axis=0)
    scale = min(SCALE, TALLEST / max(1.0, float((high - low)[1])))
    spots = (view - low) * scale + (40, 56)
    _fabric(drawing, shape, spots, depth)
    _section_lines(drawing, run, shape, spots, depth)
    right, bottom = ((high - low) * scale + (40, 56)).tolist()
    _scale_bar(drawing, 40, bottom + 30, scale)
    x = right + 36
    drawing.text(x, 72, "On this shape", 12, bold=True)
    for n, one in enumerate(values):
        drawing.text(x, 94 + 19 * n, one.name, 12)
        drawing.text(x + 210, 94 + 19 * n, f"{one.value / 10:.1f} cm", 12, "end")
    height = max(bottom + 56, 94 + 19 * len(values) + 20)
    drawing.text(40, height + 6, "Every loop is a point, joined to its neighbours by springs as "
                 "long as the gauge says.", 11, ink=SOFT)
    drawing.text(40, height + 22, "Where it bends it measures a little less than counted from "
                 "stitches and rows, as the leaflet has it.", 11, ink=SOFT)
    drawing.fit(max(x + 240, 640), height + 38)
    return drawing.render()


def _side_view(run: Run, shape: Shape) -> tuple[Floats, Floats]:
    """Points seen from the side (x to the right, y down), and how near each is to the eye."""
    import numpy as np

    centres = np.array([_centre(shape, ring) for ring in shape.rings])
    real = np.array(shape.real)
    middle = shape.points[real].mean(axis=0)
    _, _, axes = np.linalg.svd(centres - centres.mean(axis=0), full_matrices=True)
    eye = axes[2]
    parts = parts_of(run)
    if parts is not None and parts.leg:
        leg = [run.sections.index(parts.sections[n]) for n in parts.leg]
        rings = [ring for section in leg for ring in _rings_of(shape, section)]
        up = _centre(shape, rings[0]) - _centre(shape, rings[-1])
        if parts.toe < parts.heel:
            up = -up
    else:
        up = centres[0] - centres[-1]
    up = up - eye * (up @ eye)
    up /= np.linalg.norm(up)
    right = np.cross(up, eye)
    if parts is not None and parts.toe != parts.heel and _foot_axis(run, shape) @ right < 0:
        right, eye = -right, -eye
    away = shape.points - middle
    view = np.stack([away @ right, -(away @ up)], axis=1)
    view[~real] = view[real][0]
    return view, away @ eye


def _cells(shape: Shape) -> Iterator[tuple[int, ...]]:
    """Small faces of the fabric: two neighbours and the loops that they were drawn through."""
    loops = shape.graph.loops
    joined = set(shape.springs.pairs)
    for a, b in shape.springs.pairs:
        for p in loops[a].parents:
            for q in loops[b].parents:
                if p == q:
                    yield a, b, p
                elif (min(p, q), max(p, q)) in joined:
                    yield a, b, q, p
    yield from shape.graph.gathered
    for (a, b), (c, d) in pairwise(shape.graph.grafted):
        yield a, c, d, b


def _fabric(drawing: Drawing, shape: Shape, spots: Floats, depth: Floats) -> None:
    """The faces on the near side, in greys by how squarely they face the eye."""
    import numpy as np

    shades: list[list[str]] = [[] for _ in SHADES]
    for cell in _cells(shape):
        where = list(cell)
        if not all(shape.real[n] for n in cell) or depth[where].mean() < -NEAR:
            continue
        corners = np.column_stack([spots[where], depth[where] * SCALE])
        square = np.cross(corners[1] - corners[0], corners[-1] - corners[0])
        lit = abs(square[2]) / (float(np.linalg.norm(square)) or 1.0)
        shades[min(len(SHADES) - 1, int(lit * len(SHADES)))].append(_face(spots[where]))
    for shade, parts in zip(SHADES, shades, strict=True):
        if parts:
            drawing.path("".join(parts), shade, "#8c8c8c", 0.25)


def _face(xy: Any) -> str:
    """A closed polygon in tenths, each corner from the one before it."""
    tenths = (xy * 10).round().astype(int).tolist()
    d = f"M{tenths[0][0] / 10:g},{tenths[0][1] / 10:g}l"
    steps = [f"{(x - u) / 10:g},{(y - v) / 10:g}"
             for (u, v), (x, y) in pairwise(tenths)]
    return d + " ".join(steps) + "z"


def _section_lines(drawing: Drawing, run: Run, shape: Shape, spots: Floats, depth: Floats
                   ) -> None:
    """A line where a section begins, on the side that is seen."""
    for section in range(1, len(run.sections)):
        rings = _rings_of(shape, section)
        if not rings:
            continue
        ring = rings[0]
        parts = [f"M{number(spots[a][0])},{number(spots[a][1])}L"
                 f"{number(spots[b][0])},{number(spots[b][1])}"
                 for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)
                 if depth[a] >= 0 and depth[b] >= 0]
        drawing.path("".join(parts), ink=INK, width=1.3)


def _scale_bar(drawing: Drawing, x: float, y: float, scale: float) -> None:
    for n in range(5):
        drawing.rect(x + n * 10 * scale, y, 10 * scale, 5, INK if n % 2 == 0 else "#ffffff", INK,
                     0.8)
    drawing.text(x + 50 * scale + 8, y + 6, "5 cm", 11)
