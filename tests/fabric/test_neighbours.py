"""Which column is whose neighbour after every kind of work by hand.

What is right in each case is drawn on squared paper: the columns of a piece are numbered and
each is followed by hand. Trade facts without a source are common practice.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from support.scripts import proof, rib, run, tube

from sockscript.fabric.wales.follow import neighbours
from sockscript.fabric.wales.told import TubeSeam, tube_seam
from sockscript.machine.profile import ANY_DOUBLE_BED
from sockscript.operations.beds import BACK, FRONT, needle_name

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"

PIECE = '''bring centre 16 of back into work to cast on
set back to knit
thread main
knit 4 rows
cut
half pitch
bring centre 8 of front into work
'''
"""Columns 1 to 16 from L8 to R8 of the back bed."""

ROUND = '''take empty of both out of work
set both to circular
thread main
knit 6 rounds
cut
gather both
'''

OPEN_TUBE = tube(8) + "knit 4 rounds\ncut\n"

SCRAPPED = OPEN_TUBE + '''scrap off front as one
scrap off back as two
'''


def of(body):
    return neighbours(run(body))


def wrongs(body):
    return [meeting.wrong for meeting in of(body).meetings if meeting.jumps or meeting.wrong]


def names(places):
    """Needles in words, for reading."""
    return [(bed.word, needle_name(n, ANY_DOUBLE_BED.needles)) for bed, n in places]


# ---- a flat piece turned to a tube

RIGHT = [
    "fold right 4 of back onto front\nfold left 4 of back onto front\n",
    "fold left 4 of back onto front\nfold right 4 of back onto front\n",
    '''scrap off right 4 of back as right-part
scrap off left 4 of back as left-part
rehang right-part to R1 to R4 of front turned
rehang left-part to L4 to L1 of front turned
''',
    "".join(f"transfer R{4 + n} of back to R{5 - n} of front\n" for n in range(1, 5))
    + "".join(f"transfer L{4 + n} of back to L{5 - n} of front\n" for n in range(1, 5)),
]


@pytest.mark.parametrize("turn", RIGHT, ids=["fold", "left first", "waste", "stitch by stitch"])
def test_a_turned_piece_is_one_tube_with_its_seam_in_the_middle(turn):
    found = of(PIECE + turn + ROUND)

    assert wrongs(PIECE + turn + ROUND) == []
    (meeting,) = found.meetings
    assert [names((joint.one, joint.two)) for joint in meeting.edges] == [
        [("front", "L1"), ("front", "R1")]]
    (seam,) = found.seams
    assert (seam.bed, seam.off) == (FRONT, 0)


STRAIGHT = [
    ("transfer right 4 of back to R1 to R4 of front\nfold left 4 of back onto front\n", "R"),
    ("fold right 4 of back onto front\ntransfer left 4 of back to L4 to L1 of front\n", "L"),
    ('''scrap off right 4 of back as right-part
scrap off left 4 of back as left-part
rehang right-part to R1 to R4 of front
rehang left-part to L4 to L1 of front turned
''', "R"),
]


@pytest.mark.parametrize(("turn", "side"), STRAIGHT, ids=["transfer", "left", "waste"])
@pytest.mark.parametrize("rounds", [
    ROUND, ROUND.replace("knit 6 rounds", "knit 24 rows"),
    ROUND.replace("knit 6 rounds", "repeat 24 times\n    knit 1 row")],
    ids=["rounds", "rows", "single rows"])
def test_a_quarter_moved_straight_across_is_reversed(turn, side, rounds):
    (meeting,) = of(PIECE + turn + rounds).meetings

    assert meeting.wrong == "reversed"
    assert names(meeting.needles[0]) == [("front", f"{side}{n}") for n in (
        (1, 2, 3, 4) if side == "R" else (4, 3, 2, 1))]


def test_both_quarters_straight_across():
    (meeting,) = of(PIECE + "transfer right 4 of back to R1 to R4 of front\n"
                    "transfer left 4 of back to L4 to L1 of front\n" + ROUND).meetings

    assert meeting.wrong == "reversed"
    assert len(meeting.needles) == 2


def test_a_quarter_hung_where_the_other_belongs():
    """Each turned, but at the wrong end: the first and the last column land on the fold."""
    (meeting,) = of(PIECE + '''scrap off right 4 of back as right-part
scrap off left 4 of back as left-part
rehang right-part to L4 to L1 of front turned
rehang left-part to R1 to R4 of front turned
''' + ROUND).meetings

    assert meeting.wrong == "exchanged"
    assert [names(part)[0] for part in meeting.needles] == [("front", "L4"), ("front", "R1")]


def test_two_stitches_crossed():
    (meeting,) = of(PIECE + "fold left 4 of back onto front\n" + "".join(
        f"transfer R{a} of back to R{b} of front\n" for a, b in [(5, 4), (6, 2), (7, 3), (8, 1)])
        + ROUND).meetings

    assert meeting.wrong == "crossed"
    assert names(meeting.needles[0]) == [("front", "R2"), ("front", "R3")]


@pytest.mark.parametrize(("right", "left", "off"), [(4, 4, 0), (5, 3, -2), (3, 5, 2), (4, 3, -1)])
def test_where_the_edges_meet(right, left, off):
    """Of 16 columns r turned at the right and l at the left: l left of the seam, r right of it."""
    piece = PIECE.replace("centre 8 of front", "L8 to R8 of front")
    found = of(piece + f"fold right {right} of back onto front\n"
               f"fold left {left} of back onto front\n" + ROUND)

    (seam,) = found.seams
    assert (seam.bed, seam.off) == (FRONT, off)


@pytest.mark.parametrize("folded, side", [("right", "left"), ("left", "right")])
def test_a_piece_folded_in_half_has_its_seam_at_the_side(folded, side):
    piece = PIECE.replace("centre 8 of front", "L8 to R8 of front")
    found = of(piece + f"fold {folded} 8 of back onto front\n" + ROUND)

    assert wrongs(piece + f"fold {folded} 8 of back onto front\n" + ROUND) == []
    (seam,) = found.seams
    assert (seam.bed, seam.side) == (None, side)


def test_a_heel_knitted_before_the_first_round():
    """Only the front bed is knitted at first; the ring closes later."""
    found = of(PIECE + RIGHT[0] + '''take empty of both out of work
set back to rest
set front to knit
thread main
knit 2 rows
do heel on front with leave = 4
set both to circular
knit 3 rounds
cut
gather both
''')

    assert [(seam.bed, seam.off) for seam in found.seams] == [(FRONT, 0)]
    assert not any(meeting.jumps for meeting in found.meetings)
    assert [(heel.bed, heel.kind) for heel in found.heels] == [(FRONT, "short rows")]


def test_a_turned_piece_that_both_beds_knit_at_once():
    """Neither bed rests: the first row sews front and back of the tube together."""
    body = PIECE + RIGHT[0] + "take empty of both out of work\nset front to knit\n" + ROUND[
        ROUND.index("thread"):].replace("rounds", "rows")

    assert wrongs(body) == ["interleaved"]


# ---- tubes taken off and hung again

@pytest.mark.parametrize(("hung", "wrong", "moved"), [
    ("rehang one to centre 8 of front\nrehang two to centre 8 of back\n", [], 0),
    ("rehang one to centre 8 of front turned\nrehang two to centre 8 of back\n",
     ["reversed"], 0),
    ("rehang one to centre 8 of back turned\nrehang two to centre 8 of front turned\n", [], 16),
    ("rehang one to centre 8 of back\nrehang two to centre 8 of front\n", ["inside-out"], 16),
    ("rehang one to centre 8 of front turned\nrehang two to centre 8 of back turned\n",
     ["inside-out"], 0),
    ("rehang one to L3 to R4 of front and R4 of back\n"
     "rehang two to L4 of front and L4 to R3 of back\n", [], 2),
], ids=["as it was", "one turned", "half a turn", "exchanged", "both turned", "by one stitch"])
def test_a_tube_hung_again(hung, wrong, moved):
    found = of(SCRAPPED + hung + ROUND)

    assert wrongs(SCRAPPED + hung + ROUND) == wrong
    assert sum(meeting.moved for meeting in found.meetings if not meeting.jumps) == moved
    assert found.seams == ()


def test_a_quarter_turn_takes_the_seam_to_the_side():
    """8 columns a bed, seam between columns 4 and 5 of the front bed; hung round by 4."""
    found = of(PIECE + RIGHT[0] + ROUND.replace("cut\ngather both\n", '''cut
scrap off left 4 of front as first
scrap off right 4 of front as second
scrap off left 4 of back as fourth
scrap off right 4 of back as third
bring centre 8 of both into work
rehang first to L4 to L1 of back turned
rehang second to L4 to L1 of front
rehang third to R1 to R4 of front turned
rehang fourth to R1 to R4 of back
thread main
knit 4 rounds
cut
gather both
'''))

    assert [meeting.moved for meeting in found.meetings] == [0, 8]
    assert [(seam.bed, seam.side, seam.off) for seam in found.seams] == [
        (FRONT, None, 0), (None, "left", 0)]


@pytest.mark.parametrize(("hung", "wrong"), [
    ("graft one to two\n", []),
    ("rehang one to centre 8 of front\nrehang two to centre 8 of back\ngraft front to back\n", []),
    ("rehang one to centre 8 of front turned\nrehang two to centre 8 of back\n"
     "graft front to back\n", ["reversed"]),
    ("rehang one to centre 8 of front turned\nscrap off front as three\ngraft three to two\n",
     ["reversed"]),
], ids=["groups", "needles", "needles turned", "groups turned"])
def test_a_toe_grafted(hung, wrong):
    assert wrongs(SCRAPPED + hung) == wrong


# ---- what must stay silent

def test_a_rib_moved_to_one_bed_and_back_keeps_its_order():
    assert of('''full pitch
do tubular-cast-on with around = 24, yarn = main
knit 6 rows
do rib-to-one-bed on back
set back to knit
knit 3 rows
cut
bind off back
''').meetings == ()


@pytest.mark.parametrize(("targets", "jumps"), [
    ("L3 and L1 and R2 and R4", False), ("L5 and L3 and L1 and R2", True)])
def test_at_half_pitch_a_stitch_of_the_back_bed_lies_to_the_right_of_its_neighbour(targets, jumps):
    """Moved one needle to the right it passes no stitch, moved one to the left it does."""
    found = of(f'''half pitch
bring L4 and L2 and R1 and R3 of both into work to cast on
set both to knit
thread main
knit 4 rows
bring {targets} of front into work
transfer L4 and L2 and R1 and R3 of back to {targets} of front
take all of back out of work
set front to knit
knit 2 rows
cut
bind off front
''').meetings

    assert any(meeting.jumps for meeting in found) == jumps


def test_a_rib_moved_past_its_neighbours_is_crossed():
    """Every stitch of the front bed goes two needles too far, past its neighbour."""
    body = '''full pitch
do tubular-cast-on with around = 24, yarn = main
knit 6 rows
rack to 2 right
bring L16 to R16 of back into work
transfer front to back
take all of front out of work
set front to rest
set back to knit
knit 2 rows
cut
bind off back
'''
    (meeting,) = [m for m in of(body).meetings if m.jumps]
    assert meeting.wrong == "mixed"
    assert wrongs(body.replace("rack to 2 right", "rack to 0")) == []


STRIP = '''bring centre 16 of front into work to cast on
set front to knit
thread main
knit 4 rows
'''
SHAPING = {
    "decrease": """transfer L1 of front onto L2 of front
knit 1 row
""",
    "other way": """transfer L1 of front onto R1 of front
knit 1 row
""",
    "fashioned": """move 3 stitches at left of front in by 1
knit 1 row
""",
    "every other": """transfer every 2nd from 2 of all of front \
onto every 2nd from 1 of all of front
take empty of front out of work
knit 2 rows
""",
    "cable": """bring L2 to L1 of back into work
transfer L2 to L1 of front to back
transfer R1 to R2 of front to L2 to L1 of front
transfer back to R1 to R2 of front
take back out of work
knit 2 rows
""",
    "two cables": """scrap off L5 of front as a
scrap off R3 of front as c
transfer L4 of front to L5 of front
transfer R4 of front to R3 of front
rehang a to L4 of front
rehang c to R4 of front
knit 2 rows
""",
    "three strands": """scrap off L2 to L1 of front as a
scrap off R1 of front as b
transfer R2 to R3 of front to L2 to L1 of front
rehang b to R1 of front
rehang a to R2 to R3 of front
knit 2 rows
""",
    "latched": """drop L1 of front
latch up L1 of front
knit 1 row
""",
    "parked": """scrap off left 5 of front as thumb
knit 4 rows
rehang thumb to L8 to L4 of front
knit 1 row
""",
}


@pytest.mark.parametrize("shaping", SHAPING)
def test_rows_of_shaping_are_no_change_of_order(shaping):
    body = STRIP + SHAPING[shaping] + "bind off front\ncut\n"

    assert [m for m in of(body).meetings if m.jumps] == []


TURNED = '''scrap off left {} of front as part
rehang part to empty of front turned
knit 2 rows
'''


@pytest.mark.parametrize("count", [1, 3, 5, 7, 8, 9, 11])
@pytest.mark.parametrize("shaping", SHAPING)
def test_after_shaping_each_stitch_still_has_its_neighbours(shaping, count):
    """The stitches at the left, turned where they hang: the first comes to lie beside one that has
    two neighbours.  One alone may be turned (and two are a cable)."""
    if shaping == "every other":
        count = min(count, 5)  # of eight
    told = wrongs(STRIP + SHAPING[shaping] + TURNED.format(count))

    assert told == [] if count == 1 else told in (["crossed"], ["reversed"])


CAST_ON = {
    "both": """cast on centre 16 of both
set both to circular
knit 8 rounds
""",
    "one after the other": """cast on centre 16 of front
cast on centre 16 of back
set both to circular
knit 8 rounds
""",
    "the second later": """cast on centre 16 of front
set front to knit
knit 4 rows
cast on centre 16 of back
set both to circular
knit 8 rounds
""",
    "for a rib": """cast on centre 16 of both
set both to knit
knit 8 rows
""",
    "at the end": """cast on L8 to R4 of front
set front to knit
knit 4 rows
cast on R5 to R8 of front
knit 4 rows
""",
    "in a gap": """cast on L8 to R8 of front
set front to knit
knit 4 rows
bind off L2 to R2 of front
bring L2 to R2 of front into work
cast on L2 to R2 of front
knit 4 rows
""",
}


@pytest.mark.parametrize("way", CAST_ON)
def test_casting_on_by_hand(way):
    """Stitches cast on have no neighbours before a row goes along them."""
    begun = "bring centre 16 of both into work\nthread main\n" + CAST_ON[way]
    found = of(begun + "cut\ngather both\n")

    assert (found.meetings, found.seams) == ((), ())
    # Then they have: some that are turned where they hang lie wrongly (three of a rib are a cable).
    for count in (4, 5, 6, 7, 9, 10, 12):
        assert len(wrongs(begun + TURNED.format(count))) == 1, count


@pytest.mark.parametrize("name", ["family-sock", "toe-up-sock", "afterthought-sock", "flat-sock",
                                  "leg-warmer"])
def test_the_examples_are_whole(name):
    done = proof((EXAMPLES / f"{name}.sockscript").read_text("utf-8"))
    for row in done.outcomes:
        for outcome in row:
            found = neighbours(outcome.run)
            assert not any(meeting.wrong or meeting.jumps for meeting in found.meetings)
            assert not any(hem.wrong for hem in found.hems)
            assert (found.pockets, found.shut, found.bare_edges) == ((), (), ())
            seams = [(seam.bed, seam.off) for seam in found.seams]
            assert seams == ([(FRONT, 0)] if name in (
                "family-sock", "afterthought-sock", "leg-warmer") else [])
            assert {heel.bed for heel in found.heels} <= {FRONT}


# ---- two layers

RIB = rib(16) + "knit 1 row\n"


@pytest.mark.parametrize(("passes", "pockets"), [(2, 0), (3, 0), (6, 0), (7, 1)])
@pytest.mark.parametrize("single", [False, True])
def test_a_pocket_in_a_rib(passes, pockets, single):
    knit = f"repeat {passes} times\n    knit 1 row\n" if single else f"knit {passes} rows\n"
    found = of(RIB + "knit 5 rows\nset both to circular\n" + knit
               + "set both to knit\nknit 4 rows\ncut\ngather both\n")

    assert len(found.pockets) == pockets
    assert len(found.shut) == pockets, "what was a tube is shut by the rib that follows"
    assert found.meetings == ()


@pytest.mark.parametrize("rib", [
    RIB + "knit 5 rows\n", RIB + "repeat 5 times\n    knit 1 row\n",
    RIB.replace("knit 1 row\n", "knit 6 rows\n"), RIB + "hang weights\nknit 5 rows\n",
    RIB + "knit 3 rows\nbind off both\ncut\n" + RIB + "knit 5 rows\n"])
def test_the_rows_of_rib_below_a_pocket_are_counted(rib):
    found = of(rib + "set both to circular\nknit 9 rows\ncut\ngather both\n")

    assert [pocket.below for pocket in found.pockets] == [6]


def test_a_toe_begins_as_a_pocket_over_one_row():
    found = of(RIB + "set both to circular\nknit 20 rounds\ncut\ngather both\n")

    assert (found.pockets, found.meetings, found.bare_edges) == ((), (), ())


@pytest.mark.parametrize(("after", "bare"), [
    ("knit 4 rows\n", 1), ("knit 1 row\n", 1), ("repeat 4 times\n    knit 1 row\n", 1),
    ("set both to circular\nknit 2 rows\nset both to knit\nknit 4 rows\n", 0)])
def test_a_rib_on_the_bare_cast_on_row(after, bare):
    assert len(of(RIB + after + "cut\ngather both\n").bare_edges) == bare
    if "circular" not in after:
        assert len(of(RIB.replace("thread main\nknit 1 row", "thread main\nknit 5 rows")
                      + "cut\ngather both\n").bare_edges) == 1


def test_waste_yarn_may_begin_as_it_likes():
    assert of(RIB.replace("main", "waste") + "knit 5 rows\ncut\nthread main\nknit 4 rows\n"
              "cut\ngather both\n").bare_edges == ()


def test_the_faces_of_a_tube_hung_between_each_other():
    """The tubular edge was never closed: the two faces of a tube come by turns on one bed."""
    body = RIB + '''set both to circular
knit 20 rows
bring centre 16 of back into work
transfer front to back
set front to rest
set back to knit
knit 2 rows
cut
bind off back
'''
    assert wrongs(body) == ["interleaved"]
    assert wrongs(body.replace("knit 20 rows", "knit 2 rows")) == []


# ---- hems and slits

HEM = '''bring centre 12 of front into work to cast on
set front to knit
thread waste
knit 4 rows
cut
mark edge brim on front
thread main
knit 8 rows
'''


@pytest.mark.parametrize(("hang", "wrong", "shift"), [
    ("rehang brim onto centre 12 of front\n", "", 0),
    ("rehang brim onto centre 12 of front turned\n", "reversed", 0),
    ("rehang brim onto L5 to R6 of front\n", "shifted", 1),
    ("rehang brim onto R6 of front and L6 to R5 of front\n", "crossed", 0),
    ("move 3 stitches at left of front in by 1\nknit 1 row\n"
     "rehang brim onto L5 to R6 of front\n", "", 0),
], ids=["straight", "turned", "shifted", "round the end", "decreased"])
def test_a_hem(hang, wrong, shift):
    for after in ("knit 1 row\nbind off front\ncut\n", ""):
        (found,) = of(HEM + hang + after).hems

        assert (found.wrong, found.shift) == (wrong, shift)


def test_a_hem_hung_bit_by_bit():
    crossed = of(HEM + "rehang brim onto L5 of front\nrehang brim onto L6 of front\n"
                 "rehang brim onto L4 to R6 of front\nknit 1 row\n").hems
    straight = of(HEM + "rehang brim onto L6 to L5 of front\n"
                  "rehang brim onto L4 to R6 of front\nknit 1 row\n").hems

    assert [(hem.wrong, hem.shift) for hem in crossed] == [("shifted", 1), ("shifted", -1),
                                                           ("", 0)]
    assert [hem.wrong for hem in straight] == ["", ""]


def test_a_hem_of_a_tube_is_hung_on_its_own_bed():
    tube = OPEN_TUBE.replace("main", "waste") + '''mark edge brim on front
mark edge back-brim on back
thread main
knit 8 rounds
'''
    right = "rehang brim onto front\nrehang back-brim onto back\n"
    wrong = "rehang brim onto back\nrehang back-brim onto front\n"
    by_one = ("rehang brim onto L3 to R4 of front and R4 of back\n"
              "rehang back-brim onto L4 of front and L4 to R3 of back\n")

    assert [hem.wrong for hem in of(tube + right + "knit 1 round\n").hems] == ["", ""]
    assert [hem.wrong for hem in of(tube + wrong + "knit 1 round\n").hems] == ["crossed"] * 2

    assert [(hem.wrong, hem.shift, hem.round) for hem in of(
        tube + by_one + "knit 1 round\n").hems] == [("shifted", 1, True)] * 2


def test_a_band_knitted_sideways_hangs_untwisted_or_not():
    """The first row is hung on the other bed and grafted to the last: a ring, or one with a half
    turn in it (a strip joined end to end, textbook topology)."""
    band = HEM + "cut\nbring centre 12 of back into work\n"

    assert wrongs(band + "rehang brim to centre 12 of back\ngraft front to back\n") == []
    assert wrongs(band + "rehang brim to centre 12 of back turned\ngraft front to back\n") == [
        "reversed"]


@pytest.mark.parametrize(("off", "wrong"), [
    ("scrap off front as end\n", []),
    ("scrap off left 5 of front as end\nscrap off front as end\n", []),
    ("scrap off right 5 of front as end\nscrap off front as end\n", ["exchanged"]),
    ("move 3 stitches at left of front in by 1\nbring R7 of front into work to increase\n"
     "knit 2 rows\nscrap off front as end\n", []),
], ids=["at once", "in two parts", "in two parts, the right one first", "slanting"])
def test_a_band_knitted_sideways_is_grafted_off_the_machine(off, wrong):
    """Its last row to the open loops of its first, whatever columns end at its sides."""
    assert wrongs(HEM.replace("cut\n", "") + off + "cut\ngraft end to brim\n") == wrong


@pytest.mark.parametrize("turned", ["", " turned"])
def test_an_opening_hangs_as_a_ring(turned):
    body = OPEN_TUBE.replace("knit 4 rounds\ncut", "knit 4 rounds") + '''
do afterthought-opening with bed = front, opening = heel, waste = waste, yarn = main
knit 4 rounds
cut
gather both
bring centre 8 of both into work
rehang heel to centre 8 of front and centre 8 of back''' + turned + '''
thread main
set both to circular
knit 2 rounds
cut
gather both
'''
    found = of(body)

    assert wrongs(body) == []
    assert [(heel.bed, heel.kind) for heel in found.heels] == [(FRONT, "slit")]


def test_an_opening_hung_with_a_half_turn():
    body = OPEN_TUBE.replace("knit 4 rounds\ncut", "knit 4 rounds") + '''
do afterthought-opening with bed = back, opening = heel, waste = waste, yarn = main
knit 4 rounds
cut
gather both
bring centre 8 of both into work
rehang heel to centre 8 of front
rehang heel to centre 8 of back turned
thread main
set both to circular
knit 2 rounds
cut
gather both
'''
    assert wrongs(body) == ["reversed"]
    assert [heel.bed for heel in of(body).heels] == [BACK]


# ---- in a word

@pytest.mark.parametrize(("name", "seam"), [
    ("family-sock", TubeSeam("centre back", FRONT)), ("toe-up-sock", TubeSeam("none")),
    ("afterthought-sock", TubeSeam("centre back", FRONT)), ("flat-sock", None),
    ("leg-warmer", TubeSeam("middle", FRONT))])
def test_where_the_seam_of_an_example_runs(name, seam):
    done = proof((EXAMPLES / f"{name}.sockscript").read_text("utf-8"))

    assert {tube_seam(outcome.run) for row in done.outcomes for outcome in row} == {seam}


@pytest.mark.parametrize(("right", "left", "seam"), [
    (8, 0, TubeSeam("side", None, "left")), (0, 8, TubeSeam("side", None, "right")),
    (5, 3, TubeSeam("beside", FRONT)), (4, 4, TubeSeam("middle", FRONT))])
def test_where_the_seam_of_a_turned_piece_runs(right, left, seam):
    turn = "".join(f"fold {side} {count} of back onto front\n"
                   for side, count in (("right", right), ("left", left)) if count)
    piece = PIECE.replace("centre 8 of front", "L8 to R8 of front")

    assert tube_seam(run(piece + turn + ROUND)) == seam


def test_a_rib_with_a_tubular_edge_is_no_tube():
    assert tube_seam(run(RIB + "set both to circular\nknit 3 rows\nset both to knit\nknit 4 rows\n"
                         "cut\ngather both\n")) is None
    assert tube_seam(run(OPEN_TUBE + "gather both\n")) == TubeSeam("none")


# ---- thresholds

@pytest.mark.parametrize(("wide", "wrong"), [(1, []), (6, []), (7, ["exchanged"])])
def test_how_wide_a_cable_is(wide, wrong):
    """Two strands of so many stitches change places on their needles."""
    body = f'''bring centre 30 of front into work to cast on
set front to knit
thread main
knit 4 rows
scrap off L{wide} to L1 of front as left-strand
scrap off R1 to R{wide} of front as right-strand
rehang left-strand to R1 to R{wide} of front
rehang right-strand to L{wide} to L1 of front
knit 2 rows
bind off front
cut
'''
    assert wrongs(body) == wrong


@pytest.mark.parametrize(("count", "wrong"), [(2, "crossed"), (3, "crossed"), (4, "reversed")])
def test_how_many_stitches_are_a_slip_of_the_tool(count, wrong):
    """Of eight stitches turned one by one the last ones are hung in the wrong order."""
    piece = PIECE.replace("centre 16", "centre 32").replace("centre 8 of front",
                                                            "centre 16 of front")
    places = [*range(8, count, -1), *range(1, count + 1)]
    turn = "".join(f"transfer R{9 + n} of back to R{place} of front\n"
                   for n, place in enumerate(places)) + "fold left 8 of back onto front\n"

    assert wrongs(piece + turn + ROUND) == [wrong]


@pytest.mark.parametrize(("groups", "wrong"), [(1, "crossed"), (2, "reversed"), (3, "reversed"),
                                               (4, "mixed")])
def test_among_how_many_stretches_a_mend_is_looked_for(groups, wrong):
    """Each group of three that is turned in its place makes two stretches more."""
    tube = OPEN_TUBE.replace("centre 8", "centre 16")
    places = ["L7 to L5 of front", "R2 to R4 of front", "L7 to L5 of back", "R2 to R4 of back"]
    hung = "".join(f"scrap off {place} as group-{n}\nrehang group-{n} to {place} turned\n"
                   for n, place in enumerate(places[:groups]))

    assert wrongs(tube + hung + ROUND) == [wrong]


# ---- stitches that are made by hand

GROWN = {
    "between two": '''bring L9 and R9 of back into work
move 2 stitches at left of back out by 1
fill empty of back from {one}
move 2 stitches at right of back out by 1
fill empty of back from {two}
''',
    "at the ends": '''bring L9 of back into work
fill empty of back from right
bring R9 of back into work
fill empty of back from left
''',
    "dropped and brought up again": '''drop L7 of back
drop R3 of back
latch up L7 of back
latch up R3 of back
''',
}


@pytest.mark.parametrize("made", GROWN)
def test_a_stitch_made_by_hand_is_a_neighbour_of_those_beside_it(made):
    """The piece has columns at both its sides, whether they were knitted or made: turned rightly it
    is one tube, and a quarter moved straight across is reversed with them."""
    begin, brought = PIECE.split("bring centre 8 of front into work\n")
    body = (begin + GROWN[made].format(one="right", two="left")
            + "bring centre 10 of front into work\n")
    turn = "fold right 4 of back onto front\nfold left 4 of back onto front\n"
    found = of(body + brought + turn + ROUND)
    (meeting,) = found.meetings

    assert (meeting.wrong, len(meeting.edges), meeting.jumps) == ("", 1, ())
    ((bed, off),) = [(seam.bed, seam.off) for seam in found.seams]
    assert (bed, off) == (FRONT, 0)
    assert names((meeting.edges[0].one, meeting.edges[0].two)) == (
        [("front", "L1"), ("front", "R1")] if made.startswith("dropped")
        else [("front", "L2"), ("front", "R2")])
    end = 8 if made.startswith("dropped") else 9
    across = f"transfer R{end - 3} to R{end} of back to R2 to R5 of front\n"
    (meeting,) = of(body + brought + across + turn.splitlines()[1] + "\n" + ROUND).meetings
    assert meeting.wrong == "reversed"


@pytest.mark.parametrize("grow", [
    "do increase-once", "do increase-once with edge = 1",
    "bring L5 of both into work\nfill empty of both from right\n"
    "bring R5 of both into work\nfill empty of both from left"])
def test_a_tube_that_widens_is_still_one_ring(grow):
    """Four columns more; taken off and hung again as it was nothing has happened, and with its
    beds exchanged it hangs round by half."""
    wider = f'''half pitch
bring centre 8 of both into work to cast on
set both to circular
thread main
knit 4 rounds
{grow}
knit 2 rounds
cut
scrap off front as one
scrap off back as two
'''
    again = "thread main\nknit 4 rounds\ncut\ngather both\n"
    same = of(wider + "rehang one to centre 10 of front\nrehang two to centre 10 of back\n" + again)
    crossed = of(wider + "rehang one to centre 10 of front turned\n"
                 "rehang two to centre 10 of back\n" + again)

    assert same.meetings == () and same.seams == ()
    (meeting,) = crossed.meetings
    assert (meeting.wrong, len(meeting.jumps)) == ("reversed", 2)


# ---- without a row over it, and beside what is gone

def test_what_is_hung_wrongly_and_taken_off_at_once_is_told_too():
    """No row goes over the stitches; what takes them off goes along them all the same."""
    one = "rehang one to centre 8 of front turned\nrehang two to centre 8 of back\n"
    right = one.replace(" turned", "")
    strip = STRIP + TURNED.format(5).replace("knit 2 rows\n", "")

    assert wrongs(SCRAPPED + one + "gather both") == ["reversed"]
    assert wrongs(SCRAPPED + right + "gather both") == []
    assert wrongs(strip + "bind off front") == ["reversed"]
    assert wrongs(STRIP + "bind off front") == []
    # On one bed, after a tube.
    assert wrongs(SCRAPPED + "rehang one to centre 8 of front\n"
                  + TURNED.format(4).replace("knit 2 rows\n", "bind off front")) == ["reversed"]


@pytest.mark.parametrize("end, edges", [("bind off L2 to R2 of front", 1),
                                        ("drop L2 to R2 of front", 0)])
def test_what_is_bound_off_leaves_edges_and_what_ladders_does_not(end, edges):
    """Six stitches at the right come to hang beside the six at the left."""
    found = of(STRIP + end + """
bring L2 to R2 of front into work
transfer R3 to R8 of front to L2 to R4 of front
take empty of front out of work
knit 2 rows
""")

    assert sum(len(meeting.edges) for meeting in found.meetings) == edges
    assert not any(meeting.jumps for meeting in found.meetings)


def test_groups_that_are_grafted_are_gone_and_others_are_not():
    """Grafting a group to itself is refused: it can be hung up, rightly or wrongly, as before."""
    again = "rehang one to centre 8 of front{}\nrehang two to centre 8 of back\n" + ROUND
    assert wrongs(SCRAPPED + "graft one to one\n" + again.format("")) == []
    assert wrongs(SCRAPPED + "graft one to one\n" + again.format(" turned")) == ["reversed"]
    done = SCRAPPED + "graft one to two\ntake both out of work\nset both to rest\n" + STRIP
    assert wrongs(done + "knit 2 rows\n") == []
    assert wrongs(done + TURNED.format(5)) == ["reversed"]


@pytest.mark.parametrize("above, wrong", [("", []), (" turned", ["reversed"])])
def test_an_opening_frees_the_loops_below_it_and_those_above_as_a_ring(above, wrong):
    """Eight below on the front bed, the eight above on the back, each from the left."""
    assert wrongs(STRIP + "knit in waste over L8 to L1 of front as place\nknit 4 rows\n"
                  "bind off front\ncut\nbring centre 8 of both into work\n"
                  "rehang place to centre 8 of front\n"
                  f"rehang place to centre 8 of back{above}\n" + ROUND) == wrong


@pytest.mark.parametrize("held, heels", [
    ("hold left 2 needles of front\nhold right 2 needles of front", 1),
    ("hold left 2 needles of front", 0), ("hold right 2 needles of front", 0)])
def test_short_rows_of_a_heel_are_held_at_both_ends(held, heels):
    found = of(OPEN_TUBE + "thread main\nset back to rest\nset front to knit\n"
               f"respect hold on front\n{held}\nknit 4 rows")

    assert [(heel.bed, heel.kind) for heel in found.heels] == [(FRONT, "short rows")] * heels


def test_rows_over_what_hangs_wrongly_make_it_the_order_of_the_cloth():
    """Turned back afterwards, it hangs wrongly again; hung as it is now, it does not."""
    same = TURNED.replace(" turned", "")
    held = "respect hold on front\nhold right 3 needles of front\n"
    for begun in (STRIP, STRIP + held):
        assert len(wrongs(begun + TURNED.format(5))) == 1
        assert len(wrongs(begun + TURNED.format(5) + same.format(5))) == 1
        assert len(wrongs(begun + TURNED.format(5) + TURNED.format(5))) == 2
    crossed = SCRAPPED + ("rehang one to centre 8 of front turned\nrehang two to centre 8 of back\n"
                          + ROUND.replace("gather both\n", ""))
    again = "scrap off front as one\nscrap off back as two\nrehang one to centre 8 of front{}\n" \
            "rehang two to centre 8 of back\n" + ROUND
    assert len(wrongs(crossed + again.format(""))) == 1
    assert len(wrongs(crossed + again.format(" turned"))) == 2


def test_rows_on_both_beds_shut_a_tube_and_what_was_just_hung_is_told():
    """Where hands have hung the tube again, nobody says that it was one before the row."""
    hung = "rehang one to centre 8 of front\nrehang two to centre 8 of back\n"
    rows = "set both to knit\nthread main\nknit 2 rows\n"

    assert (len(of(OPEN_TUBE + rows).shut), wrongs(OPEN_TUBE + rows)) == (1, [])
    assert (of(SCRAPPED + hung + rows).shut, wrongs(SCRAPPED + hung + rows)) == (
        (), ["interleaved"])


POUCH = "do tube-cast-on with half = 8, yarn = main\nknit {} rounds\n{}\n{}"
ONE_BED = "knit 10 rounds\nbind off front\nset front to rest\nset back to knit\nknit 20 rows"


@pytest.mark.parametrize("on", ["knit 10 rounds", "repeat 20 times\n    knit 1 row", ONE_BED])
@pytest.mark.parametrize("wider", [
    "bring L5 of front into work to increase", "do increase-once",
    "bring L5 of front into work to increase\nbring R5 of back into work to increase",
    "move 2 stitches at left of both out by 1\nfill empty of both from left"])
@pytest.mark.parametrize("rounds", [1, 2, 3, 4])
def test_a_tube_may_be_widened_soon_after_its_cast_on_row(rounds, wider, on):
    """Up to three rounds over the cast-on row might still be the edge of a rib."""
    assert wrongs(POUCH.format(rounds, wider, on)) == []
    if on is not ONE_BED:
        assert wrongs(POUCH.format(rounds, wider, on) + "\nscrap off L4 to L1 of back as part\n"
                      "rehang part to L4 to L1 of back turned\nknit 2 rounds") == ["reversed"]
