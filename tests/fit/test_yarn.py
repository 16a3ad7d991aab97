"""Loop length, yarn and time against published geometry and worked examples."""

from __future__ import annotations

import math
from fractions import Fraction
from pathlib import Path

import pint
import pytest
from support.scripts import HEADER, TUBE_64, prepared, proof, run

from sockscript.fabric.amounts import minutes_for, section_amounts, section_metres, yarn_amounts
from sockscript.fit.pace import Pace, minutes
from sockscript.fit.yarn import LOOP_CONSTANT, end_to_leave, loop_length, tex, tightness
from sockscript.operations.ops import Knit

ROOT = Path(__file__).resolve().parents[2]
UREG = pint.UnitRegistry()


def test_the_examination_example_of_loops_in_a_square_centimetre():
    """kw 4.2, kc 5.5, loop 0.5 cm: 92 loops a cm2 (GATE textile engineering 2015, worked)."""
    loops_per_cm2 = LOOP_CONSTANT["washed"] / 0.5**2

    assert loops_per_cm2 == pytest.approx(92.4)
    c = w = Fraction(str(math.sqrt(92.4) / 10)).limit_denominator(10**9)
    assert loop_length(c, w) == pytest.approx(5.0, rel=1e-6)


def test_loop_length_and_tightness_of_a_sock_gauge():
    """30 stitches and 40 rows over 10 cm, 250 tex: 12 loops a cm2 with the constants of the example
    above make loops of sqrt(23.1 / 12) cm, 13.87 mm; sqrt(250) / 1.387 = 11.40."""
    found = loop_length(Fraction(3, 10), Fraction(4, 10), "washed")

    assert found == pytest.approx(13.87, abs=0.005)
    assert tightness(250, found) == pytest.approx(11.40, abs=0.005)


def test_fabric_that_has_not_rested_has_shorter_loops_for_the_same_gauge():
    """The constants of the other states are from memory (Munden, 1959): a comparison only.  A
    fabric draws in as it relaxes, so that one with the same gauge before was knitted tighter."""
    dry, wet, washed = (loop_length(Fraction(3, 10), Fraction(4, 10), state)
                        for state in ("dry", "wet", "washed"))

    assert dry < wet < washed


@pytest.mark.parametrize("metres_per_100_g, expected", [(400, 250), (500, 200), (1000, 100),
                                                        (1600, 62.5), (5000, 20)])
def test_tex_is_grams_of_a_kilometre(metres_per_100_g, expected):
    """The definition of tex (ISO 1144); the same with pint's units."""
    assert tex(Fraction(metres_per_100_g, 100)) == pytest.approx(expected)
    assert (100 * UREG.gram / (metres_per_100_g * UREG.meter)).to("gram/kilometer").magnitude == (
        pytest.approx(expected))


def test_yarn_of_a_tube_is_loops_times_loop_length():
    """64 stitches by 180 rounds at 30 by 40 over 10 cm: 11,520 loops of 13.87 mm (worked out above)
    are 159.8 m, at 4 m a gram 40 g."""
    header = '''pattern "Tube"
yarn main "sock yarn" 120 m per 30 g
gauge plain 30 stitches, 40 rows per 10 cm
'''
    done = run(TUBE_64.replace("knit 4 rounds", "knit 179 rounds") + "\ncut\ngather both", header)
    amount = yarn_amounts(done)[0]
    ends = 2 * 0.15

    assert amount.loops == 11_520
    assert amount.metres == pytest.approx(159.8 + ends, abs=0.1)
    assert amount.grams == pytest.approx(40.0 + ends / 4, abs=0.1)
    assert (amount.balls(1), amount.balls(2)) == (2, 3)  # 40.1 g and 80.2 g, balls of 30 g


@pytest.mark.parametrize(("width", "times", "inches", "mm"), [
    (40, 4, False, 350), (50, 4, False, 350), (50.1, 4, False, 400), (0, 0, False, 150),
    (40, 4, True, 14 * 25.4), (0, 0, True, 6 * 25.4)])
def test_an_end_is_some_widths_and_15_cm_up_to_the_next_5_cm(width, times, inches, mm):
    # Four widths for grafting, 15 cm to weave in: common practice, no source.
    assert float(end_to_leave(Fraction(str(width)), times, inches).value) == pytest.approx(mm)


def test_stripes_are_counted_by_the_loops_that_each_knitted():
    body = f'''{TUBE_64}
cut
thread waste
knit 3 rounds
cut
thread main
knit 5 rounds
cut
gather both'''
    found = {a.yarn.name: a.loops for a in yarn_amounts(run(body))}

    assert found == {"main": 64 * (1 + 4 + 5), "waste": 64 * 3}


def test_without_a_gauge_only_loops_are_known():
    done = run(TUBE_64 + "\ncut\ngather both", 'yarn main "x" 400 m per 100 g\n')

    assert [(a.loops, a.metres, a.grams) for a in yarn_amounts(done)] == [(320, None, None)]


def test_work_is_counted_section_by_section():
    text = HEADER + 'section "One"\n' + "".join(f"    {x}\n" for x in TUBE_64.splitlines()) + (
        'section "Two"\n    move 3 stitches at left of both in by 1\n    knit 2 rounds\n'
        "    cut\n    gather both\n")
    one, two = section_amounts(proof(text).outcomes[0][0].run)

    # Needles brought into work, two beds set twice, a yarn threaded, weights hung.
    assert (one.passes, one.moves, one.settings) == (9, 0, 1 + 2 * 2 + 1 + 1)
    # Three stitches at the left of each bed are moved, and the 62 that are left gathered.
    assert (two.passes, two.moves) == (4, 6 + 62)
    assert two.loops == {"main": 4 * 31}


def test_minutes_add_up():
    pace = Pace(carriage=3, hand=6, setting=12)

    assert minutes(20, 10, 5, pace) == pytest.approx((60 + 60 + 60) / 60)


def test_a_slower_pace_takes_longer():
    done = run(TUBE_64 + "\ncut\ngather both")
    total = sum(m.op.passes for m in done.moments if isinstance(m.op, Knit))
    slow, quick = minutes_for(done, Pace(carriage=4)), minutes_for(done, Pace(carriage=2))

    assert slow - quick == pytest.approx(total * 2 / 60)


SWATCHED = '''pattern "Strip"
yarn main "sock yarn" 400 m per 100 g
gauge plain 30 stitches, 40 rows per 10 cm{more}
section "Strip" in plain
    bring centre 30 of front into work to cast on
    set front to knit
    thread main
    knit 40 rows
    cut
    gather front
'''


def metres(more):
    (amount,) = yarn_amounts(proof(SWATCHED.format(more=more)).outcomes[0][0].run)
    return amount.metres, amount.loops


def test_a_weighed_swatch_goes_before_the_geometry():
    """100 stitches by 100 rows weigh 30 g at 4 m a gram: 120 m in 10,000 loops, 12 mm each."""
    found, loops = metres("\nswatch plain 100 stitches, 100 rows, 30 g of main")

    assert loops == 30 * 40
    assert found == pytest.approx(loops * 0.012 + 0.3)


@pytest.mark.parametrize("said, state", [(", measured dry", "dry"), (", measured wet", "wet"),
                                         ("", "washed"), (" measured washed", "washed")])
def test_the_state_of_the_swatch_decides_the_loop(said, state):
    """The loops of that state, in millimetres, and two ends of 15 cm."""
    found, loops = metres(said)
    loop = loop_length(Fraction(3, 10), Fraction(4, 10), state)

    assert found == pytest.approx(loops * loop / 1000 + 0.3)


def test_yarn_that_only_lies_over_stitches_is_yarn_too():
    """Two passes of tuck over 30 stitches: no stitch is made, and 60 strands are as long as 60
    stitches at most."""
    text = SWATCHED.format(more="").replace("    cut\n", """    cut
    set front to tuck
    thread stripe
    knit 2 rows
    cut
""").replace("gauge", 'yarn stripe "leftover" 400 m per 100 g\nyarn other "kept"\ngauge')
    plain, stripe = yarn_amounts(proof(text).outcomes[0][0].run)  # the third is not used

    assert (stripe.yarn.name, stripe.loops) == ("stripe", 0)
    assert (stripe.metres - 0.3) / 60 == pytest.approx((plain.metres - 0.3) / plain.loops)


@pytest.mark.parametrize("yarn, gauge, grams", [
    ("Nm 28/2", "gauge plain 30 stitches, 40 rows per 10 cm", True),
    ("400 m per 100 g", "", False), ("", "gauge plain 30 stitches, 40 rows per 10 cm", False)])
def test_balls_are_counted_only_where_weight_and_ball_are_known(yarn, gauge, grams):
    done = run(TUBE_64 + "\ncut\ngather both", f'yarn main "x" {yarn}\n{gauge}\n')
    (amount,) = yarn_amounts(done)

    assert (amount.grams is not None, amount.balls(2)) == (grams, None)


def test_sections_add_up_to_the_whole():
    done = proof((ROOT / "examples" / "family-sock.sockscript").read_text("utf-8"))
    run_ = done.outcomes[5][0].run
    parts = [section_metres(run_, section) for section in section_amounts(run_)]
    ends = run_.engine.ends["main"] * 0.15

    assert sum(part.get("main", 0) for part in parts) + ends == pytest.approx(
        yarn_amounts(run_)[0].metres)


def test_stripes_are_counted_by_their_own_loops():
    text = SWATCHED.format(more='\nyarn stripe "leftover" 400 m per 100 g').replace(
        "    cut\n", "    cut\n    thread stripe\n    knit 3 rows\n    cut\n")
    found = {a.yarn.name: a.loops for a in yarn_amounts(proof(text).outcomes[0][0].run)}

    assert found == {"main": 1200, "stripe": 90}


COUNTS = [
    # Ne 30 is 19.7 tex (mapofsciences.com, ring spinning); 30 tex is Nm 33 (wiki-groenkennisnet).
    ("Ne 30", 19.7, 0.05), ("Nm 33", 30, 0.4), ("30 tex", 30, 0),
    # tex 590.541/Ne and 885.812/worsted count, from the definitions of pound and yard.
    ("Ne 1", 590.541, 0.001), ("worsted count 1", 885.812, 0.001), ("Nm 1", 1000, 0),
    # Folded yarns, computed: the count of a single divided by the plies.
    ("Nm 28/2", 71.43, 0.005), ("worsted count 2/24", 73.82, 0.005), ("Ne 20/2", 59.05, 0.005),
]


@pytest.mark.parametrize("said, expected, within", COUNTS)
def test_yarn_counts_come_to_tex(said, expected, within):
    (yarn,) = prepared(f'yarn main "x" {said}\nsection "x"\n    note "x"\n').script.yarns

    assert tex(yarn.metres_per_gram) == pytest.approx(expected, abs=within or 1e-9)


@pytest.mark.parametrize("hank, system", [(840, "Ne 1"), (560, "worsted count 1")])
def test_yarn_counts_by_the_units_of_pint(hank, system):
    (yarn,) = prepared(f'yarn main "x" {system}\nsection "x"\n    note "x"\n').script.yarns
    metres = (hank * UREG.yard / UREG.pound).to("meter/gram").magnitude

    assert float(yarn.metres_per_gram) == pytest.approx(metres, rel=1e-12)
