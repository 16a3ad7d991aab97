"""A second opinion on neighbours, counted from the loops themselves.

A piece is knitted, taken off the needles in groups, and each group hung somewhere on the two
beds, this way round or that; then a few rounds follow. ``neighbours`` says from the order alone
whether that is one closed tube. Here the loops of the same run make a surface: points are loops;
lines join the loops that follow each other on the yarn, and each loop with the one it was drawn
through; a patch fills every square of two loops and the two under them, where those two are
joined. What the surface is comes out of counting (Euler: points - lines + patches; closed tube of
a flat piece or of a tube: 0), of its edges (two circles) and of whether all patches can be given
one side to look at (no half turn). Elementary topology of surfaces; from memory, no source.
"""

from __future__ import annotations

from itertools import pairwise

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st
from support.scripts import run

from sockscript.fabric.loops import loop_graph
from sockscript.fabric.wales.follow import neighbours

ROUNDS = 3

FLAT = '''bring centre {around} of back into work to cast on
set back to knit
thread main
knit 3 rows
cut
half pitch
'''
TUBE = '''half pitch
bring L{half} to R{rest} of both into work to cast on
set both to circular
thread main
knit 3 rounds
cut
'''


def rounds_of(graph, flat):
    """The courses as chains of loops: rows of the flat piece or rounds, each with 'is a ring'."""
    chains = []
    passes = [list(course.loops) for course in graph.courses]
    if flat:
        chains += [(loops, False) for loops in passes[:3]]
        passes = passes[3:]
    for one, two in zip(passes[::2], passes[1::2], strict=True):
        chains.append((one + two, True))
    return chains


class Surface:
    """Points, lines and patches."""

    def __init__(self, graph, flat):
        self.graph = nx.Graph()
        self.patches = []
        for chain, ring in rounds_of(graph, flat):
            pairs = list(pairwise(chain)) + ([(chain[-1], chain[0])] if ring else [])
            for one, two in pairs:
                below = [graph.loops[loop].parents for loop in (one, two)]
                if all(below) and self.graph.has_edge(below[0][0], below[1][0]):
                    self.patches.append((one, two, below[1][0], below[0][0]))
                self.graph.add_edge(one, two)
            for loop in chain:
                for parent in graph.loops[loop].parents:
                    self.graph.add_edge(loop, parent)
        self.sides = {}
        for number, patch in enumerate(self.patches):
            for one, two in pairwise((*patch, patch[0])):
                self.sides.setdefault(frozenset((one, two)), []).append((number, one < two))

    def euler(self):
        return (self.graph.number_of_nodes() - self.graph.number_of_edges()
                + len(self.patches))

    def circles(self):
        """How many separate edges it has."""
        edge = nx.Graph([tuple(line) for line, found in self.sides.items() if len(found) == 1])
        return nx.number_connected_components(edge)

    def one_sided(self):
        """Whether some way round comes back with the other side up."""
        turned = nx.Graph()
        turned.add_nodes_from((n, side) for n in range(len(self.patches)) for side in (0, 1))
        for found in self.sides.values():
            if len(found) == 2:
                (a, way), (b, other) = found
                change = int(way == other)
                for side in (0, 1):
                    turned.add_edge((a, side), (b, side ^ change))
        return any(nx.has_path(turned, (n, 0), (n, 1)) for n in range(len(self.patches)))

    def closed_tube(self):
        return (nx.is_connected(self.graph) and self.euler() == 0 and self.circles() == 2
                and not self.one_sided())


@st.composite
def hangings(draw):
    """A flat piece or a tube, cut into groups, and where each group is hung."""
    flat = draw(st.booleans())
    around = draw(st.integers(6, 12)) * 2
    bounds = {0, around} if flat else {0, around // 2, around}
    bounds |= set(draw(st.lists(st.integers(1, around - 1), min_size=1, max_size=4)))
    groups = list(pairwise(sorted(bounds)))
    order = draw(st.one_of(st.just(list(range(len(groups)))),
                           st.permutations(range(len(groups)))))
    split = draw(st.integers(1, len(groups) - 1))
    turned = draw(st.one_of(st.just(None), st.lists(st.booleans(), min_size=len(groups),
                                                    max_size=len(groups))))
    return flat, around, groups, order, split, turned


def needle(place, around):
    """Needles counted from the far left of the bed."""
    return f"L{around - place}" if place < around else f"R{place - around + 1}"


def script(flat, around, groups, order, split, turned):
    """A group is hung in the place of the ring that its turn gives it."""
    half = around // 2
    lines = [FLAT.format(around=around) if flat else TUBE.format(half=half, rest=0).replace(
        "to R0", "to L1")]
    for number, (first, last) in enumerate(groups):
        if flat:
            left = half - first
            names = [needle(around - left + n, around) for n in (0, last - first - 1)]
            lines.append(f"scrap off {names[0]} to {names[1]} of back as group-{number}")
        else:
            # Round the ring: the front bed from left to right, then the back from right to left.
            bed = "front" if first < half else "back"
            ends = (first, last - 1) if first < half else (around - last, around - 1 - first)
            names = [f"L{half - end}" for end in ends]
            lines.append(f"scrap off {names[0]} to {names[1]} of {bed} as group-{number}")
    lines.append("take both out of work")
    if turned is None:
        # As hands should: what goes on round the ring hangs the other way on the back bed.
        turned = [n in order[:split] if flat else
                  (groups[n][0] >= half) == (n in order[:split]) for n in range(len(groups))]
    places = {"front": order[:split], "back": order[split:][::-1]}
    for bed, numbers in places.items():
        place = 0
        for number in numbers:
            size = groups[number][1] - groups[number][0]
            names = [needle(place + n, around) for n in (0, size - 1)]
            lines.append(f"bring {names[0]} to {names[1]} of {bed} into work")
            lines.append(f"rehang group-{number} to {names[0]} to {names[1]} of {bed}"
                         + (" turned" if turned[number] else ""))
            place += size
    return "\n".join([*lines, "set both to circular", "move carriage to left", "thread main",
                      f"knit {ROUNDS} rounds", "cut"])


def judged(text):
    done = run(text)
    found = neighbours(done)
    return [meeting for meeting in found.meetings if meeting.jumps], found, done


@settings(max_examples=60, deadline=None)
@given(hangings())
def test_orders_and_surfaces_agree(hanging):
    text = script(*hanging)
    jumping, found, done = judged(text)
    surface = Surface(loop_graph(done), hanging[0])

    assert (not jumping) == surface.closed_tube(), (text, found.meetings)
    if not jumping:
        assert len(found.seams) == (1 if hanging[0] else 0)


def test_both_verdicts_occur():
    """A check of the check: a right tube, a quarter not turned, two quarters exchanged."""
    groups = [(0, 4), (4, 12), (12, 16)]
    right = judged(script(True, 16, groups, [0, 2, 1], 2, None))
    straight = judged(script(True, 16, groups, [0, 2, 1], 2, [True, False, False]))
    exchanged = judged(script(True, 16, groups, [2, 0, 1], 2, None))

    assert Surface(loop_graph(right[2]), True).closed_tube()
    assert not right[0] and right[1].seams[0].off == 0
    assert Surface(loop_graph(straight[2]), True).one_sided()
    assert [m.wrong for m in straight[0]] == ["reversed"]
    assert not Surface(loop_graph(exchanged[2]), True).one_sided()
    assert not Surface(loop_graph(exchanged[2]), True).closed_tube()
    assert [m.wrong for m in exchanged[0]] == ["exchanged"]
