"""Where the springs of the finished piece start from: rings stacked along an axis.

Short rows bend the axis away from themselves, and so does a slit that is taken up again; what is
knitted on there stands out from the piece.  The nearest rest is the one that is found, so the
first places decide on which side of the fabric a heel lies.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, NamedTuple

from sockscript.fabric.loops import CourseLoops, LoopGraph
from sockscript.fabric.sock import INSET
from sockscript.pictures.rings import Rings, tubular_edges

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

    Floats = NDArray[numpy.float64]

INSIDE = 0.9
"""Where rows inside a hem start: this far out, as a share of what they measure."""
OPENING = 1.0
"""How far a slit that is taken up bends the tube at first, in radians: a round hole as wide as the
tube bends it by twice the angle whose tangent is a half, 0.93."""

FLAP = 1.55
"""How far rows whose edges are picked up bend the tube at most at first, in radians: the gusset
leads the instep round the heel at a right angle."""


def _angles(graph: LoopGraph, rings: Rings) -> list[float]:
    """Where round the tube each loop lies, from 0 to 2 pi; the front bed is the first half.

    Loops of tubular rows have it from their needles; others take it from the loops of their own
    wale drawn through them, or from those they were drawn through.
    """
    loops = graph.loops
    angles: list[float | None] = [None] * len(loops)
    flat = {n for course in graph.courses if course.flat for n in course.loops}
    flat |= tubular_edges(graph).keys()
    tubular = False
    for ring in rings:
        if ring[0] in flat:
            continue
        tubular = True
        for bed in (0, 1):
            here = sorted((n for n in ring if loops[n].bed == bed), key=lambda n: loops[n].needle)
            for i, n in enumerate(here):
                turn = math.pi * (i + 0.5) / len(here)
                angles[n] = turn if bed == 0 else 2 * math.pi - turn
    if not tubular:
        for ring in rings:
            for i, n in enumerate(ring):
                angles[n] = 2 * math.pi * (i + 0.5) / len(ring)
    drawn_first: dict[int, int] = {}
    for number, loop in enumerate(loops):
        for parent in loop.parents:
            drawn_first.setdefault(parent, number)
    for number in range(len(loops) - 1, -1, -1):
        known = angles[number]
        # Not of a stitch that was joined from beside, nor of an edge that is picked up.
        if known is not None:
            for parent in loops[number].parents[:1]:
                if angles[parent] is None and drawn_first[parent] == number:
                    angles[parent] = known
    for number, loop in enumerate(loops):
        if angles[number] is None:
            known = next((angles[p] for p in loop.parents if angles[p] is not None), None)
            angles[number] = known
    for course in graph.courses:
        _between(course, angles)
    return [angle if angle is not None else 0.0 for angle in angles]


def _between(course: CourseLoops, angles: list[float | None]) -> None:
    """Loops that still have no angle take that of the nearest in their row."""
    last: float | None = None
    for order in (course.loops, course.loops[::-1]):
        for n in order:
            if angles[n] is None:
                angles[n] = last
            else:
                last = angles[n]


class _Frame(NamedTuple):
    """Where the next ring is laid: its middle, the way the tube runs, and two ways across: to the
    loop at the angle 0 and to that at a right angle to it."""

    centre: Any
    axis: Any
    side: Any
    other: Any

    def moved(self, way: float) -> _Frame:
        """The frame further along the tube."""
        return self._replace(centre=self.centre + way * self.axis)

    def spoke(self, angle: float) -> Any:
        """The way from the middle to a loop, of length 1."""
        return math.cos(angle) * self.side + math.sin(angle) * self.other

    def about(self, hinge: Any, across: Any, turn: float) -> _Frame:
        """The frame turned about a line."""
        return _Frame(hinge + _turned(self.centre - hinge, across, turn),
                      *(_turned(one, across, turn) for one in self[1:]))


class _Hinge(NamedTuple):
    """The line about which the tube bends: on the side opposite to some loops."""

    at: Any
    across: Any


def first_places(graph: LoopGraph, real: tuple[bool, ...], rings: Rings, inside: frozenset[int],
                 size: list[tuple[float, float]]) -> Floats:
    """First places: rings stacked along an axis, which short rows bend away from themselves.

    Rings inside a hem are stacked the other way and narrower, so that the rest lie round them.
    A ring whose loops were drawn through loops further back is knitted on there and stands out
    from the piece.  ``size``: width and height of a stitch of each section, in mm.
    """
    import numpy as np

    angles = _angles(graph, rings)
    ring_of = {n: i for i, ring in enumerate(rings) for n in ring}
    taken_up = {}
    slits = {}
    for above in range(len(rings)):
        under = _taken_up(graph, real, rings, ring_of, above)
        if not under:
            continue
        taken_up[above] = under
        below = max(ring_of[n] for n in under)
        # A thumb's opening is narrow and leaves the tube straight.
        if len(under) >= INSET * len(rings[below]):
            slits[below] = under
    points = np.zeros((len(graph.loops), 3))
    frame = _Frame(np.zeros(3), np.array([0.0, 0, 1]), np.array([1.0, 0, 0]),
                   np.array([0.0, 1, 0]))
    block: list[int] = []
    seen = 0
    for course in graph.courses:
        for n in course.loops:
            if not real[n]:
                continue
            at = ring_of.get(n)
            if at is None:
                block.append(n)
            elif at >= seen:
                ring = rings[at]
                radius = _radius(ring, graph, size)
                if block:
                    frame = _bend(graph, block, angles, size, points, frame, radius)
                    block = []
                seen = at + 1
                if at in taken_up:
                    frame = _knitted_on(graph, rings, ring_of, taken_up[at], at, points)
                elif at in slits:
                    hinge = _hinge(slits[at], angles, frame, radius)
                    frame = frame.about(*hinge, -OPENING)
                way, share = (-1, INSIDE) if at in inside else (1, 1.0)
                frame = frame.moved(way * size[graph.loops[ring[0]].section][1])
                for one in ring:
                    points[one] = frame.centre + share * radius * frame.spoke(angles[one])
    if block:
        radius = max(_radius(ring, graph, size) for ring in rings) if rings else 20.0
        _bend(graph, block, angles, size, points, frame, radius)
    return points


def _radius(ring: tuple[int, ...], graph: LoopGraph, size: list[tuple[float, float]]) -> float:
    return len(ring) * size[graph.loops[ring[0]].section][0] / (2 * math.pi)


def _taken_up(graph: LoopGraph, real: tuple[bool, ...], rings: Rings, ring_of: dict[int, int],
              at: int) -> list[int]:
    """The loops that a ring was drawn through, if all lie further back than the ring before."""
    under = [p for n in rings[at] for p in graph.loops[n].parents if real[p]]
    back = [p for p in under if ring_of.get(p, at) < at - 1]
    return back if under and len(back) == len(under) else []


def _knitted_on(graph: LoopGraph, rings: Rings, ring_of: dict[int, int], under: list[int],
                at: int, points: Floats) -> _Frame:
    """A frame that stands on some loops of the piece and looks away from it."""
    import numpy as np

    loops = graph.loops
    centre = points[under].mean(axis=0)
    round_them = [n for ring in sorted({ring_of[n] for n in under}) for n in rings[ring]]
    axis = centre - points[round_them].mean(axis=0)
    if np.linalg.norm(axis) < 1e-6:
        axis = np.array([0.0, 0, 1])
    axis /= np.linalg.norm(axis)

    def middle(of: list[int]) -> Any:
        places = [points[p] for n in of for p in loops[n].parents if p in under]
        return np.mean(places, axis=0) if places else centre

    by_needle = sorted(rings[at], key=lambda n: loops[n].needle)
    few = max(1, len(by_needle) // 8)
    side = middle(by_needle[:few]) - middle(by_needle[-few:])
    side = side - (side @ axis) * axis
    if np.linalg.norm(side) < 1e-6:
        side = np.cross(axis, np.array([0.3, 0.5, 0.8]))
    side /= np.linalg.norm(side)
    other = np.cross(axis, side)
    beds = [middle([n for n in rings[at] if loops[n].bed == bed]) for bed in (0, 1)]
    if (beds[0] - beds[1]) @ other < 0:
        other = -other
    return _Frame(centre, axis, side, other)


def _hinge(out: list[int], angles: list[float], frame: _Frame, radius: float) -> _Hinge:
    import numpy as np

    x = sum(math.cos(angles[n]) for n in out)
    y = sum(math.sin(angles[n]) for n in out)
    if math.hypot(x, y) < 1e-6 * len(out):
        x, y = 1.0, 0.0
    way = (x * frame.side + y * frame.other) / math.hypot(x, y)
    return _Hinge(frame.centre - radius * way, np.cross(frame.axis, way))


def _bend(graph: LoopGraph, block: list[int], angles: list[float],
          size: list[tuple[float, float]], points: Floats, frame: _Frame, radius: float) -> _Frame:
    """Rows that do not go all round: a wedge about the side opposite to them."""
    wales: dict[int, list[int]] = {}
    for n in block:
        wales.setdefault(round(angles[n] * 1000), []).append(n)
    most = max(len(wale) for wale in wales.values())
    height = size[graph.loops[block[0]].section][1]
    turn = most * height / (2 * radius)
    if not graph.picked_along.isdisjoint(block):
        turn = min(turn, FLAP)
    hinge = _hinge(block, angles, frame, radius)
    for wale in wales.values():
        for i, n in enumerate(wale):
            part = turn * (i + 1) / (len(wale) + 1)
            spoke = frame.centre + radius * frame.spoke(angles[n])
            points[n] = hinge.at + _turned(spoke - hinge.at, hinge.across, -part)
    return frame.about(*hinge, -turn)


def _turned(vector: Any, about: Any, angle: float) -> Any:
    """A vector turned about a unit vector (Rodrigues' rotation formula)."""
    import numpy as np

    return (vector * math.cos(angle) + np.cross(about, vector) * math.sin(angle)
            + about * np.dot(about, vector) * (1 - math.cos(angle)))
