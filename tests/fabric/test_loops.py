"""The loop graph holds what the engine holds, loop by loop."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.scripts import proof
from support.smaller import small

from sockscript.fabric.loops import loop_graph
from sockscript.operations.beds import BEDS
from sockscript.operations.ops import Fill

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.sockscript"))


def runs():
    """The first and the last size of every example, with every choice that makes a difference."""
    for path in EXAMPLES:
        for outcomes in proof(small(path.stem)).outcomes:
            for number, run in enumerate({id(one.run): one.run for one in outcomes}.values()):
                yield pytest.param(run, id=f"{path.stem}-{run.size_name}-{number}")


RUNS = list(runs())

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
