"""A finished sock is one surface that ends only at the cuff; a leg warmer is an open tube."""

from __future__ import annotations

import networkx as nx
import pytest
from fabric.surface import Fabric
from support.scripts import run

# The cuff begins with a zigzag row only: the pocket of a tubular cast-on is a second layer, which a
# surface of one layer cannot show.
CUFF = '''full pitch
bring every 2nd from 1 of centre {around} of front into work to cast on
bring every 2nd from 2 of centre {around} of back into work to cast on
set both to knit
thread main
knit {cuff} rows
do rib-to-one-bed on back
set back to knit
knit 1 row
do turn-to-tube with bed = back
set both to circular
thread main
knit {leg} rounds
'''
FOOT = '''do heel on front with leave = {leave}, way = {way}
set both to circular
knit {leg} rounds
do {toe} with leave = {tip}
knit 1 round
cut
do graft-end
'''


def sock(around=24, cuff=5, leg=4, leave=4, way="wrapped", toe="wedge-toe", tip=6):
    text = (CUFF + FOOT).format(around=around, cuff=cuff, leg=leg, leave=leave, way=way, toe=toe,
                                tip=tip)
    return Fabric(run(text))


def one_cycle(graph):
    return nx.is_connected(graph) and all(degree == 2 for _, degree in graph.degree())


@pytest.mark.parametrize("case", [
    {}, {"cuff": 6}, {"around": 40, "leave": 6, "tip": 8}, {"way": "plain"},
    {"way": "wrapped-twice"}, {"toe": "round-toe"}, {"leg": 9, "cuff": 1},
    {"around": 64, "leave": 10, "tip": 12, "cuff": 20, "leg": 30}])
def test_a_finished_sock_is_one_surface_whose_edge_is_the_cuff(case):
    fabric = sock(**case)
    boundary = fabric.boundary()

    assert nx.is_connected(fabric.graph)
    assert set(fabric.sides().values()) <= {1, 2}, "an edge has two sides"
    assert len(fabric.sides()) == fabric.graph.number_of_edges(), "no loose threads"
    cast_on = {loop.number for loop in fabric.loops if not loop.parents}
    assert one_cycle(boundary)
    assert set(boundary) == cast_on
    assert fabric.euler() == 1, "a disc"


def test_a_leg_warmer_is_a_tube_with_two_edges():
    fabric = Fabric(run((CUFF + "knit 3 rounds\nbind off front\nbind off back\ncut\n").format(
        around=24, cuff=5, leg=4)))
    edges = list(nx.connected_components(fabric.boundary()))

    assert nx.is_connected(fabric.graph)
    assert set(fabric.sides().values()) <= {1, 2}
    assert len(edges) == 2
    assert all(degree == 2 for _, degree in fabric.boundary().degree())
    assert {loop.number for loop in fabric.loops if not loop.parents} in edges
    assert fabric.euler() == 0, "an annulus"


def test_without_the_graft_the_toe_is_an_edge_too():
    text = (CUFF + FOOT.replace("do graft-end", "gather both")).format(
        around=24, cuff=5, leg=4, leave=4, way="wrapped", toe="wedge-toe", tip=6)
    fabric = Fabric(run(text))

    assert len(list(nx.connected_components(fabric.boundary()))) == 2
    assert fabric.euler() == 0


def test_a_flat_piece_sewn_side_to_side_is_a_tube():
    flat = Fabric(run('''bring centre 12 of front into work to cast on
set front to knit
thread main
knit 9 rows
bind off front
cut'''))

    assert flat.euler() == 0
    assert len(list(nx.connected_components(flat.boundary()))) == 2


def test_every_cell_is_a_way_round_along_edges():
    fabric = sock()
    for cell in fabric.cells:
        assert len(set(cell)) == len(cell) >= 3
