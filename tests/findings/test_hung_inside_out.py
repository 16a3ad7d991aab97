"""A tube taken up from an opening: with its knit side outside, or inside.

Loops below and above an opening keep their order.  Below the opening the knit side of the cloth
looks away from the bed that knitted it; it still does where those loops hang on that bed from left
to right, or turned right round on the other bed.  A fact of the cloth.
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, TUBE, findings, kinds

ROUNDS = """thread main
hang weights
set both to circular
knit 10 rounds
cut
remove weights
gather both"""
MARKED = TUBE + """
cut
set {other} to rest
set {bed} to knit
thread waste
knit 1 row on {bed}
cut
mark slit heel on {bed}
move carriage to far side
thread main
set both to circular
knit 10 rounds
remove weights
bind off both
cut
bring centre {half} of both into work
"""
KNITTED_IN = TUBE + """
knit in waste over L18 to L11 of {bed} as heel
knit 10 rounds
remove weights
bind off both
cut
bring centre {half} of both into work
"""
HUNG = {
    "below stays, straight": (
        "rehang heel to centre {half} of {bed} and centre {half} of {other}", True),
    "below stays, turned": (
        "rehang heel to centre {half} of {other} and centre {half} of {bed} turned", False),
    "below across, straight": (
        "rehang heel to centre {half} of {other} and centre {half} of {bed}", False),
    "below across, turned": (
        "rehang heel to centre {half} of {bed} and centre {half} of {other} turned", True),
}
TECHNIQUE = "technique take-up with one, two, many\n    rehang heel to centre many of one and " \
    "centre many of two{}\n"


def piece(opening: str, bed: str, lines: str) -> str:
    half = 36 if opening == MARKED else 8
    other = "back" if bed == "front" else "front"
    return (opening + lines + "\n" + ROUNDS).format(bed=bed, other=other, half=half)


@pytest.mark.parametrize("bed", ["front", "back"])
@pytest.mark.parametrize("opening", [MARKED, KNITTED_IN])
@pytest.mark.parametrize("hung", HUNG)
def test_which_way_the_loops_of_an_opening_hang(bed, opening, hung):
    line, sound = HUNG[hung]
    found = findings(piece(opening, bed, line))

    assert [one.kind for one in found] == ([] if sound else ["tube-inside-out"])
    for one in found:
        assert one.at.source.line(one.at.line).strip().startswith("rehang heel to")


@pytest.mark.parametrize("turned", ["", " turned"])
def test_from_a_technique_it_is_the_same(turned):
    for one, two in (("front", "back"), ("back", "front")):
        body = piece(MARKED, "front", f"do take-up with one = {one}, two = {two}, many = 36")
        found = kinds(body, HEADER + TECHNIQUE.format(turned))
        assert ("tube-inside-out" in found) is (one == "back")


def test_the_opening_of_one_stitch_has_no_order():
    body = KNITTED_IN.replace("L18 to L11", "L11") + HUNG["below across, straight"][0] + "\n" \
        + ROUNDS
    assert "tube-inside-out" not in kinds(body.format(bed="front", other="back", half=1))


@pytest.mark.parametrize("bed", ["front", "back"])
def test_shipped_heels_and_thumbs_hang_right_side_out(bed):
    thumb = f"""{TUBE}
do thumb-opening with bed = {bed}, half = 10, waste = waste
knit 10 rounds
remove weights
bind off both
cut
do thumb with bed = {bed}, half = 10, yarn = main, long = 20"""
    heel = f"""{TUBE}
do afterthought-opening with bed = {bed}, waste = waste, yarn = main
knit 10 rounds
remove weights
bind off both
cut
do afterthought-heel with bed = {bed}, half = 36, leave = 12, yarn = main"""
    for body in (thumb, heel):
        assert "tube-inside-out" not in kinds(body)
