"""The fast engine and the plain machine agree on every state, ledger and fault."""

from __future__ import annotations

import os
import re
from importlib import resources

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from oracle.compare import check_masks, describe_engine
from oracle.plain_machine import PlainMachine
from oracle.strategies import BEGINNINGS, DOUBLE, beginnings, profiles, sequences

from sockscript.operations import ops
from sockscript.operations.beds import BACK, FRONT
from sockscript.trace.engine import Engine
from sockscript.trace.replay import replay

EXAMPLES = int(os.environ.get("SOCKSCRIPT_EXAMPLES", "300"))
common = settings(max_examples=EXAMPLES, derandomize=True, deadline=None,
                  suppress_health_check=list(HealthCheck))


def run_both(profile, sequence):
    """Drive both machines; returns all fault kinds that were met."""
    engine, plain = Engine(profile), PlainMachine(profile)
    kinds = set()
    for op in sequence:
        fast, slow = engine.apply(op), plain.apply(op)
        assert set(fast) == set(slow), op
        assert len(fast) == len(set(fast)), "the same fault twice in one operation"
        assert describe_engine(engine) == plain.describe(), op
        check_masks(engine, plain)
        kinds |= {fault.kind for fault in fast}
    return kinds


@common
@given(profiles, beginnings, sequences)
def test_states_ledgers_and_faults_are_the_same(profile, beginning, sequence):
    run_both(profile, [*BEGINNINGS[beginning], *sequence])


@settings(common, max_examples=max(60, EXAMPLES // 5))
@given(profiles, beginnings, sequences, st.floats(0, 1))
def test_a_fork_goes_on_by_itself(profile, beginning, sequence, where):
    """Neither sees what becomes of the other."""
    whole = [*BEGINNINGS[beginning], *sequence]
    forked = int(where * len(whole))
    engine, straight = replay(whole[:forked], profile), replay(whole, profile)
    before = describe_engine(engine)
    twin = engine.fork()
    for op in whole[forked:]:
        twin.apply(op)

    assert describe_engine(engine) == before
    assert describe_engine(twin) == describe_engine(straight)
    for op in whole[forked:]:
        engine.apply(op)
    assert describe_engine(engine) == describe_engine(twin)


MET: set[str] = set()


@settings(common, max_examples=max(EXAMPLES, 2000))
@given(profiles, beginnings, sequences)
def _meet_faults(profile, beginning, sequence):
    engine = Engine(profile)
    for op in [*BEGINNINGS[beginning], *sequence]:
        MET.update(fault.kind for fault in engine.apply(op))


def test_the_random_operations_reach_every_fault_of_the_model():
    """Otherwise the comparison above would say nothing about the missing ones."""
    _meet_faults()
    model = (resources.files("sockscript.trace") / "machine-model.md").read_text("utf-8")
    kinds = set(re.findall(r"`([a-z]+(?:-[a-z0-9]+)+)`", model))
    kinds -= {"conservation-broken", "cast-on", "machine-model"}

    assert len(kinds) > 35
    assert kinds - MET == set()


@pytest.mark.parametrize("passes", [1, 2, 3, 4, 5, 6, 7, 99, 1000])
@pytest.mark.parametrize("front", ["knit", "rest", "tuck", "circular"])
@pytest.mark.parametrize("back", ["knit", "rest", "tuck", "circular"])
def test_many_passes_in_one_go_are_the_same_as_one_by_one(passes, front, back):
    run_both(DOUBLE, [*BEGINNINGS["tube"], ops.Place("hold", 0b111 << 4, 0b1 << 9),
                      ops.Transfer(((FRONT, 8, FRONT, 7),), True), ops.SetHold(FRONT, True),
                      ops.SetBed(FRONT, front), ops.SetBed(BACK, back), ops.Knit(passes),
                      ops.Cut(), ops.Knit(passes)])


def test_a_sock_in_small_is_the_same():
    """A heel in short rows, decreases and a graft, legal all the way."""
    sequence = [*BEGINNINGS["tube"], ops.SetBed(FRONT, "knit"), ops.SetBed(BACK, "rest"),
                ops.SetHold(FRONT, True)]
    for needle in (9, 4, 8, 5):
        sequence += [ops.Place("hold", 1 << needle, 0), ops.Knit(1)]
    for needle in (5, 8, 4, 9):
        sequence += [ops.Place("work", 1 << needle, 0), ops.Knit(1)]
    sequence += [ops.SetHold(FRONT, False), ops.SetBed(FRONT, "circular"),
                 ops.SetBed(BACK, "circular"), ops.Knit(20)]
    for bed in (FRONT, BACK):
        sequence += [ops.Fashion(bed, ((5, 6), (4, 5)), 1 << 4),
                     ops.Fashion(bed, ((8, 7), (9, 8)), 1 << 9)]
    sequence += [ops.Knit(4), ops.Cut(), ops.Graft(0b1111 << 5, 0b1111 << 5)]

    assert run_both(DOUBLE, sequence) <= {"yarn-jump"}
