"""What is said of columns that hang in another order than they were knitted in: cables and what
is none, which stretches are wrong and in which word, and where the seam of a tube runs.

As in ``test_neighbours``: columns are numbered on squared paper and followed by hand.
"""

from __future__ import annotations

import pytest
from support.scripts import run, tube

from sockscript.fabric.wales.follow import neighbours
from sockscript.fabric.wales.told import TubeSeam, tube_seam
from sockscript.machine.profile import ANY_DOUBLE_BED
from sockscript.operations.beds import FRONT, needle_name

STRIP = """bring centre 32 of front into work to cast on
set front to knit
thread main
knit 4 rows
"""

TUBE = tube(32) + "knit 4 rounds\n"


def needle(place):
    """Of 32 needles, from the left."""
    return f"L{16 - place}" if place < 16 else f"R{place - 15}"


def told(body):
    return [meeting for meeting in neighbours(run(body)).meetings
            if meeting.jumps or meeting.wrong]


def names(part):
    return [needle_name(n, ANY_DOUBLE_BED.needles) for _, n in part]


def crossed(first, order):
    """Strands (each so many stitches) from a place on, hung again in another order."""
    sizes = dict(order)
    off = strands(first, [(name, sizes[name]) for name in sorted(sizes)])
    return "".join(f"scrap off {place} as {name}\n" for name, place in off) + "".join(
        f"rehang {name} to {place}\n" for name, place in strands(first, order))


def strands(first, order):
    """Where strands hang, one after the other."""
    for name, size in order:
        yield name, f"{needle(first)} to {needle(first + size - 1)} of front"
        first += size


# ---- cables

@pytest.mark.parametrize("begun", [STRIP + "{}knit 2 rows\n", TUBE + "{}knit 2 rounds\n"])
@pytest.mark.parametrize("order", [
    [("b", 1), ("a", 1)], [("b", 2), ("a", 2)], [("b", 1), ("a", 3)],
    [("c", 2), ("b", 1), ("a", 2)], [("c", 6), ("b", 6), ("a", 6)], [("b", 6), ("a", 6)]])
def test_a_cable_may_stand_anywhere_in_a_row(begun, order):
    """Two strands change places, beside each other or over a third, also at either end."""
    size = sum(count for _, count in order)
    for first in (0, 1, 9, 31 - size, 32 - size):
        assert told(begun.format(crossed(first, order))) == [], first


@pytest.mark.parametrize("begun", [STRIP + "{}knit 2 rows\n", TUBE + "{}knit 2 rounds\n"])
@pytest.mark.parametrize("order", [
    [("b", 7), ("a", 1)], [("b", 1), ("a", 7)], [("c", 7), ("b", 1), ("a", 1)],
    [("c", 1), ("b", 7), ("a", 1)], [("c", 1), ("b", 1), ("a", 7)],
    [("d", 2), ("c", 2), ("b", 2), ("a", 2)], [("c", 1), ("b", 1), ("a", 1)]])
def test_what_is_no_cable(begun, order):
    """A strand of seven, four strands one over the other, or three stitches turned."""
    assert told(begun.format(crossed(5, order)))


def test_two_cables_beside_each_other():
    two = crossed(4, [("b", 2), ("a", 2)]) + crossed(8, [("d", 1), ("c", 1)]) + crossed(
        10, [("g", 2), ("f", 1), ("e", 2)])

    assert told(STRIP + two + "knit 2 rows\n") == []
    assert told(TUBE + two + "knit 2 rounds\n") == []
    assert told(STRIP + two + "knit 2 rows\n" + two + "knit 2 rows\n") == []


# ---- in which word

def test_stitches_of_two_faces_by_turns():
    """So they do where more than half of the 16 hang beside one of the other bed."""
    tube = TUBE.replace("32", "8") + "bring L8 to R8 of back into work\n"
    left = "transfer L4 to R4 of {} to {} of back\n"
    row = "set front to rest\nset back to knit\nknit 2 rows\n"
    half = (left.format("back", "L7 and L5 and L3 and L1 and R1 to R4")
            + left.format("front", "L8 and L6 and L4 and L2 and R5 to R8"))
    more = (left.format("back", "L7 and L5 and L3 and L1 and R5 to R8")
            + left.format("front", "L8 and L6 and L4 and L2 and R1 to R4"))

    assert [(one.wrong, one.needles == ()) for one in told(tube + more + row)] == [
        ("interleaved", True)]
    (one,) = told(tube + half + row)
    assert (one.wrong, [names(part) for part in one.needles]) == (
        "mixed", [["L8", "L7"], *([f"L{n}"] for n in range(6, 1, -1))])


PIECE = """bring centre 16 of back into work to cast on
set back to knit
thread main
knit 4 rows
cut
half pitch
bring centre 8 of front into work
"""
ROUND = """take empty of both out of work
set both to circular
thread main
knit 6 rounds
"""


@pytest.mark.parametrize("hung, wrong, parts", [
    ((4, 3, 2, 1), None, []),
    ((4, 2, 3, 1), "crossed", [["R2", "R3"]]), ((4, 1, 2, 3), "crossed", [["R1", "R2", "R3"]]),
    ((1, 2, 3, 4), "reversed", [["R1", "R2", "R3", "R4"]]),
    ((2, 4, 3, 1), "crossed", [["R2"], ["R3", "R4"]]),
    ((2, 1, 4, 3), "exchanged", [["R1", "R2"], ["R3", "R4"]]),
    ((3, 4, 1, 2), "reversed", [["R1", "R2"], ["R3", "R4"]]),
    ((3, 1, 4, 2), "mixed", [["R1"], ["R2"], ["R3"], ["R4"]])])
def test_the_quarter_of_a_piece_hung_out_of_order(hung, wrong, parts):
    """Columns 13 to 16 belong on R4 to R1 of the front bed; up to three are a slip of the tool."""
    quarter = "".join(f"transfer R{5 + n} of back to R{place} of front\n"
                      for n, place in enumerate(hung))
    body = PIECE + quarter + "fold left 4 of back onto front\n" + ROUND

    assert [(one.wrong, [names(part) for part in one.needles]) for one in told(body)] == (
        [(wrong, parts)] if wrong else [])


@pytest.mark.parametrize("groups, wrong", [((2, 9, 16), "mixed"), ((0, 9, 16), "reversed"),
                                           ((2, 9, 29), "reversed"), ((2, 9), "reversed")])
def test_among_six_stretches_of_a_row_a_mend_is_looked_for(groups, wrong):
    """Three groups of four turned inside a row make seven; at an end it is one fewer."""
    assert [one.wrong for one in told(STRIP + turned(groups) + "knit 2 rows\n")] == [wrong]


def turned(groups):
    """Groups of four (at the end of three) turned where they hang."""
    places = [f"{needle(n)} to {needle(min(n + 3, 31))} of front" for n in groups]
    return "".join(f"scrap off {place} as group\nrehang group to {place} turned\n"
                   for place in places)


def test_only_short_stretches_are_named_where_nothing_would_mend_it():
    """Two stitches before the first group, three between the groups."""
    (one,) = told(STRIP + turned((2, 9, 16, 23)) + "knit 2 rows\n")

    assert (one.wrong, [names(part) for part in one.needles]) == ("mixed", [
        ["L16", "L15"], ["L10", "L9", "L8"], ["L3", "L2", "L1"], ["R5", "R6", "R7"]])


# ---- where the seam runs

TURNED = PIECE + "fold right 4 of back onto front\nfold left 4 of back onto front\n" + ROUND
HEEL = """set {other} to rest
set {bed} to knit
do heel on {bed} with leave = 4
set both to circular
knit 4 rounds
"""
QUARTER = """scrap off left 4 of front as first
scrap off right 4 of front as second
scrap off left 4 of back as fourth
scrap off right 4 of back as third
bring centre 8 of both into work
rehang first to L4 to L1 of back turned
rehang second to L4 to L1 of front
rehang third to R1 to R4 of front turned
rehang fourth to R1 to R4 of back
knit 4 rounds
"""
FRONT_HEEL, BACK_HEEL = (HEEL.format(bed=one, other=two)
                         for one, two in (("front", "back"), ("back", "front")))


@pytest.mark.parametrize("body, seam", [
    (TURNED, TubeSeam("middle", FRONT)),
    (TURNED + FRONT_HEEL, TubeSeam("centre back", FRONT)),
    (TURNED + BACK_HEEL, TubeSeam("instep", FRONT)),
    (TURNED + FRONT_HEEL + BACK_HEEL, TubeSeam("centre back", FRONT)),
    (TURNED + BACK_HEEL + FRONT_HEEL, TubeSeam("instep", FRONT)),
    (TURNED + QUARTER, TubeSeam("middle", FRONT)),
    (TURNED + QUARTER + FRONT_HEEL, TubeSeam("side", None, "left")),
    (TURNED + FRONT_HEEL + QUARTER, TubeSeam("centre back", FRONT))])
def test_the_seam_lies_as_it_does_when_the_first_heel_is_knitted(body, seam):
    assert tube_seam(run(body)) == seam


def test_two_pieces_that_rounds_join():
    """Flat pieces on the two beds: edges meet at both sides."""
    pieces = """half pitch
bring centre 8 of front into work to cast on
set front to knit
thread main
knit 4 rows
set front to rest
bring centre 8 of back into work to cast on
set back to knit
knit 4 rows
"""
    assert tube_seam(run(pieces + ROUND)) == TubeSeam("two")
    (meeting,) = neighbours(run(pieces + ROUND)).meetings
    assert (len(meeting.edges), meeting.jumps, meeting.wrong) == (2, (), "")


@pytest.mark.parametrize("more", [
    "bring L5 of both into work to increase\nknit 4 rounds\n",
    "move 2 stitches at left of both in by 1\ntake empty of both out of work\nknit 4 rounds\n",
    "transfer L1 of front onto R1 of front\ntake empty of both out of work\nknit 4 rounds\n",
    "set back to rest\nset front to knit\nknit 2 rows\nset both to circular\nknit 4 rounds\n"])
def test_a_seam_is_told_once(more):
    """Also where the tube is shaped later, or a stitch at the seam joined with its neighbour."""
    assert [(seam.bed, seam.off) for seam in neighbours(run(TURNED + more)).seams] == [(FRONT, 0)]


@pytest.mark.parametrize("right, left, seam", [
    (4, 4, TubeSeam("middle", FRONT)), (4, 3, TubeSeam("middle", FRONT)),
    (3, 4, TubeSeam("middle", FRONT)), (5, 3, TubeSeam("beside", FRONT))])
def test_an_odd_number_has_no_middle(right, left, seam):
    """One stitch more at one side of the seam; two more could be hung better."""
    wide = PIECE.replace("centre 8 of front", "L8 to R8 of front")
    folds = f"fold right {right} of back onto front\nfold left {left} of back onto front\n"

    assert tube_seam(run(wide + folds + ROUND)) == seam


@pytest.mark.parametrize("turn", ["a", "b"])
def test_two_strands_exchanged_of_which_one_is_turned(turn):
    """Eight and seven stitches in the middle of a row; turned both they would be one reversed."""
    hung = crossed(5, [("b", 8), ("a", 7)]).splitlines()
    lines = [f"{line} turned" if line.startswith(f"rehang {turn} ") else line for line in hung]
    (one,) = told(STRIP + "\n".join(lines) + "\nknit 2 rows\n")
    places = [[needle(n) for n in range(5, 13)], [needle(n) for n in range(13, 20)]]

    assert (one.wrong, [names(part) for part in one.needles]) == ("exchanged", places)


def test_the_ends_of_a_row_on_one_bed_of_a_tube_need_not_meet():
    row = "set back to rest\nset front to knit\n" + turned((9, 16)) + "knit 2 rows\n"

    assert [(one.wrong, len(one.needles)) for one in told(TUBE + row)] == [("reversed", 2)]
