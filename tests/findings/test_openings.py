"""Openings: what is knitted over their place, how it is marked, which way it is hung up.

Facts of the cloth; common practice of the trade, no source, where nothing else is said.
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, TUBE, findings, kinds

TECHNIQUE = """technique place-row with bed
    set bed to knit
    knit 1 row on bed
"""
ROWS = pytest.mark.parametrize("row", [
    "set front to knit\nknit 1 row on front", "set front to knit\nrepeat 1 times\n    knit 1 row",
    "do place-row with bed = front"])
HEEL = """set both to circular
thread main
knit 10 rounds
bind off both
cut
remove weights
bring centre 36 of both into work
rehang heel to centre 36 of front and centre 36 of back
thread main
hang weights
set both to circular
knit 10 rounds
bind off both
cut
remove weights"""
PLACE = TUBE + """
cut
set back to rest
thread {yarn}
{row}
cut
{mark} heel on front
move carriage to far side
""" + HEEL


def told(body: str) -> list[str]:
    return kinds(body, HEADER + TECHNIQUE)


# ---- the row over the place


@ROWS
@pytest.mark.parametrize(("yarn", "expected"), [
    ("main", ["opening-stays-shut"]), ("waste", []), ("cord", [])])
def test_what_is_knitted_over_a_slit_comes_out_again(row, yarn, expected):
    assert told(PLACE.format(yarn=yarn, row=row, mark="mark slit")) == expected


@ROWS
@pytest.mark.parametrize(("yarn", "expected"), [
    ("main", ["opening-stays-shut"]), ("waste", ["slit-on-wrong-bed"]),
    ("cord", ["slit-on-wrong-bed"])])
def test_a_slit_marked_on_the_bed_without_the_waste_yarn(row, yarn, expected):
    """It is told once: that the waste yarn stays in only follows."""
    body = PLACE.format(yarn=yarn, row=row, mark="mark slit").replace("heel on front",
                                                                      "heel on back")
    (found,) = findings(body, HEADER + TECHNIQUE)

    assert [found.kind] == expected
    if yarn != "main":
        assert found.advice == "Write  mark slit heel on front." and found.mend is not None


def test_waste_yarn_with_a_mark_of_its_own_is_not_meant_for_another_slit():
    two = PLACE.format(yarn="waste", row="set front to knit\nknit 1 row on front", mark="mark slit")
    body = two.replace("move carriage", "mark slit other on back\nmove carriage")

    assert "opening-stays-shut" in told(body) and "slit-on-wrong-bed" not in told(body)


def test_a_slit_with_no_waste_yarn_at_all_is_no_opening():
    found = findings(f"{TUBE}\nset back to rest\nset front to knit\nknit 2 rows on front\n"
                     "mark slit heel on front\n" + HEEL.replace("thread main\n", "", 1))

    assert [one.kind for one in found] == ["opening-stays-shut"]
    assert found[0].at.source.line(found[0].at.line).strip() == "mark slit heel on front"


def test_a_part_of_the_place_in_the_sock_s_own_yarn_stays_shut_too():
    body = PLACE.format(yarn="waste", row="hold left 6 of front\nset front to knit\n"
                        "respect hold on front\nknit 1 row on front\n"
                        "return held of front to work\ncancel hold on front", mark="mark slit")

    assert "opening-stays-shut" in told(body)


def test_rows_of_the_other_bed_after_the_waste_yarn_change_nothing():
    body = PLACE.format(yarn="waste", row="set front to knit\nknit 1 row on front",
                        mark="mark slit").replace(
        "mark slit heel on front\nmove carriage to far side\nset both to circular\nthread main\n",
        "move carriage to far side\nthread main\nset front to rest\nset back to knit\n"
        "knit 2 rows on back\nmark slit heel on front\nset both to circular\n")

    assert "opening-stays-shut" not in told(body)


def test_an_opening_that_was_marked_before_marks_no_other():
    """On the front; the second lies there too, and is marked on the back."""
    row = "cut\nset back to rest\nset front to knit\nthread waste\nknit 1 row on front\ncut\n"
    first = (f"{row}mark slit first on front\nmove carriage to far side\nset both to circular\n"
             "thread main\nknit 9 rounds\n")
    body = f"{TUBE}\n{first}{row}mark slit heel on back\nmove carriage to far side\n{HEEL}"

    assert "slit-on-wrong-bed" in told(body)


# ---- edge or slit


BEGUN = """bring centre 20 of front into work to cast on
set front to knit
thread waste
{rows}
cut
{mark} start on front
move carriage to far side
thread main
knit 10 rows
bind off front
cut
bring centre 20 of {beds} into work
rehang start to centre 20 of front{more}
gather both"""
MARKS = pytest.mark.parametrize(("mark", "expected"), [
    ("mark edge", True), ("mark slit", False)])


@ROWS
@MARKS
def test_waste_yarn_with_knitting_below_it_is_no_edge(row, mark, expected):
    body = PLACE.format(yarn="waste", row=row, mark=mark)

    assert told(body) == (["wrong-mark"] if expected else [])


@pytest.mark.parametrize(("rows", "found"), [(3, True), (4, False)])
def test_from_four_rows_on_waste_yarn_may_part_two_pieces(rows, found):
    """A second piece on the needles of the first: common practice, no source."""
    row = f"set front to knit\nknit {rows} rows on front"
    body = PLACE.format(yarn="waste", row=row, mark="mark edge")

    assert ("wrong-mark" in told(body)) is found


@pytest.mark.parametrize("rows", [
    "knit 8 rows", "repeat 8 times\n    knit 1 row", "cast on front\nknit 7 rows",
    "knit 7 rows\ncut\nthread cord\nknit 1 row", "cast on front"])
def test_waste_yarn_with_nothing_below_it_is_no_slit(rows):
    wrong = BEGUN.format(rows=rows, mark="mark slit", beds="both", more=" and centre 20 of back")
    right = BEGUN.format(rows=rows, mark="mark edge", beds="front", more="")

    assert "wrong-mark" in told(wrong)
    assert {"wrong-mark", "rehang-count"}.isdisjoint(told(right))


def test_stitches_hung_on_the_bed_by_hand_are_knitting_below():
    body = """bring centre 20 of back into work
set back to knit
thread main
cast on back
knit 10 rows
cut
bring centre 20 of front into work
transfer back to front
take back out of work
set back to rest
set front to knit
thread waste
{row}
cut
{mark} heel on front
thread main
knit 10 rows
bind off front
cut"""

    assert "wrong-mark" not in told(body.format(row="knit 2 rows", mark="mark slit"))
    assert "wrong-mark" in told(body.format(row="knit 2 rows", mark="mark edge"))


def test_the_mark_is_mended_in_its_line():
    body = PLACE.format(yarn="waste", row="set front to knit\nknit 1 row on front",
                        mark="mark edge")
    found, = findings(body)

    assert found.mend is not None and found.mend.text == "slit"
    assert found.message == "The waste yarn on the front bed has knitting below it: it keeps an " \
        "opening, but it is marked as an edge."


EDGE = """bring centre 20 of {bed} into work to cast on
set {bed} to knit
thread waste
knit 8 rows
{rows}{hang}
knit 4 rows
bind off {bed}
cut
"""
CORD = "cut\nthread cord\nknit 1 row\n"
MARK = "mark edge brim on {bed}\n"
OWN = "cut\nthread main\nknit 8 rows\n"


@pytest.mark.parametrize("bed", ["front", "back"])
@pytest.mark.parametrize("rows, expected", [
    (CORD + MARK + OWN, []), (CORD + "cut\n" + MARK + OWN.removeprefix("cut\n"), []),
    (MARK + OWN, ["ravel-cord-missing"]), (MARK + CORD + OWN, ["marked-too-early"]),
    (MARK + "knit 1 row\n" + CORD + OWN, ["marked-too-early"]),
    (MARK + "do last-row with yarn = cord\n" + OWN, ["marked-too-early"])])
def test_an_edge_is_marked_after_the_last_row_that_comes_out(bed, rows, expected):
    header = HEADER + ("technique last-row with yarn\n    cut\n    thread yarn\n"
                       "    knit 1 row\n")
    body = EDGE.format(bed=bed, rows=rows.format(bed=bed), hang=f"rehang brim onto {bed}")

    assert sorted(kinds(body, header)) == expected
    by_one = body.replace("knit 8 rows", "repeat 8 times\n    knit 1 row")
    assert sorted(kinds(by_one, header)) == expected


def test_a_slit_is_no_edge_that_is_marked_too_early():
    rows = (MARK.replace("edge", "slit") + CORD + OWN).format(bed="front")

    assert "marked-too-early" not in kinds(
        EDGE.format(bed="front", rows=rows, hang="rehang brim onto front"), HEADER)


@pytest.mark.parametrize("first, expected", [(CORD, ["marked-too-early"] * 2), ("", [])])
def test_the_edges_of_a_tube_are_marked_after_the_cord(first, expected):
    marks = "mark edge front-brim on front\nmark edge back-brim on back\n"
    cord = CORD.replace("1 row", "1 round")
    body = f"""bring centre 12 of both into work to cast on
set both to circular
thread waste
hang weights
knit 8 rounds
{'' if first else cord}{marks}{cord if first else ''}cut
thread main
knit 8 rounds
rehang front-brim onto front
rehang back-brim onto back
knit 4 rounds
cut
remove weights
gather both
"""
    assert [kind for kind in kinds(body) if kind == "marked-too-early"] == expected


# ---- no row over a length of waste yarn

KNITTED_IN = """do tube-cast-on with half = 14, yarn = main
stitch size 6
knit 10 rounds
remove comb
knit in waste over L6 to L2 of {bed} as place
{over}
{close}
half pitch
bring centre 5 of both into work
rehang place to centre 5 of front and centre 5 of back
hang weights
thread main
set both to circular
knit 6 rounds
cut
remove weights
gather both"""
CLOSED = "cut\nremove weights\ngather both"


@pytest.mark.parametrize("bed", ["front", "back"])
@pytest.mark.parametrize(("over", "close", "expected"), [
    ("", CLOSED, True), ("", "remove weights\nbind off both\ncut", True),
    ("", "remove weights\ncut\ngraft front to back", True), ("do close", "cut", True),
    ("set {other} to knit\nset {bed} to rest\nknit 2 rows\nset both to circular", CLOSED, True),
    ("knit 1 round", CLOSED, False), ("knit 2 rows", CLOSED, False),
    ("repeat 2 times\n    knit 1 row", CLOSED, False),
    ("stitch size 6\nknit 1 round", CLOSED, False),
    ("", "bind off left 1 of {bed}\nknit 2 rounds\n" + CLOSED, False)])
def test_a_row_of_the_yarn_lies_over_the_waste_yarn(bed, over, close, expected):
    """Its last loops are else waste yarn, which is drawn out."""
    body = KNITTED_IN.format(bed=bed, over=over, close=close).format(
        bed=bed, other={"front": "back", "back": "front"}[bed])
    close_ = "technique close\n    remove weights\n    bind off both\n"

    assert ("opening-not-covered" in kinds(body, HEADER + close_)) is expected


def test_two_lengths_of_waste_yarn_one_upon_the_other():
    body = KNITTED_IN.format(bed="front", close=CLOSED,
                             over="{}knit in waste over L3 to R2 of front "
                                  "as other-place\nknit 2 rounds")
    twice = [one for one in findings(body.format("").replace("knit 2 rounds\n", "", 1))
             if one.kind == "opening-not-covered"]
    shown = [one.others[-1].at.source.line(one.others[-1].at.line) for one in twice]
    assert [line.rpartition(" as ")[2] for line in shown] == ["place", "other-place"], twice
    assert ["knit in" in one.at.source.line(one.at.line) for one in twice] == [True, False]
    assert "opening-not-covered" not in kinds(body.format("knit 1 round\n"))
    assert "opening-not-covered" not in kinds(body.format("").replace("L3 to R2", "L1 to R4"))


def test_an_edge_that_was_taken_up_is_not_blamed_for_a_later_one_of_its_name():
    begin = ("do waste-start with around = 20, waste = waste, cord = cord, yarn = main\n"
             "knit 20 rows\n{}\nremove comb\nremove weights\nbind off front\ncut\n")
    closed = begin.format("rehang cast-on-edge onto centre 20 of front\nknit 1 row")
    lines = (closed + begin.format("knit 1 row")).splitlines()
    told = [one for one in findings("\n".join(lines)) if one.kind == "edge-left-open"]
    assert [one.at.line > len(closed.splitlines()) for one in told] == [True]
