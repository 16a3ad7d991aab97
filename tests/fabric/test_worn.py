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
