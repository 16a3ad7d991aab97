"""Racking over strands: how far in one go, and between which rows.

One or two needles at a time, with a row between, is common practice (no source).
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, TUBE, findings, kinds

RIB = """half pitch
bring centre 20 of both into work to cast on
set both to knit
thread main
knit 1 row
hang comb
hang weights
set both to circular
knit 2 rows
set both to knit
knit 4 rows
"""
FAR = "racked-at-once"
TECHNIQUE = HEADER + """technique swing with how-far
    rack to how-far right
    knit 1 row
"""


def far(body: str, begin: str = RIB) -> int:
    return kinds(f"{begin}{body}", TECHNIQUE).count(FAR)


@pytest.mark.parametrize("body, times", [
    ("rack to 2 right\nknit 1 row", 0), ("rack to 3 right\nknit 1 row", 1),
    ("rack to 1 right\nrack to 2 right\nrack to 3 right", 1),
    ("rack to 1 right\nknit 1 row\nrack to 3 right\nknit 1 row", 0),
    ("rack to 1 right\nknit 2 rows\nrack to 2 left\nknit 1 row", 1),
    ("rack to 3 right\nrack to 2 right\nknit 2 rows", 1),
    ("do swing with how-far = 2", 0), ("do swing with how-far = 3", 1),
    ("set both to tuck\nknit 1 row\nrack to 3 right", 1),
    # Nothing runs from bed to bed any more.
    ("set both to circular\nknit 1 round\nrack to 4 right\nrack to 0", 0),
    ("set front to rest\nknit 1 row on back\nrack to 4 right", 0),
    ("set front to rest\nset back to circular\nknit 2 rows\nrack to 4 right", 0),
    ("set back to rest\nset front to circular\nknit 2 rows\nrack to 4 right", 0),
    ("rack to 1 right\ntransfer back onto front\nrack to 6 right", 0)])
def test_strands_from_bed_to_bed_reach_two_needles(body, times):
    assert far(body) == times


def test_it_is_told_how_far():
    (found,) = [one for one in findings(
        f"{RIB}rack to 1 right\nknit 2 rows\nrack to 2 left\nknit 1 row", TECHNIQUE)
        if one.kind == FAR]

    assert found.message.startswith("The bed is racked by 3 needles without a row between")


@pytest.mark.parametrize("bed", ["front", "back"])
def test_a_bed_that_slips_every_other_row_is_joined_by_the_rows_in_which_it_knits(bed):
    """The one bed in circular beside the other that knits: the last row lies over both beds, or
    over one, and so does a row of two where the other bed rests."""
    other = "back" if bed == "front" else "front"

    def after(rows, way="knit"):
        return far(f"set {bed} to circular\nset {other} to {way}\n{rows}\nrack to 3 right")

    both = after("knit 1 row")
    assert (both, after("knit 2 rows"), after("knit 3 rows"), after("knit 1 row\nknit 1 row")) \
        == ((1, 0, 1, 0) if both else (0, 1, 0, 1))
    assert both == (bed == "back"), "the carriage goes to the right, as the back bed in circular"
    assert after("knit 2 rows", "rest") == 0


def test_a_tube_is_racked_for_a_transfer():
    assert far("knit 2 rounds\nrack to 5 right\nrack to 0\nknit 2 rounds", TUBE + "\n") == 0
