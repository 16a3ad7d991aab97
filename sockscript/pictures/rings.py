"""Courses that go all round the piece, and which of them lie inside a hem."""

from __future__ import annotations

from collections import Counter

from sockscript.fabric.loops import CourseLoops, LoopGraph

Rings = tuple[tuple[int, ...], ...]
"""Courses that go all round, in knitting order, as loops."""


TUBULAR = 6
"""Passes on one bed alone, between two on both, that make a tubular edge: more are a tube."""


def tubular_edges(graph: LoopGraph) -> dict[int, int]:
    """Loops of tubular edges: the place of each in the row on both beds that closes the edge.

    There the loops of either bed lie between those of the other, so that two of one pass are as
    many stitches apart as their places.
    """
    places: dict[int, int] = {}
    edge: list[CourseLoops] | None = None
    for course in graph.courses:
        if len({graph.loops[n].bed for n in course.loops}) == 1:
            if edge is not None:
                edge.append(course)
            continue
        if edge and len(edge) <= TUBULAR:
            over = {n: place for place, n in enumerate(course.loops)}
            if course.direction == "left":
                over = {n: len(over) - 1 - place for n, place in over.items()}
            for n in (*course.loops, *(n for one in reversed(edge) for n in reversed(one.loops))):
                if n in over:
                    over.update((parent, over[n]) for parent in graph.loops[n].parents)
            places.update((n, over[n]) for one in edge for n in one.loops if n in over)
        edge = []
    return places


def rings_of(graph: LoopGraph, real: tuple[bool, ...]) -> Rings:
    """Courses that go all round: a flat row with both edges, or two passes of a tube or of a
    tubular edge."""
    found: list[tuple[int, ...]] = []
    half: CourseLoops | None = None
    places = tubular_edges(graph)
    for course in graph.courses:
        if not real[course.loops[0]]:
            half = None
            continue
        if half is not None and half.section != course.section:
            # A round begins with its section: the row before it may be the last of a heel.
            half = None
        if all(n in places for n in course.loops):
            if half is not None and half.loops[0] in places:
                found.append(tuple(sorted((*half.loops, *course.loops), key=places.__getitem__)))
                half = None
            else:
                half = course
            continue
        if course.flat:
            half = None
            if all(course.edges):
                ring = course.loops if course.direction == "right" else course.loops[::-1]
                found.append(ring)
            continue
        whole = all(course.edges)
        if half is not None and half.loops[0] in places:
            half = None
        beds = {graph.loops[n].bed for n in course.loops}
        if half is not None and whole and beds != {graph.loops[n].bed for n in half.loops}:
            found.append((*half.loops, *course.loops))
            half = None
        else:
            half = course if whole else None
    return tuple(found)


def inside_hems(graph: LoopGraph, real: tuple[bool, ...], rings: Rings) -> frozenset[int]:
    """The rings inside a hem, by number: the first half of those between an open edge and the
    ring whose loops were drawn through that edge as well, and those that are sewn down."""
    loops = graph.loops
    ring_of = {n: at for at, ring in enumerate(rings) for n in ring}
    found: set[int] = set()
    for closing, ring in enumerate(rings):
        hung = Counter(
            ring_of[parent] for n in ring if len(loops[n].parents) > 1
            for parent in loops[n].parents
            if parent in ring_of and not any(real[under] for under in loops[parent].parents))
        for edge, stitches in hung.items():
            # Some doubled stitches beside an edge are a decrease; a hem doubles most of a row.
            if 2 * stitches > len(ring):
                found.update(range(edge, edge + (closing - edge) // 2))
    for edge, beside in sewn_rows(graph, rings):
        rows = abs(beside - edge) // 2 + 1
        found.update(range(edge, edge + rows) if edge < beside
                     else range(edge - rows + 1, edge + 1))
    return frozenset(found)


def sewn_rows(graph: LoopGraph, rings: Rings) -> list[tuple[int, int]]:
    """Of each hem that is sewn down, by number: the ring at its edge and the one to which it is
    sewn, as far from the fold."""
    course_of = [graph.loops[ring[-1]].course for ring in rings]
    found = []
    for hem in graph.sewn:
        among = [at for at, course in enumerate(course_of) if hem.first <= course < hem.end]
        if len(among) >= 2 * hem.rows:
            order = among if hem.part == "first" else among[::-1]
            found.append((order[0], order[2 * hem.rows - 1]))
    return found


def sewn_loops(graph: LoopGraph, rings: Rings) -> list[tuple[int, int]]:
    """Loops of edges that are sewn down, each with the loop of its own wale it is sewn to."""
    found = []
    for low, high in (sorted(pair) for pair in sewn_rows(graph, rings)):
        below = set(rings[low])
        for loop in rings[high]:
            at = loop
            while at not in below and graph.loops[at].parents:
                at = graph.loops[at].parents[0]
            if at in below:
                found.append((at, loop))
    return found
