"""What follows from facts of the machine: each with the nearest sound script, which stays silent.

Common practice of the trade, no source, where nothing else is said.
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, TUBE, findings, flat, kinds, run

from sockscript.fabric.amounts import section_amounts, yarn_amounts
from sockscript.pictures.fold import fold_picture
from sockscript.sheet.bed_picture import picture

FLAT_20 = flat(20) + "knit 10 rows\n"
END = '''
bind off front
cut'''
TECHNIQUE = '''
technique rows-by-one with count
    repeat count times
        knit 1 row on front
'''

ROWS = {
    "in one line": "knit {n} rows",
    "in single rows": "repeat {n} times\n    knit 1 row",
    "from a technique": "do rows-by-one with count = {n}",
}
ways = pytest.mark.parametrize("way", ROWS)


def told(body, way="in one line"):
    return kinds(body, HEADER + TECHNIQUE)


# ---- hold


@ways
@pytest.mark.parametrize("held, respected, expected", [
    ("left 10", "", ["hold-not-set"]),
    ("left 10", "respect hold on back\n", ["hold-on-wrong-bed"]),
    ("left 20", "", []),
])
def test_needles_in_hold_knit_where_hold_is_not_set(way, held, respected, expected):
    """But all stitches of a bed pushed out knit the more surely."""
    rows = ROWS[way].format(n=4)

    assert told(f"{FLAT_20}{respected}hold {held} of front\n{rows}{END}") == expected


@ways
def test_needles_brought_back_by_cancelling_hold_are_meant_to_knit(way):
    rows = ROWS[way].format(n=4)
    body = (f"{FLAT_20}%shold carriage side 3 of front\nknit 1 row\n%scancel hold on front\n"
            f"{rows}\nexpect 20 stitches in work{END}")

    assert told(body % ("respect hold on front\n", "")) == []
    assert told(body % ("", "respect hold on front\n")) == ["hold-not-set"]
    assert told(f"{FLAT_20}hold left 3 of front\nrespect hold on front\ncancel hold on front\n"
                f"{rows}{END}") == []


def test_hold_that_was_set_for_needles_before_says_nothing_of_those_held_now():
    heel = '''respect hold on front
hold carriage side 3 of front
knit 1 row
return held of front to work
knit 1 row
cancel hold on front
hold carriage side 3 of front
knit 1 row'''
    found = findings(f"{FLAT_20}{heel}{END}")

    assert [f.kind for f in found] == ["hold-not-set"]
    assert found[0].others[0].label == "they were put into hold here"
    assert found[0].at.line - found[0].others[0].at.line == 1


def test_needles_in_hold_of_a_bed_that_rests_do_not_knit():
    assert "hold-not-set" not in kinds(f'''{TUBE}
set back to rest
set front to knit
hold left 10 of back
knit 2 rows on front
return held of back to work
set both to circular
knit 2 rounds
cut
gather both''')


@pytest.mark.parametrize("rounds", ["knit 10 rounds", "knit 20 rows",
                                    "repeat 20 times\n    knit 1 row"])
@pytest.mark.parametrize("held, expected", [
    ("far side 5 of both", []), ("far side 5 of front", ["held-never-returned"]),
    ("far side 5 of back", ["held-never-returned"]),
    # A needle more faces them still, between two of the other bed.
    ("far side 5 of front\nhold far side 6 of back", []),
    ("far side 6 of front\nhold far side 5 of back", []),
    ("left 6 of front\nhold left 5 of back", []),
    ("far side 5 of front\nhold far side 7 of back", ["held-never-returned"]),
    ("far side 7 of front\nhold far side 5 of back", ["held-never-returned"])])
def test_the_rest_of_a_tube_may_wait_on_both_beds(rounds, held, expected):
    assert kinds(f'''{TUBE}
respect hold on both
hold {held}
{rounds}
return held of both to work
cancel hold on both
remove weights
cut
gather both''') == expected


# ---- slits


@ways
@pytest.mark.parametrize("first, second, expected", [
    (20, 20, []), (20, 18, ["short-row-hole"]), (2, 2, []), (2, 4, ["short-row-hole"])])
def test_a_slit_has_its_hole_on_purpose(way, first, second, expected):
    """Both sides are as high where they meet again."""
    found = told(f'''{FLAT_20}respect hold on front
hold left 8 of front
{ROWS[way].format(n=first)}
cut
return held of front to work
hold right 12 of front
thread main
{ROWS[way].format(n=second)}
cut
return held of front to work
cancel hold on front
thread main
knit 10 rows{END}''')

    assert [kind for kind in dict.fromkeys(found) if kind != "short-row-eyelet"] == expected


def test_one_part_longer_than_the_other_is_no_slit():
    assert "short-row-hole" in kinds(f'''{FLAT_20}respect hold on front
hold left 8 of front
knit 20 rows
return held of front to work
knit 10 rows{END}''')


# ---- edges


BEGIN = '''{bring}
set {bed} to knit
thread {yarn}
{cast}{first}
{hang}knit 10 rows
remove comb
remove weights
bind off front
cut'''


@pytest.mark.parametrize("change, expected", [
    ({}, ["bare-strand"]),
    ({"cast": "cast on front\n"}, []),
    ({"hang": "hang comb\n"}, []),
    ({"hang": "hang weights\n"}, ["bare-strand"]),
    ({"first": "knit 2 rows", "hang": "hang comb\n"}, ["bare-strand"]),
    ({"bring": "bring every 2nd from 1 of centre 20 of front into work"}, []),
    ({"bring": "bring L3 to L1 of front into work\nbring R2 to R3 of front into work"},
     ["bare-strand"]),
    ({"bring": "bring L3 to L1 of front into work\nbring R2 of front into work"}, []),
])
def test_what_is_an_edge(change, expected):
    parts = {"bring": "bring centre 20 of front into work", "bed": "front", "yarn": "main",
             "cast": "", "first": "knit 1 row", "hang": ""} | change
    found = kinds(BEGIN.format(**parts))

    assert [kind for kind in found if kind not in ("not-hung", "never-true", "ladder")] == expected


@pytest.mark.parametrize("yarn, expected", [("main", ["bare-strand"]), ("waste", []), ("cord", [])])
def test_waste_yarn_needs_no_edge(yarn, expected):
    found = kinds(f'''bring centre 20 of front into work
set front to knit
thread {yarn}
knit 2 rows
cut
gather front''')

    assert [kind for kind in found if kind == "bare-strand"] == expected


def test_a_zigzag_over_both_beds_is_an_edge_and_a_first_round_is_not():
    start = "bring centre 20 of both into work\nset both to {way}\nthread main\nknit 4 rows\n"

    assert kinds(start.format(way="knit") + "cut\ngather both") == ["bare-zigzag-edge"]
    assert "bare-strand" in kinds(start.format(way="circular") + "cut\ngather both")


# ---- yarn


@pytest.mark.parametrize("where, expected", [
    ("all of front", []), ("left 5 of front", ["yarn-jump"]), ("right 15 of front", []),
    ("L10 to R5 of front", []), ("L10 to R4 of front", ["yarn-jump"])])
def test_binding_off_begins_where_the_yarn_is(where, expected):
    """The yarn hangs at R10: five needles may lie between."""
    found = kinds(f"{FLAT_20}bind off {where}\ncut\ngather front")

    assert [kind for kind in found if kind != "nothing-there"] == expected


@pytest.mark.parametrize("needles, expected", [("R11 to R14", []), ("R15 to R20", []),
                                               ("R16 to R20", ["yarn-jump"])])
def test_casting_on_by_hand_begins_where_the_yarn_is(needles, expected):
    found = kinds(f"{FLAT_20}bring {needles} of front into work\ncast on {needles} of front\n"
                  f"cut\ngather front")

    assert found == expected


def test_a_jump_in_a_line_of_several_rows_tells_where_the_yarn_is_then():
    found = findings('''bring L20 of front into work
bring R1 of front into work
bring R1 of back into work
thread main
cast on R1 of both
set both to circular
knit 3 rows
cut
gather both''')
    jump = next(f for f in found if f.kind == "yarn-jump")

    assert "leaves the work at L20 of the front bed" in jump.message
    assert "R1 of the back bed is 20 needles away" in jump.message


def test_a_wrap_is_counted_as_yarn_and_not_as_a_stitch():
    plain, wrapped = (run(f"{FLAT_20}{line}{END}") for line in ("", "wrap R10 of front"))
    one, two = (yarn_amounts(r)[0] for r in (plain, wrapped))

    assert one.loops == two.loops == 20 + 200
    assert two.metres > one.metres
    assert section_amounts(wrapped)[0].strands == {"main": 1}


@pytest.mark.parametrize("line, moves", [
    ("wrap R10 of front", 1), ("knit 3 rows", 0), ("stitch size 5", 0),
    ("bring L11 of front into work\nfill L11 of front from right", 1), ("drop left 2 of front", 2),
    ("scrap off left 3 of front as rest\nrehang rest to left 3 of front", 6),
    ("move 3 stitches at left of front in by 1", 3), ("transfer R5 of front onto R6 of front", 1)])
def test_what_hands_do_is_counted_by_the_stitch(line, moves):
    """A wrap is work, though it is no stitch."""
    plain, done = (section_amounts(run(FLAT_20 + more))[0].moves for more in ("", line))

    assert done - plain == moves


@pytest.mark.parametrize("rows, expected", [(4, []), (5, ["too-many-strands"])])
@ways
def test_a_needle_takes_four_tucks(way, rows, expected):
    found = told(f"{FLAT_20}set front to tuck\n{ROWS[way].format(n=rows)}\nset front to knit\n"
                 f"knit 2 rows{END}")

    assert list(dict.fromkeys(found)) == expected


@pytest.mark.parametrize("size, dial, expected", [
    ("1 1/2", "", []), ("10", "", []), ("10 1/2", "", ["size-off-dial"]),
    ("1 1/2", "    dial 0 to 10 by ⅓\n", ["size-off-dial"]),
    ("1 1/3", "    dial 0 to 10 by ⅓\n", [])])
def test_no_step_of_the_dial_is_assumed(size, dial, expected):
    header = f'{HEADER}machine\n    beds 2\n    needles 100\n{dial}' if dial else HEADER

    assert kinds(f"{FLAT_20}stitch size {size}\nknit 4 rows{END}", header) == expected


# ---- racked beds


RACKED = '''bring centre 20 of both into work to cast on
rack to {steps} {side}
set both to knit
thread main
knit 1 row
{back}set both to circular
{rounds}
cut
gather both'''


@pytest.mark.parametrize("steps, side", [(1, "right"), (2, "left")])
@pytest.mark.parametrize("rounds", ["knit 6 rounds", "repeat 12 times\n    knit 1 row"])
def test_a_bed_left_racked_is_told_in_the_tube(steps, side, rounds):
    found = findings(RACKED.format(steps=steps, side=side, back="", rounds=rounds))

    assert [f.kind for f in found] == ["tube-racked"]
    assert f"racked by {steps} " in found[0].message
    assert found[0].others[0].label == "it was racked here"
    assert kinds(RACKED.format(steps=steps, side=side, back="rack to 0\n", rounds=rounds)) == []


def test_stitches_set_over_that_face_each_other_as_racked_are_a_tube():
    body = '''bring L10 to R10 of front into work to cast on
bring L{left} to R{right} of back into work to cast on
rack to 2 right
set both to knit
thread main
knit 1 row
set both to circular
knit 6 rounds
expect tube of 20 stitches a bed
cut
gather both'''

    assert kinds(body.format(left=12, right=8)) == []
    assert "expectation-not-met" in kinds(body.format(left=11, right=9))
    assert "tube-not-facing" in kinds(body.format(left=14, right=6))


@pytest.mark.parametrize("passes, tube", [
    ("knit 2 rows", False), ("knit 3 rows", False), ("repeat 3 times\n    knit 1 row", False),
    ("knit 1 row\nmove weights\nknit 2 rows", False),
    ("knit 4 rows", True), ("repeat 4 times\n    knit 1 row", True), ("knit 2 rounds", True)])
def test_a_few_circular_passes_are_the_edge_of_a_rib_and_no_tube(passes, tube):
    """The edge of a 2x1 rib, whose outermost needles do not face each other.

    Two or three passes: see ``fabric.tubes.CAST_ON_PASSES``.
    """
    body = f'''bring centre 24 of front into work to cast on
take every 3rd from 3 of centre 24 of front out of work
bring every 3rd from 3 of centre 24 of back into work to cast on
take right 1 needles of back out of work
set both to knit
stitch size 2
thread main
knit 1 row
hang comb
hang weights
set both to circular
{passes}
set both to knit
stitch size 4
knit 20 rows
bind off front
bind off back
cut'''

    assert ("tube-not-facing" in kinds(body)) == tube


FOLD = '''bring centre 16 of back into work
set back to knit
thread main
cast on back
knit 9 rows
cut
rack to {steps} {side}
bring {where} of front into work
fold right 4 of back onto front
fold left 4 of back onto front
take empty of back out of work
set both to circular
expect tube of 8 stitches a bed
gather both'''


@pytest.mark.parametrize("steps, side, where", [
    (0, "right", "L4 to R4"), (2, "right", "L2 to R6"), (1, "left", "L5 to R3")])
def test_a_fold_lands_on_the_needles_that_face_as_the_beds_stand(steps, side, where):
    body = FOLD.format(steps=steps, side=side, where=where)

    assert [k for k in kinds(body) if k != "returned-at-carriage"] == []
    assert fold_picture(run(body), heading="Fold") is not None


def test_a_transfer_goes_to_the_needle_that_faces_as_the_beds_stand():
    done = run('''bring L10 to R10 of front into work
set front to knit
thread main
cast on front
knit 2 rows
rack to 3 right
bring L13 to R7 of back into work
transfer front to back
cut
gather back''')
    state = done.moments[-3].state

    assert (state.front.loaded, state.back.loaded.bit_count()) == (0, 20)


def test_a_picture_in_letters_shows_which_needles_face_as_the_beds_stand():
    done = run('''bring L1 of both into work to cast on
bring R1 of front into work to cast on
set both to knit
thread main
knit 1 row
rack to 2 right
cut
gather both''')
    state = done.moments[-3].state
    lines = picture(state, 100, "").splitlines()
    back, front = (next(line for line in lines if line.startswith(bed))[6:]
                   for bed in ("back ", "front"))

    assert state.front.loaded.bit_length() - state.back.loaded.bit_length() == 1
    assert back.index("o") - front.index("o") == 2