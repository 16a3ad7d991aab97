"""Heel, foot and toe found by shape: from either end, however it is closed or written down.

All numbers are counted by hand from the lines.  That half of the rows of a cup lie along the foot,
and that a heel taken up from a slit adds all its depth, is common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest
from support.scripts import checked
from support.sock_parts import (
    AFTERTHOUGHT,
    END,
    FOOTWAYS,
    HEEL,
    LEG,
    START,
    TAKEN_UP,
    TOE_UP,
    TOES,
    made,
    script,
)

from sockscript.fabric.finished import Finished, finished, openings, parts_of
from sockscript.fabric.sock import sock_of


def rows(run):
    """Leg, heel, foot and toe in rows of 2.5 mm."""
    return tuple(None if part is None else part / Fraction(10, 4) for part in finished(run)[:4])


@pytest.mark.parametrize("sections", [True, False], ids=["sections", "one section"])
@pytest.mark.parametrize("toe", TOES)
def test_from_the_cuff_down_however_the_toe_is_closed(toe, sections):
    lines, deep = TOES[toe]
    start, edge = START["rib turned to a tube"]
    run = made([("Cuff", start), ("Leg", LEG), ("Heel", HEEL), ("Foot", FOOTWAYS["rounds"]),
                ("Toe", lines)], sections)

    # A toe is what narrows or its cup, without the round before it.
    assert rows(run) == (edge + 40, 16, 16 + 60 + deep, 16 if deep == 17 else deep)
    assert not run.mishaps


@pytest.mark.parametrize(("start", "way", "sections"),
                         list(product(START, FOOTWAYS, [True, False])))
def test_from_the_cuff_down_however_it_is_begun_and_written(start, way, sections):
    lines, edge = START[start]
    run = made([("Cuff", lines), ("Leg", LEG), ("Heel", HEEL), ("Foot", FOOTWAYS[way]),
                ("Toe", TOES["grafted"][0])], sections)

    assert rows(run) == (edge + 40, 16, 16 + 60 + 15, 15)
    assert not sock_of(run).toe_first
    assert sum(opening.girth for opening in openings(run)) == 160 * len(openings(run)) > 0


@pytest.mark.parametrize(("toe", "end", "sections"), list(product(TOE_UP, END, [True, False])))
def test_from_the_toe_up(toe, end, sections):
    lines, deep = TOE_UP[toe]
    run = made([("Toe", lines), ("Foot", FOOTWAYS["rounds"]), ("Heel", HEEL), ("Leg", LEG),
                ("Edge", END[end])], sections)

    leg, heel, foot, _ = rows(run)
    assert (leg, foot) == (40, 16 + 60 + deep) and sock_of(run).toe_first
    assert heel == 16


def test_a_toe_left_open_on_waste_yarn_and_closed_at_the_end():
    """Cast on with waste yarn on both beds, and grafted there when all else is done."""
    run = made([("Start", '''bring centre 10 of both into work to cast on
set both to circular
thread waste
knit 8 rounds
cut
thread main
mark edge tip-front on front
mark edge tip-back on back
knit 2 rounds
repeat until 24 stitches on front
    do increase-once
    knit 2 rounds
knit 60 rounds'''), ("Heel", HEEL), ("Leg", LEG + "\nbind off front\nbind off back\ncut"),
                ("Tip", '''bring centre 10 of both into work
rehang tip-front to centre 10 of front
rehang tip-back to centre 10 of back
graft front to back''')])

    assert rows(run) == (40, 16, 16 + 2 + 14 + 60, 14)


def test_a_cup_is_not_too_blunt_for_a_toe():
    """It is grafted over all its stitches; a toe that hardly narrows is told."""
    def toes(lines):
        text = script([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
                       ("Foot", FOOTWAYS["rounds"]), ("Toe", lines)], True)
        return [one.kind for one in checked(text).findings if one.kind.startswith("toe-")]

    assert toes(TOES["a cup of short rows"][0]) == []
    assert "toe-too-blunt" in toes("do wedge-toe with leave = 20\ncut\ngraft front to back")


@pytest.mark.parametrize("sections", [True, False], ids=["sections", "one section"])
def test_an_afterthought_heel_adds_its_depth(sections):
    """2 rounds, 7 times a decrease and 2 rounds, and 1 round."""
    run = made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Place", AFTERTHOUGHT),
                ("Foot", FOOTWAYS["rounds"]), ("Toe", TOES["grafted"][0]), ("Heel", TAKEN_UP)],
               sections)

    assert rows(run) == (40, 17, 60 + 15 + 17, 15)
    # In one section the heel is none of its own.
    assert (parts_of(run) is None) == (not sections)


def test_the_first_round_after_a_heel_with_a_gusset_is_of_the_foot():
    heel = ("do heel-flap on front with long = 20\ndo square-turn on front with leave = 8\n"
            "do pick-up-flap on front with long = 20, loops = 11")
    parts = parts_of(made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", heel),
                           ("Foot", f"set both to circular\n{FOOTWAYS['rounds']}"),
                           ("Toe", TOES["grafted"][0])]))

    assert (parts.leg, parts.heel, parts.foot, parts.toe) == ((0,), (1,), (2,), (3,))


@pytest.mark.parametrize(("each", "deep"), [(8, 7 * 8 + 1), (9, 9 + 1)])
def test_a_toe_narrows_at_least_once_in_eight_rounds(each, deep):
    """Seven decreases; those further apart narrow the foot.  Common practice, no source."""
    toe = TOES["grafted"][0].replace("leave = 10", f"leave = 10, each = {each}")
    run = made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
                ("Foot", FOOTWAYS["rounds"]), ("Toe", toe)])

    assert rows(run)[3] == deep


@pytest.mark.parametrize(("wide", "heel"), [(18, True), (17, False), (12, False)])
def test_an_opening_over_three_quarters_of_the_round_is_a_heel(wide, heel):
    """Of 48 stitches 36 are three quarters: loops on both sides of 18; a thumb has fewer.  Common
    practice, no source."""
    opening = f"knit in waste over L9 to R{wide - 9} of front as place"
    taken_up = (f"do afterthought-heel with opening = place, half = {wide}, leave = {wide - 8}, "
                "yarn = main")
    run = made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Place", opening),
                ("Foot", FOOTWAYS["rounds"]), ("Toe", TOES["grafted"][0]), ("Heel", taken_up)])

    assert (sock_of(run) is not None) == heel


def test_an_afterthought_heel_from_the_toe_up():
    lines, deep = TOE_UP["cast on as a closed tube"]
    run = made([("Toe", lines), ("Foot", FOOTWAYS["rounds"]), ("Place", AFTERTHOUGHT),
                ("Leg", LEG + "\nbind off front\nbind off back\ncut"), ("Heel", TAKEN_UP)])

    assert rows(run) == (40, 17, 60 + deep + 17, rows(run)[3])


def test_a_slit_that_is_never_taken_up_is_no_heel():
    run = made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Place", AFTERTHOUGHT),
                ("Foot", FOOTWAYS["rounds"]), ("Toe", TOES["grafted"][0])])

    assert finished(run) == Finished()


def test_a_heel_with_rounds_half_way():
    """In to 8, 2 rounds over all, and out again: one heel, as deep as both halves and these."""
    run = made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", '''set back to rest
set front to knit
do short-rows-in on front with leave = 8
cancel hold on front
return held of front to work
set both to circular
knit 2 rounds
set back to rest
set front to knit
respect hold on front
hold left 8 of front
hold right 8 of front
do short-rows-out on front with until = 24
cancel hold on front
set both to circular'''), ("Foot", FOOTWAYS["rounds"]), ("Toe", TOES["grafted"][0])])

    leg, heel, foot, toe = rows(run)
    assert (leg, heel, foot, toe) == (40, 8 + 2 + 8, 18 + 60 + 15, 15)


def test_short_rows_in_the_leg_are_not_the_heel():
    """A dart for the calf, shallower than the heel; the toe may be a third cup."""
    dart = "do heel on front with leave = 18\nset both to circular"
    for toe, along, deep in (("grafted", 15, 15), ("a cup of short rows", 17, 16)):
        run = made([("Cuff", START["cast on by hand"][0]),
                    ("Leg", f"{LEG}\n{dart}\nknit 30 rounds"), ("Heel", HEEL),
                    ("Foot", FOOTWAYS["rounds"]), ("Toe", TOES[toe][0])])

        assert rows(run) == (70, 16, 16 + 60 + along, deep)


SHORT = """set back to rest
set front to knit
respect hold on front
hold {}
knit 8 rows
cancel hold on front
"""
AGAIN = "set both to circular\nknit 1 round\n"


@pytest.mark.parametrize(("heel", "deep"), [
    # Halves beside each other, a round between them; and all of it one above the other.
    (SHORT.format("right 14 of front") + AGAIN + SHORT.format("left 14 of front"), 1 + 4),
    (SHORT.format("right 11 of front") + AGAIN + SHORT.format("left 11 of front"), 1 + 4 + 4),
    # Two rows over all on the front and two on the back are two rows all round.
    (SHORT.format("left 8 of front") + "knit 2 rows\nset front to rest\nset back to knit\n"
     "knit 2 rows\n", 2 + 4)])
@pytest.mark.parametrize("toe_first", [False, True])
@pytest.mark.parametrize("dart", [False, True])
def test_how_deep_a_heel_of_parts_is(heel, deep, toe_first, dart):
    """Half of eight short rows, and the rounds between; a dart of two in the leg is none of it."""
    small = SHORT.format("left 18 of front").replace("8 rows", "2 rows")
    leg = f"{LEG}\n{small}set both to circular\nknit 30 rounds" if dart else LEG
    parts = [("Leg", leg), ("Heel", heel + "set both to circular"), ("Foot", FOOTWAYS["rounds"])]
    if toe_first:
        lines, along = TOE_UP["cast on as a closed tube"]
        parts = [("Toe", lines), *parts[::-1], ("Edge", END["bound off on both beds together"])]
    else:
        lines, along = TOES["grafted"]
        parts = [("Cuff", START["cast on by hand"][0]), *parts, ("Toe", lines)]
    run = made(parts)

    assert rows(run)[:3] == (40 + 30 * dart, deep, deep + 60 + along)
    # Turning so, the yarn runs behind what waits: that changes no shape.
    assert {one.fault.kind for one in run.mishaps} <= {"yarn-jump"}


@pytest.mark.parametrize("toe", ["grafted", "a cup of short rows"])
def test_a_dart_in_the_foot_is_not_the_heel_either(toe):
    dart = "do heel on front with leave = 18\nset both to circular"
    run = made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
                ("Foot", f"knit 30 rounds\n{dart}\n{FOOTWAYS['rounds']}"),
                ("Toe", TOES[toe][0])])

    assert rows(run)[:3] == (40, 16, 16 + 90 + TOES[toe][1])


def test_a_toe_of_short_rows_with_a_heel_that_is_taken_up_later():
    """The cup at the end is the toe, since the slit is the heel."""
    run = made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Place", AFTERTHOUGHT),
                ("Foot", FOOTWAYS["rounds"]), ("Toe", TOES["a cup of short rows"][0]),
                ("Heel", TAKEN_UP)])

    assert rows(run) == (40, 17, 60 + 17 + 17, 16)


def test_of_two_cups_as_deep_the_one_next_to_the_toe_is_the_heel():
    down = made([("Cuff", START["cast on by hand"][0]), ("Leg", f"{LEG}\n{HEEL}\nknit 30 rounds"),
                 ("Heel", HEEL), ("Foot", FOOTWAYS["rounds"]), ("Toe", TOES["grafted"][0])])
    lines, along = TOE_UP["cast on as a closed tube"]
    up = made([("Toe", lines), ("Foot", FOOTWAYS["rounds"]), ("Heel", HEEL),
               ("Leg", f"knit 30 rounds\n{HEEL}\n{LEG}"), ("Edge", END["still on the needles"])])

    assert rows(down)[:3] == (70, 16, 16 + 60 + 15)
    assert rows(up)[:3] == (70, 16, 16 + 60 + along)


DART = "do heel on front with leave = 18\nset both to circular\n"


@pytest.mark.parametrize(("rounds", "toe"), [
    ("", True), ("knit 5 rounds", True), ("knit 6 rounds", False),
    ("repeat 6 times\n    knit 1 round", False), ("knit 60 rounds", False)])
@pytest.mark.parametrize("taken_up", [False, True])
@pytest.mark.parametrize("first", [False, True])
def test_a_cup_within_half_its_rows_of_an_open_end_is_the_toe(rounds, toe, taken_up, first):
    """A cup of 12 rows, down to 18 stitches.  Common practice, no source."""
    cup = [("Rounds", rounds), ("Cup", DART)] if first else [("Cup", DART), ("Rounds", rounds)]
    parts = [("Leg", LEG), ("Heel", AFTERTHOUGHT if taken_up else HEEL), ("Foot", "knit 50 rounds")]
    parts = [*cup, *parts[::-1]] if first else [*parts, *cup]
    start = START["cast on by hand"][0]
    run = made([("Start", start), *((title, lines) for title, lines in parts if lines),
                ("End", END["bound off bed by bed"]),
                *([("Taken up", TAKEN_UP)] if taken_up else [])])
    sock = sock_of(run)

    assert (bool(sock.toe_cups), sock.closed, sock.toe_first) == (toe, toe, toe and first)
    if toe or not first:
        assert sum(one.rows for one in sock.leg) == 40
    assert (finished(run).foot is not None) == toe


@pytest.mark.parametrize(("rounds", "toe"), [(3, True), (4, False)])
@pytest.mark.parametrize("first", [False, True])
def test_the_parts_of_a_toe_are_near_the_end_together(rounds, toe, first):
    """Eight rows in either half, a round between; fewer than four rounds lie beyond."""
    halves = (SHORT.format("right 14 of front") + AGAIN + SHORT.format("left 14 of front")
              + "set both to circular")
    parts = [("Leg", LEG), ("Heel", HEEL), ("Foot", "knit 50 rounds"), ("Toe", halves),
             ("Beyond", f"knit {rounds} rounds")]
    run = made([("Start", START["cast on by hand"][0]), *(parts[::-1] if first else parts),
                ("Edge", END["bound off bed by bed"])])

    sock = sock_of(run)

    assert bool(sock.toe_cups) == toe
    if toe:
        assert sum(one.rows for one in sock.toe) == 1 + rounds


def test_an_end_that_is_shut_is_the_toe_though_the_other_is_as_narrow():
    narrow = "".join("move 3 stitches at left of both in by 1\nknit 1 round\n" for _ in range(10))
    run = made([("Toe", TOE_UP["cast on as a closed tube"][0]), ("Foot", FOOTWAYS["rounds"]),
                ("Heel", HEEL), ("Leg", f"{LEG}\n{narrow}{END['bound off bed by bed']}")])

    assert sock_of(run).toe_first


@pytest.mark.parametrize("rounds", [5, 50])
def test_an_only_cup_is_the_heel_though_it_lies_at_an_open_end(rounds):
    run = made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
                ("Foot", f"knit {rounds} rounds"), ("Edge", END["bound off bed by bed"])])

    assert rows(run) == (40, 16, None, None) and not sock_of(run).closed


def test_a_foot_that_is_shut_without_narrowing_has_no_toe():
    for rounds in (60, 8):
        run = made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
                    ("Foot", f"knit {rounds} rounds\ncut\ngraft front to back")])

        assert rows(run) == (40, 16, 16 + rounds, None)


@pytest.mark.parametrize(("between", "toe"), [(15, False), (16, True)])
def test_two_cups_are_one_heel_if_fewer_rows_lie_between_than_either_is_deep(between, toe):
    run = made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
                ("Foot", f"knit {between} rounds"), ("Toe", TOES["a cup of short rows"][0][13:])])

    assert bool(sock_of(run).toe_cups) == toe


FLAT_LEG = """bring {0} into work to cast on
set {1} to knit
thread main
knit 30 rows
"""
FLAT_CUP = """respect hold on {0}
hold left 8 of {0}
hold right 8 of {0}
knit {1} rows
cancel hold on {0}
"""


@pytest.mark.parametrize(("bed", "action", "passes"), [
    ("back", "knit", 10), ("back", "circular", 20), ("both", "knit", 10)])
def test_a_heel_of_a_flat_piece_is_found_on_one_bed_or_both(bed, action, passes):
    """A bed that is set to circular knits in every second pass."""
    body = (FLAT_LEG.format(f"centre 24 of {bed}", bed) + f"set {bed} to {action}\n"
            + FLAT_CUP.format(bed, passes) + f"set {bed} to knit\nknit 30 rows\n")
    (cup,) = sock_of(made([("Piece", body)])).heel

    assert cup.rows == 10


def test_rows_that_all_stitches_of_a_toe_have_are_toe():
    """Ten without those at the left and ten without those at the right: all have ten, some 20."""
    both = "".join(f"hold {side} 8 of front\nknit 10 rows\nreturn held of front to work\n"
                   for side in ("left", "right"))
    sock = sock_of(made([("Piece", FLAT_LEG.format("centre 24 of front", "front")
                          + FLAT_CUP.format("front", 24) + "knit 40 rows\nrespect hold on front\n"
                          + both + "cancel hold on front\nbind off front\ncut")]))

    assert sock.closed and [cup.rows for cup in sock.toe_cups] == [10]
    assert [sum(one.rows for one in part) for part in (sock.leg, sock.foot, sock.toe)] == [
        30, 40, 10]


@pytest.mark.parametrize(("left", "toe"), [(14, True), (15, False)])
def test_an_end_is_a_toe_if_no_foot_goes_in(left, toe):
    """28 of 48 stitches are at most 60 %, 30 are not."""
    decreases = "\n".join(
        "move 3 stitches at left of both in by 1\nknit 1 round" for _ in range(24 - left))
    run = made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
                ("Foot", FOOTWAYS["rounds"]),
                ("End", f"{decreases}\nbind off front\nbind off back\ncut")])

    assert (finished(run).foot is not None) == toe


@pytest.mark.parametrize(("rows_on_both", "toe"), [(2, True), (3, False)])
def test_a_few_rows_on_both_beds_shut_a_tube_and_more_are_a_rib(rows_on_both, toe):
    run = made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
                ("Foot", FOOTWAYS["rounds"]),
                ("End", f"""set both to knit
repeat {rows_on_both} times
    knit 1 row
bind off front
bind off back
cut""")])

    assert (finished(run).foot is not None) == toe


def test_a_welt_is_no_toe():
    """Rounds between two rows on both beds lie double at the edge, where the foot goes in."""
    run = made([("Cuff", START["rib turned to a tube"][0].replace(
        "knit 17 rows", "set both to circular\nknit 12 rows\nset both to knit\nknit 17 rows")),
        ("Leg", LEG), ("Heel", HEEL), ("Foot", FOOTWAYS["rounds"]), ("Toe", TOES["grafted"][0])])

    assert not sock_of(run).toe_first and finished(run).foot is not None


def test_a_thumb_is_no_heel_and_a_tube_has_no_foot():
    run = made([("Tube", START["cast on by hand"][0] + "\n" + LEG), ("Place", AFTERTHOUGHT),
                ("Hand", FOOTWAYS["rounds"]), ("Tip", TOES["grafted"][0]),
                ("Thumb", '''bring centre 8 of both into work
rehang place to centre 8 of front and centre 8 of back
thread main
set both to circular
knit 20 rounds
cut
gather both''')])

    assert finished(run) == Finished()


def test_a_sock_with_an_open_end_has_a_heel_and_no_foot():
    """For dancers: the tube is bound off before the toes."""
    run = made([("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
                ("Foot", FOOTWAYS["rounds"]), ("Edge", END["bound off bed by bed"])])

    assert rows(run) == (40, 16, None, None)


def test_a_pair_in_one_script_is_measured_by_its_first():
    one = [("Cuff", START["cast on by hand"][0]), ("Leg", LEG), ("Heel", HEEL),
           ("Foot", FOOTWAYS["rounds"]), ("Toe", TOES["grafted"][0])]
    run = made([*one, *((f"Second {title}", lines) for title, lines in one)])

    assert rows(run) == (40, 16, 16 + 60 + 15, 15)
