"""Two yarns in one feeder: what they are counted as, and which of them is cut.

Knitting a reinforcing thread along a heel or a toe is common practice; how it counts is written in
machine-model.md.
"""

from __future__ import annotations

import pytest
from oracle.strategies import DOUBLE, HALF

from sockscript.operations import ops
from sockscript.operations.beds import BACK, FRONT
from sockscript.trace.faults import Fault
from sockscript.trace.replay import replay

SIX = (ops.Place("work", HALF, 0), ops.Thread("main"), ops.CastOn(HALF, 0),
       ops.SetBed(FRONT, "knit"))
TUBE = (ops.Place("work", HALF, HALF, "cast-on"), ops.SetBed(FRONT, "knit"),
        ops.SetBed(BACK, "knit"), ops.Thread("main"), ops.Knit(1),
        ops.SetBed(FRONT, "circular"), ops.SetBed(BACK, "circular"))


def last_faults(*sequence):
    engine = replay(sequence[:-1], DOUBLE)
    return [fault.kind for fault in engine.apply(sequence[-1])], engine


@pytest.mark.parametrize("begin, loops_a_pass", [(SIX, 6), (TUBE, 6)])
@pytest.mark.parametrize("passes", [1, 2, 7, 400])
def test_each_yarn_is_counted_and_the_stitches_once(begin, loops_a_pass, passes):
    alone = replay([*begin, ops.Knit(4)], DOUBLE)
    both = replay([*begin, ops.Knit(4), ops.Add("nylon"), ops.Knit(passes)], DOUBLE)

    assert both.yarn_loops["nylon"] == passes * loops_a_pass
    assert both.yarn_loops["main"] == alone.yarn_loops["main"] + passes * loops_a_pass
    assert both.ledger == alone.ledger
    assert both.snapshot().front.loops == alone.snapshot().front.loops


def test_a_yarn_taken_double_counts_twice():
    done = replay([*SIX, ops.Add("main"), ops.Knit(3)], DOUBLE)

    assert done.yarn_loops == {"main": 6 + 2 * 18}
    assert done.ends == {"main": 2}


def test_a_yarn_that_waits_at_the_other_side_hangs_at_a_needle_only_if_it_has_knitted():
    """Threaded and put aside at the right; the other yarn takes the carriage to the left."""
    aside = (ops.Place("work", HALF, 0, "cast-on"), ops.SetBed(FRONT, "knit"), ops.Thread("main"))
    away = (ops.Change("second"), ops.Knit(1))
    for knitted, bed, needles in (((), None, 0), ((ops.Knit(2),), FRONT, 1 << 9)):
        faults = replay([*aside, *knitted, *away], DOUBLE).apply(ops.Change("main"))

        assert faults == [Fault("yarn-waits-elsewhere", bed, needles, name="main")]


def test_tucks_and_wraps_take_both():
    done = replay([*SIX, ops.Add("nylon"), ops.SetBed(FRONT, "tuck"), ops.Knit(1),
                   ops.Wrap(FRONT, 4)], DOUBLE)

    assert done.yarn_strands == {"main": 7, "nylon": 7}


@pytest.mark.parametrize("named, left, ends", [
    (None, (), {"main": 2, "nylon": 2}), ("nylon", ("main",), {"main": 1, "nylon": 2}),
    ("main", ("nylon",), {"main": 2, "nylon": 1})])
def test_one_of_two_is_cut_by_its_name(named, left, ends):
    faults, done = last_faults(*SIX, ops.Add("nylon"), ops.Knit(1), ops.Cut(named))

    assert faults == []
    assert done.snapshot().yarns == left
    assert done.ends == ends
    # What goes on goes on from where it was.
    assert (done.attached is None) == (left == ())


def test_what_goes_on_still_may_not_jump():
    start = (*SIX, ops.Add("nylon"), ops.Knit(1), ops.Cut("main"))

    assert last_faults(*start, ops.Knit(1))[0] == []
    assert last_faults(*start, ops.MoveCarriage("right"))[0] == ["yarn-jump"]


def test_a_second_yarn_is_added_anywhere_and_a_third_nowhere():
    assert last_faults(*SIX, ops.Knit(1), ops.Add("nylon"))[0] == []
    faults, done = last_faults(*SIX, ops.Add("nylon"), ops.Add("silk"))

    assert faults == ["third-yarn"]
    assert done.snapshot().yarns == ("main", "silk")
    assert done.ends == {"main": 1, "nylon": 2, "silk": 1}


def test_with_nothing_in_the_feeder_it_is_knitted_alone():
    faults, done = last_faults(*SIX, ops.Cut(), ops.Add("nylon"))

    assert faults == ["added-to-nothing"]
    assert done.snapshot().yarns == ("nylon",)


def test_another_yarn_threaded_over_two_cuts_both():
    faults, done = last_faults(*SIX, ops.Add("nylon"), ops.Thread("silk"))

    assert faults == ["yarn-not-cut"]
    assert done.ends == {"main": 2, "nylon": 2, "silk": 1}
    assert done.snapshot().yarns == ("silk",)
