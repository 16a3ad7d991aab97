"""What a tape finds on leg, cuff and foot where a size table names them, by hand: 24 stitches a
bed at 3, and rows at 4 to the cm."""

from __future__ import annotations

import pytest
from support.scripts import proof
from support.sock_parts import FOOTWAYS, HEEL, LEG, START, TOE_UP, TOES, script

from sockscript.fabric.worn import measured_as, measured_on

FOOT = [("Heel", HEEL), ("Foot", FOOTWAYS["rounds"]), ("Toe", TOES["grafted"][0])]
DOWN = [("Cuff", START["rib turned to a tube"][0]), ("Leg", LEG), *FOOT]
UP = [("Toe", TOE_UP["cast on as a closed tube"][0]), *FOOT[1::-1], ("Leg", LEG)]
NAMES = ("leg-length", "cuff-length", "foot-length", "foot-round", "ankle-round", "calf-round")


def made(parts, table=""):
    text = script(parts, True)
    return proof(text.replace("gauge plain", f"{table}gauge plain")).outcomes[0][0].run


def measures(run):
    return {name: sorted(set(map(float, measured_as(run, name)))) for name in NAMES}


def test_a_sock_from_the_cuff_down():
    """20 rows of cuff, 19 of them rib, 40 of leg; where it is flat two stitches go into a seam."""
    found = measures(made(DOWN))

    assert found["leg-length"] == [102.5, 150] and found["cuff-length"] == [47.5]
    assert found["foot-length"] == [(16 + 60 + 15) * 2.5] and found["foot-round"] == [160]
    assert found["ankle-round"] == found["calf-round"] == [46 / 0.3, 160]


def test_a_sock_from_the_toe_up():
    """40 rounds of leg without a cuff; the toe has 17 rows, half of the heel's 32 lie along."""
    assert measures(made([UP[0], UP[1], UP[2], UP[3]])) == {
        "leg-length": [100], "cuff-length": [], "foot-length": [(16 + 60 + 17) * 2.5],
        "foot-round": [160], "ankle-round": [160], "calf-round": [160]}


def test_other_lengths_of_the_table_may_be_left_out_of_the_leg():
    table = ("sizes One\n    leg-length 12 cm\n    hem-depth 2 cm\n    foot-round 16 cm\n"
             "    rib-depth 3 cm\n")
    found = measures(made(DOWN, table))

    assert found["leg-length"] == [100, 102.5, 120, 130, 150]


@pytest.mark.parametrize(("row", "told"), [
    ("hem-depth 14.9 cm", [1, 102.5, 150]), ("hem-depth 15 cm", [102.5, 150]),
    ("hem-round 2 cm", [102.5, 150]), ("foot-length 2 cm", [102.5, 150]),
    ("leg-length 2 cm", [102.5, 150]), ("hems 2", [102.5, 150]), ("hem-depth 2 cm", [
        102.5, 130, 150])])
def test_what_other_rows_of_a_table_take_from_the_leg(row, told):
    """A length other than the foot's and the leg's own, less than the leg itself, 15 cm."""
    assert measures(made(DOWN, f"sizes One\n    {row}\n"))["leg-length"] == told


def test_nothing_is_measured_without_a_gauge():
    text = script(DOWN, True).replace(" in plain", "").replace(
        "gauge plain 30 stitches, 40 rows per 10 cm\n", "")
    run = proof(text).outcomes[0][0].run

    assert [measured_as(run, name) for name in NAMES] == [[]] * 6
    assert [measured_on(run, name) for name in NAMES] == [None] * 6


BAND = """bring centre 24 of both into work to cast on
set both to {0}
thread main
knit {1} row
set both to {2}
knit {3} rows"""


@pytest.mark.parametrize(("band", "cuff"), [
    # A cast-on row alone is no rib; two rows are one, if they are more than half of what is there.
    (BAND.format("knit", 1, "circular", 2), []), (BAND.format("knit", 1, "knit", 1), [5]),
    (BAND.format("circular", 2, "knit", 1), []), (BAND.format("circular", 4, "knit", 2), []),
    (BAND.format("circular", 2, "knit", 2), [7.5]),
    (BAND.format("circular", 2, "knit", 17), [45]),
    (BAND.format("circular", 10, "knit", 10), [37.5]),
    (BAND.format("knit", 1, "circular", 12) + "\nset both to knit\nknit 1 row", [])])
def test_more_than_half_of_a_cuff_is_rib(band, cuff):
    """Common practice, no source."""
    run = made([("Cuff", f"{band}\nset both to circular"), *DOWN[1:]])

    assert measures(run)["cuff-length"] == cuff


def in_two_fabrics(parts, dense):
    """A section in a denser gauge: 4 stitches and 5 rows to the cm."""
    text = script(parts, True).replace(
        "gauge plain", "gauge dense 40 stitches, 50 rows per 10 cm\ngauge plain", 1)
    return proof(text.replace(f'"{dense}" in plain', f'"{dense}" in dense')).outcomes[0][0].run


BY_HAND = [("Cuff", f"{START['cast on by hand'][0]}\nknit 20 rounds"), *DOWN[1:]]
EDGE = [("Cuff", "knit 20 rounds"), ("Off", "bind off front\nbind off back\ncut")]


@pytest.mark.parametrize("parts", [BY_HAND, [*UP, *EDGE]], ids=["down", "up"])
def test_a_cuff_of_another_fabric_is_a_cuff_too(parts):
    """20 rounds at 5 to the cm and 40 at 4; 48 stitches at 3 and at 4."""
    found = measures(in_two_fabrics(parts, "Cuff"))

    assert found["cuff-length"] == [40] and found["leg-length"] == [100, 140]
    assert found["ankle-round"] == found["calf-round"] == [160]
    assert measures(made(parts))["cuff-length"] == []


def test_a_leg_may_be_measured_without_what_ends_it_below():
    """20 rounds at 5 to the cm, 40 at 4 and 10 at 5: 16 cm, without the cuff 12, and 10."""
    parts = [BY_HAND[0], BY_HAND[1], ("Ankle", "knit 10 rounds"), *BY_HAND[2:]]
    text = script(parts, True).replace(
        "gauge plain", "gauge dense 40 stitches, 50 rows per 10 cm\ngauge plain", 1)
    for title in ("Cuff", "Ankle"):
        text = text.replace(f'"{title}" in plain', f'"{title}" in dense')
    found = measures(proof(text).outcomes[0][0].run)

    assert found["leg-length"] == [100, 120, 160] and found["cuff-length"] == [40]


def test_the_foot_is_measured_in_the_fabric_of_most_of_its_rows():
    assert measures(in_two_fabrics(DOWN, "Foot"))["foot-round"] == [120]
    assert measures(in_two_fabrics(DOWN, "Toe"))["foot-round"] == [160]


@pytest.mark.parametrize("order", [1, -1])
def test_without_a_heel_the_largest_piece_is_the_leg(order):
    """40 rounds of 48 stitches, and 50 rows of 12."""
    tube = ("Warmer", f"{START['cast on by hand'][0]}\n{LEG}\nbind off front\nbind off back\ncut")
    strip = ("Strip", "bring centre 12 of front into work\nthread main\n"
             "cast on centre 12 of front\nset front to knit\nset back to rest\n"
             "knit 50 rows\nbind off front\ncut")
    run = made([tube, strip][::order])

    assert measures(run) == {"leg-length": [100], "cuff-length": [], "foot-length": [],
                             "foot-round": [160], "ankle-round": [160], "calf-round": [160]}


def test_a_rib_as_long_as_the_piece_is_no_cuff_of_it():
    run = made([("Rib", START["rib turned to a tube"][0].split("do rib-to-one-bed")[0])])

    assert measures(run)["cuff-length"] == [] and measures(run)["leg-length"] == [47.5]


def test_a_flat_piece_loses_two_stitches_to_its_seam():
    """Common practice, no source: 48 stitches at 3 to the cm are 16 cm, 46 are 15.33."""
    run = made([("Flat", "bring centre 48 of front into work\nthread main\n"
                 "cast on centre 48 of front\nset front to knit\nset back to rest\n"
                 "knit 50 rows\nbind off front\ncut")])

    assert measures(run)["calf-round"] == [46 / 0.3, 160]
    assert measured_on(run, "foot-length") is None


@pytest.mark.parametrize("rows", ["knit 18 rows", "knit 1 row\nknit 17 rows",
                                  "repeat 18 times\n    knit 1 row"])
def test_a_cuff_is_the_rib_however_its_rows_are_written(rows):
    cuff = f"""full pitch
bring every 2nd from 1 of centre 48 of front into work to cast on
bring every 2nd from 2 of centre 48 of back into work to cast on
set both to knit
thread main
{rows}
do rib-to-one-bed on back
set back to knit
knit 1 row on back
do turn-to-tube with bed = back
thread main
set both to circular"""
    run = made([("Cuff", cuff), *DOWN[1:]])

    assert measures(run)["cuff-length"] == [45]
    assert measures(run)["leg-length"] == [102.5, 147.5]


def test_the_narrowest_and_the_widest_of_a_leg_are_its_ankle_and_calf():
    leg = LEG + "\nmove 3 stitches at left of both in by 1\nknit 30 rounds"
    run = made([DOWN[0], ("Leg", leg), *FOOT])
    found = measures(run)

    assert found["calf-round"][-1] == 160 and found["ankle-round"] == [46 / 0.3]
    first, last = measured_on(run, "ankle-round")
    assert last == first + 1
    assert measured_on(run, "leg-length")[0] < first < measured_on(run, "leg-length")[1]
    assert measured_on(made([UP[0]]), "foot-length") is None
