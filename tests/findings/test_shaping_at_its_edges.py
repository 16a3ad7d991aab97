"""Decreases and increases of a tube: each rule on both sides of its edge.

How many decreases make a crown and how many intervals a pace are common practice, no source.
"""

from __future__ import annotations

import pytest
from support.scripts import TUBE, findings

BOTH_BEDS = [(side, bed) for bed in ("front", "back") for side in ("left", "right")]
ALL = "".join(f"move 3 stitches at {side} of {bed} in by 1\n" for side, bed in BOTH_BEDS)
END = "remove weights\ncut\ngather both"


def tube(stitches: int) -> str:
    """So many stitches a bed."""
    return TUBE.replace("centre 36", f"centre {stitches}")


def told(body: str, begin: str = TUBE) -> list[tuple[str, str]]:
    return [(found.kind, found.message) for found in findings(f"{begin}\n{body}\n{END}")]


def kinds(body: str, begin: str = TUBE) -> list[str]:
    return [kind for kind, _ in told(body, begin)]


def paced(*passes: int) -> str:
    """Decreases at all corners with so many passes between them."""
    return ALL + "".join(f"knit {count} rows\n{ALL}" for count in passes) + "knit 2 rounds"


# ---- decreases


def test_one_stitch_taken_in_somewhere_makes_a_number_fit():
    one = "move 3 stitches at left of front in by 1\nknit 2 rounds\n"

    assert kinds(one) == []
    assert kinds(one * 2) == ["decreases-not-mirrored"]
    (last,) = findings(f"{TUBE}\n{one}{one.replace('front', 'back')}{END}")
    assert last.kind == "decreases-not-mirrored"
    assert last.at.source.line(last.at.line).strip() == "move 3 stitches at left of back in by 1"
    assert kinds(one + one.replace("left", "right")) == [], "one bed alone is a gusset"
    assert kinds(one * 2 + (one * 2).replace("left", "right") + one.replace("front", "back")
                 + one.replace("left", "right").replace("front", "back")) == [
        "decreases-not-mirrored"], "four on the one bed, two on the other"


@pytest.mark.parametrize("at_once, expected", [(2, ["decreases-not-mirrored"]), (3, [])])
@pytest.mark.parametrize("side, bed", BOTH_BEDS[1:3])
def test_more_than_two_at_one_end_at_once_are_a_crown(at_once, expected, side, bed):
    found = told(f"move 6 stitches at {side} of {bed} in by {at_once}\nknit 2 rounds")

    assert [kind for kind, _ in found] == expected
    for _, message in found:
        counts = dict.fromkeys(BOTH_BEDS, 0) | {(side, bed): 2}
        assert message.endswith("front {} and {}, back {} and {}.".format(*counts.values()))


WIDER = """bring {0}(19 + so-far) of {2} into work
move 2 stitches at {1} of {2} out by 1
fill empty of {2} from {3}
"""


@pytest.mark.parametrize("between", ["knit 1 round", "knit 2 rows", "knit 1 row\nknit 1 row"])
@pytest.mark.parametrize("beds", ["front back", "front front", "back back"])
@pytest.mark.parametrize("way, kind", [
    ("move 3 stitches at {1} of {2} in by 1\n", "decreases-not-mirrored"),
    (WIDER, "increases-not-mirrored")])
def test_edges_that_come_apart_until_the_yarn_has_to_jump_were_not_shaped_alike(
        way, kind, beds, between):
    left, right = beds.split()
    once = way.format("L", "left", left, "right") + way.format("R", "right", right, "left")
    body = "let so-far = 0\n" + (f"{once}{between}\nlet so-far = so-far + 1\n") * 6
    found = findings(f"{TUBE}\n{body}\n{END}")
    first = found[0]

    assert first.kind == kind and first.cause is None
    assert "6 and" in first.message
    jumps = [one for one in found if one.kind == "yarn-jump"]
    assert jumps and all(one.cause and one.cause.kind == kind for one in jumps)


def test_a_jump_of_the_yarn_at_a_heel_is_no_end_of_the_shaping():
    """It runs behind what waits; the edges of the beds lie together."""
    heel = ("set back to rest\nset front to knit\nrespect hold on front\nhold left 14 of front\n"
            "knit 8 rows\ncancel hold on front\nset both to circular\nknit 4 rounds\n")
    one = "move 3 stitches at left of front in by 1\nknit 2 rounds\n"
    found = findings(f"{TUBE}\n{ALL}knit 2 rounds\n{heel}{one * 4}{END}")

    assert {"yarn-jump", "decreases-not-mirrored"} <= {one.kind for one in found}


def test_a_gusset_taken_too_far_is_no_shaping_that_lacks_the_other_bed():
    """What was picked up is taken away on one bed alone: the beds were unlike before it."""
    flap = "do heel-flap on back with long = 20\ndo square-turn on back with leave = 10\n" \
        "do pick-up-flap on back with long = 20, loops = 11\ndo gusset on back with until = {}\n"

    assert kinds(flap.format(24), tube(24)) == ["toe-too-blunt"]
    assert [kind for kind in kinds(flap.format(12), tube(24)) if "mirrored" in kind] == []
    assert "yarn-jump" in kinds(flap.format(12), tube(24))


FLAP = """do heel-flap on {bed} with long = 20
do square-turn on {bed} with leave = 10
do pick-up-flap on {bed} with long = 20, loops = 11
set both to circular
repeat until {until} stitches on {bed}
    move 3 stitches at left of {bed} in by 1
    move 3 stitches at right of {bed} in by 1
    knit 2 rounds
"""


@pytest.mark.parametrize("bed", ["front", "back"])
@pytest.mark.parametrize("until, after, told", [
    (24, "knit 9 rounds", False), (26, "knit 9 rounds", True), (22, "knit 9 rounds", True),
    # The last two rounds of the gusset count.
    (26, "knit 2 rounds", False), (26, "knit 3 rounds", True),
    (26, "knit 4 rows", False), (26, "repeat 5 times\n    knit 1 row", True),
    # A stitch over, and a foot that is narrowed in front too.
    (26, "move 3 stitches at left of {bed} in by 1\nknit 9 rounds", False),
    (26, "move 3 stitches at left of {other} out by 1\nknit 9 rounds", False),
    # The front is narrowed to the same number; the leg is widened all round.
    (22, "move 3 stitches at left of {other} in by 1\nmove 3 stitches at right of {other} in by 1"
         "\nknit 9 rounds", False),
    (24, "do increase-once\nknit 9 rounds", False)])
def test_a_gusset_comes_back_to_its_number(bed, until, after, told):
    other = "back" if bed == "front" else "front"
    body = FLAP.format(bed=bed, until=until) + after.format(bed=bed, other=other)

    found = [one for one in findings(f"{tube(24)}\n{body}\n{END}")
             if one.kind == "gusset-miscounted"]
    assert len(found) == told
    for one in found:  # it is told at the last decrease, before all rounds
        assert "move 3 stitches at right of" in one.at.source.line(one.at.line)


def test_an_edge_that_is_hung_onto_stitches_makes_no_gusset():
    hung = "".join(f"pick up along 4 rows at {side} of back onto {end}12 to {end}11 of back\n"
                   for side, end in (("left", "L"), ("right", "R")))
    narrowed = "".join(f"move 3 stitches at {side} of back in by 1\n" for side in ("left", "right"))
    body = (f"set front to rest\nset back to knit\nknit 4 rows on back\n{hung}"
            f"set both to circular\nknit 1 round\n{narrowed}knit 9 rounds")

    assert "gusset-miscounted" not in kinds(body, tube(24))


def test_a_leg_that_was_widened_before_has_the_number_of_its_end():
    widened = "do increase-once\nknit 2 rounds\n" + FLAP + "knit 9 rounds"

    assert "gusset-miscounted" in kinds(widened.format(bed="back", until=28), tube(24))
    assert "gusset-miscounted" not in kinds(widened.format(bed="back", until=26), tube(24))


def test_a_gusset_from_a_technique_and_none_at_all():
    whole = "do gusset-heel on back with long = 20, leave = 10, loops = 11\nknit 9 rounds"
    none = FLAP.format(bed="back", until=32) + "knit 9 rounds"

    assert "gusset-miscounted" not in kinds(whole, tube(24))
    assert "gusset-miscounted" in kinds(none, tube(24))


def test_stitches_laid_together_before_the_tube_or_after_it_do_not_shape_it():
    flat = TUBE.split("set both to circular")[0]
    early = (f"{flat}transfer R18 of front onto R17 of front\n"
             "transfer R17 of back onto R16 of back\n")
    rest = "take empty of both out of work\nknit 1 row\nset both to circular\nknit 4 rounds"

    assert "decreases-not-mirrored" not in kinds("knit 1 round", early + rest)


def test_the_odd_corner_is_named():
    """Three stitches moved in by one leave two outside the needle with two of them, two leave
    one, one leaves none."""
    for many, words, (side, bed) in zip((2, 1, 4, 5), ("1 stitch hangs", "no stitch hangs",
                                        "3 stitches hang", "4 stitches hang"), BOTH_BEDS,
                                        strict=True):
        corner = f"move 3 stitches at {side} of {bed} in by 1\n"
        body = ALL.replace(corner, corner.replace("3", str(many)))
        (found,) = told(body + "knit 2 rounds")
        assert found == ("decreases-unlike", (
            f"The decreases of this round are not made alike: at the {side} of the {bed} bed "
            f"{words} between the needle with two and the edge, elsewhere 2 stitches hang there."))


def test_an_end_is_told_from_the_other_on_the_last_few_stitches_too():
    """Of six stitches a bed four are left, the needle with two next to the middle."""
    right = "3 stitches at right of front"
    body = ALL.replace(right, "1 stitch at right of front").replace("3", "2")
    (found,) = told(body + "knit 2 rounds", tube(6))

    assert found[0] == "decreases-unlike" and "right of the front bed" in found[1]


@pytest.mark.parametrize("odd, words", [(2, "1 round"), (6, "3 rounds")])
def test_an_interval_unlike_those_beside_it_is_told_in_rounds(odd, words):
    """One of them; two of another kind beside each other may be meant, the first and the last
    begin and end a pace."""
    (one,) = findings(f"{TUBE}\n{paced(10, 4, odd, 4, 4)}\n{END}")
    above = [line for number in range(one.at.line) if "knit" in (
        line := one.at.source.line(number + 1))]

    assert one.kind == "uneven-pace" and above[-1].strip() == f"knit {odd} rows"
    assert f"it is {words} here" in one.message and "is 2" in one.message
    assert kinds(paced(4, odd, 4, odd, 4)) == kinds(paced(4, 4, odd, odd, 4, 4)) \
        == kinds(paced(odd, 4, 4, 4, 4)) == kinds(paced(4, 4, 4, 4, odd)) == []


@pytest.mark.parametrize("passes, told_of", [(4, False), (5, True), (1, True), (2, False)])
def test_whole_rounds_between_decreases(passes, told_of):
    found = told(paced(4, passes, 4, 4, 4))

    assert [kind for kind, _ in found if kind in ("half-round-between", "uneven-pace")] == [
        "half-round-between" if told_of else "uneven-pace"] * (passes != 4)
    assert not told_of or any(message.startswith(f"{passes} pass") for _, message in found)


# ---- increases


def widened(corners, step: str = "knit 2 rounds\n", outside: int = 2) -> str:
    """One increase at each corner, so many stitches from the edge, lifted from the middle."""
    inner = {"left": "right", "right": "left"}
    return "".join(f"bring {side[0].upper()}19 of {bed} into work\n"
                   f"move {outside} stitches at {side} of {bed} out by 1\n"
                   f"fill empty of {bed} from {inner[side]}\n" for side, bed in corners) + step


def test_one_stitch_made_somewhere_makes_a_number_fit():
    assert kinds(widened(BOTH_BEDS[:1])) == []
    assert kinds(widened(BOTH_BEDS[:2])) == [], "one bed alone is a gusset"
    assert kinds(widened(BOTH_BEDS)) == []
    assert kinds(widened(BOTH_BEDS[:2]) + widened(BOTH_BEDS[2:3], outside=3)) == [
        "increases-not-mirrored"]
    assert kinds(widened(BOTH_BEDS[:1]) + widened(BOTH_BEDS[:1]).replace("19", "20")) == [
        "increases-not-mirrored"]
    more = widened(BOTH_BEDS[:2]).replace("19", "20")
    (last,) = findings(f"{TUBE}\n{widened(BOTH_BEDS)}{more}{END}")
    assert last.kind == "increases-not-mirrored"
    assert last.at.source.line(last.at.line + 4).strip() == "gather both", "the last of them"


def test_stitches_made_before_the_tube_do_not_widen_it():
    """Nor does a needle that is brought into work with a stitch on it, or taken out of work."""
    corner = widened(BOTH_BEDS[:1], "")
    flat, rounds = TUBE.split("set both to circular")
    begun = flat.replace("knit 1 row", "knit 1 row\nbring L19 of both into work to increase\n"
                         "set both to circular\nknit 3 rows\nset both to knit\nknit 1 row")
    brought = "bring {} into work to increase\n"
    by_turns = "".join(part.format(*needles) for part, *needles in (
        (brought + "knit 1 row\n", "L19 of front"), (brought + "knit 2 rows\n", "L19 of back"),
        (brought, "L19 of front"), (brought, "R18 of front"),
        ("take {} out of work\nknit 1 row\n", "L25 of front"),
        (brought + "knit 4 rows", "L20 of front")))
    assert kinds(corner.replace("19", "20") + "knit 4 rounds",
                 f"{flat}{corner}set both to circular{rounds}") == []
    assert "half-round-between" not in kinds(
        "bring L20 of both into work to increase\nknit 4 rounds",
        f"{begun}set both to circular{rounds}")
    assert "half-round-between" not in kinds(by_turns)
    alone = ("set back to rest\nset front to knit\nknit 2 rows\nset both to circular\n"
             "knit 2 rounds\n")
    assert "half-round-between" not in kinds(
        brought.format("L19 of both") + alone + brought.format("L20 of both") + alone)


@pytest.mark.parametrize("side, bed, outside, words", [
    (*BOTH_BEDS[0], 1, "1 stitch outside"), (*BOTH_BEDS[1], 3, "3 stitches outside"),
    (*BOTH_BEDS[2], 3, "3 stitches outside"), (*BOTH_BEDS[3], 1, "1 stitch outside")])
def test_the_corner_that_is_widened_otherwise_is_named(side, bed, outside, words):
    others = [corner for corner in BOTH_BEDS if corner != (side, bed)]
    (found,) = findings(f"{TUBE}\n{widened(others, '')}"
                        f"{widened([(side, bed)], outside=outside)}{END}")

    assert found.kind == "widened-unlike"
    assert f"{bed} bed at the {side}" in found.message and words in found.message
    assert "instead of lifted from the side of the middle, with 2 stitches outside" in found.message
    assert f"fill empty of {bed} from" in found.at.source.line(found.at.line)


# ---- eyelets

HOLES = {"one column": ["L5 of front onto L4 of front"],
         "three in a round": ["L8 of front onto L7 of front", "R4 of front onto R5 of front",
                              "L3 of back onto L2 of back"],
         "from bed to bed": ["L5 of front onto L5 of back"]}


def holes(*moves: str, filled: bool) -> str:
    """Stitches laid on others again and again; their needles catch the yarn (``filled``) or go out
    of work."""
    needles = [" ".join(move.split()[:3]) for move in moves]
    lines = [f"transfer {move}" for move in moves] + [
        f"bring {needle} into work to increase" if filled else f"take {needle} out of work"
        for needle in needles]
    return "repeat 4 times\n" + "".join(f"    {line}\n" for line in [*lines, "knit 4 rounds"])


@pytest.mark.parametrize("moves", HOLES.values(), ids=HOLES)
def test_an_eyelet_narrows_nothing(moves):
    assert kinds(holes(*moves, filled=True)) == []


def test_the_same_transfers_narrow_where_the_needles_go_out_of_work():
    body = "".join(f"transfer L{needle} of front onto L{needle - 1} of front\n"
                   f"take L{needle} of front out of work\nknit 2 rounds\n" for needle in (18, 17))

    assert "decreases-not-mirrored" in kinds(body)
    assert "decreases-not-mirrored" not in kinds(body.replace("take", "bring").replace(
        "out of work", "into work to increase"))


@pytest.mark.parametrize(("knitted", "half"), [
    ("knit 1 round", False), ("knit 4 rows", False), ("repeat 4 times\n        knit 1 row", False),
    ("knit 3 rows", True), ("knit 1 row", True), ("repeat 3 times\n        knit 1 row", True)])
@pytest.mark.parametrize("wider", [
    "do increase-once", "bring L(19 + n) of both into work to increase\n"
    "    bring R(19 + n) of both into work to increase"])
def test_increases_lie_whole_rounds_apart(wider, knitted, half):
    body = (f"let n = 0\nrepeat 4 times\n    {wider}\n    {knitted}\n    let n = n + 1\n"
            "knit 4 rounds")
    found = [message for kind, message in told(body) if kind == "half-round-between"]

    assert len(found) == half
    assert all(message.startswith(("1 pass lies", "3 passes lie")) for message in found)



def test_a_heel_that_is_knitted_last_is_no_toe():
    """Taken up from a slit and not narrowed, it is called what it is."""
    body = """do tubular-cast-on with around = 40, yarn = main
knit 20 rows
do rib-to-one-bed on back
set back to knit
stitch size 6
knit 1 row
do turn-to-tube with bed = back
thread main
hang weights
set both to circular
knit 20 rounds
do afterthought-opening on front with waste = waste, yarn = main
knit 20 rounds
do wedge-toe with leave = 8
knit 1 round
remove weights
do graft-end
bring centre 20 of both into work
rehang heel to centre 20 of front and centre 20 of back
hang weights
thread main
set both to circular
knit 20 rounds
remove weights
do graft-end"""
    assert [one.message for one in findings(body) if one.kind == "toe-too-blunt"] \
        == ["The heel narrows to 40 of 40 stitches: it will be blunt."]
