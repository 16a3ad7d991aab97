"""The loop graph holds what the engine holds, loop by loop."""

from __future__ import annotations

from pathlib import Path

import pytest
from support import scripts
from support.scripts import proof
from support.smaller import small

from sockscript.fabric.courses import courses
from sockscript.fabric.loops import loop_graph
from sockscript.operations.beds import BACK, BEDS, FRONT
from sockscript.operations.ops import Fill

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.sockscript"))


def runs():
    """The first and the last size of every example, with every choice that makes a difference."""
    for path in EXAMPLES:
        for outcomes in proof(small(path.stem)).outcomes:
            for number, done in enumerate({id(one.run): one.run for one in outcomes}.values()):
                yield pytest.param(done, id=f"{path.stem}-{done.size_name}-{number}")


RUNS = list(runs())


def test_at_half_pitch_the_back_needle_stands_to_the_right_of_the_front_one_of_its_name():
    """Racked by one to the left, it stands to the left of it."""
    rib = scripts.run('''half pitch
bring centre 4 of both into work to cast on
set both to knit
thread main
knit 2 rows
rack to 1 left
knit 2 rows''')
    graph = loop_graph(rib)
    straight, racked = ([(graph.loops[loop].bed, graph.loops[loop].needle) for loop in course.loops]
                        for course in graph.courses if course.direction == "right")
    needles = range(rib.engine.profile.needles // 2 - 2, rib.engine.profile.needles // 2 + 2)

    assert straight == [(bed, needle) for needle in needles for bed in (FRONT, BACK)]
    assert racked == [(bed, needle) for needle in needles for bed in (BACK, FRONT)]


@pytest.mark.parametrize(("hands", "taken"), [
    ("{} L2 of front\n{}mark edge tip on front\nrehang tip to L4 to R3 of back",
     ["L4", "L3", "L1", "R1", "R2", "R3", "R4"]),
    ("{} L2 of front\n{}knit in waste over L2 to R1 of front as gap\n"
     "rehang gap to L4 to L2 of back", ["L3", "L1", "R1"]),
    ("{} L4 of front\n{}set front to tuck\nknit 1 row\n"
     "pick up along 1 row at left of front to L4 of back", ["L3"])])
def test_of_two_loops_on_a_needle_the_one_that_came_last_is_taken_up(hands, taken):
    lines = hands.format("transfer L3 of front onto", "take L3 of front out of work\n")
    graph = loop_graph(scripts.run("bring centre 8 of front into work to cast on\n"
                                   "set front to knit\nthread main\nknit 2 rows\n"
                                   f"bring centre 8 of back into work\n{lines}"))
    loops = [graph.loops[loop] for stack in graph.on_needles[BACK].values() for loop in stack]
    half = scripts.run("").engine.profile.needles // 2

    assert [f"L{half - loop.needle}" if loop.needle < half else f"R{loop.needle - half + 1}"
            for loop in loops] == taken


def test_the_end_that_gathers_goes_round_along_one_bed_and_back_along_the_other():
    graph = loop_graph(scripts.run(f"{scripts.TUBE_64}\ncut\ngather both"))
    (ring,) = graph.gathered
    places = [(graph.loops[loop].bed, graph.loops[loop].needle) for loop in ring]

    assert places == [*sorted(place for place in places if place[0] is FRONT),
                      *sorted((place for place in places if place[0] is BACK), reverse=True)]
    assert len(places) == 64


@pytest.mark.parametrize(("line", "joined"), [
    ("", 1), ("set front to tuck", 0), ("set R5 of front to tuck", 0),
    ("set R4 of front to tuck", 1)])
def test_two_loops_on_a_needle_that_tucks_are_not_knitted_together_yet(line, joined):
    passes = courses(scripts.run(f"{scripts.FLAT}\ntransfer R6 of front onto R5 of front\n"
                                 f"take empty of front out of work\n{line}\nknit 1 row"))

    assert passes[-1].joins[FRONT].bit_count() == joined


@pytest.mark.parametrize("run", RUNS)
def test_every_loop_is_where_the_engine_has_it(run):
    graph = loop_graph(run)

    for bed in BEDS:
        held = {n: len(stack) for n, stack in graph.on_needles[bed].items()}
        engine = {n: len(run.engine.needle(bed, n).loops)
                  for n in range(run.engine.profile.needles) if run.engine.needle(bed, n).loops}
        assert held == engine


@pytest.mark.parametrize("run", RUNS)
def test_the_graph_has_as_many_loops_as_were_knitted(run):
    """Against the engine's own count of loops; strands of tuck and wraps are no loops."""
    graph = loop_graph(run)
    ledger = run.engine.ledger
    by_yarn: dict[str, int] = {}
    for loop in graph.loops:
        for yarn in filter(None, (loop.yarn, loop.along)):
            by_yarn[yarn] = by_yarn.get(yarn, 0) + 1

    assert ledger.grafted == 2 * len(graph.grafted)
    assert ledger.gathered == sum(map(len, graph.gathered))
    # A bump lifted onto an empty needle is a loop, but takes no yarn.
    fills = sum(isinstance(moment.op, Fill) for moment in run.moments)
    for yarn, count in run.engine.yarn_loops.items():
        assert -fills <= count - by_yarn.get(yarn, 0) <= 0.06 * count, yarn


@pytest.mark.parametrize("run", RUNS)
def test_loops_are_drawn_through_earlier_loops(run):
    graph = loop_graph(run)

    for number, loop in enumerate(graph.loops):
        assert all(parent < number for parent in loop.parents)
