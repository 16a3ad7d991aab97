"""The finished piece seen from the side, to scale, with what it measures there."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from sockscript.expand.run import Run
from sockscript.pictures.letters import width
from sockscript.pictures.shape import Shape, shape_of
from sockscript.pictures.svg import INK, PAPER, SOFT, Drawing, Picture, number
from sockscript.pictures.taped import (
    foot_axis,
    length,
    measured,
    middle_of,
    rings_in,
    sections_of,
    why_shorter,
)

if TYPE_CHECKING:
    from sockscript.pictures.shape import Floats

SCALE = 1.7
"""Units for a millimetre; a piece that would be taller than ``TALLEST`` is drawn smaller."""
TALLEST = 640.0
NEAR = 3.0
"""Millimetres behind the middle that are still drawn, so that no gap shows at the edge."""
DARKER = ("#8c8c8c", "#979797", "#a2a2a2", "#adadad", "#b8b8b8")
"""The faces of yarns that are knitted in turn with the first."""
FINE, STRONG = ("#8c8c8c", 0.25), ("#3c3c3c", 0.6)
"""The lines between stitches; stronger where two yarns are knitted together."""
SHADES = ("#b8b8b8", "#c9c9c9", "#d9d9d9", "#e8e8e8", "#f5f5f5")
FEW_ROWS = 5
"""A section with fewer has no room for its name, nor a line where it begins."""
NARROW = 60.0
"""A part that is seen narrower than this has its name beside it, so that it is not hidden."""
BESIDE = 10.0
"""Lines nearer to each other than this, in mm, are drawn once."""


def sock_picture(run: Run, *, heading: str, name: str = "sock") -> Picture | None:
    """The side view as SVG; None where no shape can be made (see ``shape_of``)."""
    shape = shape_of(run)
    if shape is None or len(shape.rings) < 2:
        return None
    return side_picture(run, shape, heading=heading, name=name)


def side_picture(run: Run, shape: Shape, *, heading: str, name: str = "sock") -> Picture:
    """A shape that has come to rest, seen from the side, with its measures."""
    view, depth = _side_view(run, shape)
    values = measured(run, shape)
    inches = run.script.inches
    words = "; ".join(f"{one.name}: {length(one.value, inches)}" for one in values)
    drawing = Drawing(name, heading, f"The finished piece seen from the side. {words}.")
    drawing.heading(heading)
    low, high = view.min(axis=0), view.max(axis=0)
    scale = min(SCALE, TALLEST / max(1.0, float((high - low)[1])))
    spots = (view - low) * scale + (40, 56)
    _fabric(drawing, shape, spots, depth)
    _section_lines(drawing, run, shape, spots, depth)
    right, bottom = ((high - low) * scale + (40, 56)).tolist()
    right = max(right, _names(drawing, run, shape, spots, depth))
    _scale_bar(drawing, 40, bottom + 30, scale, inches)
    x, y = right + 36, 94.0
    drawing.text(x, 72, "On this shape", 12, bold=True)
    for one in values:
        drawing.text(x, y, one.name, 12)
        drawing.text(x + 260, y, length(one.value, inches), 12, "end")
        y += 19
        if one.counted is not None:
            drawing.text(x + 12, y, "counted from its rows", 11, ink=SOFT)
            drawing.text(x + 260, y, length(one.counted, inches), 11, "end", SOFT)
            y += 19
    drawing.line(x, y + 8, x + 20, y + 8, 1.3)
    drawing.text(x + 28, y + 12, "a section begins here", 11, ink=SOFT)
    y = _yarn_key(drawing, run, shape, x, y + 22) - 22
    height = max(bottom + 56, y + 32)
    for note in filter(None, (
            "Every loop is a point, joined to its neighbours by springs as long as the gauge says.",
            "Girths are taken in the middle of each part.", why_shorter(run, shape))):
        drawing.text(40, height + 6, note, 11, ink=SOFT)
        height += 16
    drawing.fit(max(x + 290, 680), height + 6)
    return drawing.render()


def _side_view(run: Run, shape: Shape) -> tuple[Floats, Floats]:
    """Points seen from the side (x to the right, y down), and how near each is to the eye."""
    import numpy as np

    centres = np.array([middle_of(shape, ring) for ring in shape.rings])
    real = np.array(shape.real)
    middle = shape.points[real].mean(axis=0)
    _, _, axes = np.linalg.svd(centres - centres.mean(axis=0), full_matrices=True)
    eye = axes[2]
    parts = sections_of(run)
    most = max(range(len(run.sections)), key=lambda section: len(rings_in(shape, section)))
    longest = rings_in(shape, most)
    up = middle_of(shape, longest[0]) - middle_of(shape, longest[-1])
    if parts is not None:
        rings = [ring for section in parts.leg for ring in rings_in(shape, section)]
        if len(rings) > 1:
            up = middle_of(shape, rings[0]) - middle_of(shape, rings[-1])
            if parts.toe_first:
                up = -up
    up = up - eye * (up @ eye)
    long = float(np.linalg.norm(up))
    # Of a single ring nothing says what is up.
    up = up / long if long else axes[0]
    right = np.cross(up, eye)
    if parts is not None and foot_axis(shape, parts) @ right < 0:
        right, eye = -right, -eye
    away = shape.points - middle
    view = np.stack([away @ right, -(away @ up)], axis=1)
    view[~real] = view[real][0]
    return view, away @ eye


def _names(drawing: Drawing, run: Run, shape: Shape, spots: Floats, depth: Floats) -> float:
    """The name of each section on the middle of what is seen of it, or beside it where it would
    hide it; how far to the right they reach."""
    taken: list[tuple[float, float, float, float]] = []
    right = 0.0
    hidden = _hidden(shape)
    for section, record in enumerate(run.sections):
        seen = [n for n, loop in enumerate(shape.graph.loops)
                if loop.section == section and shape.real[n] and depth[n] >= 0
                and n not in hidden]
        rows = {shape.graph.loops[n].course for n in seen}
        box = spots[seen].max(axis=0) - spots[seen].min(axis=0) if seen else None
        if box is None or len(_rows_of(shape, section)) < FEW_ROWS or min(box.tolist()) < 2:
            continue
        x, y = spots[seen].mean(axis=0).tolist()
        lines = wrap(record.title, len(record.title) // 2 + 2, break_long_words=False) \
            if width(record.title, 11) > box[0] / 2 else [record.title]
        half, high = max(width(line, 11) for line in lines) / 2 + 4, 5 + 6.5 * len(lines)
        if min(box.tolist()) < NARROW or len(rows) < FEW_ROWS:
            edge, y = spots[max(seen, key=lambda n: float(spots[n][0]))].tolist()
            x = edge + 16 + half
        else:
            edge = None
        if any(abs(x - u) < half + wide and abs(y - v) < high + tall
               for u, v, wide, tall in taken):
            continue
        taken.append((x, y, half, high))
        right = max(right, x + half)
        if edge is not None:
            drawing.line(edge + 2, y, edge + 16, y, 0.6, SOFT)
        drawing.rect(x - half, y - high, 2 * half, 2 * high, PAPER, SOFT, 0.6)
        for n, line in enumerate(lines):
            drawing.text(x, y + 4 + 13 * n - 6.5 * (len(lines) - 1), line, 11, "middle")
    return right


def _rows_of(shape: Shape, section: int) -> set[int]:
    """The courses of a section."""
    return {loop.course for loop, real in zip(shape.graph.loops, shape.real, strict=True)
            if real and loop.section == section}


def _hidden(shape: Shape) -> frozenset[int]:
    """Loops that lie inside a hem."""
    return frozenset(n for at in shape.inside for n in shape.rings[at])


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
    yield from (cell for cell in shape.graph.gathered if len(cell) > 2)
    for (a, b), (c, d) in pairwise(shape.graph.grafted):
        if {(min(a, c), max(a, c)), (min(b, d), max(b, d))} & joined:
            yield a, c, d, b


def _fabric(drawing: Drawing, shape: Shape, spots: Floats, depth: Floats) -> None:
    """The faces on the near side, in greys by how squarely they face the eye."""
    import numpy as np

    first, hidden = _first_yarn(shape), _hidden(shape)
    shades: dict[tuple[bool, bool], list[list[str]]] = {}
    for cell in _cells(shape):
        where = list(cell)
        if not all(shape.real[n] and n not in hidden for n in cell) or depth[where].mean() < -NEAR:
            continue
        corners = np.column_stack([spots[where], depth[where] * SCALE])
        square = np.cross(corners[1] - corners[0], corners[-1] - corners[0])
        lit = abs(square[2]) / (float(np.linalg.norm(square)) or 1.0)
        loop = shape.graph.loops[cell[0]]
        look = shades.setdefault((loop.yarn != first, bool(loop.along)), [[] for _ in SHADES])
        look[min(len(SHADES) - 1, int(lit * len(SHADES)))].append(_face(spots[where]))
    for (other, along), faces in sorted(shades.items()):
        for shade, parts in zip(DARKER if other else SHADES, faces, strict=True):
            if parts:
                drawing.path("".join(parts), shade, *(STRONG if along else FINE))


def _first_yarn(shape: Shape) -> str:
    """The yarn of the first loop that stays in the piece."""
    return next(loop.yarn for loop, real in zip(shape.graph.loops, shape.real, strict=True)
                if real)


def _yarn_key(drawing: Drawing, run: Run, shape: Shape, x: float, y: float) -> float:
    """What darker faces and stronger lines mean, if there are any; where to go on below it."""
    loops = [loop for loop, real in zip(shape.graph.loops, shape.real, strict=True) if real]
    first = _first_yarn(shape)
    told = [(DARKER[-2], FINE, [loop.yarn for loop in loops if loop.yarn != first], ""),
            (SHADES[-2], STRONG, [loop.along for loop in loops if loop.along], " knitted along")]
    for shade, (ink, thick), names, how in told:
        if names:
            words = ", ".join(run.yarn_words[name] for name in dict.fromkeys(names))
            for n in range(3):
                drawing.rect(x + 7 * n, y, 7, 12, shade, ink, thick)
            drawing.text(x + 28, y + 10, words + how, 11, ink=SOFT)
            y += 19
    return y


def _face(xy: Any) -> str:
    """A closed polygon in tenths, each corner from the one before it."""
    tenths = (xy * 10).round().astype(int).tolist()
    d = f"M{tenths[0][0] / 10:g},{tenths[0][1] / 10:g}l"
    steps = [f"{(x - u) / 10:g},{(y - v) / 10:g}"
             for (u, v), (x, y) in pairwise(tenths)]
    return d + " ".join(steps) + "z"


def _section_lines(drawing: Drawing, run: Run, shape: Shape, spots: Floats, depth: Floats
                   ) -> None:
    """A line where a section begins, on the side that is seen.

    Two that run beside each other, as before and behind short rows, are one line there.
    """
    import numpy as np

    drawn = np.empty((0, 3))
    for section in range(1, len(run.sections)):
        rings = rings_in(shape, section)
        if not rings or len(_rows_of(shape, section)) < FEW_ROWS:
            continue
        ring = rings[0]
        seen = {n for n in ring if depth[n] >= 0 and (
            not len(drawn)
            or np.linalg.norm(drawn - shape.points[n], axis=1).min() > BESIDE)}
        parts = [f"M{number(spots[a][0])},{number(spots[a][1])}L"
                 f"{number(spots[b][0])},{number(spots[b][1])}"
                 for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)
                 if {a, b} <= seen]
        drawing.path("".join(parts), ink=INK, width=1.3)
        drawn = np.concatenate([drawn, shape.points[sorted(seen)]])


def _scale_bar(drawing: Drawing, x: float, y: float, scale: float, inches: bool) -> None:
    """Five centimetres, or two inches in halves."""
    parts, part = (4, 12.7) if inches else (5, 10.0)
    for n in range(parts):
        drawing.rect(x + n * part * scale, y, part * scale, 5, INK if n % 2 == 0 else "#ffffff",
                     INK, 0.8)
    drawing.text(x + parts * part * scale + 8, y + 6, "2 in" if inches else "5 cm", 11)
