"""Where a piece is a tube, and what a tape measure finds on it; counted by hand from the lines."""

from __future__ import annotations

from fractions import Fraction

import pytest
from support.scripts import kinds, proof, run
from support.sock_parts import FOOTWAYS, HEADER, HEEL, LEG, START, TOES, script

from sockscript.fabric.tape import tape
from sockscript.fabric.tubes import Tube, ends_apart, tubes_of
from sockscript.operations.beds import BACK, facing, highest, lowest
from sockscript.operations.ops import Fold, Knit, Rehang

CAST_ON = """half pitch
bring centre 8 of both into work to cast on
set both to circular
thread main
"""
FLAT = """bring centre 16 of back into work to cast on
set back to knit
thread main
knit 4 rows
cut
half pitch
bring L8 to R8 of front into work
"""


def moments(body, kind):
    return [n for n, moment in enumerate(run(body).moments) if isinstance(moment.op, kind)]


# ---- tubes

@pytest.mark.parametrize("passes, tube", [(3, False), (4, True)])
@pytest.mark.parametrize("knit", ["knit {} rows\n", "repeat {} times\n    knit 1 row\n"])
def test_up_to_three_circular_passes_are_a_cast_on(passes, tube, knit):
    """Two or three passes of a tubular cast-on (see the source at CAST_ON_PASSES)."""
    body = CAST_ON.replace("set both to circular", "set both to knit") + (
        "knit 1 row\nset both to circular\n" + knit.format(passes))
    first = moments(body, Knit)[1]

    assert tubes_of(run(body)) == ([Tube(first, len(run(body).moments), False)] if tube else [])
    rib = body + "set both to knit\nknit 2 rows\nset both to circular\nknit 3 rows\n"
    assert len(tubes_of(run(rib))) == tube


@pytest.mark.parametrize("knit, fewer", [
    ("knit 8 rounds\n", "knit 7 rounds\n"), ("knit 16 rows\n", "knit 15 rows\n"),
    ("repeat 8 times\n    knit 1 round\n", "repeat 7 times\n    knit 1 round\n"),
    ("repeat 17 times\n    knit 1 row\n", "repeat 16 times\n    knit 1 row\n"),
    ("knit 2 rows\nknit 14 rows\n", "knit 2 rows\nknit 13 rows\n")])
def test_what_is_cast_on_in_rounds_is_a_tube_however_they_are_written(knit, fewer):
    """Shut along a row, or open at both sides, after eight rounds; seven may be a welt."""
    shut = "set both to knit\nknit 3 rows\n"
    split = "set back to rest\nset front to knit\nknit 6 rows\nset both to circular\nknit 4 rows\n"
    assert "tube-knitted-shut" in kinds(CAST_ON + knit + shut)
    assert "tube-knitted-shut" not in kinds(CAST_ON + fewer + shut)
    assert "tube-split" in kinds(CAST_ON + knit + split)


def test_rows_on_one_bed_while_all_of_the_other_waits_are_no_rounds():
    body = CAST_ON.replace("set both to circular", "set both to knit") + (
        "knit 1 row\nset both to circular\n{}knit 20 rows\n")

    assert len(tubes_of(run(body.format("")))) == 1
    for bed in ("front", "back"):
        held = f"respect hold on {bed}\nhold left 8 of {bed}\n"
        assert tubes_of(run(body.format(held))) == []


@pytest.mark.parametrize("between, tube", [
    ("set both to rest\nknit 2 rows\n", True), ("set both to knit\nknit 2 rows\n", False),
    ("set back to rest\nset front to knit\nknit 2 rows\n", False),
    ("set front to rest\nset back to knit\nknit 2 rows\n", False)])
def test_circular_passes_add_up_unless_rows_come_between(between, tube):
    """Three and three; a pass over beds that rest knits nothing."""
    body = CAST_ON.replace("set both to circular", "set both to knit") + (
        f"knit 1 row\nset both to circular\nknit 3 rows\n{between}set both to circular\n"
        "knit 3 rows\n")

    assert len(tubes_of(run(body))) == tube


def test_a_tube_ends_where_one_bed_is_empty():
    body = CAST_ON + "knit 4 rounds\ncut\nbind off front\n"
    again = (body + "bind off back\ntake both out of work\n" + CAST_ON + "knit 6 rounds\ncut\n"
             "gather both\n")
    one, two = tubes_of(run(again))
    knits = moments(again, Knit)

    assert tubes_of(run(body)) == [Tube(knits[0], len(run(body).moments) - 1, False)]
    assert (one.first, two.first) == (knits[0], knits[1])
    assert (one.last, two.last) == (len(run(body).moments) - 1, len(run(again).moments) - 1)


@pytest.mark.parametrize("front, tube", [
    ("R1 to R4", True), ("R2 to R5", True), ("L1 to R3", False), ("R3 to R6", False)])
def test_hands_turn_a_piece_to_a_tube_where_three_in_four_face_each_other(front, tube):
    """Four stitches of eight hung on the other bed, R1 to R4 having stayed: four, three, two."""
    body = (CAST_ON.replace("centre 8 of both", "centre 8 of back").replace(
        "both to circular", "back to knit") + "knit 4 rows\nscrap off left 4 of back as part\n"
        f"bring {front} of front into work\nrehang part to {front} of front turned\n")
    if front == "L1 to R3":
        tube = True  # three, too

    assert tubes_of(run(body)) == ([Tube(moments(body, Rehang)[0], len(run(body).moments), True)]
                                   if tube else [])


def test_one_stitch_over_another_is_no_tube_yet():
    body = FLAT + "fold right 1 of back onto front\n"
    assert tubes_of(run(body)) == []
    two = FLAT.replace("centre 16", "centre 2") + "fold right 1 of back onto front\n"
    assert tubes_of(run(two)) == []
    whole = FLAT + "fold right 8 of back onto front\n"
    assert tubes_of(run(whole)) == [Tube(moments(whole, Fold)[0], len(run(whole).moments), True)]


@pytest.mark.parametrize("front, back", [
    ("L2 to R2", "L2 to R2"), ("L2 to R2", "L4 to L1"), ("L4 to L1", "L1 to R3"),
    ("L2 to R4", "L2 to R2"), ("R1 to R3", "L4 to R3")])
@pytest.mark.parametrize("racking", [-3, -2, -1, 0, 1, 2, 3])
def test_ends_lie_as_far_apart_as_the_farther_of_them_from_the_needle_it_faces(
        front, back, racking):
    state = run(f"bring {front} of front into work\nbring {back} of back into work\n"
                f"thread main\ncast on {front} of front\ncast on {back} of back\n"
                ).moments[-1].state
    mask = state.front.loaded
    other = facing(BACK, state.back.loaded, racking)

    assert ends_apart(state, racking) == max(abs(lowest(mask) - lowest(other)),
                                             abs(highest(mask) - highest(other)))


# ---- what is measured

SOCK = [("Start", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
        ("Foot", FOOTWAYS["rounds"]), ("Toe", TOES["grafted"][0])]


def measured(parts, rows=40):
    done = proof(script(parts, True).replace("40 rows", f"{rows} rows")).outcomes[0][0].run
    return [(one.key, one.what, one.value, one.fabric) for one in tape(done) if one.key != "weight"]


def test_a_sock_is_measured_round_leg_and_foot_along_the_leg_and_from_heel_to_toe():
    """48 stitches at 3 and rows at 4 to the cm; of the heel's 32 rows half lie along the foot."""
    assert measured(SOCK) == [
        ("girth/Leg", "stitches", 160, "plain"), ("length/Leg", "rows", 100, "plain"),
        ("girth/Foot", "stitches", 160, "plain"),
        ("foot", "rows", float(Fraction(16 + 60 + 15) * Fraction(5, 2)), "plain")]


@pytest.mark.parametrize("rounds, rows, told", [(9, 40, False), (10, 40, True), (10, 41, False)])
def test_a_section_of_less_than_25_mm_is_not_measured(rounds, rows, told):
    """Ten rounds at 40 in 10 cm are 25 mm, at 41 a little less."""
    short = [*SOCK[:2], ("Band", f"knit {rounds} rounds"), *SOCK[2:]]

    assert ("girth/Band" in [one[0] for one in measured(short, rows)]) == told


def test_what_is_no_sock_is_measured_section_by_section():
    parts = [SOCK[0], SOCK[1], ("More", "knit 20 rounds\ncut\nbind off front\nbind off back")]

    assert [(key, value) for key, _, value, _ in measured(parts)] == [
        ("girth/Leg", 160), ("length/Leg", 100), ("girth/More", 160), ("length/More", 50)]


def test_the_yarn_that_stays_is_weighed_if_all_of_it_can_be():
    """No length of the ball, no weight; waste yarn comes out again."""
    def weights(header):
        body = "\n".join(lines for _, lines in SOCK)
        return [one for one in tape(run(body, header)) if one.what == "grams"]

    known = HEADER.replace('yarn cord "ravel cord" as ravel cord\n', "").replace(
        'yarn waste "smooth waste yarn" as waste\n', "")
    (one,) = weights(known)
    assert one.key == "weight" and one.fabric == "" and 5 < one.value < 100
    assert weights(known.replace(" 400 m per 100 g", "")) == []
