"""Hands that find no stitch, and narrow ends of tubes that are bound off open."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, TUBE, kinds

FLAT = """bring centre 20 of front into work
set front to knit
thread main
cast on front
knit 6 rows
{}
knit 2 rows
bind off front
cut"""


def told(body: str, header: str = "") -> set[str]:
    return set(kinds(body, HEADER + header))


# ---- nothing there

@pytest.mark.parametrize("line", [
    "bind off back", "gather back", "drop all of back", "scrap off back as rest",
    "transfer back to front", "fold back onto front"])
def test_a_bed_without_stitches_is_told_whatever_is_done(line):
    assert "nothing-there" in told(FLAT.format(line))


@pytest.mark.parametrize("line", ["gather both", "graft front to back", "bind off both"])
def test_both_beds_without_stitches_are_told(line):
    assert "nothing-there" in told(FLAT.format("knit 2 rows") + f"\n{line}")


def test_from_a_technique_it_is_the_same():
    assert "nothing-there" in told(FLAT.format("do off with bed = back"),
                                   "technique off with bed\n    bind off bed\n")


@pytest.mark.parametrize("line", ["gather left 0 of front", "drop left 0 of front"])
def test_a_number_that_comes_to_none_is_meant(line):
    assert "nothing-there" not in told(FLAT.format(line))


def test_what_is_left_of_both_beds_may_be_on_one():
    assert told(FLAT.format("knit 2 rows").replace("bind off front", "gather both")) == set()


@pytest.mark.parametrize("line", ["return held of front to work",
                                  "take empty of front out of work"])
def test_settings_that_find_nothing_to_change_are_no_mistake(line):
    assert told(FLAT.format(line)) == set()


# ---- a narrow end

NARROWED = """{tube}
repeat until {leave} stitches on front
    move 3 stitches at left of both in by 1
    {right}
    {rounds}
remove weights
{end}
cut"""
RIGHT = "move 3 stitches at right of both in by 1"


def ended(end: str, leave: int = 20, rounds: str = "knit 2 rounds", right: str = RIGHT) -> bool:
    return "narrow-end-open" in told(NARROWED.format(
        tube=TUBE, end=end, leave=leave, rounds=rounds, right=right))


@pytest.mark.parametrize("rounds", ["knit 2 rounds", "knit 4 rows",
                                    "repeat 4 times\n        knit 1 row"])
def test_each_bed_by_itself_leaves_the_end_open(rounds):
    assert ended("bind off front\nbind off back", rounds=rounds)
    assert ended("bind off back\nbind off front", rounds=rounds)


@pytest.mark.parametrize("end", [
    "graft front to back", "gather both", "bind off both",
    "transfer back onto front\nset back to rest\nset front to knit\nknit 1 row\nbind off front"])
def test_an_end_that_is_closed_is_closed(end):
    assert not ended(end)


@pytest.mark.parametrize(("leave", "found"), [(24, True), (26, False)])
def test_more_than_six_tenths_of_the_stitches_let_a_foot_through(leave, found):
    """48 of 80 stitches are just so many; common practice, no source."""
    assert ("narrow-end-open" in told(NARROWED.format(
        tube=TUBE.replace("centre 36", "centre 40"), end="bind off front\nbind off back",
        leave=leave, rounds="knit 2 rounds", right=RIGHT))) is found


def test_from_a_technique_the_end_is_as_open():
    assert "narrow-end-open" in told(NARROWED.format(
        tube=TUBE, end="do off", leave=20, rounds="knit 2 rounds", right=RIGHT),
        "technique off\n    bind off front\n    bind off back\n")
