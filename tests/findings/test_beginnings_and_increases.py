"""How a piece is begun and widened: a toe that is open at its tip, loops lifted where there are
none; and the heel in the middle of a flat sock, told as it is.  Each with the nearest sound
script."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, checked, findings, kinds

from sockscript.findings.told_back import told_back

BY_HAND = """bring centre {half} of both into work
thread main
cast on both
hang weights
set both to circular"""
ZIGZAG = """bring centre {half} of both into work to cast on
set both to knit
thread main
knit 1 row
hang weights
set both to circular"""
WIDENED = """{begin}
repeat until {wide} stitches on front
    do increase-once
    {rounds}
knit 10 rounds
bind off both
cut
remove weights"""


def widened(begin: str, half: int = 12, wide: int = 20, rounds: str = "knit 2 rounds",
            techniques: str = "") -> set[str]:
    return set(kinds(WIDENED.format(begin=begin.format(half=half), wide=wide, rounds=rounds),
                     HEADER + techniques))


# ---- a toe that begins open

@pytest.mark.parametrize("rounds", ["knit 2 rounds", "knit 4 rows",
                                    "repeat 4 times\n        knit 1 row"])
def test_a_toe_cast_on_by_hand_on_each_bed_is_open(rounds):
    assert "narrow-start-open" in widened(BY_HAND, rounds=rounds)
    assert "narrow-start-open" not in widened(ZIGZAG, rounds=rounds)


def test_from_a_technique_it_is_as_open():
    lines = BY_HAND.format(half="many").replace("main", "yarn").replace("\n", "\n    ")
    assert "narrow-start-open" in widened("do begin with many = 12, yarn = main",
                                          techniques=f"technique begin with many, yarn\n    {lines}"
                                                     "\n")


def test_a_row_over_both_beds_closes_it():
    """As on stitches that were cast on by hand with a longer yarn, for a firm toe."""
    row = "hang weights\nset both to knit\nknit 1 row\nset both to circular"
    assert "narrow-start-open" not in widened(
        BY_HAND.replace("hang weights\nset both to circular", row))


@pytest.mark.parametrize(("wide", "open_toe"), [(20, True), (18, False)])
def test_more_than_six_tenths_let_a_foot_through(wide, open_toe):
    """12 of 20 stitches a bed are just so many; common practice, no source."""
    assert ("narrow-start-open" in widened(BY_HAND, wide=wide)) is open_toe


# ---- increases one upon the other

LIFTED = """{begin}
knit 2 rounds
bring L13 of front into work
move 2 stitches at left of front out by 1
fill empty of front from right
{between}
bring L14 of front into work
move {moved} stitches at left of front out by 1
fill empty of front from right
knit 10 rounds
gather both
cut
remove weights"""


@pytest.mark.parametrize(("between", "moved", "wrong"), [
    ("", 2, True),  # the loop beside the gap is the one that was just lifted
    ("move carriage to far side\nmove carriage to far side", 2, True),
    ("", 5, False),  # another stitch, further in
    ("", 1, False),  # another, further out
    ("knit 1 round", 2, False), ("knit 2 rows", 2, False), ("knit 1 row\nknit 1 row", 2, False),
    ("set back to rest\nset front to knit\nknit 2 rows\nset both to circular", 2, False),
    ("set front to rest\nset back to knit\nknit 2 rows\nset both to circular", 2, True),
])
def test_there_is_no_loop_below_one_that_was_just_lifted(between, moved, wrong):
    told = findings(LIFTED.format(begin=ZIGZAG.format(half=24), between=between, moved=moved))
    lifted = [one for one in told if one.kind == "lifted-twice"]
    assert bool(lifted) is wrong
    if lifted:
        (shown,) = lifted[0].others
        assert shown.at.line < lifted[0].at.line


def test_from_a_technique_too():
    assert "lifted-twice" in widened(ZIGZAG, rounds='note "and so on"')
    assert "lifted-twice" not in widened(ZIGZAG)


# ---- what is told of shape

HALF_OF_IT = """pattern "Heel in the middle"
yarn main "wool"
gauge plain 22 stitches, 30 rows per 10 cm
sizes            Only
    foot-length  22 cm
    cuff-length  {cuff}
let wide = 42
section "Sock" in plain
    {top}
    set front to knit
    stitch size 8
    hang weights
    knit 30 rows
    note "Keep the weights under the needles that knit."
    respect hold on front
    hold far side 10 of front
    knit 1 row
    hold far side 10 of front
    wrap carriage side 1 held of front
    repeat until {point} stitches in work on front
        knit 1 row
        hold carriage side 1 working of front
    knit 1 row
    wrap carriage side 1 held of front
    repeat until 22 stitches in work on front
        return far side 1 held of front to work
        knit 1 row
        wrap carriage side 1 held of front
    return far side 10 held of front to work
    knit 1 row
    cancel hold on front
    knit 1 row
    knit even rows for a foot length of foot-length
    repeat until 18 stitches on front
        {toe}
    {end}remove weights
    cut
    gather front
    sew sides
"""
PLAIN_TOP = "bring centre wide of front into work\n    thread main\n    cast on front"
HEM = """do waste-start with around = wide, waste = waste, cord = cord, yarn = main, edge = brim
    knit 10 rows
    stitch size 10
    knit 1 row
    stitch size 8
    knit 9 rows
    rehang brim onto centre wide of front
    knit 1 row
    remove comb
    remove weights"""
WASTE = 'yarn main "wool"\nyarn waste "cotton" as waste\nyarn cord "cord" as ravel cord'


MOVED = """move 3 stitches at left of front in by 1
        move 3 stitches at right of front in by 1
        {rows}"""


def flat_sock(point: int = 8, top: str = PLAIN_TOP, cuff: str = "4 cm",
              toe: str = MOVED.format(rows="knit 1 row"), end: str = "",
              techniques: str = "") -> set[str]:
    text = HALF_OF_IT.format(point=point, top=top, cuff=cuff, toe=toe, end=end) + techniques
    if "waste" in top:
        text = text.replace('yarn main "wool"', WASTE)
    return {finding.kind for finding in checked(text).findings}


@pytest.mark.parametrize(("point", "unusual"), [(4, True), (6, False), (8, False), (10, False),
                                                (12, True)])
def test_the_instep_that_waits_is_no_part_of_the_heel(point, unusual):
    """Of 42 stitches 22 are the heel, of which a third is left at its point."""
    assert ("heel-point-unusual" in flat_sock(point)) is unusual


@pytest.mark.parametrize(("cuff", "missing"), [
    ("3 cm", False), ("4.3 cm", False), ("4.4 cm", True), ("2.3 cm", True), ("6 cm", True)])
def test_a_hem_may_be_the_cuff(cuff, missing):
    """20 rows that lie double: 3.33 cm at 30 rows over 10 cm; a cuff may be off by 1 cm."""
    assert ("not-measured" in flat_sock(top=HEM, cuff=cuff)) is missing


ONE_SIDE = MOVED.replace("at right", "at left", 1).partition("\n")[2].lstrip()


@pytest.mark.parametrize("rows", ["knit 1 row", "knit 2 rows", "knit 1 row\n        knit 1 row"])
def test_the_toe_of_a_flat_sock_is_narrowed_at_both_edges(rows):
    one_side = ONE_SIDE.format(rows=rows)
    assert "decreases-not-mirrored" in flat_sock(toe=one_side)
    assert "decreases-not-mirrored" not in flat_sock(toe=MOVED.format(rows=rows))
    lines = one_side.replace("\n        ", "\n    ")
    assert "decreases-not-mirrored" in flat_sock(
        toe="do narrow", techniques=f"technique narrow\n    {lines}\n")


@pytest.mark.parametrize(("more", "told"), [(1, False), (2, True)])
def test_one_stitch_makes_a_number_fit(more, told):
    left = "move 3 stitches at left of front in by 1\n    knit 1 row\n    "
    assert ("decreases-not-mirrored" in flat_sock(end=left * more)) is told


def test_a_toe_is_told_to_be_begun_closed_only_if_it_is():
    for begin, closed in ((BY_HAND, False), (ZIGZAG, True)):
        lines = WIDENED.format(begin=begin.format(half=12), wide=20, rounds="knit 2 rounds")
        lines = lines.replace(
            "bind off both", "do heel on front with leave = 6\nset both to circular\n"
            "knit 20 rounds\nbind off both").replace("\n", "\n    ")
        told = told_back(checked(f'{HEADER}section "Sock"\n    {lines}\n').proof)
        assert ("begun closed" in " ".join(map(str, told))) is closed


HALF_WIDE = """pattern "Half its width"
yarn main "wool"
gauge plain 30 stitches, 40 rows per 10 cm
section "Sock" in plain
    bring centre 20 of front into work
    set front to knit
    thread main
    cast on front
    knit 60 rows
    do cup with leave = 8
    knit even rows for a foot length of {foot}
    do cup with leave = 8
    knit 20 rows
    bind off front
    cut
    sew sides
technique cup with leave
    do short-rows-in on front with leave = leave
    wrap carriage side 1 held of front
    do short-rows-out-wrapped on front with until = 20
    cancel hold on front
"""


@pytest.mark.parametrize(("foot", "rows"), [("23 cm", 68), ("24.2 cm", 72)])
def test_rows_of_a_sock_in_half_its_width_are_found_from_its_foot(foot, rows):
    """At 40 rows over 10 cm the cups, 23 short rows and a whole one each, add 6 cm to them."""
    found = checked(HALF_WIDE.format(foot=foot))
    assert "no-rows-fit" not in {finding.kind for finding in found.findings}
    (runs,) = found.proof.outcomes
    assert rows in [getattr(moment.op, "passes", 0) for moment in runs[0].run.moments]
