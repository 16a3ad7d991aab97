"""Small drawings that stand beside printed steps: a turning, and the short rows of a section.

They show what the whole pictures show (``fold``, ``short_rows``) for one look while the hands are
at work: groups of stitches by their ends, and rows by every fifth.  All words have one size, a set
share of the width, so that they can be read in a narrow column.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.courses import Course
from sockscript.operations.beds import BACK, BEDS, FRONT, Bed, Spot, highest, lowest
from sockscript.pictures.beds import used_needles
from sockscript.pictures.fold import Turning, turning_of
from sockscript.pictures.letters import width
from sockscript.pictures.short_rows import cross, described, short_row_courses
from sockscript.pictures.svg import INK, PALE, PAPER, SOFT, Drawing, Picture
from sockscript.trace.state import Snapshot

SHARE = 25.0
"""Letters on the width: in a column of 58 mm they are 6.6 points high."""
FEW_ROWS = 6
"""Fewer short rows need no drawing."""
CELL_W, CELL_H = 11.0, 9.0
TURNED = "#a0a0a0"
"""The ground of stitches that are turned."""
DrawSign = Callable[[Drawing, float, float], None]
"""Draws a sign about a place."""
AROUND = 2
"""Waiting needles that are drawn beside those that knit."""


class DrawingBeside(NamedTuple):
    """A drawing, and the number of the instruction at which what it shows begins."""

    picture: Picture
    instruction: int


def turnings_beside(run: Run) -> dict[int, DrawingBeside]:
    """The first turning of a run, by the number of its section."""
    turning = turning_of(run)
    if turning is None:
        return {}
    section = next(n for n, one in enumerate(run.sections)
                   if one.first <= turning.first < one.last)
    return {section: DrawingBeside(_turning(turning), run.moments[turning.first].instruction)}


def short_rows_beside(run: Run) -> dict[int, DrawingBeside]:
    """The short rows of every section that has them, by its number."""
    return {found[0].section: DrawingBeside(_short_rows(run, bed, found, f"short-rows-{number}"),
                                            run.moments[found[0].moment].instruction)
            for number, (bed, found) in enumerate(short_row_courses(run))
            if len(found) >= FEW_ROWS}


def _turning(turning: Turning) -> Picture:
    """The beds before and after a turning, group by group."""
    used = used_needles(state.bed(bed) for state in (turning.before, turning.after)
                        for bed in BEDS)
    first, last = lowest(used), highest(used)
    inner = (last - first + 1) * CELL_W
    words = inner / (SHARE - 4.5)
    left = 3.5 * words
    drawing = Drawing("turning", "The turning", turning.described)
    y = 1.2 * words
    for title, state, spots in (
            ("Before", turning.before, turning.numbers),
            ("After", turning.after,
             {turning.moved.get(spot, spot): n for spot, n in turning.numbers.items()})):
        drawing.text(0, y, title, words, bold=True)
        at = {BACK: y + 1.9 * words, FRONT: y + (4.4 if title == "Before" else 3.2) * words}
        for bed in BEDS:
            drawing.text(0, at[bed] + words / 3, bed.word, words, ink=SOFT)
        turned = set(turning.moved.values() if title == "After" else turning.moved)

        def x(needle: int) -> float:
            return left + (needle - first + 0.5) * CELL_W

        _needles(drawing, state, first, last, at, x)
        for bed, needle in spots:
            drawing.circle(x(needle), at[bed], 4, TURNED if (bed, needle) in turned else PAPER,
                           INK, 1.2)
        for bed in BEDS:
            away = -0.7 * words if bed == BACK else 1.5 * words
            _numbers(drawing, {n: (spots[bed, n], (bed, n) in turned)
                               for b, n in spots if b == bed}, at[bed] + away, x, words)
        if title == "Before":
            for way in _ways(turning.moved):
                a, b = way
                _arrow(drawing, x(a[1]), at[a[0]], x(b[1]), at[b[0]])
        y = at[FRONT] + (2.2 if title == "Before" else 3) * words
    y = _key(drawing, [
        ("turned", lambda on, x, y: on.circle(x, y, 4, TURNED, INK, 1.2)),
        ("stays", lambda on, x, y: on.circle(x, y, 4, PAPER, INK, 1.2)),
        ("empty, in work", lambda on, x, y: on.line(x, y - 4, x, y + 4, 1.2))],
        y, words, left + inner)
    drawing.fit(left + inner, y)
    return drawing.render()


def _needles(drawing: Drawing, state: Snapshot, first: int, last: int, at: Mapping[Bed, float],
             x: Callable[[int], float]) -> None:
    """The beds as lines, and the empty needles that are in work."""
    for bed in BEDS:
        drawing.line(x(first) - CELL_W / 2, at[bed], x(last) + CELL_W / 2, at[bed], 0.8, SOFT)
        one = state.bed(bed)
        for needle in range(first, last + 1):
            if (one.in_use & ~one.loaded) >> needle & 1:
                drawing.line(x(needle), at[bed] - 4, x(needle), at[bed] + 4, 1.2)


def _numbers(drawing: Drawing, stitches: Mapping[int, tuple[int, bool]], y: float,
             x: Callable[[int], float], words: float) -> None:
    """The numbers at the ends of stitches that follow each other; by needle: the number, and
    whether the stitch is turned."""
    groups: list[list[int]] = []
    for needle in sorted(stitches):
        number, turned = stitches[needle]
        if groups and groups[-1][-1] == needle - 1 and stitches[needle - 1] in (
                (number - 1, turned), (number + 1, turned)):
            groups[-1].append(needle)
        else:
            groups.append([needle])
    for group in groups:
        low, high = (str(stitches[needle][0]) for needle in (group[0], group[-1]))
        if len(group) == 1 or width(low + high, words) + words / 2 > len(group) * CELL_W:
            drawing.text((x(group[0]) + x(group[-1])) / 2, y, low, words, "middle")
            continue
        drawing.text(x(group[0]), y, low, words)
        drawing.text(x(group[-1]), y, high, words, "end")


def _ways(moved: Mapping[Spot, Spot]) -> Iterable[tuple[Spot, Spot]]:
    """Where the ends of each group go."""
    for bed in BEDS:
        here = sorted(needle for b, needle in moved if b == bed)
        for needle in here:
            if needle - 1 not in here or needle + 1 not in here:
                yield (bed, needle), moved[bed, needle]


def _arrow(drawing: Drawing, x1: float, y1: float, x2: float, y2: float) -> None:
    down = 1 if y2 > y1 else -1
    y1, y2 = y1 + 6 * down, y2 - 6 * down
    middle = (y1 + y2) / 2
    drawing.path(f"M{x1:.1f},{y1:.1f}C{x1:.1f},{middle:.1f} {x2:.1f},{middle:.1f} "
                 f"{x2:.1f},{y2:.1f}", width=1.2, dash="5 3")
    drawing.polyline([(x2, y2), (x2 - 4, y2 - 7 * down), (x2 + 4, y2 - 7 * down)], INK, INK, 0.5,
                     close=True)


def _short_rows(run: Run, bed: Bed, found: Sequence[Course], name: str) -> Picture:
    """Rows against needles, of those that knit and a few beside them."""
    knitting = 0
    for course in found[1:-1] or found:
        knitting |= course.worked[bed]
    there = used_needles(course.state.bed(bed) for course in found)
    first = max(lowest(knitting) - AROUND, lowest(there))
    last = min(highest(knitting) + AROUND, highest(there))
    # A narrow one is not made higher than wide.
    inner = max((last - first + 1) * CELL_W, len(found) * CELL_H)
    words = inner / (SHARE - 6)
    left, top = 3 * words + (inner - (last - first + 1) * CELL_W) / 2, 1.5 * words
    right = left + (last - first + 1) * CELL_W
    bottom = top + len(found) * CELL_H
    drawing = Drawing(name, "The short rows", described(run, [(bed, found)]))
    drawing.text(left - 0.9 * words, top - 0.5 * words, "RC", words, "end")
    laid = joined = waits = False
    written = bottom + words
    for row, course in enumerate(found):
        y = bottom - (row + 1) * CELL_H
        state = course.state.bed(bed)
        for needle in range(first, last + 1):
            x, bit = left + (needle - first) * CELL_W, 1 << needle
            if course.worked[bed] & bit:
                double = bool((course.laid[bed] | course.joins[bed]) & bit)
                joined |= double
                (_joining if double else _knitting)(drawing, x + CELL_W / 2, y + CELL_H / 2)
            elif state.loaded & bit:
                round_it = bool(state.laid & bit)
                waits, laid = waits or not round_it, laid or round_it
                (_laid_round if round_it else _waiting)(drawing, x + CELL_W / 2, y + CELL_H / 2)
        at_left = course.direction == "left"
        _head(drawing, left - 3 if at_left else right + 3, y + CELL_H / 2, -1 if at_left else 1)
        base = y + CELL_H / 2 + words / 3
        if written - base >= words and (row in (0, len(found) - 1)
                                        or course.state.counter % 5 == 0):
            drawing.text(left - 0.9 * words, base, str(course.state.counter), words, "end")
            written = base
    counts = [course.worked[bed].bit_count() for course in found]
    ends: list[int] = []
    for row in (0, len(found) - 1, counts.index(min(counts))):
        if any(abs(row - other) * CELL_H < words for other in ends):
            continue
        ends.append(row)
        drawing.text(right + 0.9 * words, bottom - (row + 0.5) * CELL_H + words / 3,
                     str(counts[row]), words, bold=True)
    signs: list[tuple[bool, str, DrawSign]] = [
        (True, "knits", _knitting), (waits, "waits", _waiting),
        (laid, "waits, yarn laid round it", _laid_round),
        (joined, "knits with a second loop or the wrap", _joining),
        (True, "carriage stands here after the row", lambda on, x, y: _head(on, x - 3, y, 1))]
    wide = inner + 6 * words
    y = _key(drawing, [(told, sign) for there, told, sign in signs if there],
             bottom + 1.6 * words, words, wide)
    drawing.fit(wide, y)
    return drawing.render()


def _knitting(drawing: Drawing, x: float, y: float) -> None:
    drawing.rect(x - CELL_W / 2, y - CELL_H / 2, CELL_W, CELL_H, PALE, SOFT, 0.6)


def _joining(drawing: Drawing, x: float, y: float) -> None:
    _knitting(drawing, x, y)
    cross(drawing, x, y)


def _waiting(drawing: Drawing, x: float, y: float) -> None:
    drawing.circle(x, y, 1.6, INK, INK, 0)


def _laid_round(drawing: Drawing, x: float, y: float) -> None:
    _waiting(drawing, x, y)
    drawing.circle(x, y, 3.4, "none", INK, 1)


def _head(drawing: Drawing, x: float, y: float, way: int) -> None:
    drawing.polyline([(x + 6 * way, y), (x, y - 3), (x, y + 3)], INK, INK, 0.5, close=True)


def _key(drawing: Drawing, samples: Sequence[tuple[str, DrawSign]], y: float, words: float,
         wide: float) -> float:
    """The signs and what they mean, as many on a line as it holds; where they end."""
    x, sign = 0.0, max(0.6 * words, CELL_W / 2 + 1)
    for told, draw in samples:
        room = 2.3 * sign + width(told, words)
        if x and x + room > wide:
            x, y = 0.0, y + 1.3 * words
        draw(drawing, x + sign, y - words / 3)
        drawing.text(x + 2.3 * sign, y, told, words)
        x += room + 0.8 * words
    return y + 0.5 * words
