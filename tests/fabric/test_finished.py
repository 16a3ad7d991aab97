"""The parts of a sock as worn, and openings that go over the heel."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from support.scripts import checked, proof

from sockscript.fabric.finished import PLAIN_STRETCH, RIB_STRETCH, finished, openings
from sockscript.fabric.measures import measures

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def runs(name):
    done = proof((EXAMPLES / f"{name}.sockscript").read_text("utf-8"))
    return [outcomes[0].run for outcomes in done.outcomes]


@pytest.mark.parametrize("run", runs("family-sock"), ids=lambda run: run.size_name)
def test_a_cuff_down_sock_measures_what_was_knitted(run):
    """By hand from the script: half the stitches less the narrow ones are the depth of the heel."""
    given = {name: values[run.size].value for name, values in run.script.sizes.measures.items()}
    parts = finished(run)
    half = round(given["foot-round"] * Fraction(9, 10) * Fraction(3, 10) / 4) * 2
    narrow = round(half / 6) * 2
    row = Fraction(100, 42)

    assert abs(parts.heel - (half - narrow) * row) <= row
    assert abs(parts.foot - given["foot-length"]) <= 10
    # The row that turns the rib to a tube is the only one beside cuff and leg.
    assert abs(parts.leg - given["cuff-length"] - given["leg-length"]) <= 2 * row + 3
    assert 0 < parts.toe < parts.foot / 3


@pytest.mark.parametrize("run", runs("toe-up-sock"), ids=lambda run: run.size_name)
def test_a_toe_up_sock_has_its_toe_first(run):
    parts = finished(run)
    given = {name: values[run.size].value for name, values in run.script.sizes.measures.items()}

    assert abs(parts.foot - given["foot-length"]) <= 12
    assert parts.toe < parts.foot
    assert parts.leg > 0


@pytest.mark.parametrize("run", runs("flat-sock"), ids=lambda run: run.size_name)
def test_two_halves_of_a_heel_are_one_heel(run):
    given = {name: values[run.size].value for name, values in run.script.sizes.measures.items()}

    assert abs(finished(run).foot - given["foot-length"]) <= 10


def test_a_leg_warmer_has_no_foot():
    assert all(part is None for run in runs("leg-warmer") for part in finished(run))


WARMER = '''pattern "Warmer"
yarn main "four-ply sock wool"
gauge plain 30 stitches, 42 rows per 10 cm

let heel-round = 33 cm

section "Warmer" in plain
    do tube-cast-on with half = 29, yarn = main
    stitch size 6
    knit 30 rounds
    remove comb
    remove weights
    scrap off front as front-loops
    scrap off back as back-loops
'''


def kinds(text):
    return [f.kind for f in checked(text).findings]


def test_a_tube_reaches_its_girth_times_the_stretch():
    """58 stitches at 3 a cm are 193.3 mm; plain knit pulls out to 1.6 times (common practice,
    no source)."""
    (opening, *_) = openings(proof(WARMER).outcomes[0][0].run)

    assert (opening.girth, opening.rib) == (Fraction(5800, 30), False)
    assert opening.reach == opening.girth * PLAIN_STRETCH


def test_the_narrowest_place_of_a_section_has_to_go_over_the_heel():
    """58 stitches, 56 above: 56 at 3 a cm are 186.7 mm."""
    narrower = WARMER.replace("30 rounds\n", "30 rounds\n"
                              "    move 2 stitches at left of front in by 1\n"
                              "    move 2 stitches at left of back in by 1\n    knit 4 rounds\n")
    (opening, *_) = openings(proof(narrower).outcomes[0][0].run)

    assert opening.girth == Fraction(5600, 30)


def test_rib_reaches_further():
    """Rib to 1.5 to 2 times its width, plain knit to less: common practice, no source."""
    found = openings(runs("family-sock")[0])

    assert [o.rib for o in found if o.section.title == "Cuff"] == [True]
    assert all(o.reach == o.girth * (RIB_STRETCH if o.rib else PLAIN_STRETCH) for o in found)


RIBBED = '''    do tubular-cast-on with around = 60, yarn = main
    knit 20 rows
    remove comb
    remove weights
    bind off front
    bind off back
'''


@pytest.mark.parametrize(("heel", "rib", "tight"), [
    ("32 cm", False, False), ("321 mm", False, True), ("36 cm", True, False),
    ("361 mm", True, True)])
def test_how_far_60_stitches_go_over_a_heel(heel, rib, tight):
    """At 3 stitches a cm 20 cm: plain knit pulls out to 32 cm, rib to 36 cm."""
    text = WARMER.replace("33 cm", heel).replace("half = 29", "half = 30")
    if rib:
        text = text[:text.index("    do tube-cast-on")] + RIBBED

    assert ("cuff-too-tight" in kinds(text)) == tight


@pytest.mark.parametrize(("rows", "closed"), [(1, True), (2, True), (3, False)])
@pytest.mark.parametrize("way", ["knit {} rows", "repeat {} times\n        knit 1 row"])
def test_a_row_or_two_over_both_beds_close_the_end_of_a_tube(rows, closed, way):
    """More of them are a rib, and the end is open: common practice, no source."""
    text = (f"{WARMER[:WARMER.index('    scrap off')]}    set both to knit\n"
            f"    {way.format(rows)}\n    bind off front\n    bind off back\n")

    assert (openings(proof(text).outcomes[0][0].run) == []) == closed


def test_the_author_can_say_how_far_it_stretches():
    """33 cm of heel by 58 stitches at 3 a cm, 19.33 cm, are 1.707."""
    assert "cuff-too-tight" in kinds(WARMER)
    assert "cuff-too-tight" not in kinds(WARMER.replace("per 10 cm", "per 10 cm stretches to 172%"))
    assert "cuff-too-tight" in kinds(WARMER.replace("per 10 cm", "per 10 cm stretches to 170%"))


def test_a_foot_need_not_go_over_the_heel():
    """In a sock that is closed at the toe only leg and cuff pass the heel."""
    titles = {o.section.title for o in openings(runs("family-sock")[0])}

    assert titles == {"Cuff", "Turn to a tube", "Leg"}


def test_sections_of_one_title_are_measured_each_for_itself():
    """10 and 30 rows at 40 rows over 10 cm are 2.5 and 7.5 cm; a third title is taken already."""
    made = proof('''pattern "Bands"
yarn main "wool"
gauge plain 30 stitches, 40 rows per 10 cm
section "Band" in plain
    bring centre 60 of front into work to cast on
    set front to knit
    thread main
    knit 10 rows
section "Band (2)" in plain
    knit 20 rows
section "Band" in plain
    knit 30 rows
    bind off front
    cut
''').outcomes[0][0].run

    assert [(one.title, float(one.length)) for one in measures(made)] == [
        ("Band", 25.0), ("Band (2)", 50.0), ("Band (3)", 75.0)]
