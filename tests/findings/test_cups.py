"""Short rows that are not worked back to where they began.  Common practice, no source."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, TUBE, findings, kinds

STITCHES = 36
"""On each bed of the tube that all tests here begin with."""
END = "\ncancel hold on front\nset both to circular\nknit 4 rounds\nremove weights\n" \
    "cut\ngraft front to back"
BEGUN = "\nset back to rest\nset front to knit\nrespect hold on front\n"
IN = """repeat until 12 stitches in work on front
    hold far side 1 working of front
    knit 1 row on front
    wrap carriage side 1 held of front
"""
OUT = """repeat until {until} stitches in work on front
    return far side 1 held of front to work
    knit 1 row on front
    when 0 held at carriage side on front
        wrap carriage side 1 of back
    otherwise
        wrap carriage side 1 held of front
"""
ROWS_OUT = """repeat until {until} stitches in work on front
    return left 1 held of front to work
    return right 1 held of front to work
    knit 2 rows on front
"""


def told(body: str, header: str = "") -> bool:
    return "cup-stops-early" in kinds(f"{TUBE}{BEGUN}{body}{END}", HEADER + header)


@pytest.mark.parametrize("missing", [0, 2])
@pytest.mark.parametrize("out", [OUT, ROWS_OUT])
def test_one_at_an_end_may_come_back_with_the_round(out, missing):
    assert not told(IN + out.format(until=STITCHES - missing))


@pytest.mark.parametrize("out", [OUT, ROWS_OUT])
def test_two_at_an_end_come_back_too_early(out):
    assert told(IN + out.format(until=STITCHES - 4))


def test_what_went_in_last_by_more_may_come_back_by_one():
    """One, then two at once; of those that went in first two come back together."""
    aside = "".join(f"hold left {many} working of front\nhold right {many} working of front\n"
                    "knit 2 rows on front\n" for many in (1, 2, 1, 1, 1))

    assert told(aside + ROWS_OUT.format(until=STITCHES - 4))
    assert not told(aside + ROWS_OUT.format(until=STITCHES - 2))


def test_from_a_technique_it_is_the_same():
    def technique(text: str) -> str:
        return "technique cup with until\n" + "".join(
            f"    {line}\n" for line in text.replace("{until}", "until").splitlines())

    assert told(f"do cup with until = {STITCHES - 4}", technique(IN + OUT))
    assert not told(f"do cup with until = {STITCHES}", technique(IN + OUT))


def test_rows_that_only_become_shorter_are_a_wedge():
    assert not told(IN)


def test_what_came_back_by_twos_may_end_with_two():
    by_twos = ROWS_OUT.replace("left 1", "left 2").replace("right 1", "right 2")
    assert not told(IN + by_twos.format(until=STITCHES - 4))


def test_a_part_that_was_set_aside_in_one_go_comes_back_in_one():
    aside = "hold left 4 working of front\nknit 2 rows on front\n"
    inner = IN.replace("12", str(STITCHES - 8))
    back = OUT.replace("left", "right").format(until=STITCHES - 4).replace(
        "far side 1 held", "right 1 held")
    assert not told(aside + inner.replace("far side 1 working", "right 1 working") + back)


def test_parts_set_aside_before_short_rows_at_the_same_ends_come_back_in_one():
    def aside(many: int) -> str:
        return f"hold left {many} of front\nhold right {many} of front\nknit 2 rows on front\n"

    steps = f"""repeat until {STITCHES - 20} stitches in work on front
    hold left 1 working of front
    hold right 1 working of front
    knit 2 rows on front
""" + ROWS_OUT.format(until=STITCHES - 12)

    assert not told(aside(6) + steps)
    assert told(aside(3) + aside(6) + steps)


@pytest.mark.parametrize("out, amount", [(9, 0), (8, 0), (7, 2), (6, 3)])
def test_what_waits_beside_half_a_heel_is_not_counted(out, amount):
    """Half a heel at the edge of a flat piece: most of the stitches are set aside in one go."""
    rows = "    knit 1 row\n    wrap carriage side 1 held of front\n    knit 1 row\n"
    found = [one.message for one in findings(f'''bring centre 40 of front into work
set front to knit
thread main
cast on front
knit 20 rows
respect hold on front
hold left 26 of front
knit 1 row
wrap carriage side 1 held of front
knit 1 row
repeat 9 times
    hold left 1 working of front
{rows}repeat {out} times
    return left 1 held of front to work
{rows}cancel hold on front
knit 20 rows
bind off front
cut''', HEADER) if one.kind == "cup-stops-early"]

    assert [int(message.split("early: ")[1].split()[0]) for message in found] == [
        amount] * bool(amount)


def test_a_part_set_aside_in_one_go_after_the_first_turn_comes_back_in_one():
    def cup(*parts: int) -> str:
        aside = "".join(f"hold left {part} working of front\nknit 2 rows on front\n"
                        for part in parts)
        both = "    hold left 1 working of front\n    hold right 1 working of front\n"
        return ("hold right 1 working of front\nknit 2 rows on front\n"
                f"{aside}hold left 1 working of front\nknit 2 rows on front\n"
                f"repeat 2 times\n{both}    knit 2 rows on front\n"
                + ROWS_OUT.format(until=STITCHES - sum(parts)))

    assert not told(cup(10))
    assert told(cup(5, 5))


# ---- two halves unlike

IN_BY = """repeat until 12 stitches in work on {bed}
    hold carriage side {step} working of {bed}
    knit 1 row on {bed}
wrap carriage side 1 held of {bed}
"""
BACK = """return far side {step} held of {bed} to work
knit 1 row on {bed}
wrap carriage side 1 held of {bed}
"""
LAST = """repeat 2 times
    return far side 1 held of {bed} to work
    knit 1 row on {bed}
    wrap carriage side 1 of {other}
"""
BOTH_ENDS = """repeat {times} times
    hold left {step} working of {bed}
    knit 1 row on {bed}
    hold right {step} working of {bed}
    knit 1 row on {bed}
wrap carriage side 1 held of {bed}
"""


def lopsided(going_in, out, bed="front", header=""):
    other = "back" if bed == "front" else "front"
    body = going_in + "".join(BACK.replace("{step}", str(step)) for step in out) + LAST
    body = body.replace("{bed}", bed).replace("{other}", other)
    begun = f"\nset {other} to rest\nset {bed} to knit\nrespect hold on {bed}\n"
    end = "set both to circular\nknit 4 rounds\nremove weights\ngraft front to back\ncut"
    return "cup-lopsided" in kinds(f"{TUBE}{begun}{body}{end}", HEADER + header)


@pytest.mark.parametrize("bed", ["front", "back"])
@pytest.mark.parametrize("step, out, told_of", [
    (1, [1] * 22, False), (2, [1] * 22, True), (1, [2] * 10 + [1] * 2, True),
    (2, [2] * 10 + [1] * 2, False), (1, [2] * 8 + [1] * 6, True), (1, [2] * 6 + [1] * 10, False)])
def test_the_two_halves_of_a_cup_go_at_one_pace(bed, step, out, told_of):
    """One needle a row in and two a row out lean to one side; so do 23 rows and 15, not 17."""
    assert lopsided(IN_BY.replace("{step}", str(step)), out, bed) == told_of


@pytest.mark.parametrize("going_in, told_of", [
    (BOTH_ENDS.replace("{times}", "12").replace("{step}", "1"), False),
    (BOTH_ENDS.replace("{times}", "6").replace("{step}", "2"), True)])
def test_needles_held_at_either_end_by_name(going_in, told_of):
    assert lopsided(going_in, [1] * 22) == told_of


def test_rows_of_the_other_bed_between_are_none_of_the_cup():
    half = BOTH_ENDS.replace("{times}", "6").replace("{step}", "1")
    other = ("set front to rest\nset back to knit\nknit 20 rows on back\nset back to rest\n"
             "set front to knit\n")

    assert not lopsided(half + other + half, [1] * 22)


def test_a_lopsided_cup_from_a_technique():
    technique = "technique narrow with bed, each\n" + "".join(
        f"    {line}\n" for line in IN_BY.replace("{step}", "each").replace("{bed}", "bed")
        .splitlines())
    for by in (1, 2):
        assert lopsided(f"do narrow on front with each = {by}\n", [1] * 22, header=technique) \
            == (by == 2)


@pytest.mark.parametrize("begun, more, told_of", [
    ("hold carriage side 1 working of front\nknit 3 rows on front\n", 3, False),
    ("hold left 1 of front\nhold right 1 of front\nknit 1 row on front\n", 4, True)])
def test_few_needles_show_no_pace(begun, more, told_of):
    """Three rows to a needle in, one out. Of the needles of a half those count that follow the
    first."""
    going_in = begun + "hold carriage side 1 working of front\nknit 3 rows on front\n" * more
    out = [1] * (more + ("left" in begun) + 1 - 2)

    assert lopsided(going_in + "wrap carriage side 1 held of front\n", out) == told_of


@pytest.mark.parametrize("many, steps, told_of", [(3, 2, True), (6, 1, False)])
def test_a_pace_takes_two_rows(many, steps, told_of):
    """Six at each end in one row are a part set aside; three and three in two rows are a pace."""
    going_in = "".join(f"hold left {n} working of front\nhold right {n} working of front\n"
                       "knit 1 row on front\n" for n in (1, *[many] * steps))

    assert lopsided(going_in + "wrap carriage side 1 held of front\n", [1] * 12) == told_of
