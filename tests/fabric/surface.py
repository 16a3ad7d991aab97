"""The knitted fabric as a surface: loops, their neighbours and the cells between them.

A finished piece is rebuilt from the operations of a run, knitted once more on the plain machine
of the oracle, which keeps every loop and the loops it was drawn through.

*Edges.*  Along the yarn each loop is joined to the next one (a course edge); each loop is joined
to those it was drawn through (a wale edge).  Sewing adds an edge between the two side loops of
each flat row; grafting adds one between each pair of grafted loops.

*Cells.*  Two loops that follow each other on the yarn close a cell with what lies under them: go
down from both, on the sides that face each other, until two loops are joined by an edge.  In
plain knitting that is the square of two courses; at a short-row turn, beside needles that came
back from hold and at the corner of a heel it is a longer cell.  A loop drawn through two loops
closes a triangle with them.  A seam and a graft close a square between each two of their stitches.

Nothing is assumed about the whole: what is connected, where it ends and which surface it is comes
out of counting (Euler: vertices - edges + cells).
"""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

import networkx as nx
from oracle.plain_machine import PlainMachine

from sockscript.operations.beds import BACK, FRONT
from sockscript.operations.ops import Graft, Knit

OPPOSITE = {"left": "right", "right": "left"}


class Fabric:
    """The surface of one run."""

    def __init__(self, run, waste=()):
        self.machine = PlainMachine(run.engine.profile)
        self.graph = nx.Graph()
        self.cells: list[list[int]] = []
        self.courses: list[tuple[str, list]] = []
        self.flat: list[tuple[int, int]] = []
        self.direction: dict[int, str] = {}
        self.loops = self.machine.loops
        self.grafted: list = []
        before = None
        for moment in run.moments:
            if isinstance(moment.op, Knit):
                for _ in range(moment.op.passes):
                    before = self.knit(before)
            else:
                if isinstance(moment.op, Graft):
                    self.note_graft()
                self.machine.apply(moment.op)
                if self.machine.feeder is None:
                    before = None
        self.close_cells()
        self.close_graft()

    # ---- knitting again

    def knit(self, before):
        """One pass: the loops it formed in the order of the yarn, joined to the pass before."""
        machine = self.machine
        direction = OPPOSITE[machine.carriage]
        count = len(machine.loops)
        acting = {bed: machine.action[bed] for bed in (FRONT, BACK)}
        machine.apply(Knit(1))
        new = machine.loops[count:]
        new.sort(key=lambda loop: loop.needle, reverse=direction == "left")
        flat = "circular" not in acting.values() and (
            all(action != "rest" for action in acting.values())
            or not any(needle.loops for needle in machine.beds[
                BACK if acting[FRONT] != "rest" else FRONT]))
        for loop in new:
            self.direction[loop.number] = direction
            self.graph.add_node(loop.number)
            for parent in loop.parents:
                self.graph.add_edge(loop.number, parent.number)
        if flat and new:
            ends = (new[0].number, new[-1].number)
            self.flat.append(ends if direction == "right" else ends[::-1])
        self.courses.append((direction, [*([before] if before is not None else []), *new]))
        return new[-1] if new else before

    def note_graft(self):
        """The loops that face each other when they are grafted, from left to right."""
        sides = []
        for bed in (FRONT, BACK):
            sides.append([n.loops[-1] for n in self.machine.beds[bed] if n.loops])
        self.grafted = [(a.number, b.number) for a, b in zip(*sides, strict=True)]

    # ---- cells

    def down(self, number, side):
        """The loops under a loop, always on the side that is faced."""
        chain = [number]
        while self.loops[chain[-1]].parents:
            parents = sorted(self.loops[chain[-1]].parents, key=lambda p: p.needle)
            chain.append((parents[0] if side == "left" else parents[-1]).number)
        return chain

    def close_pair(self, one, one_side, two, two_side):
        """The cell between two loops and what lies under them, and the edge between them."""
        left, right = self.down(one, one_side), self.down(two, two_side)
        for depth in range(len(left) + len(right) + 1):
            for a in range(min(depth, len(left) - 1) + 1):
                b = depth - a
                if depth == 0 or b >= len(right):
                    continue
                if left[a] == right[b]:
                    self.graph.add_edge(one, two)
                    return  # the one was drawn through the other: no cell between them
                if self.graph.has_edge(left[a], right[b]):
                    self.cells.append([*left[a::-1], *right[:b + 1]])
                    self.graph.add_edge(one, two)
                    return
        if len(left) == len(right) == 1:
            self.graph.add_edge(one, two)  # the first course has nothing under it
        # Else the yarn only passes by a held needle: a float, no part of the surface.

    def close_cells(self):
        """Sew the flat rows, then close every cell in the order of knitting."""
        seams = dict.fromkeys(self.flat)
        for left, right in seams:
            if left != right:
                self.graph.add_edge(left, right)
        for (l1, r1), (l2, r2) in pairwise(seams):
            self.cells.append([l1, l2, r2, r1])
        for direction, course in self.courses:
            for one, two in pairwise(course):
                same = self.direction[one.number] == direction and one is not course[0]
                first = direction if same else self.direction[one.number]
                self.close_pair(one.number, first, two.number, OPPOSITE[direction])
            for loop in course:
                parents = sorted(loop.parents, key=lambda p: p.needle)
                for p, q in pairwise(parents):
                    if [p.number, q.number, loop.number] not in self.cells:
                        self.cells.append([p.number, q.number, loop.number])

    def close_graft(self):
        """Join the grafted pairs and close the squares between them and the two ends."""
        if not self.grafted:
            return
        joined = [self.graph.has_edge(*pair) for pair in self.grafted]
        for end, side in ((0, "left"), (-1, "right")):
            if not joined[end]:
                one, two = self.grafted[end]
                self.close_pair(one, side, two, side)
        for (a1, b1), (a2, b2) in pairwise(self.grafted):
            self.graph.add_edge(a1, b1)
            self.graph.add_edge(a2, b2)
            self.cells.append([a1, a2, b2, b1])

    # ---- counting

    def sides(self):
        """How many cells lie on each edge."""
        found: Counter = Counter()
        for cell in self.cells:
            for a, b in zip(cell, cell[1:] + cell[:1], strict=True):
                assert self.graph.has_edge(a, b), (a, b)
                found[frozenset((a, b))] += 1
        return found

    def boundary(self):
        """The edges with a cell on one side only, as a graph."""
        return nx.Graph([tuple(edge) for edge, count in self.sides().items() if count == 1])

    def euler(self):
        """Vertices - edges + cells: 1 for a disc, 0 for a tube open at both ends."""
        return (self.graph.number_of_nodes() - self.graph.number_of_edges() + len(self.cells))
