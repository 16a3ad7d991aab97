"""The example patterns knit in every size and with every choice, on the machines they fit."""

from __future__ import annotations

from pathlib import Path

import pytest

from sockscript.commands.check import check_file
from sockscript.fabric.measures import measures

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
NAMES = sorted(path.stem for path in EXAMPLES.glob("*.sockscript"))
MACHINES = {"flat-sock": ["cottage-single", "harbour-45"]}


def checked(name, machine=None):
    return check_file(EXAMPLES / f"{name}.sockscript", machine)


def test_there_are_the_eight_kinds():
    assert NAMES == ["afterthought-sock", "family-sock", "flat-sock", "gusset-sock", "leg-warmer",
                     "mitten", "striped-sock", "toe-up-sock"]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("which", [0, 1, 2])
def test_it_checks_clean(name, which):
    machines = [None, *MACHINES.get(name, ["harbour-45", "dunlin-60"])]
    found = checked(name, machines[which])

    assert found.problems == ()
    assert [(f.kind, f.at.line, f.message) for f in found.findings] == []


@pytest.mark.parametrize("name", NAMES)
def test_every_run_ends_with_an_empty_machine(name):
    proof = checked(name).proof
    assert proof is not None
    for outcomes in proof.outcomes:
        for outcome in outcomes:
            state = outcome.run.moments[-1].state
            assert state.front.loops == state.back.loops == 0
            assert state.ledger.dropped == state.ledger.scrapped == 0
            assert state.feeder is None


def test_the_family_sock_has_nine_sizes_and_proves_all_choices():
    proof = checked("family-sock").proof
    assert proof is not None

    assert len(proof.outcomes) == 9
    assert proof.combinations == 36
    assert [sum(len(o.choices) for o in outcomes) for outcomes in proof.outcomes] == [4] * 9


@pytest.mark.parametrize("name", ["family-sock", "toe-up-sock", "afterthought-sock"])
def test_the_foot_comes_out_as_long_as_the_table_says(name):
    """Foot, toe and half of the heel's rows together, read back from the simulation."""
    proof = checked(name).proof
    assert proof is not None
    sizes = proof.prepared.script.sizes
    assert sizes is not None
    for size, outcomes in enumerate(proof.outcomes):
        found = {m.title: m for m in measures(outcomes[0].run)}
        heel = found["Heel"].length
        share = heel / 2 if name != "afterthought-sock" else heel
        length = found["Foot"].length + found["Toe"].length + share
        # Rounds are whole, and a heel and a toe end with a row or two to spare: 1.5 cm.
        assert abs(float(length - sizes.measures["foot-length"][size].value)) < 15


def test_a_wider_foot_never_has_fewer_stitches():
    proof = checked("family-sock").proof
    assert proof is not None
    counts = [{m.title: m for m in measures(o[0].run)}["Foot"].around for o in proof.outcomes]

    assert counts == sorted(counts)
    assert len(set(counts)) == 9
