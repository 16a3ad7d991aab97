"""What a row makes neighbours, what it leaves, and what stitches made or ended by hand do to it.

As in ``test_neighbours``: columns are numbered on squared paper and followed by hand.  What a row
has joined shows when it is hung again: in the same order nothing meets, in another it does.
"""

from __future__ import annotations

import pytest
from support.scripts import kinds, run, tube

from sockscript.fabric.wales.follow import neighbours
from sockscript.fabric.wales.told import TubeSeam, tube_seam

STRIP = """bring centre 16 of front into work to cast on
set front to knit
thread main
knit 4 rows
"""
"""Columns 1 to 16 from L8 to R8."""

TUBE = tube(8) + "knit 4 rounds\n"
"""Columns 1 to 8 on the front bed from the left, 9 to 16 on the back bed from the right."""


def hung(places, turned=" turned"):
    """Stitches taken off and hung again where they were."""
    return f"scrap off {places} as part\nrehang part to {places}{turned}\n"


def met(body):
    """For each meeting the joints that are edges, and those that jump."""
    return [(len(meeting.edges), len(meeting.jumps)) for meeting in neighbours(run(body)).meetings]


# ---- what a row joins, and what is given up for it

def test_a_row_over_a_gap_closes_it():
    """6 and 11 meet; what hung between them before comes to hang between neighbours."""
    gap = (STRIP + "scrap off L2 to R2 of front as thumb\ntake empty of front out of work\n"
           + hung("L3 of front", ""))
    again = "bring L2 to R2 of front into work\nrehang thumb to L2 to R2 of front\nknit 2 rows\n"

    assert met(gap + "knit 2 rows\n") == [(1, 0)]
    assert met(gap + "knit 2 rows\n" + hung("L3 of front", "") + "knit 2 rows\n") == [(1, 0)]
    assert met(gap + again) == []
    assert met(gap + "knit 2 rows\n" + again) == [(1, 0), (0, 2)]


@pytest.mark.parametrize("part, first, later", [
    ("L8 to L6 of front", (0, 1), []), ("L4 to L2 of front", (0, 2), []),
    ("L3 to L1 of front", (0, 1), [(1, 0)])], ids=["far from it", "beside the last", "the last"])
def test_rows_beside_stitches_in_hold(part, first, later):
    """9 to 16 are in hold.  8 keeps 9 beside it whatever hangs at its left; turned with 6 and 7
    it comes to stand elsewhere, and 6 meets 9 as soon as rows go over both."""
    held = STRIP + "respect hold on front\nhold right 8 needles of front\n"
    back = "return right 8 needles of front to work\n" + hung("R8 of front", "") + "knit 2 rows\n"

    assert met(held + hung(part) + "knit 2 rows\n") == [first]
    assert met(held + hung(part) + "knit 2 rows\n" + back) == [first, *later]


@pytest.mark.parametrize("part, first, later", [
    ("L2 to R2 of front", (0, 2), []), ("L4 to L2 of front", (0, 1), [(1, 0)]),
    ("R2 to R4 of front", (0, 1), [(1, 0)])])
def test_rows_on_one_bed_of_a_tube(part, first, later):
    """Their ends keep the neighbours that they have on the other bed, which rests."""
    body = TUBE + "set back to rest\nset front to knit\n" + hung(part) + "knit 2 rows\n"
    rounds = "set both to circular\nknit 4 rounds\n"

    assert met(body) == [first]
    assert met(body + rounds) == [first, *later]
    assert met(body + hung(part, "") + "knit 2 rows\n" + rounds) == [first, *later]


def test_a_stitch_brought_over_from_the_other_bed_keeps_one_neighbour_there():
    """12 hangs beyond 8 for two rows: 11 or 13 beside it, not both; then back it jumps twice."""
    body = (TUBE + "set back to rest\nset front to knit\nbring R5 of front into work\n"
            "transfer R1 of back to R5 of front\ntake empty of both out of work\nknit 2 rows\n")
    back = ("bring R1 of back into work\ntransfer R5 of front to R1 of back\n"
            "take empty of both out of work\nset both to circular\nknit 4 rounds\n")

    assert met(body) == [(0, 1)]
    assert met(body + back) == [(0, 1), (0, 2)]


def test_what_hung_at_both_ends_of_a_row_is_no_ring():
    """5 hangs beyond 16 after the row, far from 6."""
    moved = (STRIP + "scrap off left 4 of front as rest\ntake L8 to L5 of front out of work\n"
             "bring R9 of front into work\ntransfer L4 of front to R9 of front\n"
             "take empty of front out of work\nknit 2 rows\n")
    back = ("bring L4 of front into work\ntransfer R9 of front to L4 of front\n"
            "take empty of front out of work\nknit 2 rows\n")

    assert met(moved) == [(1, 0)]
    assert met(moved + back) == [(1, 0), (1, 0)]


# ---- stitches that end

@pytest.mark.parametrize("ended", [
    "transfer L2 of front onto L1 of front", "transfer L1 of front onto L2 of front",
    "transfer L2 and R1 of front onto L1 and R2 of front\ntransfer L8 of front onto L7 of front",
    "transfer L2 and R1 of back onto L1 and R2 of back\ndrop L4 of front",
    "fold left 1 of back onto front", "drop L3 of front\ntransfer L2 of front onto L4 of front"])
@pytest.mark.parametrize("knit", ["knit 4 rounds", "repeat 8 times\n    knit 1 row"])
def test_decreases_and_ladders_leave_no_edge(ended, knit):
    """A stitch that is knitted with its neighbour or runs down: the ring is one as before."""
    body = TUBE + ended + "\ntake empty of both out of work\n" + knit

    assert met(body) == []
    assert tube_seam(run(body)) == TubeSeam("none")


def test_what_is_hung_onto_a_stitch_far_off_gives_up_its_place():
    """Column 1 of the strip onto 9: 2 is at the edge now; 9 onto 1: 8 and 10 close up."""
    for ended in ("L8 of front onto R1 of front", "R1 of front onto L8 of front"):
        assert met(STRIP + f"transfer {ended}\ntake empty of front out of work\nknit 2 rows") == []


# ---- new stitches

@pytest.mark.parametrize("place, edges", [("L2 to R4", [(1, 0)]), ("L1 to R5", []),
                                          ("R1 to R6", [])])
@pytest.mark.parametrize("more", ["", "bring L9 of front into work to increase\n"])
def test_edges_meet_where_no_new_stitch_lies_between(place, edges, more):
    """Four stitches bound off in the middle; those at the right hung again beside the left or
    with a needle or two between, which make new stitches in the same row."""
    right = int(place[-1]) + 1
    body = (STRIP + "bind off L2 to R2 of front\nbring L2 to R2 of front into work\n"
            f"transfer R3 to R8 of front to {place} of front\n"
            f"take R{right} to R8 of front out of work\n{more}knit 2 rows\n")

    assert met(body) == edges


def test_a_ring_of_which_one_stitch_is_old_meets_nothing():
    body = ("half pitch\nbring L1 of front into work to cast on\nset front to knit\n"
            "thread main\nknit 2 rows\nbring R1 of front into work to cast on\n"
            "bring L1 to R1 of back into work to cast on\nset both to circular\n"
            "knit 4 rounds\n")

    assert met(body) == []
    assert tube_seam(run(body)) == TubeSeam("none")


# ---- stitches made by hand

def test_stitches_made_in_a_gap_between_two_edges_join_them():
    """What was bound off leaves edges; the four made there have the row as their first joint."""
    gap = STRIP + "bind off L2 to R2 of front\nbring L2 to R2 of front into work\n"
    made = gap + "fill empty of front from right\n"

    assert met(made + "knit 2 rows\n") == []
    assert met(made + hung("L3 of front", "") + "knit 2 rows\n") == []
    assert met(made + "knit 2 rows\n" + hung("L2 to R2 of front") + "knit 2 rows\n") == [(0, 2)]


@pytest.mark.parametrize("place, side", [("R1", "left"), ("L2", "right")])
def test_a_stitch_made_beside_the_only_one_of_a_bed(place, side):
    """A ring of four and one: the new one stands between it and the end of the other bed."""
    ring = ("half pitch\nbring L4 to L1 of front into work to cast on\n"
            "bring L1 of back into work to cast on\nset both to circular\nthread main\n"
            "knit 4 rounds\n" + f"bring {place} of back into work\n")
    body = ring + f"fill empty of back from {side}\n" + hung("L2 of front", "") + "knit 2 rounds\n"

    assert met(body) == []


@pytest.mark.parametrize("bed", ["front", "back"])
@pytest.mark.parametrize("place, side, two", [
    ("R5", "left", "R4 to R5"), ("L5", "right", "L5 to L4")])
def test_a_stitch_made_at_the_end_of_a_tube_comes_between_the_beds(bed, place, side, two):
    """With its neighbour turned before a row goes over it, it jumps at both sides."""
    made = TUBE + f"bring {place} of {bed} into work\nfill {place} of {bed} from {side}\n"

    assert met(made + hung(f"{two} of {bed}", "") + "knit 2 rounds\n") == []
    assert met(made + hung(f"{two} of {bed}") + "knit 2 rounds\n") == [(0, 2)]


def test_a_whole_row_that_is_dropped_and_brought_up_again():
    body = STRIP + "drop L8 to R8 of front\nlatch up L8 to R8 of front\n"

    assert met(body + hung("L2 of front", "") + "knit 2 rows\n") == []


@pytest.mark.parametrize("bed", ["front", "back", "both"])
@pytest.mark.parametrize("place, side", [("R5", "left"), ("L5", "right")])
@pytest.mark.parametrize("look", ["", "bring L6 of front into work to increase\n"])
def test_a_rib_may_be_widened_by_hand_at_its_ends(bed, place, side, look):
    """Stitches of a rib have their neighbours on the other bed: it goes on as it is."""
    rib = f"""half pitch
bring centre 8 of both into work to cast on
set both to knit
thread main
knit 8 rows
bring {place} of {bed} into work
fill empty of {bed} from {side}
knit 4 rows
"""
    body = rib + look + "knit 4 rows\n"

    assert met(body) == []
    assert not {"stitches-crossed", "stitches-out-of-order"} & set(kinds(body))
