"""Short rows that are not worked back to where they began.  Common practice, no source."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, TUBE, kinds

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
