"""Loops picked up along side edges, and the heel with a flap and a gusset that is made so.

That the yarn turns at an edge once in two rows, so that there is one large loop for every two, is
plain geometry; that a flap is picked up so, that one loop more closes the corner, and that a
square turn lies along the sole with all its rows is common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from support.scripts import FLAT, HEADER, TUBE, findings, kinds, proof, run

from sockscript.fabric.finished import finished, parts_of
from sockscript.fabric.loops import loop_graph
from sockscript.fabric.selvedges import picked_up
from sockscript.fabric.side_edges import edge_rows
from sockscript.findings.phrases import phrases
from sockscript.operations.ops import Knit, PickUp
from sockscript.pictures.dimensions import dimensions
from sockscript.pictures.shape import shape_of
from sockscript.pictures.taped import foot_axis, middle_of, rings_in, sections_of
from sockscript.sheet.facts import finishing, tools
from sockscript.sheet.sentences import sentence

PIECE = f"{FLAT}\nknit 19 rows\n"
"""Twenty stitches on the front bed (L10 to R10), twenty rows after the cast-on edge."""
OFF = "bind off front\ncut\nbring centre {} of front into work\n"
GO_ON = "thread main\nknit 4 rows\nbind off front\ncut"
ROW_MM = Fraction(100, 42)
FLAP = f"{TUBE}\nset back to rest\nset front to knit\nknit 28 rows on front\n"
HEEL = "do gusset-heel on front with long = 28, leave = 12\n"
FOOT = "knit 30 rounds\ndo wedge-toe with leave = 12\nknit 1 round\nremove weights\ndo graft-end"
GUSSET_SOCK = f"{TUBE}\nknit 40 rounds\n{HEEL}{FOOT}"


def along(body: str, rows: int = 20, loops: int = 10, at: str = "left") -> str:
    return body + OFF.format(loops) + \
        f"pick up along {rows} rows at {at} of front to empty of front\n" + GO_ON


# ---- which rows an edge has: the rule's reckoning and the graph of loops, each by itself

EDGES = [
    (PIECE, 20),
    (f"{FLAT}\nrepeat 19 times\n    knit 1 row\n", 20),
    (f"{FLAT}\ndo more\nset front to rest\nset front to knit\n", 20),
    (f"{FLAT}\nknit 9 rows\nset front to tuck\nknit 1 row\nset front to knit\nknit 9 rows\n", 19),
    # Short rows that do not reach the left edge.
    (f"{PIECE}respect hold on front\nhold left 3 of front\nknit 2 rows\ncancel hold on front\n",
     20),
    # Decreased, the edge runs on with the stitch that is outermost now.
    (f"{PIECE}move 3 stitches at left of front in by 1\nknit 4 rows\n", 24),
    # Rows of waste yarn come out again.
    (f"{PIECE}cut\nthread waste\nknit 4 rows\nmark slit gap on front\ncut\nthread main\n"
     "knit 2 rows\n", 22),
    (f"{PIECE}sew sides\n", 0),
]
MORE = HEADER + "technique more\n    knit 19 rows\n"


@pytest.mark.parametrize("body, rows", EDGES)
def test_the_rows_that_an_edge_has(body, rows):
    done = run(along(body), MORE if "do more" in body else HEADER)

    if "tuck" in body:
        rows += 1  # The tucked strand lies round the edge stitch: the row has an edge too.
    assert [one.there for one in picked_up(done)] == [rows]


@pytest.mark.parametrize("body, rows", [
    (FLAP, 28), (FLAP.replace("knit 28 rows", "repeat 28 times\n    knit 1 row"), 28),
    (f"{FLAP}set both to circular\nknit 1 round\nset back to rest\nset front to knit\n", 0),
    # One bed alone set to circular makes no rounds: it knits one of two passes.
    (FLAP + "set front to circular\nset back to knit\nknit 2 rows\nset back to rest\n"
     "set front to knit\n", 29),
    (FLAP + "set back to circular\nknit 2 rows\nset back to rest\n", 30),
    (TUBE + "\n", 0)])
def test_a_round_closes_the_edges_of_a_flap(body, rows):
    body += "bring R19 to R32 of front into work\npick up along 28 rows at right of front to " \
            "empty of front\nknit 1 row on front"
    done = run(body)

    assert [one.there for one in picked_up(done)] == [rows]
    assert ("edge-not-there" in kinds(body)) == (rows < 28)


def test_rows_are_picked_up_only_once():
    twice = FLAP.replace("28 rows", "29 rows") + """bring L19 to L25 of front into work
pick up along 14 rows at left of front to empty of front
bring L26 to L32 of front into work
pick up along 16 rows at left of front to empty of front
"""
    assert [one.there for one in picked_up(run(twice))] == [29, 15]


@pytest.mark.parametrize("side", ["left", "right"])
def test_the_loops_of_the_graph_are_those_of_the_edge_evenly_spread(side):
    body = FLAP + (f"knit {1 if side == 'left' else 2} rows on front\n"
                   "bring {0}19 to {0}32 of front into work\n".format(side[0].upper())
                   + f"pick up along 28 rows at {side} of front to empty of front\nknit 1 row")
    graph = loop_graph(run(body))
    courses = graph.courses
    flap = courses[-1 - (29 if side == "left" else 30):-1][-28:]
    ends = [max(course.loops, key=lambda n: graph.loops[n].needle * (1 if side == "right" else -1))
            for course in flap]
    last = sorted(courses[-1].loops, key=lambda n: graph.loops[n].needle)
    new = last[-14:] if side == "right" else last[:14][::-1]

    # From the stitches outwards: the last row first, every second row.
    assert [graph.loops[n].parents for n in new] == [(ends[-2 - 2 * k],) for k in range(14)]


def test_a_picked_up_loop_takes_no_stitch_and_no_yarn():
    done = run(along(PIECE))
    change = next(one for one in done.changes() if isinstance(one.op, PickUp))

    assert change.after.ledger.made - change.before.ledger.made == 10
    assert change.after.front.loaded.bit_count() == 10
    assert change.after._replace(front=None, ledger=None) == \
        change.before._replace(front=None, ledger=None)
    assert done.engine.yarn_loops == {"main": 20 * 21 + 10 * 4}


# ---- findings

@pytest.mark.parametrize("rows, loops, told", [
    (20, 11, []), (20, 12, ["picked-up-close"]), (20, 5, []), (20, 4, ["picked-up-sparse"]),
    (21, 12, []), (21, 13, ["picked-up-close"]), (21, 10, []), (22, 10, ["edge-not-there"])])
def test_how_many_loops_an_edge_gives(rows, loops, told):
    knitted = PIECE.replace("19 rows", "20 rows") if rows > 20 else PIECE
    for body in (knitted, knitted.replace("knit 19 rows", "repeat 19 times\n    knit 1 row")):
        assert kinds(along(body, rows, loops)) == told


@pytest.mark.parametrize("at, where, told", [
    ("right", "R19 to R32 of front", None), ("left", "R19 to R32 of front", "picked-up-astray"),
    ("right", "L32 to L19 of front", "picked-up-astray"), ("right", "R19 to R32 of back", None),
    ("right", "L32 to L19 of back", "picked-up-astray")])
def test_loops_are_hung_at_the_end_where_the_edge_is(at, where, told):
    found = kinds(f"{FLAP}bring {where} into work\npick up along 28 rows at {at} of front to "
                  f"{where}\nknit 1 row on front")

    assert ("picked-up-astray" in found) == (told is not None)


@pytest.mark.parametrize(("at", "where", "apart"), [
    # The outermost stitches hang on L18 and R18.
    ("right", "R19 to R32", False), ("left", "L32 to L19", False),
    ("right", "R20 to R33", True), ("left", "L33 to L20", True), ("right", "R21 to R34", True)])
def test_loops_hang_right_beside_the_last_stitch(at, where, apart):
    body = (f"{FLAP}bring {where} of front into work\npick up along 28 rows at {at} of front to "
            "empty of front\nknit 1 row on front")
    for text in (body, body.replace("empty of front", f"{where} of front")):
        assert ("picked-up-apart" in kinds(text)) == apart


@pytest.mark.parametrize(("at", "where"), [("right", "R20 to R38"), ("left", "L38 to L20")])
def test_stitches_on_every_second_needle_go_on_so(at, where):
    needles = "L18 to R20" if at == "left" else "L19 to R19"
    found = kinds(f"bring every other of {needles} of front into work\nset front to knit\n"
                  "thread main\ncast on front\nhang weights\nknit 21 rows\n"
                  f"bring every other of {where} of front into work\n"
                  f"pick up along 20 rows at {at} of front to empty of front\nknit 1 row")

    assert not {"picked-up-apart", "edge-not-there", "picked-up-astray"} & set(found)


@pytest.mark.parametrize(("rows", "words"), [
    ("", "only 1 row lies"), ("knit 1 row\n", "only 2 rows lie")])
def test_how_many_rows_there_are_is_told(rows, words):
    (found,) = [one for one in findings(along(f"{FLAT}\n{rows}", 4, 2))
                if one.kind == "edge-not-there"]

    assert f"but {words} at an open edge there." in found.message


def test_needles_that_have_stitches_are_told():
    assert "transfer-onto-loop" in kinds(
        f"{FLAP}pick up along 28 rows at right of front to right 14 of front")
    assert "nothing-to-join" in kinds(
        f"{FLAP}bring R19 to R32 of front into work\n"
        "pick up along 28 rows at right of front onto R19 to R32 of front")


@pytest.mark.parametrize("leave_out, where", [("left", "at the left"), ("right", "at the right"),
                                              ("both", "at both sides")])
def test_a_flap_that_is_not_picked_up_leaves_the_tube_open(leave_out, where):
    lines = [line for line in HEEL_BY_HAND.splitlines()
             if not (line.startswith("pick up") and (leave_out == "both" or leave_out in line))]
    told = [one.message for one in findings("\n".join(lines)) if one.kind == "tube-split"]

    assert len(told) == 1 and where in told[0]


HEEL_BY_HAND = f"""{FLAP}respect hold on front
hold far side 12 working of front
knit 1 row on front
hold far side 12 working of front
repeat until 12 stitches on front
    move count-held(front) / 2 up to whole stitches at carriage side of front in by 1
    knit 1 row on front
cancel hold on front
bring R7 to R21 of front into work
pick up along 30 rows at right of front to R7 to R21 of front
knit 1 row on front
wrap right 1 of back
bring L21 to L7 of front into work
pick up along 31 rows at left of front to L21 to L7 of front
knit 1 row on front
wrap left 1 of back
set both to circular
repeat until 36 stitches on front
    move 3 stitches at left of front in by 1
    move 3 stitches at right of front in by 1
    knit 2 rounds
"""


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("technique", [False, True])
def test_the_corner_beside_a_picked_up_edge_is_closed_by_a_wrap(side, technique):
    """Common practice, no source."""
    def corners(body: str) -> list[str]:
        lines = "".join(f"    {line}\n" for line in body[len(FLAP):].splitlines())
        text = f"{FLAP}do by-hand" if technique else body
        more = f"technique by-hand\n{lines}" if technique else ""
        return [word for one in findings(f"{text}\n{FOOT}", HEADER + more)
                for word in ("left", "right")
                if one.kind == "open-corner" and f"corner at the {word}" in one.message]

    assert corners(HEEL_BY_HAND) == []
    assert corners(HEEL_BY_HAND.replace(f"wrap {side} 1 of back\n", "")) == [side]
    assert corners(HEEL_BY_HAND.replace(f"wrap {side} 1 of back\n",
                                        f"wrap {side} 1 of front\n")) == [side]


def test_the_corner_is_told_as_what_it_is():
    """Beside a gusset lies no heel of short rows, and beside short rows no picked-up edge."""
    (gusset,) = [one for one in findings(HEEL_BY_HAND.replace("wrap left 1 of back\n", "") + FOOT)
                 if one.kind == "open-corner"]
    heel = (f"{TUBE}\nset back to rest\nset front to knit\n"
            "do short-rows-in on front with leave = 12\n"
            "do short-rows-out on front with until = 36\ncancel hold on front\n"
            "set both to circular\nknit 4 rounds")
    corner = next(one for one in findings(heel) if one.kind == "open-corner")

    assert "between the picked-up edge and the resting back bed" in gusset.message
    assert "held" not in gusset.advice and "loops of the edge" in gusset.advice
    assert "between the short rows and the resting back bed" in corner.message
    assert "held" in corner.advice and "loops of the edge" not in corner.advice


def test_a_stitch_that_waits_must_be_taken_in_at_the_turn():
    """Laid onto the last stitch that knits it closes the gap; else the turn leaves a hole."""
    turn = f"{FLAP}respect hold on front\nhold far side 12 working of front\nknit 1 row on front\n"
    joined = "move 12 stitches at carriage side of front in by 1\nknit 1 row on front"

    assert "short-row-hole" not in kinds(turn + joined)
    assert "short-row-hole" in kinds(turn + "knit 1 row on front")
    # A double elsewhere closes nothing.
    assert "short-row-hole" in kinds(
        turn + "move 3 stitches at right of front in by 1\nknit 1 row on front")


# ---- the whole heel

def test_a_heel_with_a_gusset_is_found_by_its_shape():
    """28 rows of flap; 24 stitches taken in by 25 rows, and the two that pick up."""
    for body in (GUSSET_SOCK, f"{HEEL_BY_HAND}{FOOT}".replace("knit 4 rounds", "knit 44 rounds")):
        done = run(body)
        whole = finished(done)

        assert whole.flap == 28 * ROW_MM
        assert whole.heel == 27 * ROW_MM
        # 3 decreases of the gusset, 30 rounds, 12 decreases of the toe, a round.
        assert whole.foot == (27 + 6 + 30 + 24 + 1) * ROW_MM
        told = [phrase for phrase in phrases(done) if phrase.words.startswith("heel")]
        assert told[0].words.startswith("heel flap with gusset")
        assert [value.value for value in told[0].values] == [28, 12, 30]
        assert [phrase.values[0].value for phrase in phrases(done)
                if phrase.words.startswith("tube of")] == [72]
        assert {row.name: row.values[0] for row in dimensions([done])}["Heel flap, high"] \
            == whole.flap
        parts = parts_of(done)
        assert parts is None or not parts.foot


def test_a_sock_from_the_toe_up_is_told_as_it_grows():
    """What a gusset adds for a while is not the tube's; the toe is widened, not narrowed."""
    body = TUBE.replace("centre 36", "centre 12") + """
repeat until 36 stitches on front
    do increase-once
    knit 2 rounds
knit 40 rounds
do gusset-heel on back with long = 28, leave = 12
knit 40 rounds
remove weights
bind off front
bind off back
cut"""
    told = {phrase.words: [value.value for value in phrase.values] for phrase in phrases(run(body))}

    assert told["toe of {} stitches, widened to {}"] == [24, 68]
    assert [counts for words, counts in told.items() if words.startswith("tube of")] == [[72]]


def test_turn_and_gusset_are_no_shaping_of_the_tube():
    """They take away what was picked up; the toe after them is alike on both beds."""
    # The tube of these tests begins shut.
    assert kinds(GUSSET_SOCK) == ["no-way-in"]
    few = HEEL.replace("leave = 12", "leave = 32, loops = 8")
    assert "yarn-jump" in kinds(GUSSET_SOCK.replace(HEEL, few))  # it sticks out by six


def test_a_turn_that_comes_back_is_folded_in_half():
    """Short rows in and out over the flap: half of them lie along the foot."""
    cup = f"""{FLAP}do short-rows-in on front with leave = 12
do short-rows-out on front with until = 36
cancel hold on front
bring R19 to R23 of front into work
pick up along 18 rows at right of front to empty of front
"""
    for side in "RL":
        end = "right" if side == "R" else "left"
        cup = cup if side == "R" else cup + "bring L23 to L19 of front into work\n" \
            "pick up along 18 rows at left of front to empty of front\n"
        cup += f"knit 1 row on front\nwrap {end} 1 of back\n"
    done = run(f"{cup}do gusset on front with until = 36\n{FOOT}")

    # 24 rows in and 24 out, and two that pick up.
    assert finished(done).flap == 28 * ROW_MM
    assert finished(done).heel == (Fraction(24 + 24, 2) + 2) * ROW_MM


def test_the_sentences_of_a_pick_up():
    done = run(along(PIECE, at="left"))
    said = [sentence(one.printed, done.engine.profile) for section in done.sections
            for one in section.instructions if one.printed.kind == "pick-up"]

    assert said == ["Pick up 10 loops along the left edge of the front bed, spread evenly over the "
                    "last 20 rows there, and hang them on all empty needles of the front bed."]


def test_a_band_that_is_picked_up_all_round_is_sewn_at_its_ends_alone():
    band = along(PIECE.replace("19", "79"), 80, 40)
    for old, new in (("centre 40 of front", "centre 20 of both"),
                     ("empty of front", "empty of both"),
                     ("knit 4 rows", "hang weights\nset both to circular\nknit 30 rounds"),
                     ("bind off front\ncut", "remove weights\ncut\ngather both")):
        before, _, after = band.rpartition(old)
        band = before + new + after
    leg = band
    done = run(leg)

    assert kinds(leg) == []
    assert "Sew the first row of “Test” to its last row." in finishing([done])
    assert not any("side edges" in line for line in finishing([done]))
    graph = loop_graph(done)
    assert len(graph.picked_along) == 80
    # What is picked up along grows on there; the other edge hangs free.
    assert [(one.left, one.right) for one in edge_rows(done)] == [(0, 80)]


def test_the_tools_name_the_widest_group_that_moves():
    assert "transfer tools with up to 12 prongs" in tools([run(GUSSET_SOCK)])


def test_the_foot_of_the_picture_stands_off_the_leg_at_a_right_angle_or_so():
    leg, heel = GUSSET_SOCK.partition(HEEL)[0], HEEL
    foot, toe = FOOT.split("\n", 1)
    text = "\n".join(f'section "{title}"\n    ' + "\n    ".join(part.strip().splitlines())
                     for title, part in (("Leg", leg), ("Heel", heel), ("Foot", foot),
                                         ("Toe", toe)))
    done = proof(HEADER + text + "\n").outcomes[0][0].run
    shape, parts = shape_of(done), sections_of(done)
    assert shape is not None and parts is not None
    rings = [ring for section in parts.leg for ring in rings_in(shape, section)]
    down = middle_of(shape, rings[-1]) - middle_of(shape, rings[0])
    way = foot_axis(shape, parts)
    turn = np.degrees(np.arccos(down @ way / np.linalg.norm(down) / np.linalg.norm(way)))

    assert 65 < turn < 115


def test_its_cost_grows_with_what_hands_do_and_not_with_rows():
    long = run(FLAP.replace("28 rows", "2800 rows") + "bring R19 to R32 of front into work\n"
               "pick up along 28 rows at right of front to empty of front\nknit 1 row on front")

    assert len(long.moments) < 60
    assert sum(one.op.passes for one in long.moments if isinstance(one.op, Knit)) > 2800
    assert [one.there for one in picked_up(long)] == [2800]
