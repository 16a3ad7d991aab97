"""The finished piece as a body in space: its loops joined by springs and let go.

Each loop is a point.  Springs of one stitch's width join neighbours on the yarn, springs of one
row's height join a loop to those it was drawn through; both rest lengths come from the gauge of
the section.  The points start where a bent tube would have them and are relaxed by alternately
giving every spring its rest length and finding the points that fit these best (the block descent
of Liu, Bargteil, O'Brien and Kavan, "Fast simulation of mass-spring systems", ACM Transactions on
Graphics 32(6), 2013, without time).
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.amounts import gauge_for
from sockscript.fabric.loops import CourseLoops, LoopGraph, loop_graph
from sockscript.pictures.first_places import first_places
from sockscript.pictures.rings import Rings, inside_hems, rings_of, sewn_loops, tubular_edges
from sockscript.trace.yarn import LONGEST_FLOAT

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

    Floats = NDArray[numpy.float64]

ROUNDS = 160
"""Times the springs are relaxed."""
MOST_LOOPS = 60_000
DRAWN_IN = 0.1
"""The width of a gathered stitch, as a share of its own."""
TIGHT = 3.0
"""How stiff a yarn is that is pulled up."""


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
    real = tuple(loop.yarn not in run.waste for loop in graph.loops)
    if not any(real):
        return None
    size = [_stitch(run, n) for n in range(len(run.sections))]
    rings = rings_of(graph, real)
    springs = _springs(graph, real, size, rings)
    inside = inside_hems(graph, real, rings)
    start = first_places(graph, real, rings, inside, size)
    return Shape(graph, _relaxed(start, springs, real), real, springs, rings, inside)


def _stitch(run: Run, section: int) -> tuple[float, float]:
    """Width and height of a stitch of a section, in mm."""
    gauge = gauge_for(run, run.sections[section])
    assert gauge is not None
    return 1 / float(gauge.stitches_per_mm), 1 / float(gauge.rows_per_mm)


def _springs(graph: LoopGraph, real: tuple[bool, ...], size: list[tuple[float, float]],
             rings: Rings) -> Springs:
    """A spring for each pair of loops that hang together: how long at rest, and how stiff."""
    found: dict[tuple[int, int], tuple[float, float]] = {}

    def add(a: int, b: int, rest: float, stiffness: float = 1.0) -> None:
        if a != b and real[a] and real[b]:
            found.setdefault((min(a, b), max(a, b)), (rest, stiffness))

    loops = graph.loops
    for number, loop in enumerate(loops):
        for parent in loop.parents:
            add(number, parent, size[loop.section][1])
    before: CourseLoops | None = None
    places = tubular_edges(graph)
    for course in graph.courses:
        wide = size[course.section][0]
        # On two beds at once the stitches of a round are counted on both: neighbours on the yarn
        # are neighbours in the fabric.
        for a, b in pairwise(course.loops):
            if abs(loops[a].needle - loops[b].needle) <= LONGEST_FLOAT:
                add(a, b, wide * (abs(places[a] - places[b]) if {a, b} <= places.keys() else 1))
        if before is not None and course.joined and not course.flat:
            a, b = before.loops[-1], course.loops[0]
            near = abs(loops[a].needle - loops[b].needle) <= LONGEST_FLOAT
            if near and loops[a].bed != loops[b].bed:
                add(a, b, wide)
        before = course
    for a, b, section in _seam(graph, real):
        add(a, b, size[section][0])
    for a, b in (*graph.grafted, *sewn_loops(graph, rings)):
        add(a, b, size[loops[a].section][1])
    _stiffen(found)
    for ring in graph.gathered:
        wide = size[loops[ring[0]].section][0] * DRAWN_IN
        for a, b in zip(ring, (*ring[1:], ring[0]), strict=True):
            found.pop((min(a, b), max(a, b)), None)
            add(a, b, wide, TIGHT)
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
            if not graph.picked_along.isdisjoint(ends):
                continue
            low, high = ends if course.direction == "right" else ends[::-1]
            if course.edges[0]:
                left.append(low)
            if course.edges[1]:
                right.append(high)
    return [(a, b, graph.loops[a].section) for a, b in zip(left, right, strict=False)]


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
