"""Needles in hold, weights, first rows and waste yarn: each rule on both sides of its limit.

The limits are common practice, no source; the pages of the findings tell them.
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, checked, findings, flat, kinds, on_both, rib

FLAT = flat(20, "{bed}") + "knit 2 rows\n"
END = "\ncut\ngather {bed}"


def told(body: str, name: str, bed: str = "front") -> list[str]:
    """The messages of one kind."""
    return [one.message for one in findings((FLAT + body + END).replace("{bed}", bed))
            if one.kind == name]


# ---- how long a stitch is held


@pytest.mark.parametrize("bed", ["front", "back"])
@pytest.mark.parametrize("rows, worn", [
    ("knit 80 rows", ""), ("knit 81 rows", "L10 and L6"), ("knit 40 rows\nknit 40 rows", ""),
    ("knit 40 rows\nhold R10 of {bed}\nknit 41 rows", "L10"),
    ("hold R10 of {bed}\nknit 40 rows\nknit 41 rows", "L10 and R10"),
    ("knit 40 rows\nreturn held of {bed} to work\nknit 1 row\nhold L10 of {bed}\nknit 80 rows", ""),
    ("knit 80 rows\nset {bed} to rest\nknit 10 rows", "")])
def test_a_stitch_waits_for_eighty_rows_at_most(bed, rows, worn):
    """The outermost of those that wait are named; on a bed that rests nothing rubs."""
    found = told(f"respect hold on {bed}\nhold L10 to L6 of {bed}\n{rows.replace('{bed}', bed)}\n"
                 f"return held of {bed} to work\ncancel hold on {bed}", "held-too-long", bed)

    assert len(found) == bool(worn)
    for message in found:
        needles, hold = ("Needles", "hold") if " " in worn else ("Needle", "holds")
        assert message.startswith(
            f"{needles} {worn} of the {bed} bed {hold} stitches past more than 80 rows")


def test_who_forgets_to_set_hold_is_told_once_on_each_bed():
    forgets = "hold left 3 of front\nknit 1 row\nhold right 3 of front\nknit 1 row"

    assert len(told(forgets, "hold-not-set")) == 1


def test_a_new_stitch_between_two_that_wait_turns_beside_them():
    body = ("respect hold on front\nhold L10 to L1 of front\nhold R2 to R10 of front\n"
            "drop R1 of front\nknit {}\nreturn held of front to work\nknit 2 rows")

    assert len(told(body.format("2 rows"), "short-row-hole")) == 1
    assert told(body.format("1 row"), "short-row-hole") == []


# ---- where needles come back


@pytest.mark.parametrize("bed", ["front", "back"])
@pytest.mark.parametrize("end, many, expected", [
    ("carriage side", 1, 1), ("carriage side", 3, 1), ("carriage side", 4, 0), ("far side", 1, 0),
    ("far side", 4, 0)])
def test_needles_come_back_one_by_one_at_the_end_opposite_the_carriage(bed, end, many, expected):
    """All of those at an end may come back at once."""
    body = (f"respect hold on {bed}\nhold left 4 of {bed}\nhold right 4 of {bed}\n"
            f"return {end} {many} held of {bed} to work\nreturn held of {bed} to work\n"
            f"cancel hold on {bed}\nknit 1 row")
    found = told(body, "returned-at-carriage", bed)

    assert len(found) == expected
    assert all(f"{bed} bed come{'s' * (many == 1)} back at the right" in one for one in found)
    # Who holds what is held already returns nothing.
    again = body.replace(f"return {end} {many} held of {bed} to work", f"hold right 2 of {bed}")
    assert told(again, "returned-at-carriage", bed) == []


# ---- weights


RIB = rib(20) + """knit 1 row
set both to circular
knit 2 rows
set both to knit
{}
cut
gather both"""


@pytest.mark.parametrize("rows, amount", [
    ("knit 4 rows", 0), ("knit 5 rows", 5), ("knit 4 rows\nknit 1 row", 5),
    ("repeat 5 times\n    knit 1 row", 5),
    ("knit 3 rows\nset both to circular\nknit 2 rows\nset both to knit\nknit 3 rows", 0),
    ("hang comb\nknit 9 rows\nremove comb", 0), ("hang weights\nknit 9 rows\nremove weights", 0)])
def test_how_many_rows_of_rib_go_without_weights(rows, amount):
    found = [one.message for one in findings(RIB.format(rows))
             if one.kind == "rib-without-weights"]

    assert [message.split()[0] for message in found] == [str(amount)] * bool(amount)


@pytest.mark.parametrize("begin, rows, told_of", [
    ("hang weights", "knit 5 rows", "3 rows"), ("hang weights", "knit 4 rows", ""),
    ("hang weights", "repeat 5 times\n    knit 1 row", "3 rows"),
    ("hang weights", "do more", "3 rows"),
    ("knit 1 row\nhang weights", "knit 5 rows", "4 rows"),
    ("knit 2 rows\nhang weights", "knit 5 rows", ""),
    ("hang comb\nhang weights", "knit 5 rows\nremove comb", ""),
    ("hang weights\nhang comb", "knit 5 rows\nremove comb", ""),
    ("hang weights", "set both to circular\nknit 9 rounds", "")])
def test_on_how_many_rows_of_a_rib_weights_find_nothing_without_the_comb(begin, rows, told_of):
    """After five rows they hang in the rib itself, as they do on a cast-on by hand."""
    lines = f"{begin}\n{rows}\nremove weights"
    more = HEADER + "technique more\n    knit 5 rows\n"
    by_hand = RIB.replace(" to cast on", "").replace("knit 1 row\n", "cast on both\n", 1)
    found = [one.message for one in findings(RIB.format(lines), more)
             if one.kind == "rib-without-comb"]

    assert [f"on {told_of} of a rib" in message for message in found] == [True] * bool(told_of)
    assert "rib-without-comb" not in [one.kind for one in findings(by_hand.format(lines), more)]


@pytest.mark.parametrize("rows, amount", [
    ("knit 16 rows", 0), ("knit 17 rows", 17), ("knit 8 rounds", 0), ("knit 9 rounds", 18),
    ("knit 16 rows\nhang weights\nknit 9 rounds\nremove weights", 0),
    ("hang weights\nknit 9 rounds\nremove weights\nknit 17 rows", 17)])
def test_how_many_passes_of_a_tube_go_without_weights(rows, amount):
    found = [one.message for one in findings(f'''bring centre 20 of both into work to cast on
set both to knit
thread main
knit 1 row
set both to circular
{rows}
cut
gather both''') if one.kind == "tube-without-weights"]

    assert [message.split()[0] for message in found] == [str(amount)] * bool(amount)


SHORT = "hang weights\nrespect hold on front\nhold left 5 of front\n"


@pytest.mark.parametrize("rows, amount", [
    ("knit 20 rows", 0), ("knit 21 rows", 21), ("knit 20 rows\nknit 1 row", 21),
    ("knit 21 rows\nknit 10 rows", 31), ("knit 21 rows\nmove weights\nknit 10 rows", 21),
    ("knit 15 rows\nmove weights\nknit 15 rows", 0),
    ("knit 15 rows\nreturn held of front to work\nknit 2 rows\nhold left 5 of front\n"
     "knit 15 rows", 0),
    ("knit 21 rows\nreturn held of front to work\nknit 10 rows", 21),
    ("remove weights\nknit 30 rows\nhang weights", 0),
    ('note "Move the weights now and then."\nknit 30 rows', 0)])
def test_how_many_short_rows_go_with_the_weights_in_one_place(rows, amount):
    found = told(f"{SHORT}{rows}\nremove weights\nreturn held of front to work\n"
                 "cancel hold on front", "weights-not-moved")

    assert [message.split()[0] for message in found] == [str(amount)] * bool(amount)


def test_weights_are_looked_after_section_by_section():
    def sections(*rows: int) -> list[str]:
        body = (FLAT + SHORT).replace("{bed}", "front").splitlines()
        parts = [[*body, f"knit {rows[0]} rows"], *([f"knit {count} rows"] for count in rows[1:])]
        text = HEADER + "".join(f'section "{n}"\n' + "".join(f"    {line}\n" for line in lines)
                                for n, lines in enumerate(parts))
        return [one.kind for one in checked(text).findings if one.kind == "weights-not-moved"]

    assert sections(15, 20) == []
    assert sections(15, 21) == ["weights-not-moved"]
    assert sections(21, 21) == ["weights-not-moved"] * 2


# ---- first rows


@pytest.mark.parametrize("needles, bare", [
    ("L2 to R2", True), ("L1 to R1 and R4 to R5", True), ("L1 to R1 and R4", False),
    ("every other of centre 8", False), ("R1", False)])
@pytest.mark.parametrize("bed", ["front", "back"])
def test_a_strand_over_needles_side_by_side_is_no_edge(needles, bare, bed):
    body = (f"bring {needles} of {bed} into work to cast on\nset {bed} to knit\nthread main\n"
            f"%s\ncut\ngather {bed}")

    assert ("bare-strand" in kinds(body % "knit 4 rows")) == bare
    assert "bare-strand" not in kinds(body % "knit 1 row\nhang comb\nknit 3 rows\nremove comb")
    assert ("bare-strand" in kinds(body % "knit 1 row\nknit 1 row\nhang comb\nremove comb")) == bare
    assert ("bare-strand" in kinds(body % "knit 2 rows\nhang comb\nknit 2 rows\nremove comb")) \
        == bare


@pytest.mark.parametrize("rows, missing", [("knit 3 rows", 0), ("knit 4 rows", 4),
                                           ("knit 2 rows\nknit 4 rows", 6)])
@pytest.mark.parametrize("cord", ["", "cut\nthread cord\nknit 1 row\n"])
def test_waste_yarn_of_four_rows_wants_a_row_of_cord(rows, missing, cord):
    found = findings(f'''bring centre 20 of front into work to cast on
set front to knit
thread waste
{rows}
{cord}cut
mark edge start on front
thread main
knit 8 rows
rehang start onto all of front
knit 1 row
cut
gather front''')
    told_of = [one.message for one in found if one.kind == "ravel-cord-missing"]

    assert [f"on {missing} rows" in one for one in told_of] == [True] * (bool(missing) and not cord)


NARROW = HEADER.replace("gauge plain", "machine\n    beds 2\n    needles 20\ngauge plain")


@pytest.mark.parametrize("bed", ["front", "back"])
def test_the_outermost_needle_of_the_machine_is_a_needle_like_others(bed):
    short = f"\nhold right 19 of {bed}\nrespect hold on {bed}\nknit 2 rows\n" \
        f"return right 19 held of {bed} to work\nknit 2 rows"
    tube = on_both(20) + "\nknit 1 row\nset both to circular\nknit 4 rounds\n" \
        f"hold left 1 of {bed}\nrespect hold on {bed}\nknit 4 rounds\n" \
        f"return left 1 held of {bed} to work\nknit 2 rounds"

    assert "short-row-hole" in kinds(flat(20, bed) + "\nknit 3 rows" + short, NARROW)
    assert "held-never-returned" in kinds(tube, NARROW)
