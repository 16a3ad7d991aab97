"""Stitches on the needles through the whole piece, against the row counter."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.courses import Course, courses
from sockscript.pictures.letters import width
from sockscript.pictures.svg import INK, SOFT, Drawing, Picture

WIDTH, HEIGHT = 760.0, 260.0
STEPS = (5, 10, 20, 50, 100, 200, 500, 1000)
"""From one labelled line to the next."""


class _Point(NamedTuple):
    """After a pass: all stitches, those on the front bed, those waiting in hold."""

    course: Course
    all: int
    front: int
    held: int


def _points(run: Run) -> list[_Point]:
    found = []
    for course in courses(run):
        front, back = course.state.front, course.state.back
        found.append(_Point(course, course.state.stitches(), front.stitches(),
                            front.set_aside.bit_count() + back.set_aside.bit_count()))
    return found


def stitches_picture(run: Run, *, heading: str, name: str = "stitches") -> Picture | None:
    """The chart as SVG; None if nothing was knitted."""
    points = _points(run)
    most = max((point.all for point in points), default=0)
    if not most:
        return None
    step = next(s for s in STEPS if most / s <= 8 or s == STEPS[-1])
    top = -(-most // step) * step
    drawing = Drawing(name, heading, _description(run, points))
    drawing.heading(heading)
    left, base = 70.0, 64 + HEIGHT
    wide = WIDTH / len(points)

    def x(n: float) -> float:
        return left + n * wide

    def y(stitches: float) -> float:
        return base - stitches / top * HEIGHT

    for stitches in range(0, top + 1, step):
        drawing.line(left, y(stitches), left + WIDTH, y(stitches), 0.6, "#b0b0b0")
        drawing.text(left - 8, y(stitches) + 4, str(stitches), 11, "end")
    drawing.text(20, 56, "stitches on the needles", 11, ink=SOFT)
    _area(drawing, [(x(n), x(n + 1), y(point.held)) for n, point in enumerate(points)], base)
    _steps(drawing, [(x(n), x(n + 1), y(point.front)) for n, point in enumerate(points)], 1.2,
           "5 3")
    _steps(drawing, [(x(n), x(n + 1), y(point.all)) for n, point in enumerate(points)], 2)
    y_key = _sections(drawing, run, points, x, base) + 14
    end = _key(drawing, y_key, any(point.held for point in points))
    drawing.fit(left + WIDTH + 40, end)
    return drawing.render()


def _steps(drawing: Drawing, spans: list[tuple[float, float, float]], width: float,
           dash: str = "") -> None:
    """A stepped line without the corners that lie on a straight run."""
    corners = [(spans[0][0], spans[0][2])]
    for (_, end, y), (_, _, after) in pairwise(spans):
        if after != y:
            corners += [(end, y), (end, after)]
    corners.append((spans[-1][1], spans[-1][2]))
    drawing.polyline(corners, width=width, dash=dash)


def _area(drawing: Drawing, spans: list[tuple[float, float, float]], base: float) -> None:
    fill = drawing.pattern("held", 5, 5, "M0,5L5,0", "#ffffff")
    for start, end in _filled(spans, base):
        part = spans[start:end]
        corners = [(part[0][0], base)]
        for one, other, y in part:
            corners += [(one, y), (other, y)]
        corners.append((part[-1][1], base))
        drawing.polyline(corners, fill, INK, 0.8, close=True)


def _filled(spans: list[tuple[float, float, float]], base: float) -> list[tuple[int, int]]:
    found, start = [], None
    for n, (_, _, y) in enumerate([*spans, (0.0, 0.0, base)]):
        if y < base and start is None:
            start = n
        elif y >= base and start is not None:
            found.append((start, n))
            start = None
    return found


def _sections(drawing: Drawing, run: Run, points: list[_Point], x: Callable[[float], float],
              base: float) -> float:
    """Where each section begins, and readings of the row counter; returns where they end."""
    starts = [n for n in range(len(points))
              if n == 0 or points[n].course.section != points[n - 1].course.section]
    free: list[float] = []
    for n, end in zip(starts, [*starts[1:], len(points)], strict=True):
        if n:
            drawing.line(x(n), base - HEIGHT, x(n), base + 4, 1, SOFT, "2 2")
        title = run.sections[points[n].course.section].title
        half = width(title, 11, bold=True) / 2
        middle = max((x(n) + x(end)) / 2, 24 + half)
        row = next((k for k, taken in enumerate(free) if middle - half > taken), len(free))
        free[row:row + 1] = [middle + half + 4]
        drawing.text(middle, base + 34 + 13 * row, title, 11, "middle", bold=True)
    step = next(s for s in (*STEPS[2:], len(points)) if len(points) / s <= 30)
    last = len(points) - 1
    room = 0.0
    for n, point in enumerate(points):
        reading = point.course.state.counter
        turn = n == last or points[n + 1].course.state.counter != reading + 1
        if n == last or ((turn or reading % step == 0) and room < x(n + 1) < x(last + 1) - 24):
            drawing.line(x(n + 1), base, x(n + 1), base + 4, 0.8)
            drawing.text(x(n + 1), base + 15, str(reading), 9.5, "middle")
            room = x(n + 1) + 24
    drawing.text(62, base + 15, "RC", 9.5, "end", bold=True)
    drawing.line(70, base, 70 + WIDTH, base, 1)
    return base + 34 + 13 * len(free)


def _key(drawing: Drawing, y: float, held: bool) -> float:
    drawing.text(20, y + 4, "Legend", 12, bold=True)
    drawing.line(84, y, 114, y, 2)
    drawing.text(122, y + 4, "all stitches", 12)
    drawing.line(224, y, 254, y, 1.2, INK, "5 3")
    drawing.text(262, y + 4, "on the front bed", 12)
    if held:
        drawing.rect(392, y - 7, 30, 12, f"url(#{drawing.name}-held)", INK, 0.8)
        drawing.text(430, y + 4, "waiting in hold", 12)
    return y + 20


def _description(run: Run, points: list[_Point]) -> str:
    words = []
    for one, other in pairwise([*points, None]):
        assert one is not None
        if other is None or other.course.section != one.course.section:
            words.append(f"{run.sections[one.course.section].title} ends at row counter "
                         f"{one.course.state.counter} with {one.all} stitches")
    return "; ".join(words) + "."
