"""Random legal socks: no faults, and both simulators agree after every operation."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from oracle.compare import describe_engine
from oracle.plain_machine import PlainMachine
from support.scripts import HEADER, proof

from sockscript.findings.prove import judge_proof
from sockscript.trace.engine import Engine
from sockscript.trace.replay import replay

SOCK = '''sizes Any
    around {around}
section "Sock"
    do tubular-cast-on with around = around, yarn = main
    knit {cuff} rows
    do rib-to-one-bed on back
    set back to knit
    knit {plain} rows on back
    do {turn} with bed = back
    set both to circular
    thread main
    hang weights
    knit {leg} rounds
    do heel on front with leave = {leave}, way = {way}
    set both to circular
    knit {foot} rounds
    do {toe} with leave = {tip}, edge = {edge}
    knit 1 round
    cut
    remove weights
    do {end}
'''


@st.composite
def socks(draw):
    quarter = draw(st.integers(4, 20))
    half = 2 * quarter
    edge = draw(st.integers(1, 3))
    # Two doubles must not meet: the toe keeps at least two groups of edge stitches.
    smallest = max(4, 2 * edge)
    return SOCK.format(
        around=4 * quarter, cuff=draw(st.integers(1, 40)), plain=draw(st.integers(1, 3)),
        turn=draw(st.sampled_from(["turn-to-tube", "turn-to-tube-on-waste"])),
        leg=draw(st.integers(1, 60)), leave=2 * draw(st.integers(1, (half - 2) // 2 - 1)),
        way=draw(st.sampled_from(["plain", "wrapped", "wrapped-twice"])),
        foot=draw(st.integers(1, 400)),
        toe=draw(st.sampled_from(["wedge-toe", "round-toe"])),
        tip=half - 2 * draw(st.integers(1, (half - smallest) // 2)), edge=edge,
        end=draw(st.sampled_from(["graft-end", "gathered-end"])))


@settings(max_examples=30, derandomize=True, deadline=None,
          suppress_health_check=list(HealthCheck))
@given(socks())
def test_a_legal_sock_has_no_faults_in_either_simulator(text):
    made = proof(HEADER + text)
    run = made.outcomes[0][0].run
    found = [f.kind for f in judge_proof(made, None).findings if f.severity != "advice"]
    plain = PlainMachine(made.profile)
    engine = Engine(made.profile)
    for moment in run.moments:
        assert set(engine.apply(moment.op)) == set(plain.apply(moment.op)) == set()
        assert engine.snapshot() == moment.state
    assert describe_engine(engine) == plain.describe()

    assert found == []
    assert run.moments[-1].state.ledger.cast_on == run.moments[-1].state.ledger.joined + (
        run.moments[-1].state.ledger.grafted + run.moments[-1].state.ledger.gathered)


@settings(max_examples=15, derandomize=True, deadline=None)
@given(socks(), st.floats(0, 1))
def test_the_machine_at_any_operation_can_be_asked_for(text, where):
    run = proof(HEADER + text).outcomes[0][0].run
    index = int(where * (len(run.moments) - 1))
    engine = replay([moment.op for moment in run.moments[:index + 1]], run.engine.profile)

    assert engine.snapshot() == run.moments[index].state
