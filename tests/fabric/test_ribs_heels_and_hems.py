"""Ribs and what follows them, heels and hems, as the columns tell them.

As in ``test_neighbours``: columns are numbered on squared paper and followed by hand.
"""

from __future__ import annotations

import pytest
from support.scripts import rib, run, tube

from sockscript.fabric.wales.follow import neighbours
from sockscript.fabric.wales.told import TubeSeam, tube_seam
from sockscript.operations.beds import BACK, FRONT

RIB = rib(16)
TUBE = tube(8) + "knit 4 rounds\n"
STRIP = """bring centre 16 of front into work to cast on
set front to knit
thread main
knit 4 rows
"""
ROUNDS = "set both to circular\nknit 9 rounds\n"


def of(body):
    return neighbours(run(body))


def wrongs(body):
    return [meeting.wrong for meeting in of(body).meetings if meeting.jumps or meeting.wrong]


# ---- ribs

@pytest.mark.parametrize("rows", [1, 2, 3])
@pytest.mark.parametrize("knit", ["knit {} rows\n", "repeat {} times\n    knit 1 row\n"])
def test_a_tube_over_one_row_of_rib_is_a_toe_and_over_two_a_pocket(rows, knit):
    found = of(RIB + knit.format(rows) + ROUNDS)

    begun = len(run(RIB + knit.format(rows) + "set both to circular\n").moments)
    assert found.pockets == (((begun, rows),) if rows > 1 else ())
    assert found.first_round == begun


@pytest.mark.parametrize("between", [
    "scrap off R1 of front as one\nscrap off R3 of front as two\n"
    "rehang one to R3 of front\nrehang two to R1 of front\n",
    "bring L9 of back into work to increase\n",
    "set back to rest\nknit 2 rows\nset back to knit\n",
    "set both to circular\nknit 6 rows\nset both to knit\n", "drop R3 of front\n"],
    ids=["crossed", "widened", "on one bed", "a welt", "dropped"])
def test_the_rows_of_rib_below_a_tube_are_counted_whatever_is_done_between(between):
    assert [pocket.below for pocket in of(RIB + "knit 5 rows\n" + between + "knit 4 rows\n"
                                          + ROUNDS).pockets] == [9]


def test_rounds_over_a_rib_that_hands_have_changed_open_it_too():
    cross = ("scrap off R1 of front as one\nscrap off R3 of front as two\n"
             "rehang one to R3 of front\nrehang two to R1 of front\n")
    body = RIB + "knit 9 rows\n" + cross

    assert [pocket.below for pocket in of(body + ROUNDS).pockets] == [9]
    assert [pocket.below for pocket in of(body + ROUNDS.replace("9", "2") + ROUNDS).pockets] == [9]


def test_a_few_rounds_are_counted_by_themselves():
    """Five and five with rows on both beds between are two welts, also where hands were there."""
    cross = ("scrap off R1 of front as one\nscrap off R3 of front as two\n"
             "rehang one to R3 of front\nrehang two to R1 of front\n")
    welt = "set both to circular\nknit 5 rows\nset both to knit\n"
    for hands in ("", cross):
        assert of(RIB + "knit 5 rows\n" + welt + hands + "knit 4 rows\n" + welt
                  + "knit 4 rows\n").pockets == ()


def test_the_rows_of_rib_over_a_tube_are_counted():
    shut = "set both to knit\nknit 3 rows\n"

    assert [pocket.below for pocket in of(RIB + "knit 5 rows\n" + ROUNDS + shut
                                          + ROUNDS).pockets] == [5, 3]
    assert [pocket.below for pocket in of(TUBE + shut + ROUNDS).pockets] == [3]


def test_a_tube_cast_on_after_a_rib_was_bound_off_is_a_piece_of_its_own():
    body = RIB + "knit 5 rows\nbind off both\ncut\ntake both out of work\n"
    found = of(body + TUBE + "knit 9 rounds\n")

    assert (found.pockets, found.shut, found.seams, found.meetings) == ((), (), (), ())
    assert found.first_round == len(run(body).moments) + [
        str(moment.op).startswith("Knit") for moment in run(TUBE).moments].index(True)


@pytest.mark.parametrize("rib", [
    RIB + "knit 5 rows\n", RIB + "knit 5 rows\n" + ROUNDS + "set both to knit\nknit 4 rows\n"])
def test_a_rib_taken_to_one_bed_is_a_flat_piece(rib):
    """Turned to a tube, a quarter of it moved straight across is reversed."""
    flat = rib + ("bring centre 16 of back into work\ntransfer front to back\n"
                  "half pitch\nbring centre 8 of front into work\n")
    across = "transfer right 4 of back to R1 to R4 of front\n"
    right = "fold right 4 of back onto front\n"
    left = "fold left 4 of back onto front\ntake empty of both out of work\n"

    assert wrongs(flat + across + left + ROUNDS) == ["reversed"]
    assert wrongs(flat + right + left + ROUNDS) == []
    assert tube_seam(run(flat + right + left + ROUNDS)) == TubeSeam("middle", FRONT)


def test_a_tube_over_a_rib_is_a_ring_at_both_sides():
    """Hung round by one stitch to the left or to the right it has no seam."""
    tube = RIB + "knit 5 rows\n" + ROUNDS
    for source, target in (("left 1 of back", "L9 of front"), ("right 1 of back", "R9 of front")):
        found = of(tube + f"bring {target} into work\ntransfer {source} to {target}\n"
                   "take empty of both out of work\nknit 2 rounds\n")

        assert [(meeting.edges, meeting.jumps, meeting.moved) for meeting in found.meetings] == [
            ((), (), 1)]
        assert found.seams == ()


# ---- heels

@pytest.mark.parametrize("slit, heels", [
    ("knit in waste over L4 to R4 of front as heel\n", [FRONT]),
    ("knit in waste over L4 to R4 of back as heel\n", [BACK]),
    ("knit in waste over L4 to R3 of front as thumb\n", []),
    ("knit in waste over L3 to R4 of front as thumb\n", [])])
def test_a_slit_over_a_whole_bed_is_a_heel(slit, heels):
    found = of(TUBE + slit + "knit 4 rounds\n")

    assert [(heel.bed, heel.kind) for heel in found.heels] == [(bed, "slit") for bed in heels]


# ---- which stretch is the one that hangs wrongly

@pytest.mark.parametrize("half, needles", [("L8 to L1", range(8)), ("R1 to R8", range(8, 16))])
def test_of_two_stretches_as_long_the_one_that_hands_have_hung_is_named(half, needles):
    (meeting,) = of(STRIP + f"scrap off {half} of front as part\n"
                    f"rehang part to {half} of front turned\nknit 2 rows\n").meetings
    first = min(n for part in meeting.needles for _, n in part)

    assert (meeting.wrong, len(meeting.needles)) == ("reversed", 1)
    assert [n - first for _, n in meeting.needles[0]] == list(range(8))
    on = run(STRIP).moments[-1].state.front.loaded
    left = (on & -on).bit_length() - 1
    assert [n - left for _, n in meeting.needles[0]] == list(needles)


def test_what_rows_have_gone_over_does_not_count_as_hung_by_hands_any_more():
    (_, meeting) = of(STRIP + "".join(
        f"scrap off {half} of front as part\nrehang part to {half} of front turned\nknit 2 rows\n"
        for half in ("L8 to L1", "R1 to R8"))).meetings
    on = run(STRIP).moments[-1].state.front.loaded

    assert [n - (on & -on).bit_length() + 1 for _, n in meeting.needles[0]] == list(range(8, 16))


# ---- groups and hems

def test_the_name_of_what_was_grafted_may_be_given_again():
    done = TUBE + ("cut\nscrap off front as one\nscrap off back as two\ngraft one to two\n"
                   "take both out of work\nset both to rest\n") + STRIP
    again = "scrap off left 5 of front as one\nrehang one to L8 to L4 of front{}\nknit 2 rows\n"

    assert of(done + again.format("")).meetings == ()
    assert wrongs(done + again.format(" turned")) == ["reversed"]


def test_an_edge_may_be_marked_again_under_the_name_of_one_that_hangs():
    hem = "mark edge brim on front\nknit 8 rows\nrehang brim onto {}\nknit 1 row\n"
    found = of(STRIP.replace("main", "waste") + "cut\nthread main\n"
               + hem.format("L8 to R8 of front") + hem.format("L8 to R8 of front turned"))

    assert [one.wrong for one in found.hems] == ["", "reversed"]


@pytest.mark.parametrize("off", range(-7, 8))
@pytest.mark.parametrize("count", [15, 16])
def test_by_how_many_stitches_a_hem_of_a_tube_hangs_round_it(off, count):
    """Of 15 or 16 columns, the eight of the front bed hung so many to the right, round it."""
    ring = [f"{side}{n} of front" for side, n in places()] + [
        f"{side}{n} of back" for side, n in reversed(places()[16 - count:])]
    hung = "".join(f"rehang brim onto {ring[(n + off) % count]}\n" for n in range(8))
    tube = TUBE.replace("main", "waste")
    if count == 15:
        tube = tube.replace("bring centre 8 of both into work", "bring centre 8 of front into work"
                            " to cast on\nbring L3 to R4 of back into work")
    found = of(tube + "mark edge brim on front\n"
               "mark edge other on back\ncut\nthread main\n"
               "knit 8 rounds\n" + hung + "knit 1 round\n")

    assert {(one.wrong, one.shift, one.round) for one in found.hems} == (
        {("shifted", off, True)} if off else {("", 0, False)})


@pytest.mark.parametrize("on, wrong", [
    ("L7 to R5", ""), ("L6 to R6", ""), ("L5 to R6", "shifted")])
def test_a_stitch_made_since_the_edge_may_shift_a_hem_by_one(on, wrong):
    """13 columns, the first of them made at the left: the edge of 12 hangs on it or beside it."""
    found = of(STRIP.replace("main", "waste").replace("centre 16", "centre 12")
               + "mark edge brim on front\ncut\nthread main\nknit 4 rows\n"
               "bring L7 of front into work to increase\nknit 4 rows\n"
               f"rehang brim onto {on} of front\nknit 1 row\n")

    assert [one.wrong for one in found.hems] == [wrong]


def places():
    return [*(("L", n) for n in (4, 3, 2, 1)), *(("R", n) for n in (1, 2, 3, 4))]


# ---- what is bound off, marked or grafted at once

TURNED = "scrap off left 5 of front as part\nrehang part to L8 to L4 of front turned\n"


def test_what_hangs_wrongly_is_told_once_however_it_is_taken_off():
    for off in ("bind off front\n", "bind off left 8 of front\nbind off front\n",
                "gather front\n", "bind off left 8 of front\nknit 2 rows\nbind off front\n"):
        assert wrongs(STRIP + TURNED + off) == ["reversed"]


def test_a_rib_bound_off_at_once_is_judged_in_the_order_of_a_rib():
    hung = "scrap off L4 to R4 of front as one\nrehang one to {} of front\nbind off both\n"
    rib = RIB + "knit 5 rows\n"

    assert wrongs(rib + hung.format("every 2nd from 1 of L4 to R4")) == []
    assert len(wrongs(rib + hung.format("every 2nd from 1 of L4 to R4 of front turned"
                                        ).replace("turned of front", "turned"))) == 1


def test_a_graft_off_the_machine_leaves_what_hangs_on_it_to_be_judged():
    groups = TUBE + ("cut\nscrap off front as one\nscrap off back as two\n"
                     "take both out of work\nset both to rest\n")

    assert wrongs(groups + STRIP + TURNED + "graft one to two\nknit 2 rows\n") == ["reversed"]


def test_the_name_of_an_edge_that_hangs_may_be_given_to_stitches():
    body = (STRIP.replace("main", "waste") + "mark edge part on front\ncut\nthread main\n"
            "knit 8 rows\nrehang part onto L8 to R8 of front\nknit 2 rows\n")

    assert wrongs(body + TURNED + "knit 2 rows\n") == ["reversed"]


def test_nothing_is_marked_where_nothing_hangs():
    found = of(STRIP + "mark slit gap on back\nknit 2 rows\n")

    assert (found.heels, found.meetings) == ((), ())


@pytest.mark.parametrize("body", [
    STRIP + "respect hold on front\nhold left 4 of front\nhold right 4 of front\nknit 4 rows\n",
    TUBE + "set back to rest\nset front to knit\nhold left 2 of front\nhold right 2 of front\n"
    "cancel hold on front\nknit 4 rows\n"])
def test_short_rows_of_a_flat_piece_and_rows_over_all_are_no_heel(body):
    assert of(body).heels == ()
