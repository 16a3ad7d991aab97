"""Stitches hung beside others than their neighbours, and seams that lie where they should not.

Each mistake is told whether rows are written as rows, rounds or one by one, and whether hands
fold, transfer or use waste yarn; beside each stands the nearest script that must stay silent. The
facts are common practice of the trade without a source, worked out on squared paper.
"""

from __future__ import annotations

import pytest
from support.scripts import findings, kinds

NEW = frozenset({
    "group-reversed", "groups-exchanged", "stitches-crossed", "stitches-out-of-order",
    "graft-crossed", "hem-reversed", "hem-shifted", "hem-crossed", "tube-inside-out",
    "seam-off-centre", "seam-on-instep", "tube-turned-after-heel", "faces-interleaved",
    "tube-closed-below", "bare-zigzag-edge", "edge-in-two-layers"})


def told(body):
    return sorted(set(kinds(body)) & NEW)


def piece(around=24, front=None):
    half = (front if front is not None else around // 2)
    return f'''bring centre {around} of back into work
thread main
cast on centre {around} of back
set back to knit
knit 6 rows
cut
half pitch
bring centre {half} of front into work
'''


ROUNDS = {
    "rounds": "knit 8 rounds", "rows": "knit 16 rows",
    "single rows": "repeat 16 times\n    knit 1 row",
}
TURNS = {
    "fold": "fold right 6 of back onto front\nfold left 6 of back onto front\n",
    "waste": '''scrap off right 6 of back as right-part
scrap off left 6 of back as left-part
rehang right-part to R1 to R6 of front turned
rehang left-part to L6 to L1 of front turned
''',
    "stitch by stitch": "".join(
        f"transfer {side}{6 + n} of back to {side}{7 - n} of front\n"
        for side in "RL" for n in range(1, 7)),
}
WRONG = {
    "transfer": "transfer right 6 of back to R1 to R6 of front\nfold left 6 of back onto front\n",
    "waste": TURNS["waste"].replace("R6 of front turned", "R6 of front"),
    "stitch by stitch": "".join(
        f"transfer R{6 + n} of back to R{n} of front\n" for n in range(1, 7))
    + "fold left 6 of back onto front\n",
}


def tube(knit="knit 8 rounds"):
    return f'''take empty of both out of work
set both to circular
thread main
{knit}
cut
gather both
'''


@pytest.mark.parametrize("knit", ROUNDS.values(), ids=ROUNDS)
@pytest.mark.parametrize("turn", WRONG.values(), ids=WRONG)
def test_a_quarter_moved_straight_across(turn, knit):
    assert told(piece() + turn + tube(knit)) == ["group-reversed"]


@pytest.mark.parametrize("knit", ROUNDS.values(), ids=ROUNDS)
@pytest.mark.parametrize("turn", TURNS.values(), ids=TURNS)
def test_a_quarter_turned_is_right(turn, knit):
    assert told(piece() + turn + tube(knit)) == []


@pytest.mark.parametrize("way", ["turn-to-tube", "turn-to-tube-on-waste"])
def test_the_shipped_ways_to_turn(way):
    body = piece().replace("half pitch\nbring centre 12 of front into work\n", "")
    assert told(f"{body}do {way} with bed = back\n" + tube()) == []


def test_it_is_told_at_the_line_that_hung_the_group_and_names_its_needles():
    body = piece() + WRONG["waste"] + tube()
    (found,) = [f for f in findings(body) if f.kind == "group-reversed"]

    assert found.at.source.line(found.at.line).strip() == "rehang right-part to R1 to R6 of front"
    assert "R1 to R6 of the front bed" in found.message


@pytest.mark.parametrize("turned", ["front", "back"])
def test_of_two_halves_the_one_that_was_turned_is_named(turned):
    body = TUBE + OFF + AS_IT_WAS.replace(f"of {turned}", f"of {turned} turned") + tube()
    (found,) = [f for f in findings(body) if f.kind == "group-reversed"]

    assert f"L6 to R6 of the {turned} bed" in found.message
    assert found.at.source.line(found.at.line).endswith(f"of {turned} turned")


def test_quarters_hung_in_each_others_places():
    wrong = TURNS["waste"].replace("to R1 to R6", "to @").replace("to L6 to L1", "to R1 to R6") \
        .replace("to @", "to L6 to L1")

    assert told(piece() + wrong + tube()) == ["groups-exchanged"]


def test_two_stitches_crossed_on_the_way():
    wrong = TURNS["stitch by stitch"].replace("R8 of back to R5", "R8 of back to @").replace(
        "R9 of back to R4", "R9 of back to R5").replace("@", "R4")

    assert told(piece() + wrong + tube()) == ["stitches-crossed"]


# ---- where the edges meet

@pytest.mark.parametrize(("right", "left", "off"), [
    (6, 6, False), (7, 5, True), (5, 7, True), (8, 4, True), (12, 0, False), (0, 12, False)])
@pytest.mark.parametrize("knit", ROUNDS.values(), ids=ROUNDS)
def test_quarters_that_are_not_equal(right, left, off, knit):
    """Half of 24 folded from one end has its seam between the beds: a side seam, a design."""
    body = piece().replace("bring centre 12 of front into work\n",
                           "bring centre 24 of front into work\n")
    if right:
        body += f"fold right {right} of back onto front\n"
    if left:
        body += f"fold left {left} of back onto front\n"

    assert told(body + tube(knit)) == (["seam-off-centre"] if off else [])


def test_an_odd_number_has_no_middle():
    """11 stitches on the front bed: 6 and 5 is as near as it comes, 7 and 4 is not."""
    body = piece(around=22, front=24)
    near = "fold right 6 of back onto front\nfold left 5 of back onto front\n"
    far = "fold right 7 of back onto front\nfold left 4 of back onto front\n"

    assert told(body + near + tube()) == []
    assert told(body + far + tube()) == ["seam-off-centre"]


HEEL = '''set both to circular
thread main
hang weights
knit 8 rounds
{heel}
set both to circular
knit 8 rounds
remove weights
cut
gather both
'''


@pytest.mark.parametrize(("bed", "told_of"), [("front", []), ("back", ["seam-on-instep"])])
@pytest.mark.parametrize("heel", [
    "do heel on {bed} with leave = 4", "do heel on {bed} with leave = 4, way = wrapped-twice",
    "do afterthought-opening with bed = {bed}, opening = place, waste = waste, yarn = main"],
    ids=["heel", "wrapped twice", "afterthought"])
def test_the_heel_lies_where_the_edges_meet(bed, told_of, heel):
    body = piece() + TURNS["fold"] + "take empty of both out of work\n" + HEEL.format(
        heel=heel.format(bed=bed))

    assert told(body) == told_of


@pytest.mark.parametrize("bed", ["front", "back"])
def test_a_side_seam_takes_a_heel_on_either_bed(bed):
    body = piece(front=24) + "fold right 12 of back onto front\ntake empty of both out of work\n"

    assert told(body + HEEL.format(heel=f"do heel on {bed} with leave = 4")) == []


@pytest.mark.parametrize("bed", ["front", "back"])
def test_a_tube_without_a_seam_takes_a_heel_on_either_bed(bed):
    body = "do tube-cast-on with half = 12, yarn = main\nremove comb\nremove weights\n"

    assert told(body + HEEL.format(heel=f"do heel on {bed} with leave = 4").replace(
        "thread main\n", "")) == []


# ---- tubes taken off and hung again

TUBE = '''half pitch
bring centre 12 of both into work to cast on
set both to knit
thread main
knit 1 row
set both to circular
knit 6 rounds
'''
OFF = "cut\nscrap off front as one\nscrap off back as two\n"
BY_ONE = '''rehang one to L5 to R6 of front and R6 of back
rehang two to L6 of front and L6 to R5 of back
'''
AS_IT_WAS = "rehang one to centre 12 of front\nrehang two to centre 12 of back\n"
SHORT = "do heel on front with leave = 4\nset both to circular\nknit 2 rounds\n"


@pytest.mark.parametrize(("hung", "told_of"), [
    (AS_IT_WAS, []),
    (AS_IT_WAS.replace("of front", "of front turned"), ["group-reversed"]),
    (AS_IT_WAS.replace("of back", "of back turned"), ["group-reversed"]),
    (AS_IT_WAS.replace("\n", " turned\n"), ["tube-inside-out"]),
    (AS_IT_WAS.replace("front", "@").replace("back", "front").replace("@", "back"),
     ["tube-inside-out"]),
    (BY_ONE, []),
], ids=["as it was", "front turned", "back turned", "both turned", "exchanged", "by one"])
def test_a_tube_hung_again(hung, told_of):
    assert told(TUBE + OFF + hung + tube()) == told_of


@pytest.mark.parametrize(("hung", "told_of"), [
    (AS_IT_WAS, []), (BY_ONE, ["tube-turned-after-heel"]),
    ("rehang one to centre 12 of back turned\nrehang two to centre 12 of front turned\n", [])],
    ids=["as it was", "by one", "half a turn"])
def test_a_tube_with_a_heel_hung_again(hung, told_of):
    assert told(TUBE + SHORT + OFF + hung + tube()) == told_of


@pytest.mark.parametrize(("close", "told_of"), [
    ("graft front to back\n", []),
    (OFF + "graft one to two\n", []),
    (OFF + AS_IT_WAS + "graft front to back\n", []),
    (OFF + AS_IT_WAS.replace("of back", "of back turned") + "graft front to back\n",
     ["graft-crossed"]),
])
def test_a_toe_that_is_grafted(close, told_of):
    assert told(TUBE + ("cut\n" if "cut" not in close else "") + close) == told_of


def test_stitches_pushed_together_over_a_gap_turn_no_tube():
    """All stay on their bed, after a heel too."""
    body = ("bring centre 36 of both into work\nthread main\ncast on both\nset both to circular\n"
            "knit 9 rounds\ndo heel on front with leave = 12\nset both to circular\n"
            "knit 9 rounds\nscrap off R1 to R2 of front as gap\n"
            "transfer R3 to R18 of front to R1 to R16 of front\nknit 9 rounds\ngather both\n")

    assert told(body) == []


# ---- both faces

RIB = '''full pitch
bring every 2nd from 1 of centre 24 of front into work to cast on
bring every 2nd from 2 of centre 24 of back into work to cast on
set both to knit
thread main
knit 1 row
'''
CLOSED = "set both to circular\nknit {} rows\nset both to knit\n"


@pytest.mark.parametrize(("edge", "told_of"), [
    ("", ["bare-zigzag-edge"]), (CLOSED.format(2), []), (CLOSED.format(3), [])])
@pytest.mark.parametrize("knit", ["knit 9 rows", "repeat 9 times\n    knit 1 row"])
def test_the_edge_of_a_rib(edge, told_of, knit):
    assert told(RIB + edge + knit + "\ncut\ngather both\n") == told_of


APART = RIB.replace("set both to knit", "set both to circular")


@pytest.mark.parametrize(("passes", "told_of"), [
    (2, ["edge-in-two-layers"]), (4, ["edge-in-two-layers"]), (6, [])])
@pytest.mark.parametrize("single", [False, True])
def test_a_rib_whose_beds_were_cast_on_apart(passes, told_of, single):
    """The first row is circular too: no yarn zigzags between the beds, and the edge stays open.

    After 7 passes in all it is a tube that is closed, which another rule judges."""
    knit = f"repeat {passes} times\n    knit 1 row" if single else f"knit {passes} rows"
    after = f"{knit}\nset both to knit\nknit 9 rows\ncut\ngather both\n"

    assert told(APART + after) == told_of
    assert told(APART.replace("main", "waste") + f"{knit}\ncut\nthread main\nset both to knit\n"
                "knit 9 rows\ncut\ngather both\n") == []


def test_it_is_told_of_the_first_stitches_of_all_too():
    assert told("thread main\nbring centre 12 of both into work\ncast on centre 12 of both\n"
                "set both to circular\nknit 4 rows\nset both to knit\nknit 9 rows\ncut\n"
                "gather both\n") == ["edge-in-two-layers"]


def test_the_shipped_edge_of_a_rib():
    assert told("do tubular-cast-on with around = 24, yarn = main\nknit 9 rows\nremove comb\n"
                "remove weights\ncut\ngather both\n") == []


def test_the_edge_of_a_rib_begun_on_waste_yarn_is_open_on_purpose():
    assert told(RIB.replace("main", "waste") + "knit 5 rows\ncut\nthread main\nknit 9 rows\n"
                "cut\ngather both\n") == []


@pytest.mark.parametrize(("below", "passes", "told_of"), [
    (0, 40, []), (4, 6, []), (4, 8, ["tube-closed-below"]), (4, 40, ["tube-closed-below"])])
def test_a_tube_that_begins_on_a_rib(below, passes, told_of):
    rib = CLOSED.format(2) + f"knit {below} rows\n" if below else ""
    assert told(f"{RIB}{rib}set both to circular\nknit {passes} rows\ncut\ngather both\n") \
        == told_of


def test_a_tubular_edge_that_is_never_closed():
    """Left in circular, the edge becomes a tube; laid on one bed its faces come by turns."""
    body = RIB + '''set both to circular
knit 30 rows
bring centre 24 of back into work
transfer front to back
take empty of front out of work
set front to rest
set back to knit
knit 1 row
bind off back
cut
'''
    assert told(body) == ["faces-interleaved"]
    assert told(body.replace("knit 30 rows", "knit 2 rows\nset both to knit\nknit 28 rows")) == []


# ---- hems

START = "do waste-start with around = 20, waste = waste, cord = cord, yarn = main, edge = brim\n"
HEM = START + '''knit 12 rows
{}
knit 6 rows
remove comb
remove weights
bind off front
cut
'''


@pytest.mark.parametrize(("hang", "told_of"), [
    ("rehang brim onto front", []),
    ("rehang brim onto front turned", ["hem-reversed"]),
    ("rehang brim onto R1 to R10 of front and L10 to L1 of front", ["hem-crossed"]),
    ("rehang brim onto L10 to L1 of front and R1 to R10 of front", []),
    ("transfer L1 of front onto L2 of front\nknit 1 row\nrehang brim onto front", []),
])
def test_a_hem(hang, told_of):
    assert told(HEM.format(hang)) == told_of


@pytest.mark.parametrize(("targets", "shift"), [
    ("L9 to R11", "1 stitch too far to the right"),
    ("L8 to R12", "2 stitches too far to the right"),
    ("L11 to R9", "1 stitch too far to the left")])
def test_how_far_and_which_way_an_edge_is_hung_askew(targets, shift):
    (found,) = [one for one in findings(HEM.format(f"rehang brim onto {targets} of front"))
                if one.kind == "hem-shifted"]

    assert shift in found.message


@pytest.mark.parametrize(("targets", "words"), [
    ("L10 to R9", "1 stitch of 'brim' comes free with the waste yarn and is never taken up."),
    ("L10 to R8", "2 stitches of 'brim' come free with the waste yarn and are never taken up.")])
def test_loops_of_an_edge_that_are_left_over_are_counted(targets, words):
    assert [one.message for one in findings(HEM.format(f"rehang brim onto {targets} of front"))
            if one.kind == "edge-left-open"] == [words]


def test_an_edge_hung_round_a_tube_has_no_left_and_right():
    tube = '''bring centre 20 of both into work to cast on
set both to knit
thread waste
knit 1 row
hang weights
set both to circular
knit 6 rounds
cut
mark edge front-brim on front
mark edge back-brim on back
thread main
knit 10 rounds
rehang front-brim onto front
rehang back-brim onto back
knit 6 rounds
remove weights
cut
gather both
'''
    assert "hem-shifted" not in told(tube)
    askew = tube.replace("onto front", "onto L9 to R10 of front and R10 of back").replace(
        "onto back", "onto L10 to R9 of back and L10 of front")
    found = [one.message for one in findings(askew) if one.kind.startswith("hem-")]

    assert found and not any("to the right" in one or "to the left" in one for one in found)


PICOT = '''transfer every 2nd from 2 of all of {0} onto every 2nd from 1 of all of {0}
bring every 2nd from 2 of centre 20 of {0} into work to increase
knit {1}
'''


@pytest.mark.parametrize(("hang", "told_of"), [
    ("rehang brim onto front", []),
    ("rehang brim onto front turned", ["hem-reversed"]),
    ("rehang brim onto L7 to R13 of front", ["hem-shifted"]),
    ("rehang brim onto R1 to R10 of front and L10 to L1 of front", ["hem-crossed"])])
@pytest.mark.parametrize("rows", ["6 rows", "1 row\nknit 1 row"])
def test_a_stitch_made_in_the_place_of_another_shifts_no_hem(hang, told_of, rows):
    found = told(HEM.format(PICOT.format("front", rows) + hang))

    assert [kind for kind in found if kind.startswith("hem-")] == told_of


def test_a_hem_of_holes_hangs_on_the_bed_that_knitted_it():
    tube = '''bring centre 20 of both into work to cast on
set both to knit
thread waste
knit 1 row
hang weights
set both to circular
knit 6 rounds
cut
mark edge front-brim on front
mark edge back-brim on back
thread main
knit 6 rounds
''' + PICOT.format("front", "2 rounds") + PICOT.format("back", "6 rounds") + '''{}
knit 6 rounds
remove weights
cut
gather both
'''
    sound = "rehang front-brim onto front\nrehang back-brim onto back"

    assert not [kind for kind in told(tube.format(sound)) if kind.startswith("hem-")]
    crossed = sound.replace("brim onto", "brim onto other").replace("other back", "front").replace(
        "other front", "back")
    assert told(tube.format(crossed)) == ["hem-crossed"]


@pytest.mark.parametrize("times, told_of", [(1, []), (3, [])])
def test_stitches_taken_at_one_end_and_made_at_the_other_shift_what_lies_between(times, told_of):
    moved = "".join(f"move 9 stitches at left of front in by 1\nbring R{11 + n} of front into work "
                    "to increase\nknit 2 rows\n" for n in range(times))

    found = told(HEM.format(f"{moved}rehang brim onto front"))
    assert [kind for kind in found if kind.startswith("hem-")] == told_of
