"""One object for each finding: whole, spelt right, and found by its rule."""

from __future__ import annotations

import importlib
import pkgutil
from typing import get_args

import pytest
from support.scripts import HEADER, proof

import sockscript.findings
from sockscript.expand.record import Mishap
from sockscript.findings import catalogue
from sockscript.findings.catalogue import KINDS, WrongKindError
from sockscript.findings.filled_in import MissingFieldError, describe
from sockscript.findings.kind import Kind, LineBefore
from sockscript.findings.page import page_names
from sockscript.findings.rules import RULES, WHOLE_RULES
from sockscript.text.problem_names import ProblemName
from sockscript.trace.faults import EngineFault

MODULES = [importlib.import_module(found.name) for found in pkgutil.walk_packages(
    sockscript.findings.__path__, "sockscript.findings.")]
EVERY = [value for module in MODULES for value in vars(module).values() if isinstance(value, Kind)]


def test_no_finding_stands_in_a_module_that_is_not_listed():
    assert {kind.name for kind in EVERY} == set(KINDS)


def test_what_the_simulator_tells_has_its_words_and_nothing_else_has():
    told = {value.name for module in MODULES if ".kinds." in module.__name__
            for value in vars(module).values() if isinstance(value, Kind)}

    assert told == {*get_args(EngineFault), "allow-without-effect"}


def test_every_name_has_a_page_and_every_page_a_name():
    assert set(page_names()) | {"never-true"} == set(KINDS) | set(get_args(ProblemName))


@pytest.mark.parametrize("kind", KINDS.values(), ids=lambda kind: kind.name)
def test_a_finding_is_whole(kind):
    assert kind.name == kind.name.lower() and "_" not in kind.name
    assert kind.sentence.endswith((".", "hole."))
    assert kind.advice.endswith((".", "}")) or ":" in kind.advice
    assert kind.since.count(".") == 1
    if isinstance(kind.mend, LineBefore):
        assert kind.mend.text.split()[0].islower()


def a_run():
    return proof(HEADER + 'section "A"\n    row counter 0\n').outcomes[0][0].run


def test_a_misspelt_field_is_an_error_and_not_an_empty_word():
    run = a_run()
    for sentence in ("There {ist} one.", "{Needles} hold.", "The {bed} bed.", "The {name}.",
                     "{stitches} there."):
        kind = Kind("made-up", "advice", sentence, "Nothing.")
        with pytest.raises(MissingFieldError, match="made-up"):
            describe(kind, Mishap(kind.fault(), (), 0, 0), run)


def test_what_a_rule_gives_stands_before_what_the_fault_gives():
    kind = Kind("made-up", "advice", "{name} and {amount}.", "Nothing.")
    mishap = Mishap(kind.fault(amount=3, name="comb"), (), 0, 0, {"amount": "four"})

    assert describe(kind, mishap, a_run())[0] == "Comb and four."


def test_a_misspelt_cause_and_a_name_given_twice_are_told_at_once():
    class Module:
        one = Kind("one", "fault", "One.", "Nothing.", follows=("tow",))

    with pytest.raises(WrongKindError, match="one follows from tow"):
        catalogue._gathered([Module])

    class Other:
        other = Kind("one", "fault", "Another.", "Nothing.")

    with pytest.raises(WrongKindError, match="Two findings are called one"):
        catalogue._gathered([Module, Other])


def test_a_rule_brings_the_kinds_of_its_module():
    for rule in (*RULES, *WHOLE_RULES):
        module = importlib.import_module(rule.__module__)
        assert any(isinstance(value, Kind) for value in vars(module).values()), rule
