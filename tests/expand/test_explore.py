"""Choices are tried together as long as nothing that was performed depends on them."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, prepared, problems, proof

from sockscript.expand import perform
from sockscript.expand.explore import all_choices, from_section
from sockscript.expand.perform import Performer
from sockscript.expand.run import Run
from sockscript.expand.values import Names
from sockscript.machine.load import script_profile
from sockscript.trace.engine import Engine

TEXT = HEADER + """option end short, long
option way one, two, three
section "A"
    repeat 4 times
        note "So."
section "B"
    when end is long
        note "Long."
    otherwise
        note "Short."
        note "And so on."
section "C"
    note "Done."
"""


def tried(limit, text=TEXT):
    """How many combinations each outcome stands for, what stopped it, and the lines done."""
    ready = prepared(text)
    script, choices = ready.script, all_choices(ready.script)
    performer = Performer(ready.library, limit)
    run = Run(script, Engine(script_profile(script)), 0, Names(script, 0, choices[0]))

    def perform(run, chosen, index):
        branch = run.fork(chosen, script)
        performer.section(branch, script.sections[index])
        return branch

    outcomes = [*from_section(perform, performer, run, 0, choices, False)]
    assert [choice for one in outcomes for choice in one.choices] == sorted(
        choices, key=lambda choice: choice["end"] != "short")
    for one in outcomes:  # what stops a run is told at a line of it
        assert [at.line for at in one.run.stopped_places][:1] == (
            [one.run.stopped.at.line] if one.run.stopped is not None else [])
    return [(len(one.choices), one.run.stopped and one.run.stopped.kind, one.run.lines_done)
            for one in outcomes], performer.lines_done


def test_what_does_not_matter_is_not_tried_and_what_comes_before_it_only_once():
    """Nine lines before the choice (each time round counts one), four or three from there on."""
    assert tried(1000) == ([(3, None, 13), (3, None, 12)], 16)


@pytest.mark.parametrize("limit, outcomes", [
    (8, [(6, "too-long", 9)]), (9, [(6, "too-long", 12)]), (11, [(6, "too-long", 12)]),
    (12, [(3, "too-long", 13), (3, "too-long", 11)]), (13, [(3, None, 13), (3, "too-long", 11)]),
    (15, [(3, None, 13), (3, "too-long", 12)]), (16, [(3, None, 13), (3, None, 12)])])
def test_where_all_together_take_too_long_the_last_stands_for_what_is_left(limit, outcomes):
    assert tried(limit)[0] == outcomes


@pytest.mark.parametrize("limit, outcomes", [
    (13, [(3, None), (3, None)]), (12, [(3, "too-long")] * 2), (11, [(6, "too-long")])])
def test_where_one_run_goes_on_too_long_the_others_are_not_tried(limit, outcomes, monkeypatch):
    monkeypatch.setattr(perform, "LONGEST_RUN", limit)

    assert [(len(one.choices), one.run.stopped and one.run.stopped.kind)
            for one in proof(TEXT).outcomes[0]] == outcomes


def test_two_thousand_combinations_are_proved_and_no_more():
    """Twenty by ten by ten; and a size more of them."""
    options = "".join(f"option {name} {', '.join(map(str, range(1, many + 1)))}\n"
                      for name, many in (("one", 20), ("two", 10), ("three", 10)))
    text = f'{HEADER}{options}section "A"\n    knit one + two + three rows\n'

    more, sizes = text.replace("option one 1,", "option one 0, 1,"), "sizes A B\n    tall 1 2\n"
    told = [[one.message for one in problems(one)]
            for one in (text, more, text.replace("section", f"{sizes}section"))]
    assert told == [[], *([f"The options{also} give more than 2000 combinations; no more than "
                           "these are proved."] for also in ("", " and sizes"))]
