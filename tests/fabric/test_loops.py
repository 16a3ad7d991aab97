"""The loop graph holds what the engine holds, loop by loop."""

from __future__ import annotations

from pathlib import Path

import pytest
from support import scripts
from support.scripts import proof
from support.smaller import small

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
