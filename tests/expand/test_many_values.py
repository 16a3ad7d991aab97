"""What many sets of values share gives each the run that it has by itself."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest
from expand.test_after_edit import PIECE
from support.scripts import prepared
from support.versions import places, told

from sockscript.expand import many_values
from sockscript.expand.many_values import Sharer, joined_run
from sockscript.expand.perform import Performer
from sockscript.expand.run import Run
from sockscript.expand.values import Names
from sockscript.machine.load import script_profile
from sockscript.numbers.quantity import Quantity
from sockscript.trace.engine import Engine
from sockscript.trace.state import Ledger

READY = prepared(PIECE)
PROFILE = script_profile(READY.script)


def names(size, end, fixed, ready=READY):
    return Names(ready.script, size, {"end": end, "fixed": Quantity(fixed)})


def alone(values, ready=READY):
    """The run of one set of values."""
    run = Run(ready.script, Engine(PROFILE), values[0], names(*values, ready))
    for section in ready.script.sections:
        Performer(ready.library).section(run, section)
    return run


def shared(sharer, values, ready=READY):
    """The same by way of what others have in common with it."""
    own = names(*values, ready)
    path = sharer.sections(own, values[0])
    return joined_run(Run(ready.script, path[-1].after.engine, values[0], own), path)


def looked_at(run):
    """All that the rules of a range look at: the bank book and numbers of instructions go on from
    whoever performed a section first."""
    yield [(m.op, m.state._replace(ledger=Ledger()), places(m.places)) for m in run.moments]
    yield [(m.fault, places(m.places), m.detail.get("wanted")) for m in run.mishaps]
    yield run.stopped and told(run.stopped, run.stopped.hint)
    for one in run.sections:
        yield one.title, one.fabric, one.first, one.last, one.loops, one.strands, one.targets
        yield one.wanted


ALL = [*product((0, 1), ("gather", "bind-off"), (3, 2, Fraction(7, 2)))]


@pytest.mark.parametrize("text, performed", [
    # The sizes begin and ask the row counter differently; from where it is set they share all.
    # Half a row cannot be knitted, so that nobody asks for the end.
    (PIECE, 2 + 2 + 1 + (2 * 2 + 1)),
    # Where it is not set, they differ to the end.
    (PIECE.replace("    row counter 0\n", ""), 2 + 2 + 2 + (2 * 2 * 2 + 1))])
def test_each_set_of_values_has_its_own_run(text, performed):
    ready = prepared(text)
    sharer = Sharer(ready.script, ready.library, PROFILE)
    for values in (*ALL, *ALL):
        for mine, own in zip(looked_at(shared(sharer, values, ready)),
                             looked_at(alone(values, ready)), strict=True):
            assert mine == own
    assert sharer.number == performed


def test_what_goes_on_too_long_stops_where_it_is_too_much(monkeypatch):
    whole = [done.lines for done in Sharer(READY.script, READY.library, PROFILE).sections(
        names(0, "gather", 3), 0)]
    for limit, stopped in ((sum(whole), 4), (sum(whole) - 1, 4), (sum(whole[:3]), 4),
                           (sum(whole[:3]) - 1, 3), (whole[0], 2), (whole[0] - 1, 1)):
        monkeypatch.setattr(many_values, "LONGEST_RUN", limit)
        path = Sharer(READY.script, READY.library, PROFILE).sections(names(0, "gather", 3), 0)
        kinds = [done.stopped and done.stopped.kind for done in path]

        assert len(path) == stopped and kinds[:-1] == [None] * (stopped - 1)
        assert kinds[-1] == (None if limit == sum(whole) else "too-long")


@pytest.mark.parametrize("most", [0, 10, 1000])
def test_when_too_much_is_kept_all_is_forgotten_and_the_runs_stay(most, monkeypatch):
    monkeypatch.setattr(many_values, "MOST_KEPT", most)
    sharer = Sharer(READY.script, READY.library, PROFILE)
    runs = [shared(sharer, (size, "gather", 3)).moments for size in (0, 1, 0)]

    assert len(runs[0]) == len(runs[2])
    assert sharer.number == (6 if most == 1000 else 12)
