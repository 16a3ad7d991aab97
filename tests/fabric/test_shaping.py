"""Where and when the stitches of a tube are laid together: counted by hand."""

from __future__ import annotations

import pytest
from support.scripts import run

from sockscript.fabric.shaping import decreases

TUBE = """half pitch
bring centre {0} of both into work to cast on
set both to knit
thread main
knit 1 row
set both to circular
knit 4 rounds
"""
ONE = "move 3 stitches at {} of {} in by 1\n"
FLAT_ROW = "set back to rest\nset front to knit\nknit 2 rows\nset both to circular\nknit 1 round\n"


def times(body, stitches=20):
    return [(one.bed.name.lower(), one.rows, one.left, one.right,
             [(side, outside) for side, outside, _ in one.outside], one.part)
            for group in decreases(run(TUBE.format(stitches) + body)) for one in group]


@pytest.mark.parametrize("bed", ["front", "back"])
@pytest.mark.parametrize("order", [("left", "right"), ("right", "left")])
def test_each_time_is_told_with_its_passes_and_ends(bed, order):
    """Passes are counted from those on that make the tube: two rounds, and three more."""
    both = "".join(ONE.format(side, bed) for side in order)
    body = ("knit 2 rounds\n" + both + "knit 3 rounds\n"
            + ONE.format("left", bed).replace("3", "2") + "knit 1 round\n")

    assert times(body) == [
        (bed, 4, 1, 1, [(side, 2) for side in order], (0, 0)),
        (bed, 10, 1, 0, [("left", 1)], (0, 0))]


@pytest.mark.parametrize("between, count", [
    ("", 0), ("knit 2 rounds\n", 0), (FLAT_ROW, 1), (FLAT_ROW * 2, 2),
    ("knit in waste over L2 to R2 of front as gap\nknit 2 rounds\n", 1),
    *((f"respect hold on {bed}\nhold left 20 of {bed}\nknit 4 rows\ncancel hold on {bed}\n", 1)
      for bed in ("front", "back"))])
def test_heels_and_openings_part_the_times(between, count):
    lines = between + ONE.format("left", "front") + "knit 1 round\n"

    assert [part for *_, part in times(lines)] == [(0, count)]


@pytest.mark.parametrize("at_once, told", [(1, 1), (2, 1), (3, 0)])
@pytest.mark.parametrize("side", ["left", "right"])
def test_up_to_two_at_one_end_at_once_are_no_crown(at_once, told, side):
    """Common practice, no source."""
    assert len(times(f"move 5 stitches at {side} of front in by {at_once}\nknit 1 round\n")) == told


@pytest.mark.parametrize("target, end", [
    ("L1", "left"), ("R1", "right"), ("R2", "right"), ("L2", "left")])
def test_the_end_is_the_nearer_one(target, end):
    """Ten stitches a bed, five on each side of the middle."""
    needle = int(target[1])
    source = f"{target[0]}{needle + 1}"
    ((_, _, left, right, ((side, outside),), _),) = times(
        f"transfer {source} of front onto {target} of front\ntake {source} of front out of work\n"
        "knit 1 round\n", 10)

    assert (side, left, right) == (end, end == "left", end == "right")
    assert outside == 5 - needle - 1


def test_the_needle_in_the_middle_belongs_to_the_right():
    """Nine stitches, L5 to R4: L1 is the fifth from either end."""
    body = ("transfer R5 of front onto R4 of front\ntake R5 of front out of work\nknit 1 round\n"
            "transfer R1 of front onto L1 of front\n")
    assert times(body, 10)[-1][2:5] == (0, 1, [("right", 3)])


def test_a_stitch_laid_on_another_is_no_decrease_of_the_tube():
    """One in hold turns a heel, one whose needle stays in work makes an eyelet, and where all of a
    narrow bed come to the other the tube ends."""
    over = "transfer L7 of front onto L6 of front\n"
    held = "respect hold on front\nhold left 3 of front\n"
    off = "take L7 of front out of work\n"

    assert len(times(over + off + "knit 1 round\n")) == 1
    assert times(held + over + off + "knit 1 row\n") == []
    assert times(over + "knit 1 round\n") == []
    assert times("full pitch\ntransfer back onto front\n", 4) == []


@pytest.mark.parametrize("end", ["", "knit 1 round\n"])
def test_the_first_needle_of_the_bed_is_a_needle_as_any(end):
    body = TUBE.replace("centre {0}", "L100 to L91") + (
        "transfer {0} of front onto {1} of front\ntake {0} of front out of work\n")

    for source, target, outside in (("L99", "L100", 0), ("L98", "L99", 1)):
        (one,), _ = decreases(run(body.format(source, target) + end))
        assert [(side, count) for side, count, _ in one.outside] == [("left", outside)]
