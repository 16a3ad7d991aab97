"""The finished piece as a body in space: its loops joined by springs and let go.

Each loop is a point.  Springs of one stitch's width join neighbours on the yarn, springs of one
row's height join a loop to those it was drawn through; both rest lengths come from the gauge of
the section.  The points start where a bent tube would have them and are relaxed by alternately
giving every spring its rest length and finding the points that fit these best (the block descent
of Liu, Bargteil, O'Brien and Kavan, "Fast simulation of mass-spring systems", ACM Transactions on
Graphics 32(6), 2013, without time).
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, Any, NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.amounts import gauge_for
from sockscript.fabric.loops import CourseLoops, LoopGraph, loop_graph
from sockscript.pictures.rings import Rings, inside_hems, rings_of
from sockscript.trace.yarn import LONGEST_FLOAT

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

    Floats = NDArray[numpy.float64]

ROUNDS = 160
"""Times the springs are relaxed."""
MOST_LOOPS = 60_000
INSIDE = 0.9
"""Where rows inside a hem start: this far out, as a share of what they measure."""


class Springs(NamedTuple):
    """Pairs of points, their rest lengths in mm and how stiff they are (1: a stitch)."""

    pairs: list[tuple[int, int]]
    rest: list[float]
    stiffness: list[float]


class Shape(NamedTuple):
    """A relaxed piece: a point in mm for each loop that belongs to it, and who is joined.

    ``points`` has a row for every loop of the graph; ``real`` tells which are of the piece (not
    waste yarn).  ``rings``: the courses that go all round, in knitting order, as loops;
    ``inside``: the numbers of those that lie inside a hem.
    """

    graph: LoopGraph
    points: Floats
    real: tuple[bool, ...]
    springs: Springs
    rings: Rings
    inside: frozenset[int]


def shape_of(run: Run) -> Shape | None:
    """Relax the springs of a run; None without a gauge, without fabric, or if it is too large."""
    graph = loop_graph(run)
    if not run.script.gauges or not graph.loops or len(graph.loops) > MOST_LOOPS:
        return None
    waste = {yarn.name for yarn in run.script.yarns if yarn.role != "main"}
    real = tuple(loop.yarn not in waste for loop in graph.loops)
    if not any(real):
        return None
    size = [_stitch(run, n) for n in range(len(run.sections))]
    springs = _springs(graph, real, size)
    rings = rings_of(graph, real)
    inside = inside_hems(graph, real, rings)
    angles = _angles(graph, real, rings)
    start = _bent_tube(graph, real, rings, inside, angles, size)
    return Shape(graph, _relaxed(start, springs, real), real, springs, rings, inside)


def _stitch(run: Run, section: int) -> tuple[float, float]:
    """Width and height of a stitch of a section, in mm."""
    gauge = gauge_for(run, run.sections[section])
    assert gauge is not None
    return 1 / float(gauge.stitches_per_mm), 1 / float(gauge.rows_per_mm)


def _springs(graph: LoopGraph, real: tuple[bool, ...], size: list[tuple[float, float]]
             ) -> Springs:
    found: dict[tuple[int, int], tuple[float, float]] = {}

    def add(a: int, b: int, rest: float, stiffness: float = 1.0) -> None:
        if a != b and real[a] and real[b]:
            found.setdefault((min(a, b), max(a, b)), (rest, stiffness))

    loops = graph.loops
    for number, loop in enumerate(loops):
        for parent in loop.parents:
            add(number, parent, size[loop.section][1])
    before: CourseLoops | None = None
    for course in graph.courses:
        wide = size[course.section][0]
        # On two beds at once the stitches of a round are counted on both: neighbours on the yarn
        # are neighbours in the fabric.
        for a, b in pairwise(course.loops):
            if abs(loops[a].needle - loops[b].needle) <= LONGEST_FLOAT:
                add(a, b, wide)
        if before is not None and course.joined and not course.flat:
            a, b = before.loops[-1], course.loops[0]
            near = abs(loops[a].needle - loops[b].needle) <= LONGEST_FLOAT
            if near and loops[a].bed != loops[b].bed:
                add(a, b, wide)
        before = course
    for a, b, section in _seam(graph, real):
        add(a, b, size[section][0])
    for a, b in graph.grafted:
        add(a, b, size[loops[a].section][1])
    for ring in graph.gathered:
        wide = size[loops[ring[0]].section][0] / 4
        for a, b in zip(ring, (*ring[1:], ring[0]), strict=True):
            add(a, b, wide)
    _stiffen(found)
    return Springs(list(found), [rest for rest, _ in found.values()],
                   [stiffness for _, stiffness in found.values()])


def _stiffen(found: dict[tuple[int, int], tuple[float, float]]) -> None:
    """Weak springs over two stitches, so that the fabric does not crumple like a net."""
    next_to: dict[int, list[tuple[int, float]]] = {}
    for (a, b), (rest, _) in found.items():
        next_to.setdefault(a, []).append((b, rest))
        next_to.setdefault(b, []).append((a, rest))
    for middle in list(next_to):
        near = sorted(next_to[middle])
        for i, (a, one) in enumerate(near):
            for b, other in near[i + 1:]:
                # Stitches left and right, or above and below, have rest lengths alike.
                key = (min(a, b), max(a, b))
                if abs(one - other) < 1e-6 and key not in found and a + 1 < middle < b:
                    found[key] = (one + other, 0.05)


def _seam(graph: LoopGraph, real: tuple[bool, ...]) -> list[tuple[int, int, int]]:
    """Pairs of edge loops that are sewn: the left edge of the flat rows to their right edge."""
    left, right = [], []
    for course in graph.courses:
        if course.flat and real[course.loops[0]]:
            ends = (course.loops[0], course.loops[-1])
            low, high = ends if course.direction == "right" else ends[::-1]
            if course.edges[0]:
                left.append(low)
            if course.edges[1]:
                right.append(high)
    return [(a, b, graph.loops[a].section) for a, b in zip(left, right, strict=False)]


def _angles(graph: LoopGraph, real: tuple[bool, ...], rings: Rings) -> list[float]:
    """Where round the tube each loop lies, from 0 to 2 pi; the front bed is the first half.

    Loops of tubular rows have it from their needles; others take it from the loops drawn through
    them, or from those they were drawn through.
    """
    loops = graph.loops
    angles: list[float | None] = [None] * len(loops)
    flat = {n for course in graph.courses if course.flat for n in course.loops}
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
    for number in range(len(loops) - 1, -1, -1):
        known = angles[number]
        if known is not None:
            for parent in loops[number].parents:
                if angles[parent] is None:
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


def _bent_tube(graph: LoopGraph, real: tuple[bool, ...], rings: Rings, inside: frozenset[int],
               angles: list[float], size: list[tuple[float, float]]) -> Floats:
    """First places: rings stacked along an axis, which short rows bend away from themselves.

    Rings inside a hem are stacked the other way and narrower, so that the rest lie round them.
    """
    import numpy as np

    ring_of = {n: i for i, ring in enumerate(rings) for n in ring}
    points = np.zeros((len(graph.loops), 3))
    centre, axis, side = np.zeros(3), np.array([0.0, 0, 1]), np.array([1.0, 0, 0])
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
                if block:
                    centre, axis, side = _bend(graph, block, angles, size, points,
                                               (centre, axis, side), _radius(rings[at], graph,
                                                                             size))
                    block = []
                seen = at + 1
                ring = rings[at]
                way, share = (-1, INSIDE) if at in inside else (1, 1.0)
                centre = centre + way * axis * size[graph.loops[ring[0]].section][1]
                _lay(ring, angles, share * _radius(ring, graph, size), centre, axis, side, points)
    if block:
        radius = max(_radius(ring, graph, size) for ring in rings) if rings else 20.0
        _bend(graph, block, angles, size, points, (centre, axis, side), radius)
    return points


def _radius(ring: tuple[int, ...], graph: LoopGraph, size: list[tuple[float, float]]) -> float:
    return len(ring) * size[graph.loops[ring[0]].section][0] / (2 * math.pi)


def _lay(ring: tuple[int, ...], angles: list[float], radius: float, centre: Any, axis: Any,
         side: Any, points: Floats) -> None:
    import numpy as np

    other = np.cross(axis, side)
    for n in ring:
        points[n] = centre + radius * (math.cos(angles[n]) * side + math.sin(angles[n]) * other)


def _bend(graph: LoopGraph, block: list[int], angles: list[float],
          size: list[tuple[float, float]], points: Floats, frame: tuple[Any, Any, Any],
          radius: float) -> tuple[Any, Any, Any]:
    """Rows that do not go all round: a wedge about the side opposite to them."""
    import numpy as np

    centre, axis, side = frame
    other = np.cross(axis, side)
    wales: dict[int, list[int]] = {}
    for n in block:
        wales.setdefault(round(angles[n] * 1000), []).append(n)
    most = max(len(wale) for wale in wales.values())
    height = size[graph.loops[block[0]].section][1]
    x = sum(math.cos(angles[n]) for n in block)
    y = sum(math.sin(angles[n]) for n in block)
    if math.hypot(x, y) < 1e-6 * len(block):
        x, y = 1.0, 0.0
    out = (x * side + y * other) / math.hypot(x, y)
    turn = most * height / (2 * radius)
    hinge = centre - radius * out
    across = np.cross(axis, out)
    for wale in wales.values():
        for i, n in enumerate(wale):
            part = turn * (i + 1) / (len(wale) + 1)
            spoke = radius * (math.cos(angles[n]) * side + math.sin(angles[n]) * other)
            points[n] = hinge + _turned(centre + spoke - hinge, across, -part)
    return (hinge + _turned(centre - hinge, across, -turn), _turned(axis, across, -turn),
            _turned(side, across, -turn))


def _turned(vector: Any, about: Any, angle: float) -> Any:
    """A vector turned about a unit vector (Rodrigues' rotation formula)."""
    import numpy as np

    return (vector * math.cos(angle) + np.cross(about, vector) * math.sin(angle)
            + about * np.dot(about, vector) * (1 - math.cos(angle)))


def _relaxed(start: Floats, springs: Springs, real: tuple[bool, ...]) -> Floats:
    """Let the springs go, keeping the middle of the piece where it is."""
    import numpy as np
    from scipy.sparse import coo_matrix, diags
    from scipy.sparse.linalg import splu

    pairs = np.array(springs.pairs)
    rest = np.array(springs.rest)
    stiff = np.array(springs.stiffness)
    count = len(start)
    rows = np.arange(len(pairs))
    ones = np.ones(len(pairs))
    joins = coo_matrix((np.concatenate([ones, -ones]),
                        (np.concatenate([rows, rows]), pairs.T.ravel())),
                       shape=(len(pairs), count)).tocsc()
    hold = 1e-3
    system = (joins.T @ diags(stiff) @ joins + hold * diags(np.ones(count))).tocsc()
    factors = splu(system)
    weighted = joins.T @ diags(stiff)
    points = start.copy()
    for _ in range(ROUNDS):
        along = points[pairs[:, 0]] - points[pairs[:, 1]]
        length = np.linalg.norm(along, axis=1)
        length[length < 1e-9] = 1e-9
        points = factors.solve(weighted @ (along * (rest / length)[:, None]) + hold * points)
    return np.asarray(points)
