"""Short rows as rows against needles: what knits, what waits, where the yarn is laid round."""

from __future__ import annotations

from collections.abc import Sequence

from sockscript.expand.run import Run
from sockscript.fabric.courses import Course, courses
from sockscript.operations.beds import BACK, BEDS, FRONT, Bed, highest, lowest, needle_name
from sockscript.pictures.beds import used_needles
from sockscript.pictures.svg import INK, PALE, SOFT, Drawing, Picture
from sockscript.trace.state import BedState

CELL_W, CELL_H = 11.0, 9.0


def heel_picture(run: Run, *, heading: str, name: str = "heel") -> Picture | None:
    """Every section of a run with short rows as SVG; None if it has none."""
    parts = short_row_courses(run)
    if not parts:
        return None
    drawing = Drawing(name, heading, described(run, parts))
    drawing.heading(heading)
    y, width = 46.0, 620.0
    for bed, found in parts:
        y, right = _part(drawing, run, bed, found, y)
        width = max(width, right)
    y = _key(drawing, y + 8)
    drawing.fit(width, y + 14)
    return drawing.render()


def _bed_state(course: Course, bed: Bed) -> BedState:
    return course.state.bed(bed)


def short_row_courses(run: Run) -> list[tuple[Bed, list[Course]]]:
    """By section: the bed that works short rows, and all passes of it from the first to the last
    of them."""
    found = []
    for number in range(len(run.sections)):
        here = [course for course in courses(run) if course.section == number]
        for bed in BEDS:
            short = [n for n, course in enumerate(here) if course.worked[bed]
                     and _bed_state(course, bed).loaded & ~course.worked[bed]]
            if short and not all(course.worked[FRONT] and course.worked[BACK] for course in here):
                found.append((bed, [course for course in here[max(short[0] - 1, 0):short[-1] + 2]
                                    if course.worked[bed]]))
    return found


def described(run: Run, parts: Sequence[tuple[Bed, Sequence[Course]]]) -> str:
    """The short rows in words."""
    words = []
    for bed, found in parts:
        counts = [course.worked[bed].bit_count() for course in found]
        words.append(f"{run.sections[found[0].section].title}: {len(found)} rows on the "
                     f"{bed.word} bed, from {counts[0]} stitches down to {min(counts)} and back "
                     f"to {counts[-1]}")
    return ". ".join(words) + ". The first row is at the bottom."


def _part(drawing: Drawing, run: Run, bed: Bed, found: list[Course], y: float
          ) -> tuple[float, float]:
    """The short rows of one bed as rows against needles; returns where they end."""
    needles = run.engine.profile.needles
    used = used_needles(_bed_state(course, bed) for course in found)
    first, last = lowest(used), highest(used)
    left, top = 84.0, y + 42
    bottom = top + CELL_H * len(found)
    drawing.text(20, y + 14, f"{run.sections[found[0].section].title}, {bed.word} bed", 14,
                 bold=True)
    right = left + (last - first + 1) * CELL_W
    for needle in range(first, last + 1):
        label = needle_name(needle, needles)
        if int(label[1:]) == 1 or int(label[1:]) % 5 == 0 or needle in (first, last):
            x = left + (needle - first + 0.5) * CELL_W
            if int(label[1:]) % 5 == 0 or int(label[1:]) == 1:
                anchor = {"L1": "end", "R1": "start"}.get(label, "middle")
                aside = {"L1": 4.0, "R1": -4.0}.get(label, 0.0)
                drawing.text(x + aside, top - 8, label, 9.5, anchor)
            drawing.line(x, top - 5, x, top - 1, 0.8, SOFT)
    narrowest = min(range(len(found)), key=lambda n: found[n].worked[bed].bit_count())
    for row, course in enumerate(found):
        _row(drawing, course, bed, first, last, left, bottom - (row + 1) * CELL_H)
        if row == 0 or course.state.counter % 5 == 0 or row == len(found) - 1:
            base = bottom - row * CELL_H - 1
            drawing.text(left - 30, base, f"RC {course.state.counter}", 9.5, "end")
        _direction(drawing, course, left, right, bottom - (row + 0.5) * CELL_H)
        stitches = course.worked[bed].bit_count()
        if row in (0, narrowest, len(found) - 1):
            drawing.text(right + 28, bottom - row * CELL_H - 1, f"{stitches} stitches", 9.5)
    return bottom + 18, right + 110


def _row(drawing: Drawing, course: Course, bed: Bed, first: int, last: int, left: float,
         y: float) -> None:
    state = _bed_state(course, bed)
    for needle in range(first, last + 1):
        x, bit = left + (needle - first) * CELL_W, 1 << needle
        if course.worked[bed] & bit:
            drawing.rect(x, y, CELL_W, CELL_H, PALE, SOFT, 0.6)
            if (course.laid[bed] | course.joins[bed]) & bit:
                cross(drawing, x + CELL_W / 2, y + CELL_H / 2)
        elif state.loaded & bit:
            drawing.circle(x + CELL_W / 2, y + CELL_H / 2, 1.6, INK, INK, 0)
            if state.laid & bit:
                drawing.circle(x + CELL_W / 2, y + CELL_H / 2, 3.4, "none", INK, 1)


def cross(drawing: Drawing, x: float, y: float) -> None:
    """The sign on a stitch that knits together with what lies over it."""
    drawing.line(x - 2.6, y - 2.6, x + 2.6, y + 2.6, 1)
    drawing.line(x - 2.6, y + 2.6, x + 2.6, y - 2.6, 1)


def _direction(drawing: Drawing, course: Course, left: float, right: float, y: float) -> None:
    """A small head at the side where the carriage stands after the row."""
    x, way = (left - 8, -1) if course.direction == "left" else (right + 8, 1)
    drawing.polyline([(x + 6 * way, y), (x, y - 3), (x, y + 3)], INK, INK, 0.5, close=True)


def _key(drawing: Drawing, y: float) -> float:
    drawing.text(20, y + 10, "Legend", 12, bold=True)
    x = 84.0
    drawing.rect(x, y + 1, CELL_W, CELL_H, PALE, SOFT, 0.6)
    drawing.text(x + 18, y + 10, "knits in this row", 12)
    x += 140
    drawing.circle(x + 5, y + 5, 1.6, INK, INK, 0)
    drawing.text(x + 18, y + 10, "waits in hold", 12)
    x += 120
    drawing.circle(x + 5, y + 5, 1.6, INK, INK, 0)
    drawing.circle(x + 5, y + 5, 3.4, "none", INK, 1)
    drawing.text(x + 18, y + 10, "waits, with the yarn laid round it", 12)
    x, y = 84, y + 20
    drawing.rect(x, y + 1, CELL_W, CELL_H, PALE, SOFT, 0.6)
    cross(drawing, x + CELL_W / 2, y + 1 + CELL_H / 2)
    drawing.text(x + 18, y + 10, "knits together with a second loop or the wrap", 12)
    y += 20
    drawing.polyline([(x + 10, y + 6), (x + 3, y + 3), (x + 3, y + 9)], INK, INK, 0.5, close=True)
    drawing.text(x + 18, y + 10, "the side where the carriage stands after the row; the first "
                 "row is at the bottom", 12)
    return y + 14
