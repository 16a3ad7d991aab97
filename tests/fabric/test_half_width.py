"""A sock knitted flat in half its width: which of its rows are leg and sole, and which cup is the
heel.  Counted by hand from the lines; 24 stitches at 3 and rows at 4 to the cm."""

from __future__ import annotations

from fractions import Fraction

import pytest
from support.scripts import proof, run

from sockscript.fabric.halves import halves_of
from sockscript.fabric.worn import measured_as, measured_on

HEADER = '''pattern "Half"
yarn main "sock yarn" 400 m per 100 g
gauge plain 30 stitches, 40 rows per 10 cm
'''


def cup(left=1, right=1, rows=4):
    """Some stitches wait at each end while others knit so many rows."""
    return "respect hold on front\n" + "".join(
        f"hold {side} {many} of front\n" for side, many in (("left", left), ("right", right))
        if many) + f"knit {rows} rows\ncancel hold on front\n"


def sock(first=96, sole=54, last=40, one=None, other=None, end="sew sides"):
    return ("bring centre 24 of front into work to cast on\nset front to knit\nthread main\n"
            f"knit {first} rows\n{one or cup(rows=6)}knit {sole} rows\n"
            f"{other or cup(rows=10)}knit {last} rows\nbind off front\ncut\n{end}")


def half(body):
    return halves_of(run(body, HEADER))


def count(rows):
    return sum(one.rows for one in rows)


@pytest.mark.parametrize("bed", ["front", "back"])
@pytest.mark.parametrize(("first", "last", "leg", "heel", "toe"), [
    (96, 40, 40, 10, 6), (40, 96, 40, 6, 10), (61, 60, 60, 10, 6), (60, 61, 60, 6, 10)])
def test_the_longer_end_has_the_instep_in_it(first, last, leg, heel, toe, bed):
    found = half(sock(first, 54, last).replace("front", bed))

    assert (count(found.leg), count(found.sole)) == (leg, 54)
    assert (found.heel.rows, found.toe.rows) == (heel, toe)


def test_of_two_ends_alike_the_first_is_the_leg():
    assert half(sock(60, 54, 60)).heel.rows == 6


@pytest.mark.parametrize(("first", "sole", "last", "is_one"), [
    (3, 54, 40, True), (2, 54, 40, False), (96, 3, 40, True), (96, 2, 40, False),
    (96, 54, 3, True), (96, 54, 2, False)])
def test_before_between_and_after_the_cups_are_more_rows_than_a_seam_takes(
        first, sole, last, is_one):
    """Two rows are a seam: common practice, no source."""
    assert (half(sock(first, sole, last)) is not None) == is_one


FIRST_ROW = ("respect hold on front\nhold left 2 of front\nknit 1 row\nhold left 8 of front\n"
             "knit 5 rows\ncancel hold on front\n")
"""Six stitches knit in the first short row and wait then."""
LAST_ROW = ("respect hold on front\nhold left 8 of front\nknit 4 rows\n"
            "return L10 to L5 of front to work\nknit 1 row\ncancel hold on front\n")
"""And six in the last."""


@pytest.mark.parametrize(("lines", "is_one"), [
    (cup(1, 1), True), (cup(2, 0), True), (cup(0, 2), True), (cup(2, 1), False),
    (cup(0, 3), False), (cup(12, 0), False), (FIRST_ROW, True), (LAST_ROW, True)])
def test_a_cup_that_folds_the_piece_goes_over_all_its_stitches(lines, is_one):
    """But for the outermost, two in all."""
    assert (half(sock(one=lines)) is not None) == is_one
    assert (half(sock(other=lines)) is not None) == is_one


def test_at_the_end_of_a_bed_its_first_needle_counts_as_any():
    for bed in ("front", "back"):
        for lines, is_one in ((cup(1, 1), True), (cup(2, 1), False)):
            body = sock(one=lines).replace("centre 24", "L100 to L77").replace("front", bed)
            assert (half(body) is not None) == is_one


@pytest.mark.parametrize("body", [
    sock(end=""), sock(one="knit 2 rows\n"),
    sock(one=f"{cup()}knit 10 rows\n{cup()}"),
    sock().replace("centre 24 of front", "centre 12 of both", 1).replace(
        "set front to knit", "set both to circular", 1).replace(
        "bind off front", "bind off front\nbind off back")],
    ids=["not sewn", "one cup", "three cups", "a tube"])
def test_what_is_no_such_sock(body):
    assert half(body) is None


def test_a_sock_of_this_shape_is_found_behind_another_piece():
    swatch = ("bring centre 24 of front into work to cast on\nset front to knit\nthread main\n"
              "knit 30 rows\nbind off front\ncut\n")

    assert count(half(swatch + sock()).leg) == 40


@pytest.mark.parametrize(("first", "last", "foot_first"), [(96, 40, True), (40, 96, False)])
def test_what_a_tape_finds_on_it(first, last, foot_first):
    """Twice 24 stitches are 16 cm, less two seams 14.67; 54 rows of sole and half of 16 of the
    cups are 15.5 cm, 40 of leg 10."""
    body = sock(first, 54, last)
    if foot_first:
        body = body.replace("knit 40 rows", "repeat 4 times\n    knit 10 rows")
    text = HEADER + 'section "Sock" in plain\n' + "".join(
        f"    {line}\n" for line in body.splitlines())
    made = proof(text).outcomes[0][0].run

    def found(name):
        return sorted(set(map(float, measured_as(made, name))))

    assert found("leg-length") == [100] and found("cuff-length") == []
    assert found("foot-length") == [(54 + 8) * 2.5]
    assert found("foot-round") == found("calf-round") == [float(Fraction(440, 3)), 160]
    leg, foot = measured_on(made, "leg-length"), measured_on(made, "foot-length")
    assert (foot[0] < leg[0]) == foot_first
    assert measured_on(made, "foot-round")[0] == foot[0]
