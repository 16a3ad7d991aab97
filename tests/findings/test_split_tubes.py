"""Rows of one bed of a tube that hang on nothing at their sides.

Facts of the cloth; the limit (3 rows, as at the ends of a heel) is common practice, no source.
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, TUBE, findings, kinds

TECHNIQUE = """technique rows-of with many
    repeat many times
        knit 1 row
"""
ROWS = pytest.mark.parametrize("rows", [
    "knit {} rows", "repeat {} times\n    knit 1 row", "do rows-of with many = {}"])

BEGUN = """bring centre 24 of front into work to cast on
set front to knit
stitch size 6
thread waste
knit 8 rows
hang weights
cut
thread cord
knit 1 row
cut
mark edge toe on front
move carriage to far side
thread main
"""
CUP = """note "Move the weights."
respect hold on front
repeat until 8 stitches in work on front
    hold carriage side 1 working of front
    knit 1 row on front
wrap carriage side 1 held of front
do short-rows-out-wrapped on front with until = 22
cancel hold on front
"""
HUNG = """bring centre 24 of back into work
rehang toe to centre 24 of back
"""
ROUNDS = """set both to circular
{}
bind off both
cut
remove weights
"""


def told(body: str) -> list[str]:
    return kinds(body, HEADER + TECHNIQUE)


def split(body: str) -> bool:
    return "tube-split" in told(body)


@ROWS
@pytest.mark.parametrize("cup", ["", CUP])
@pytest.mark.parametrize(("many", "found"), [(20, True), (4, True), (3, False), (2, False)])
def test_flat_rows_whose_first_edge_is_hung_on_the_other_bed_leave_slits(rows, cup, many, found):
    flat = rows.format(many) + "\n"
    end = HUNG + ROUNDS.format("knit 20 rounds")

    assert split(BEGUN + flat + cup + end) is found
    assert split(BEGUN + cup + flat + end) is found


@pytest.mark.parametrize("rounds", ["knit 20 rounds", "knit 1 round", "knit 2 rows",
                                    "repeat 20 times\n    knit 1 row"])
def test_any_rounds_make_it_a_tube(rounds):
    assert split(BEGUN + "knit 20 rows\n" + HUNG + ROUNDS.format(rounds))


def test_rows_before_and_after_the_cup_are_added_up():
    def body(before: int, after: int) -> str:
        return (f"{BEGUN}knit {before} rows\n{CUP}knit {after} rows\n{HUNG}"
                + ROUNDS.format("knit 20 rounds"))

    assert split(body(2, 2))
    assert not split(body(2, 1))


def test_it_is_told_where_most_of_the_rows_are_with_the_rows_of_both_beds():
    found, = [one for one in findings(BEGUN + "knit 2 rows\n" + CUP + "knit 20 rows\n" + HUNG
                                      + ROUNDS.format("knit 20 rounds"))
              if one.kind == "tube-split"]

    assert found.at.source.line(found.at.line).strip() == "knit 20 rows"
    assert found.message == "In a tube the front bed knits 22 rows by itself and " \
        "the back bed none: the tube is open at both sides there."


def test_a_band_knitted_sideways_is_closed_where_its_two_edges_meet():
    """Its side edges are the rims of the band: nothing goes on in rounds."""
    body = BEGUN + "knit 80 rows\ncut\n" + HUNG
    assert not split(body + "remove weights\ngraft front to back")
    assert not split(body + "thread main\nremove weights\ntransfer back onto front\n"
                     "set front to knit\nknit 1 row on front\nbind off front\ncut")


def test_an_edge_hung_onto_the_stitches_above_it_is_a_hem():
    body = BEGUN + "knit 20 rows\nrehang toe onto centre 24 of front\nknit 20 rows\n" \
        "bind off front\ncut\nremove weights"

    assert not split(body)


def test_waste_yarn_counts_for_nothing():
    assert not split(BEGUN.replace("knit 8 rows", "knit 40 rows") + "knit 1 row\n" + CUP + HUNG
                     + ROUNDS.format("knit 20 rounds"))


def test_rows_knitted_on_the_other_bed_are_level_again():
    back = "set front to rest\nset back to knit\nknit 20 rows\n"
    assert not split(BEGUN + "knit 20 rows\n" + HUNG + back + ROUNDS.format("knit 20 rounds"))


def test_loops_picked_up_along_the_sides_close_them():
    left = "pick up along 20 rows at left of front to L17 to L13 of both\n"
    right = "pick up along 20 rows at right of front to R13 to R17 of both\n"
    body = (BEGUN + "knit 20 rows\n" + HUNG + "bring L17 to L13 of both into work\n"
            "bring R13 to R17 of both into work\n{}" + ROUNDS.format("knit 20 rounds"))

    assert ["open at the right" in one.message for one in findings(body.format(left))
            if one.kind == "tube-split"] == [True]
    assert not split(body.format(left + right))


FLAP = f"""{TUBE}
set front to rest
set back to knit
{{rows}}
do square-turn on back with leave = 12
bring L7 to L12 of back into work
{{left}}
knit 1 row on back
bring R7 to R12 of back into work
{{right}}
knit 1 row on back
set both to circular
knit 4 rounds
"""
ALONG = "pick up along {} rows at {} of back to {} of back"


@pytest.mark.parametrize("rows", [
    "knit 16 rows on back", "repeat 8 times\n    knit 2 rows on back", "do flap with n = 16",
    "knit 10 rows on back\nknit 6 rows on back"])
@pytest.mark.parametrize("along, where, told", [
    (18, "left", None), (16, "left", None),
    (15, "left", "; at the left loops are picked up along 15 of them: the tube is open at the "
                 "left there."),
    (18, "right", "; at the left no loops are picked up: the tube is open at the left there.")])
def test_an_edge_of_a_flap_that_is_left_over_is_told_where_loops_are_picked_up(
        rows, along, where, told):
    header = HEADER + "technique flap with n\n    knit n rows on back\n"
    left = ALONG.format(along, where, "L12 to L7")
    body = FLAP.format(rows=rows, left=left, right=ALONG.format(19, "right", "R7 to R12"))
    found = [one for one in findings(body, header) if one.kind == "tube-split"]

    if told is None:
        assert not found
        return
    (one,) = found
    assert one.message.endswith(told)
    line = one.at.source.line(one.at.line)
    assert "pick up along" in line and (where == "right" or str(along) in line)
    assert any("knit" in place.at.source.line(place.at.line) or "do flap" in
               place.at.source.line(place.at.line) for place in one.others)


def test_an_edge_that_nothing_is_picked_up_along_is_open():
    body = FLAP.format(rows="knit 16 rows on back", left=ALONG.format(18, "left", "L12 to L7"),
                       right="").replace("bring R7 to R12 of back into work\n", "")
    (found,) = [one for one in findings(body) if one.kind == "tube-split"]

    assert "at the right no loops are picked up: the tube is open at the right" in found.message


def test_where_both_edges_are_left_over_the_first_is_shown():
    """And beside it the line with most of the rows in all, though its first are few."""
    rows = "let n = 2\nrepeat 2 times\n    knit n rows on back\n    knit 3 rows on back\n" \
        "    let n = n + 10"
    body = FLAP.format(rows=rows, left=ALONG.format(10, "left", "L12 to L7"),
                       right=ALONG.format(11, "right", "R7 to R12"))
    (found,) = [one for one in findings(body) if one.kind == "tube-split"]
    shown = [one.at.source.line(one.at.line).strip() for one in (found, *found.others)]

    assert "along 10 rows at left" in shown[0]
    assert "knit n rows on back" in shown and "knit 3 rows on back" not in shown


# ---- where it is told

BESIDE = f"""{TUBE}
{{heel}}
set front to rest
set back to knit
{{rows}}
set both to circular
knit 4 rounds
remove weights
cut
graft front to back"""
BY_HAND = """set back to rest
set front to knit
respect hold on front
repeat until 12 stitches in work on front
    hold carriage side 1 working of front
    knit 1 row on front
wrap carriage side 1 held of front
repeat until 34 stitches in work on front
    return far side 1 held of front to work
    knit 1 row on front
    wrap carriage side 1 held of front
repeat 2 times
    return far side 1 held of front to work
    knit 1 row on front"""


@pytest.mark.parametrize("heel", ["do heel on front with leave = 12", BY_HAND])
def test_rows_beside_a_heel_are_told_where_they_are_knitted(heel):
    found, = [one for one in findings(BESIDE.format(heel=heel, rows="knit 8 rows on back"))
              if one.kind == "tube-split"]

    assert found.at.source.line(found.at.line).strip() == "knit 8 rows on back"
    assert "the back bed knits 8 rows by itself and the front bed" in found.message


BY_TURNS = f"""{TUBE}
{{}}
set both to circular
knit 4 rounds
"""
FRONT_ROWS = "set back to rest\nset front to knit\n{}\n"
BACK_ROWS = "set front to rest\nset back to knit\n{}\n"
TURN_BY_TURN = {
    "lines": lambda many: (FRONT_ROWS.format("knit 2 rows")
                           + BACK_ROWS.format("knit 2 rows")) * (many // 2),
    "single rows": lambda many: (FRONT_ROWS.format("knit 1 row\nknit 1 row")
                                 + BACK_ROWS.format("repeat 2 times\n    knit 1 row"))
    * (many // 2),
    "in one go": lambda many: FRONT_ROWS.format(f"knit {many} rows")
    + BACK_ROWS.format(f"knit {many} rows"),
    "technique": lambda many: FRONT_ROWS.format(f"do rows-of with many = {many}")
    + BACK_ROWS.format(f"do rows-of with many = {many}")}
WAYS = pytest.mark.parametrize("way", TURN_BY_TURN)


@WAYS
def test_rows_by_turns_that_always_change_beds_at_one_end_leave_the_other_open(way):
    found = [one for one in findings(BY_TURNS.format(TURN_BY_TURN[way](4)), HEADER + TECHNIQUE)
             if one.kind == "tube-open-at-side"]

    assert len(found) == 1
    assert "knit 4 rows each by turns" in found[0].message
    assert "only at the left: the tube is open along them at the right" in found[0].message
    assert "tube-open-at-side" not in told(BY_TURNS.format(TURN_BY_TURN[way](2)))


def test_three_rows_of_each_bed_may_lie_open():
    for many, found in ((3, False), (5, True)):
        body = BY_TURNS.format(TURN_BY_TURN["in one go"](many))
        assert ("tube-open-at-side" in told(body)) is found
    for front, back in ((4, 3), (3, 4)):
        body = FRONT_ROWS.format(f"knit {front} rows") + BACK_ROWS.format(f"knit {back} rows")
        assert "tube-open-at-side" not in told(BY_TURNS.format(body))


@pytest.mark.parametrize(("front", "back", "found"), [
    (4, 3, True), (4, 2, False), (3, 4, False), (3, 3, False)])
def test_rows_before_the_beds_were_joined_count_for_nothing(front, back, found):
    """The last row before them is a row of the back bed, which counts at one of the ends."""
    joined = TURN_BY_TURN["in one go"](1) * 2
    body = BY_TURNS.format(joined + FRONT_ROWS.format(f"knit {front} rows")
                           + BACK_ROWS.format(f"knit {back} rows"))

    assert bool({"tube-split", "tube-open-at-side"} & {*told(body)}) is found


@pytest.mark.parametrize(("rows", "found"), [(1, False), (3, False), (5, True)])
def test_odd_rows_by_turns_join_the_beds_at_one_end_and_the_other(rows, found):
    turns = TURN_BY_TURN["in one go"](rows) * 3
    assert bool({"tube-split", "tube-open-at-side"} & {*told(BY_TURNS.format(turns))}) is found


def test_rows_of_both_beds_cut_apart_are_open_at_both_sides():
    body = BY_TURNS.format(FRONT_ROWS.format("knit 12 rows") + "cut\nthread main\n"
                           + BACK_ROWS.format("knit 12 rows"))
    found, = [one for one in findings(body, HEADER + TECHNIQUE) if one.kind == "tube-split"]

    assert "by itself and the back bed 12: the tube is open at both sides" in found.message


@pytest.mark.parametrize("rows", ["knit 1 row", "knit 1 rows"])
def test_single_rows_by_turns_are_rounds(rows):
    one_round = FRONT_ROWS.format(rows) + BACK_ROWS.format(rows)
    body = BY_TURNS.format("repeat 20 times\n" + "".join(
        f"    {line}\n" for line in one_round.splitlines()))

    assert not {"tube-open-at-side", "tube-split", "one-bed-longer"} & {*told(body)}


AHEAD = """repeat {} times
    set {} to rest
    set {} to knit
    {}
    set both to circular
    knit 2 rounds
"""
TWO_ROWS = pytest.mark.parametrize("rows", [
    "knit 2 rows", "knit 1 row\n    knit 1 row", "repeat 2 times\n        knit 1 row",
    "do rows-of with many = 2"])


@TWO_ROWS
@pytest.mark.parametrize(("bed", "other"), [("front", "back"), ("back", "front")])
def test_a_bed_that_gets_ahead_by_little_and_little_is_told_once(bed, other, rows):
    found = [one for one in findings(f"{TUBE}\n" + AHEAD.format(5, other, bed, rows),
                                     HEADER + TECHNIQUE) if one.kind == "one-bed-longer"]

    assert len(found) == 1
    assert found[0].message.startswith(f"4 times the {bed} bed knits rows by itself before the "
                                       "rounds go on, 8 rows more than")
    assert "one-bed-longer" not in told(f"{TUBE}\n" + AHEAD.format(3, other, bed, rows))


@pytest.mark.parametrize(("rows", "found"), [(8, True), (4, True), (3, False)])
def test_the_last_rows_before_the_ends_are_closed_split_a_tube_too(rows, found):
    body = f"{TUBE}\nknit 4 rounds\nset back to rest\nset front to knit\nknit {rows} rows\n" \
        "remove weights\ncut\n"

    for close in ("graft front to back", "gather both"):
        assert split(body + close) is found


def test_waste_yarn_on_one_bed_of_a_tube_is_no_row_of_it():
    rows = "cut\nthread {}\nset back to rest\nset front to knit\nknit 8 rows\ncut\n" \
        "thread main\nset both to circular\nknit 4 rounds\n"

    assert not split(f"{TUBE}\n" + rows.format("waste"))
    assert split(f"{TUBE}\n" + rows.format("main"))


def test_six_rows_ahead_are_not_yet_told_and_seven_are():
    def ahead(rows: int) -> bool:
        more = AHEAD.format(1, "back", "front", f"knit {rows} rows")
        return "one-bed-longer" in told(
            f"{TUBE}\n" + AHEAD.format(2, "back", "front", "knit 2 rows") + more)

    assert not ahead(2)
    assert ahead(3)


def test_it_is_told_at_the_last_of_the_rows_that_bring_it_so_far():
    body = AHEAD.format(2, "back", "front", "knit 2 rows") + AHEAD.format(
        1, "back", "front", "knit 2 rows\n    knit 1 row")
    (found,) = [one for one in findings(f"{TUBE}\n{body}") if one.kind == "one-bed-longer"]

    assert found.at.source.line(found.at.line).strip() == "knit 1 row"


def test_what_the_other_bed_catches_up_with_does_not_count():
    body = (AHEAD.format(2, "back", "front", "knit 2 rows")
            + AHEAD.format(2, "front", "back", "knit 2 rows")) * 3
    assert "one-bed-longer" not in told(f"{TUBE}\n" + body)
