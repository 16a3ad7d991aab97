"""Single facts of the machine, each at its limit and one past it.

They are facts of domestic double-bed machines as their manuals tell them, from memory; limits are
common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from oracle.strategies import DOUBLE, HALF, RIGHTWARD, SINGLE

from sockscript.operations import ops
from sockscript.operations.beds import BACK, FRONT
from sockscript.trace.replay import replay
from sockscript.trace.yarn import LONGEST_FLOAT

KNIT_FRONT = (ops.Place("work", HALF, 0), ops.Thread("main"), ops.CastOn(HALF, 0),
              ops.SetBed(FRONT, "knit"))
"""Stitches 4 to 9 of the front bed, cast on by hand; the carriage and the yarn at the right."""


def faults(*sequence, profile=DOUBLE):
    """The faults of the last operation."""
    engine = replay(sequence[:-1], profile)
    return engine.apply(sequence[-1])


def kinds(*sequence, profile=DOUBLE):
    return [fault.kind for fault in faults(*sequence, profile=profile)]


@pytest.mark.parametrize("passes", [1, 2, 5, 6, 101])
@pytest.mark.parametrize("position", ["hold", "upper"])
@pytest.mark.parametrize("action", ["knit", "tuck"])
def test_a_pass_draws_back_what_it_works(passes, position, action):
    done = replay([*KNIT_FRONT, ops.Place(position, 0b11 << 7, 0), ops.SetBed(FRONT, action),
                   ops.Knit(passes)], DOUBLE).bed(FRONT)

    assert (done.work, done.upper, done.hold) == (HALF, 0, 0)


def test_a_pass_without_yarn_draws_back_too():
    done = replay([*KNIT_FRONT, ops.Place("hold", 0b11 << 7, 0), ops.Cut(), ops.Knit(1)], DOUBLE)

    assert done.bed(FRONT).work == HALF


@pytest.mark.parametrize("passes", [1, 2, 101])
def test_what_hold_keeps_from_knitting_stays_in_hold(passes):
    done = replay([*KNIT_FRONT, ops.SetHold(FRONT, True), ops.Place("hold", 0b11 << 4, 0),
                   ops.Place("upper", 0b11 << 8, 0), ops.Knit(passes)], DOUBLE).bed(FRONT)

    assert (done.work, done.upper, done.hold) == (HALF & ~(0b11 << 4), 0, 0b11 << 4)


def test_a_bed_that_rests_or_does_not_take_its_turn_draws_nothing_back():
    tube = [ops.Place("work", HALF, HALF, "cast-on"), ops.SetBed(FRONT, "knit"),
            ops.SetBed(BACK, "knit"), ops.Thread("main"), ops.Knit(2),
            ops.SetBed(FRONT, "circular"), ops.SetBed(BACK, "circular"),
            ops.Place("upper", 1 << 4, 1 << 4)]
    once, twice = (replay([*tube, ops.Knit(passes)], DOUBLE) for passes in (1, 2))

    assert (once.bed(FRONT).upper, once.bed(BACK).upper) == (0, 1 << 4)
    assert (twice.bed(FRONT).upper, twice.bed(BACK).upper) == (0, 0)


# ---- where the yarn is


@pytest.mark.parametrize("gap, jumps", [(LONGEST_FLOAT, False), (LONGEST_FLOAT + 1, True)])
@pytest.mark.parametrize("racking", [-2, 0, 2])
def test_how_far_the_yarn_may_go_on_from_where_it_is(gap, jumps, racking):
    """By a pass, a wrap, casting on and binding off; to the left, across racked beds."""
    right = 12
    start = [ops.Rack(racking), ops.Place("work", 1 << right, 0), ops.Thread("main"),
             ops.CastOn(1 << right, 0), ops.SetBed(BACK, "knit")]
    there = right - gap - racking
    stitch = [ops.Place("work", 0, 0b11 << there - 1), ops.Cut(), ops.Thread("waste"),
              ops.CastOn(0, 0b11 << there - 1), ops.Cut(), ops.Thread("main"),
              ops.Wrap(FRONT, right)]
    told = ["yarn-jump"] * jumps

    assert kinds(*start, *stitch, ops.Knit(1)) == told
    assert kinds(*start, *stitch, ops.Wrap(BACK, there)) == told
    assert kinds(*start, *stitch, ops.BindOff(0, 0b11 << there - 1)) == told
    assert kinds(*start, ops.Place("work", 0, 0b11 << there - 1),
                 ops.CastOn(0, 0b11 << there - 1)) == told


def test_a_jump_knows_where_the_yarn_leaves_the_work_in_its_own_pass():
    """Two rows in one go: after the first the yarn is at the other end."""
    for racking in (0, 1):
        sequence = [ops.Rack(racking), ops.Place("work", 1 << 2 | 1 << 12, 1 << 12),
                    ops.Thread("main"), ops.CastOn(1 << 12, 1 << 12), ops.SetBed(FRONT, "knit"),
                    ops.SetBed(BACK, "circular"), ops.SetBed(FRONT, "circular"), ops.Knit(3)]
        found = [fault for fault in faults(*sequence) if fault.kind == "yarn-jump"]

        # The front bed knits to the left, the back bed goes on from there to the right.
        assert [(f.needles, f.amount, f.leaves) for f in found] == [
            (1 << 12, 10 + racking, (FRONT, 2))]


@pytest.mark.parametrize("side", ["left", "right"])
def test_work_by_hand_begins_at_the_nearer_end(side):
    """Stitches 0 to 12; the yarn hangs at an end, or in the middle."""
    whole = (1 << 13) - 1
    start = [ops.Place("work", whole, 0), ops.Thread("main"), ops.CastOn(whole, 0)]
    to_left = [ops.SetBed(FRONT, "knit"), ops.Knit(1)] if side == "left" else []

    assert kinds(*start, *to_left, ops.BindOff(whole, 0)) == []
    assert kinds(*start, ops.Wrap(FRONT, 6), ops.BindOff(whole, 0))[-1:] == ["yarn-jump"]
    assert kinds(*start, ops.Cut(), ops.Thread("main"), ops.BindOff(whole, 0)) == []
    jump = faults(*start, ops.Cut(), ops.Thread("main"), ops.Wrap(FRONT, 6),
                  ops.BindOff(whole, 0))[-1]
    assert (jump.needles, jump.amount) == (1, 6), "as near to both ends: the left one is told"


@pytest.mark.parametrize("yarn, first, last, end", [(7, 8, 13, 8), (6, 0, 5, 5), (7, 0, 13, 13),
                                                    (6, 0, 13, 0)])
def test_which_end_is_nearer(yarn, first, last, end):
    """Beside the group, or within it; told only where even the nearer end is too far."""
    group = ((1 << last - first + 1) - 1) << first
    start = [ops.Place("work", group, 1 << yarn), ops.Thread("main"), ops.CastOn(0, 1 << yarn)]
    found = faults(*start, ops.CastOn(group, 0))

    assert [(f.kind, f.needles, f.amount) for f in found] == [
        ("yarn-jump", 1 << end, abs(end - yarn))] * (abs(end - yarn) > LONGEST_FLOAT)


def test_of_two_beds_the_needle_further_out_counts_as_racked():
    start = [ops.Place("work", HALF, HALF, "cast-on"), ops.SetBed(FRONT, "knit"),
             ops.SetBed(BACK, "knit"), ops.Thread("main")]

    assert replay([*start, ops.Knit(1)], DOUBLE).attached == (FRONT, 4), "equal: the front bed"
    assert replay([*start, ops.Rack(1), ops.Knit(1)], DOUBLE).attached == (FRONT, 4)
    assert replay([*start, ops.Rack(-1), ops.Knit(1)], DOUBLE).attached == (BACK, 4)
    assert replay([*start, ops.Rack(1), ops.Knit(2)], DOUBLE).attached == (BACK, 9)
    assert replay([*start, ops.Rack(-1), ops.Knit(2)], DOUBLE).attached == (FRONT, 9)


# ---- strands


def test_four_tucks_are_the_most():
    tuck = [*KNIT_FRONT, ops.SetBed(FRONT, "tuck")]

    for passes in (4, 5, 6, 7, 500):
        found = faults(*tuck, ops.Knit(passes))
        assert [(f.kind, f.needles, f.amount) for f in found] == [
            ("too-many-strands", HALF, 4)] * (passes > 4)


def test_wraps_and_tucks_of_a_needle_count_together():
    laid = [*KNIT_FRONT, ops.SetBed(FRONT, "tuck"), ops.Knit(3), ops.Wrap(FRONT, 4)]

    assert kinds(*laid) == []
    assert kinds(*laid, ops.Wrap(FRONT, 4)) == ["too-many-strands"]
    assert [f.needles for f in faults(*laid, ops.Knit(1))] == [1 << 4]
    assert [f.needles for f in faults(*laid, ops.Knit(3))] == [1 << 4, HALF]
    assert kinds(*laid, ops.Wrap(FRONT, 5)) == []
    moved = ops.Transfer(((FRONT, 5, FRONT, 4),), True)
    assert kinds(*laid, moved) == ["too-many-strands"]
    assert kinds(*KNIT_FRONT, moved) == []


def test_a_row_of_knitting_takes_strands_off():
    assert kinds(*KNIT_FRONT, ops.SetBed(FRONT, "tuck"), ops.Knit(4), ops.SetBed(FRONT, "knit"),
                 ops.Knit(1), ops.SetBed(FRONT, "tuck"), ops.Knit(4)) == []


def test_a_wrap_is_yarn_and_no_stitch():
    done = replay([*KNIT_FRONT, ops.Wrap(FRONT, 9), ops.SetBed(FRONT, "tuck"), ops.Knit(2)],
                  DOUBLE)

    assert done.yarn_loops == {"main": 6}
    assert done.yarn_strands == {"main": 1 + 12}
    assert done.ledger.cast_on == 6


# ---- settings


@pytest.mark.parametrize("profile, sizes", [
    (DOUBLE, {"0": True, "10": True, "5 1/3": True, "5 1/2": False, "10 1/3": False}),
    (SINGLE, {"1": True, "11": True, "5 1/2": True, "5 1/3": False, "1/2": False,
              "11 1/2": False}),
    (RIGHTWARD, {"0": True, "10": True, "1 1/2": True, "5 1/7": True, "10 1/7": False}),
])
def test_sizes_of_the_dial(profile, sizes):
    """Where its steps are not known, any number between the first and the last will do."""
    for size, known in sizes.items():
        whole = sum(Fraction(part) for part in size.split())
        assert (kinds(ops.SetSize((FRONT,), whole), profile=profile) == []) == known, size


@pytest.mark.parametrize("steps, far", [(3, False), (4, True), (-3, False), (-4, True)])
def test_how_far_a_bed_is_racked(steps, far):
    found = faults(ops.Rack(steps))

    assert [(f.kind, f.amount) for f in found] == [("racking-too-far", steps)] * far


@pytest.mark.parametrize("racking", [-2, -1, 0, 1, 2])
def test_needles_that_face_each_other_collide(racking):
    """Racked by r, back needle i faces front needle i + r."""
    for back in range(14):
        start = [ops.Place("work", 1 << 7, 1 << back), ops.SetPitch("full"), ops.Rack(racking),
                 ops.SetBed(FRONT, "knit"), ops.SetBed(BACK, "knit"), ops.Thread("main")]
        assert ("beds-collide" in kinds(*start, ops.Knit(1))) == (back + racking == 7)


@pytest.mark.parametrize("stitches, other, told", [
    (6, False, False), (7, False, True), (6, True, True)])
def test_a_cord_is_knitted_one_way_and_slipped_the_other(stitches, other, told):
    """Of few stitches on one bed alone; otherwise a pass that knits nothing is a mistake."""
    few = ((1 << stitches) - 1) << 3
    sequence = [ops.Place("work", few, other << 5), ops.Thread("main"), ops.CastOn(few, 0),
                ops.SetBed(FRONT, "circular"), ops.Knit(9)]

    assert ("nothing-knits" in kinds(*sequence)) == told
