"""Rows of rib, edges, short rows and tubes: each rule on both sides of its limit.

The limits are common practice, no source; the pages of the findings tell them.
"""

from __future__ import annotations

import re

import pytest
from support.scripts import TUBE, findings, kinds

# ---- stitch sizes

RIB = '''do tubular-cast-on with around = 40, yarn = main, edge-size = {edge}, rib-size = {rib}
{between}knit {rows} rows
do rib-to-one-bed on back
{set_plain}
knit {plain_rows} rows on back
remove weights
remove comb
bind off back
cut'''


def sizes(edge=2, rib=4, rows=12, plain=6, plain_rows=10, between="", set_plain="") -> list[str]:
    set_plain = set_plain or f"set back to knit\nstitch size {plain}"
    found = kinds(RIB.format(edge=edge, rib=rib, rows=rows, plain_rows=plain_rows,
                             between=between, set_plain=set_plain))
    assert set(found) <= {"size-unchanged-after-rib", "cast-on-size-unchanged", "sizes-reversed"}
    return found


UNCHANGED, EDGE, REVERSED = ("size-unchanged-after-rib", "cast-on-size-unchanged",
                             "sizes-reversed")


@pytest.mark.parametrize("given, expected", [
    # plain rows with the size of the rib: more than four of each
    ({"plain": 4, "plain_rows": 5}, UNCHANGED), ({"plain": 4, "plain_rows": 4}, ""),
    ({"plain": 4, "rows": 4}, ""), ({"plain": 4, "rows": 5}, UNCHANGED),
    # the edge and the rib: more than eight rows, of which the two circular ones are the first
    ({"edge": 4, "rows": 6}, ""), ({"edge": 4, "rows": 7}, EDGE),
    ({"edge": 4, "between": "stitch size 4\n"}, EDGE),
    ({"edge": 4, "between": "stitch size 5\n"}, ""),
    # an edge looser than a rib of more than four rows, a rib looser than as many plain rows
    ({"edge": 5, "rows": 4}, ""), ({"edge": 5, "rows": 5}, REVERSED), ({"edge": 4, "rows": 5}, ""),
    ({"rib": 6, "plain": 5}, REVERSED), ({"rib": 6, "plain": 5, "plain_rows": 4}, ""),
    ({"rib": 6, "plain": 5, "plain_rows": 5}, REVERSED), ({"rib": 6, "plain": 5, "rows": 4}, ""),
    ({"rib": 6, "plain": 5, "rows": 5}, REVERSED),
    # as many rows of the rib with either size: the tighter counts
    ({"rib": 4, "rows": 6, "plain": 5, "between": "knit 6 rows\nstitch size 6\n"}, ""),
    # a size of the bed that knits
    ({"rib": 6, "set_plain": "set back to knit\nstitch size 5 on back"}, REVERSED),
    ({"rib": 6, "set_plain": "set back to knit\nstitch size 5 on front"}, UNCHANGED)])
def test_from_how_many_rows_on_a_stitch_size_counts(given, expected):
    assert sizes(**given) == [expected] * bool(expected)


@pytest.mark.parametrize("rows, expected", [(4, []), (5, [UNCHANGED])])
def test_each_rib_counts_its_own_rows(rows, expected):
    """Twelve of the first, after which the size is set; so many of the second."""
    again = ("set both to rest\nset back to knit\nknit 5 rows\nset both to knit\nstitch size 4\n"
             f"knit {rows} rows\nset front to rest\nknit 5 rows\n")
    body = f"""bring centre 20 of both into work to cast on
set both to knit
thread main
stitch size 4
knit 1 row
knit 12 rows
set front to rest
stitch size 6
{again}"""

    assert [kind for kind in kinds(body) if kind == UNCHANGED] == expected


@pytest.mark.parametrize("third, expected", [(5, [REVERSED]), (2, [])])
def test_the_edge_is_the_zigzag_row_and_the_two_that_close_it(third, expected):
    """Of its three rows the size of two counts."""
    begun = f'''full pitch
bring every 2nd from 1 of centre 40 of front into work to cast on
bring every 2nd from 2 of centre 40 of back into work to cast on
set both to knit
thread main
stitch size 2
knit 1 row
hang comb
hang weights
set both to circular
stitch size 5
knit 1 row
stitch size {third}
knit 1 row
set both to knit
stitch size 4
knit 12 rows
remove weights
remove comb
cut
gather both'''

    assert kinds(begun) == expected


def test_a_row_after_casting_on_by_hand_is_no_edge_and_waste_yarn_has_any_size():
    by_hand = '''full pitch
bring every 2nd from 1 of centre 40 of front into work
bring every 2nd from 2 of centre 40 of back into work
thread main
cast on both
set both to knit
hang weights
stitch size 9
knit 1 row
stitch size 4
knit 12 rows
remove weights
cut
gather both'''
    waste = by_hand.replace("into work", "into work to cast on").replace(
        "thread main\ncast on both\n", "thread waste\n").replace(
        "stitch size 4\n", "knit 9 rows\nstitch size 4\n")

    for body in (by_hand, waste):
        assert {EDGE, REVERSED} & set(kinds(body)) == set()


# ---- turns of short rows


@pytest.mark.parametrize("bed", ["front", "back"])
@pytest.mark.parametrize("end, rows, hole", [
    ("left", 1, False), ("left", 2, True), ("right", 2, False), ("right", 3, True)])
def test_rows_in_one_go_turn_at_the_far_end_and_from_the_third_at_this_one(bed, end, rows, hole):
    """The carriage begins at the right; three stitches are held at one end."""
    found = kinds(f'''bring centre 20 of {bed} into work
set {bed} to knit
thread main
cast on {bed}
knit 2 rows
cut
respect hold on {bed}
hold {end} 3 of {bed}
thread main
knit {rows} rows
cut
cancel hold on {bed}
return held of {bed} to work
gather {bed}''')

    assert ("short-row-hole" in found) == hole


def test_the_first_row_after_casting_on_turns_like_any_other():
    found = kinds('''bring centre 20 of front into work
set front to knit
thread main
cast on front
respect hold on front
hold left 3 of front
knit 2 rows
cut
cancel hold on front
return held of front to work
gather front''')

    assert "short-row-hole" in found and "short-row-eyelet" not in found


def test_short_rows_go_on_until_held_needles_come_back():
    """Pushing back one that was not held ends nothing: at last there are two at each end."""
    def heel(between: str) -> set[str]:
        left, right = (f"hold {end} 1 working of front\nwrap {end} 1 held of front\n"
                       for end in ("left", "right"))
        return set(kinds(f'''{TUBE}
set back to rest
set front to knit
respect hold on front
{left}{left}{right}{between} of front to work
{right}return held of front to work
cancel hold on front
set both to circular
knit 4 rounds
remove weights
cut
graft front to back'''))

    assert "unequal-short-rows" not in heel("return R1")
    assert "unequal-short-rows" in heel("return left 1 held")


@pytest.mark.parametrize("bed", ["front", "back"])
@pytest.mark.parametrize("step, left, right, expected", [
    (4, 2, 1, "unequal-short-rows"), (5, 2, 1, ""), (1, 3, 2, "unequal-short-rows"),
    (1, 2, 2, ""), (1, 2, 0, ""), (1, 3, 0, "short-rows-at-one-end"), (1, 0, 3,
                                                                       "short-rows-at-one-end")])
def test_up_to_four_needles_at_once_are_a_short_row(bed, step, left, right, expected):
    other = "back" if bed == "front" else "front"
    holds = "".join(f"hold {end} {step} working of {bed}\nwrap {end} 1 held of {bed}\n"
                    for end, count in (("left", left), ("right", right)) for _ in range(count))
    found = findings(f'''{TUBE}
set {other} to rest
set {bed} to knit
respect hold on {bed}
{holds}return held of {bed} to work
cancel hold on {bed}
set both to circular
knit 4 rounds
remove weights
cut
graft front to back''')
    told = [one for one in found if one.kind in ("unequal-short-rows", "short-rows-at-one-end")]

    assert [one.kind for one in told] == [expected] * bool(expected)
    for one in told:
        assert f"{bed} bed" in one.message
        assert f"{step * left} held at the left, {step * right} at the right" in one.message \
            or f"(left {step * left}, right {step * right})" in one.message


def test_needles_that_come_back_by_and_by_are_told_of_once():
    """Each cup is counted for itself, and yarn turns next to a held needle beyond a gap too."""
    cup = """set back to rest
set front to knit
respect hold on front
hold left 2 working of front
wrap left 1 held of front
hold right {0} working of front
knit 1 row on front
wrap {1}
return left 1 held of front to work
return held of front to work
cancel hold on front
set both to circular
knit 1 round
"""
    cups = [cup.format(many, "carriage side 1 held of front") for many in (1, 2)]
    found = [one for one in findings(TUBE + "\n" + cups[0] + cups[1] + "gather both")
             if one.kind == "unequal-short-rows"]
    assert [one.times for one in found] == [1]
    assert "2 held at the left, 1 at the right" in found[0].message
    gap = "transfer R5 of front onto R4 of front\ntake R5 of front out of work\nknit 1 round\n"
    assert "short-row-hole" in kinds(f"{TUBE}\n{gap}" + cup.format(
        13, "left 1 held of front").replace("knit 1 row on front", "knit 2 rows on front"))


# ---- corners


@pytest.mark.parametrize("near, closed", [(1, True), (2, True), (3, False)])
def test_the_yarn_round_one_of_the_two_nearest_needles_closes_a_corner(near, closed):
    """Told once, though many rounds follow."""
    found = [one for one in findings(f'''{TUBE}
set back to rest
set front to knit
do short-rows-in on front with leave = 12
do short-rows-out on front with until = 35
return held of front to work
knit 1 row on front
wrap R({19 - near}) of back
cancel hold on front
set both to circular
knit 1 round
knit 4 rounds
remove weights
cut
graft front to back''') if one.kind == "open-corner"]

    assert [("at the left" in one.message, "at the right" in one.message) for one in found] == [
        (True, not closed)]


CUP = """set {other} to rest
set {bed} to knit
respect hold on {bed}
""" + "hold carriage side {step} working of {bed}\nknit 1 row on {bed}\n" * 4 \
    + "wrap carriage side 1 held of {bed}\n"
BACK = """return far side {step} held of {bed} to work
knit 1 row on {bed}
wrap {wrapped}
""" * 2


def corners(*parts: str, bed: str = "front", step: int = 3, wrapped: str = "") -> list[str]:
    """At which ends a cup that is worked with these lines leaves its corner open, in the order."""
    other = "back" if bed == "front" else "front"
    lines = "\n".join(parts).format(bed=bed, other=other, step=step,
                                    wrapped=wrapped or f"carriage side 1 held of {bed}")
    return [side for one in findings(f"{TUBE}\n{lines}\nset both to circular\nknit 4 rounds\n"
                                     "remove weights\ncut\ngraft front to back")
            if one.kind == "open-corner"
            for side in re.findall("at the (left|right)", one.message)
            if f"resting {other} bed" in one.message]


@pytest.mark.parametrize("bed", ["front", "back"])
def test_a_corner_gapes_where_the_last_of_several_short_rows_came_back(bed):
    """By whatever lines, and whenever the other bed is set to knit again."""
    last = "return held of {bed} to work\n", "cancel hold on {bed}\n", "set both to circular\n"

    for lines in (last, last[1:], last[2:] + last[:2], (last[0] + "knit 1 row on {bed}", last[1])):
        assert corners(CUP, BACK, *lines, bed=bed) == ["left", "right"]
    assert corners(CUP, BACK, *last, bed=bed, step=4) == ["left", "right"]
    aside = "hold left 1 of {other}\nreturn left 1 held of {other} to work\n"
    assert corners(CUP, aside, BACK, *last, bed=bed, step=5) == [], "parts that are set aside"
    # Yarn round the other bed while needles are still held there closes nothing.
    assert corners(CUP, BACK, *last, bed=bed, wrapped="carriage side 1 of {other}".format(
        other="back" if bed == "front" else "front")) == ["left", "right"]


@pytest.mark.parametrize("bed", ["front", "back"])
def test_needles_that_come_back_unwrapped_one_by_one_leave_eyelets(bed):
    """Where nothing comes back before the yarn turns beside a held needle, it is a hole."""
    other = "back" if bed == "front" else "front"
    out = BACK.replace("wrap {wrapped}\n", "")

    def told(*parts: str) -> set[str]:
        return {kind for kind in kinds(f"{TUBE}\n" + "".join(parts).format(
            bed=bed, other=other, step=1)) if "short-row-" in kind}

    assert told(CUP, out) == {"short-row-eyelet"}
    assert told(CUP, "knit 1 row on {bed}\n" * 2, out) == {"short-row-eyelet", "short-row-hole"}


def test_where_rows_only_become_shorter_no_corner_gapes():
    """Its last row lies beside its first; nor does one where no row was knitted at all."""
    last = "return held of {bed} to work\n", "cancel hold on {bed}\n"
    idle = "hold left 2 working of front\nreturn left 1 held of front to work\n"

    assert corners(CUP, *last) == corners(CUP, last[1]) == []
    assert corners("respect hold on front\n" + idle, *last) == corners(idle, *last) == []


def test_the_corner_of_a_picked_up_edge_gapes_beside_a_bed_with_stitches():
    """Whether it is set to knit before or after; a flat piece that becomes a tube has none."""
    turned = "do heel-flap on back with long = 20\ndo square-turn on back with leave = 10\n"
    along = "".join(f"bring {side[0]}6 to {side[0]}16 of back into work\n"
                    f"pick up along 22 rows at {side} of back to empty of back\n"
                    for side in ("left", "right"))
    flat = ("bring centre 10 of back into work\nset back to knit\nthread main\ncast on back\n"
            f"knit 22 rows\n{along}cut\nset both to circular\nbring L1 to L16 of front into work\n"
            "fold right 16 stitches of back onto front\ntake empty of back out of work\n"
            "thread main\n")

    def told(*lines: str) -> int:
        return kinds("".join(lines) + "knit 4 rounds\ncut\ngather both").count("open-corner")

    tube, circular = TUBE.replace("36", "24") + "\n" + turned, "set both to circular\n"
    assert told(tube, circular, along) == told(tube, along, circular) == 1
    assert told(flat) == 0


# ---- tubes


@pytest.mark.parametrize("moved", [False, True])
def test_which_bed_has_how_many_rows(moved):
    """The back bed knits to the right, and comes first here.

    Who takes the carriage across without knitting has the same bed knit twice: an
    even number of passes need not be rounds.
    """
    across = "cut\nmove carriage to far side\nthread main\nknit 1 row\n" if moved else ""
    body = TUBE.replace("knit 4 rounds", f"knit 9 rows\n{across}set both to rest")
    (found,) = [one for one in findings(body) if one.kind == "odd-pass-in-tube"]

    assert found.message.startswith(
        "The tube is left after 10 passes: the front bed has 4 and the back bed 6 of them."
        if moved else
        "The tube is left after 9 passes: the front bed has 4 and the back bed 5 of them.")


@pytest.mark.parametrize("rack, back, apart", [
    ("rack to 1 right", "L11 to R9", 0), ("rack to 1 right", "L10 to R10", 0),
    ("rack to 1 right", "L13 to R7", 2), ("rack to 2 left", "L8 to R12", 0),
    ("rack to 2 left", "L6 to R14", 2), ("rack to 0", "L8 to R10", 2),
    ("rack to 0", "L10 to R8", 2), ("rack to 0", "L9 to R10", 0), ("rack to 0", "L11 to R10", 0)])
def test_the_beds_of_a_tube_face_each_other_as_racked(rack, back, apart):
    """One needle more or less at an end is no matter."""
    found = [one for one in findings(f'''{rack}
bring centre 20 of front into work to cast on
bring {back} of back into work to cast on
set both to knit
thread main
knit 1 row
hang weights
set both to circular
knit 4 rounds
remove weights
cut
gather both''') if one.kind == "tube-not-facing"]

    assert [f"lie {apart} needles apart" in one.message for one in found] == [True] * bool(apart)
