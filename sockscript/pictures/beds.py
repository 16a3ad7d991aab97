"""Both needle beds at one moment, as one sees them standing in front of the machine.

Each needle is a line with its foot (the butt) at the outer end and its hook towards the gap
between the beds: out of work it is drawn back, in hold it is pushed forward across the gap.
"""

from __future__ import annotations

from collections.abc import Iterable

from sockscript.operations.beds import BACK, FRONT, Bed, highest, lowest, needle_name
from sockscript.pictures.letters import width
from sockscript.pictures.svg import INK, PALE, SOFT, Drawing, Picture
from sockscript.trace.in_words import CARRIAGE_AT, whole_machine
from sockscript.trace.state import BedState, Snapshot
from sockscript.trace.symbols import (
    EMPTY,
    HELD,
    HELD_TWO,
    LAID,
    ONE,
    OUT,
    SIGNS,
    TWO,
    UPPER,
    Sign,
    stitch_sign,
)

SPACING = 14.0
"""From needle to needle."""
LABEL = 10.5
"""Size of what stands at a needle, where it has room."""
GAP = 66.0
"""Between the needle rows of the two beds."""
REACH = {"out": 26.0, "work": 0.0, "upper": -9.0, "hold": -20.0}
"""How far the hook stands back from the edge of its bed; negative: out over the gap."""
LENGTH = 34.0


def position(state: BedState, needle: int) -> str:
    """Where a needle stands."""
    bit = 1 << needle
    return ("hold" if state.hold & bit else "upper" if state.upper & bit
            else "work" if state.work & bit else "out")


def used_needles(states: Iterable[BedState]) -> int:
    """All needles that are not out of work, or carry a loop."""
    used = 0
    for state in states:
        used |= state.in_use | state.loaded
    return used


def bed_picture(state: Snapshot, *, needles: int, beds: int, heading: str, yarn: str,
                name: str = "beds") -> Picture:
    """The beds as SVG.  ``yarn``: what is in the feeder; ``heading``: where in the pattern."""
    used = used_needles((state.front, state.back))
    first, last = (max(lowest(used) - 1, 0), min(highest(used) + 1, needles - 1)) if used \
        else (needles // 2 - 4, needles // 2 + 3)
    drawing = Drawing(name, heading, description(state, needles, beds, yarn))
    strip = BedStrip(drawing, state, first, last, needles, beds, left=96, top=70)
    strip.draw()
    width = max(strip.right + 96, 620)
    drawing.heading(heading)
    y = strip.bottom + 34
    for line in whole_machine(state, beds, yarn):
        drawing.text(20, y, line, 13)
        y += 19
    y = legend(drawing, strip.seen, 20, y + 10, width - 20)
    drawing.fit(width, y + 12)
    return drawing.render()


def description(state: Snapshot, needles: int, beds: int, yarn: str) -> str:
    """The picture for those who hear it: which needles hold what."""
    from sockscript.operations.beds import needle_ranges

    parts = whole_machine(state, beds, yarn)
    for word, bed in (("back", state.back), ("front", state.front))[2 - beds:]:
        for mask, what in ((bed.loaded, "stitches"), (bed.double, "two loops or more"),
                           (bed.hold, "in hold"),
                           (bed.working & ~bed.loaded, "empty in work")):
            if mask:
                parts.append(f"{word} bed, {what}: {needle_ranges(mask, needles)}")
    return ". ".join(parts) + "."


class BedStrip:
    """The needles of both beds from ``first`` to ``last``, drawn into a picture."""

    def __init__(self, drawing: Drawing, state: Snapshot, first: int, last: int, needles: int,
                 beds: int, left: float, top: float, carriage: bool = True) -> None:
        self.drawing = drawing
        self.state = state
        self.first, self.last = first, last
        self.needles = needles
        self.beds = beds
        self.left, self.top = left, top
        self.carriage = carriage
        self.seen: set[Sign] = set()
        depth = LENGTH + REACH["out"] + 12
        self.edge = {BACK: top + (depth if beds == 2 else 0),
                     FRONT: top + (depth if beds == 2 else 0) + GAP}
        self.bottom = self.edge[FRONT] + depth + 14
        self.right = left + (last - first) * SPACING

    def x(self, bed: Bed, needle: int) -> float:
        """The middle of a needle; at half pitch and when racked the back bed stands aside."""
        aside = 0.0
        if bed == BACK:
            aside = self.state.racking + (0.5 if self.state.pitch == "half" else 0)
        return self.left + (needle - self.first + aside) * SPACING

    def hook(self, bed: Bed, needle: int) -> float:
        """How far down the hook of a needle is."""
        state = self.state.bed(bed)
        back = REACH[position(state, needle)]
        return self.edge[bed] - back if bed == BACK else self.edge[bed] + back

    def draw(self) -> None:
        """The beds, their numbers, the carriage and the yarn."""
        for bed in (BACK, FRONT)[2 - self.beds:]:
            self._bed(bed)
            self._numbers(bed)
        if self.carriage:
            self._carriage()

    def _bed(self, bed: Bed) -> None:
        state = self.state.bed(bed)
        away = -1 if bed == BACK else 1
        left, width = self.x(bed, self.first) - SPACING, self.right - self.left + 2 * SPACING
        y = self.edge[bed] if bed == FRONT else self.edge[bed] - LENGTH - REACH["out"] - 8
        self.drawing.rect(left, y, width, LENGTH + REACH["out"] + 8, "#f2f2f2", SOFT, 0.8)
        word = "back" if bed == BACK else "front"
        self.drawing.text(left - 8, self.edge[bed] + away * 30 + 4, word, 12, "end", SOFT)
        for needle in range(self.first, self.last + 1):
            self._needle(bed, state, needle, away)

    def _needle(self, bed: Bed, state: BedState, needle: int, away: int) -> None:
        x, hook = self.x(bed, needle), self.hook(bed, needle)
        where = position(state, needle)
        bit = 1 << needle
        idle = where == "out" and not state.loaded & bit
        ink = "#8c8c8c" if idle else INK
        butt = hook + away * LENGTH
        self.drawing.line(x, hook, x, butt, 1, ink)
        self.drawing.rect(x - 2.5, butt - 2, 5, 4, ink, ink, 0)
        mark_needle(self.drawing, state, needle, x, hook, away)
        self.seen |= signs(state, needle)

    def _numbers(self, bed: Bed) -> None:
        away = -1 if bed == BACK else 1
        y = self.edge[bed] + away * (LENGTH + REACH["out"] + 8)
        for needle in range(self.first, self.last + 1):
            name = needle_name(needle, self.needles)
            if int(name[1:]) == 1 or int(name[1:]) % 10 == 0:
                x = self.x(bed, needle)
                self.drawing.line(x, y, x, y + away * 4, 0.8, SOFT)
                anchor, aside = {"L1": ("end", 5.0), "R1": ("start", -5.0)}.get(name,
                                                                             ("middle", 0.0))
                self.drawing.text(x + aside, y + (away * 7 if away < 0 else 18), name, 12.5, anchor)

    def label(self, bed: Bed, needle: int, words: str) -> None:
        """A few characters in the gap before a needle."""
        y = self.hook(bed, needle) + (16 if bed == BACK else -9)
        size = min(LABEL, (SPACING - 2) / width(words, 1))
        self.drawing.text(self.x(bed, needle), y, words, size, "middle")

    def _carriage(self) -> None:
        state = self.state
        at_left = state.carriage == "left"
        x = self.left - 78 if at_left else self.right + 36
        y = self.edge[FRONT] - (GAP if self.beds == 2 else 0) / 2
        self.drawing.element("rect", x=x, y=y - 14, width=46, height=28, rx=5, fill=PALE,
                             stroke=INK, stroke_width=1.2)
        self.drawing.text(x + 23, y + 4.5, CARRIAGE_AT[state.carriage], 13, "middle", bold=True)
        if state.attached is not None:
            bed, needle = state.attached
            if self.first <= needle <= self.last:
                end = self.x(bed, needle), self.hook(bed, needle)
                start = x + (46 if at_left else 0)
                middle = (start + end[0]) / 2
                self.drawing.path(f"M{start:.1f},{y:.1f}Q{middle:.1f},{y:.1f} "
                                  f"{end[0]:.1f},{end[1]:.1f}", width=1.4)


def signs(state: BedState, needle: int) -> set[Sign]:
    """Which signs a needle is drawn with."""
    bit = 1 << needle
    found = {stitch_sign(state, needle)}
    if state.upper & bit:
        found.add(UPPER)
    if state.loaded & state.laid & bit:
        found.add(LAID)
    return found


def mark_needle(drawing: Drawing, state: BedState, needle: int, x: float, hook: float,
                away: int) -> None:
    """What lies in the hook of a needle."""
    bit = 1 << needle
    shown = stitch_sign(state, needle)
    y = hook + away * 2
    if shown in (HELD, HELD_TWO):
        drawing.polyline([(x, y - 6.5), (x + 6, y), (x, y + 6.5), (x - 6, y)], "#ffffff", INK, 1.3,
                         close=True)
    elif shown in (ONE, TWO):
        drawing.circle(x, y, 5.6 if shown is TWO else 4.4, "#ffffff", INK, 1.3)
    elif shown is EMPTY:
        drawing.polyline([(x - 2.5, hook + away * 4), (x, hook), (x + 2.5, hook + away * 4)],
                         width=1.2)
    if shown in (TWO, HELD_TWO):
        drawing.circle(x, y, 2.2, INK, INK, 1)
    if state.upper & bit:
        drawing.line(x - 4, hook + away * 14, x + 4, hook + away * 14, 1.2)
    if state.loaded & state.laid & bit:
        y = hook - away * 7
        drawing.line(x - 5, y, x + 5, y, 1.8)


def legend(drawing: Drawing, seen: set[Sign], x: float, y: float, right: float,
           size: float = 12) -> float:
    """The signs that were used, each drawn and named; returns where they end."""
    drawing.text(x, y + 14, "Legend", size, bold=True)
    left = x = x + width("Legend", size, bold=True) + 12
    for sign in SIGNS:
        if sign not in seen:
            continue
        wide = 36 + width(sign.words, size)
        if x + wide > right:
            x, y = left, y + 46
        _sample(drawing, sign, x + 8, y)
        drawing.text(x + 20, y + 14, sign.words, size)
        x += wide
    return y + 34


def _sample(drawing: Drawing, sign: Sign, x: float, y: float) -> None:
    """One sign as on a needle of the front bed: the hook is at the top."""
    held, upper = sign in (HELD, HELD_TWO), sign is UPPER
    hook = y + (16 if sign is OUT else 1 if upper else -4 if held else 6)
    ink = "#8c8c8c" if sign is OUT else INK
    drawing.line(x, hook, x, hook + 18, 1, ink)
    drawing.rect(x - 2.5, hook + 16, 5, 4, ink, ink, 0)
    if sign is not LAID:
        drawing.line(x - 9, y + 6, x + 9, y + 6, 0.8, SOFT)
    state = BedState(int(sign in (EMPTY, ONE, TWO, LAID)), int(upper), int(held),
                     int(sign not in (OUT, EMPTY)), int(sign in (TWO, HELD_TWO)),
                     int(sign is LAID), 1, "knit", True, 0, 0)
    mark_needle(drawing, state, 0, x, hook, 1)
