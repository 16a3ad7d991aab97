"""A single needle out of work between needles that knit makes a ladder, whoever left it out."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, findings

FLAT = """{needles}
set front to knit
set back to rest
thread main
cast on front
{rows}
bind off front
cut"""
FORGOTTEN = "bring L12 to L1 of front into work\nbring R2 to R12 of front into work"
TUBE = """bring centre 24 of both into work to cast on
set both to knit
thread main
knit 1 row
hang comb
hang weights
set both to circular
knit 4 rounds
{laid}
{rows}
gather both
cut
remove comb
remove weights"""
LAID = "transfer R1 of {bed} onto R2 of {bed}\ntake R1 of {bed} out of work"
RIB = """full pitch
bring every 2nd from 1 of centre 12 of front into work to cast on
bring every 2nd from 2 of centre 12 of back into work to cast on
{more}
set both to knit
thread main
knit 1 row
hang comb
hang weights
set both to circular
knit 2 rows
set both to knit
knit 20 rows
gather both
cut
remove comb
remove weights"""


def ladders(body: str, techniques: str = "") -> list[str]:
    return [one.message for one in findings(body, HEADER + techniques) if one.kind == "ladder"]


@pytest.mark.parametrize("rows", ["knit 5 rows", "repeat 5 times\n    knit 1 row", "do some"])
def test_a_needle_that_was_forgotten(rows):
    (said,) = ladders(FLAT.format(needles=FORGOTTEN, rows=rows),
                      "technique some\n    knit 5 rows\n")
    assert "Needle R1 of the front bed is out of work" in said and "5 rows high" in said


@pytest.mark.parametrize("rows", ["knit 5 rounds", "knit 10 rows",
                                  "repeat 10 times\n    knit 1 row"])
@pytest.mark.parametrize("bed", ["front", "back"])
def test_a_needle_of_a_tube_taken_out_after_its_stitch(bed, rows):
    (said,) = ladders(TUBE.format(laid=LAID.format(bed=bed), rows=rows))
    assert f"R1 of the {bed} bed" in said and "5 rows high" in said
    assert not ladders(TUBE.format(laid="", rows=rows))


@pytest.mark.parametrize(("needles", "rows"), [
    (FORGOTTEN, "knit 4 rows"),  # an edge, or a row of a pattern
    ("bring L12 to R12 of front into work", "knit 30 rows"),
    ("bring every 2nd of centre 24 of front into work", "knit 30 rows"),
    ("bring centre 24 of front into work\ntake every 3rd from 3 of centre 24 of front out of work",
     "knit 30 rows"),  # a mock rib
    ("bring L12 to L1 of front into work\nbring R3 to R12 of front into work", "knit 30 rows"),
])
def test_a_wide_gap_and_needles_at_one_distance_are_meant(needles, rows):
    assert not ladders(FLAT.format(needles=needles, rows=rows))


@pytest.mark.parametrize(("places", "found"), [("L8, L4", 1), ("L8, L4, R1", 0), ("L8, L4, R3", 1)])
def test_needles_at_no_regular_distance(places, found):
    """From L8 to L4 it is four needles, to R1 four more, to R3 six."""
    out = "\n".join(f"take {place} of front out of work" for place in places.split(", "))
    told = ladders(FLAT.format(needles=f"bring centre 24 of front into work\n{out}",
                               rows="knit 30 rows"))
    assert len(told) == found


@pytest.mark.parametrize(("more", "found"), [
    ("", 0), ("bring L2 of back into work to cast on", 0)])
def test_in_a_rib_the_other_bed_knits_there(more, found):
    assert len(ladders(RIB.format(more=more))) == found
