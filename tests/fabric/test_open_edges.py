"""Which rows the open side edges of a piece have, and which of them are sewn; counted by hand."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, proof, rib, run
from support.sock_parts import FOOTWAYS, HEEL, LEG, START, TOES, made

from sockscript.fabric.side_edges import bands, edge_rows, seams
from sockscript.findings.told_back import phrases

FLAT = """bring centre 8 of {0} into work to cast on
set {0} to knit
thread main
knit 3 rows
"""
RIB = rib(16)
HELD = """respect hold on {0}
hold {1} of {0}
knit 4 rows
cancel hold on {0}
knit 5 rows
"""
TUBE = """half pitch
bring centre 8 of both into work to cast on
set both to knit
thread main
knit 1 row
set both to circular
knit 20 rounds
"""
OFF = "cut\nbind off front\nbind off back\n"


def edges(body):
    return [(one.left, one.right) for one in edge_rows(run(body))]


@pytest.mark.parametrize("bed", ["front", "back"])
@pytest.mark.parametrize("waits, found", [
    ("left 1", (8, 12)), ("right 1", (12, 8)), ("left 7", (8, 12)), ("L2 to R2", (12, 12)),
    ("both ends", (8, 8))])
def test_a_short_row_reaches_the_edge_where_it_knits_the_outermost_stitch(bed, waits, found):
    """Three rows over all, four over some, five over all."""
    held = HELD.format(bed, waits)
    if waits == "both ends":
        held = held.replace("hold both ends", f"hold left 1 of {bed}\nhold right 1")

    assert edges(FLAT.format(bed) + held) == [found]


@pytest.mark.parametrize("rows", ["knit 6 rows\n", "repeat 6 times\n    knit 1 row\n",
                                  "knit 1 row\nset both to circular\nknit 2 rows\n"
                                  "set both to knit\nrepeat 4 times\n    knit 1 row\n",
                                  "set both to circular\nknit 6 rows\nset both to knit\n"
                                  "knit 3 rows\n"])
@pytest.mark.parametrize("hands", ["", "transfer R7 of back onto R8 of front\n"
                                       "take R7 of back out of work\n"])
def test_rows_over_both_beds_are_rows_of_both_edges_each_once(rows, hands):
    """Two passes of a tubular edge, and six at most, are half as many rows; a stitch that hands
    take to the other bed changes nothing."""
    body = RIB + rows + hands + "knit 4 rows\n"

    assert edges(body) == [(10, 10)]


@pytest.mark.parametrize("passes, found", [(6, [(8, 8)]), (7, [])])
def test_more_than_six_circular_passes_are_a_tube_that_has_no_sides(passes, found):
    body = RIB.replace("knit\n", "circular\n") + f"knit {passes} rows\nset both to knit\n"

    assert edges(body + "knit 5 rows\n") == found


@pytest.mark.parametrize("along, found", [
    (40, [(0, 10), (0, 30)]), (35, [(5, 10), (0, 30)]), (30, [(10, 10), (0, 30)]),
    (20, [(10, 10), (10, 30)])])
def test_rows_that_are_picked_up_along_are_open_no_longer(along, found):
    """From the last row backwards, through the sections."""
    text = banded(("along 40", f"along {along}"))

    assert [(one.left, one.right) for one in edge_rows(proof(text).outcomes[0][0].run)] == found


def test_a_cast_on_edge_has_sides_where_they_are_picked_up_along_or_flat_rows_follow():
    """A row over both beds and four circular passes are three rows; alone they are no flat
    piece, nor do they belong to the next one.  Two of the left are picked up along."""
    start = RIB + "knit 1 row\nset both to circular\nknit 4 rows\n" + OFF
    up = ("bring centre 4 of front into work\n"
          "pick up along 2 rows at left of front to centre 4 of front\n"
          "set front to knit\nset back to rest\nthread main\nknit 5 rows\n")

    assert edges(start) == []
    assert edges(start + "set back to rest\n" + FLAT.format("front")) == [(3, 3)]
    assert edges(start + up) == [(1 + 5, 3 + 5)]


@pytest.mark.parametrize("before", ["", FLAT.format("front") + OFF.replace(
    "bind off back\n", "") + "set front to rest\n"])
@pytest.mark.parametrize("sections", [1, 2])
def test_rows_that_shut_a_tube_are_no_sides_in_whichever_section(before, sections):
    lines = [before + TUBE, "set both to knit\nknit 1 row\n" + OFF]
    if sections == 1:
        lines = ["".join(lines)]
    body = "".join(f'section "Part {n}"\n' + "".join(f"    {line}\n" for line in part.splitlines())
                   for n, part in enumerate(lines))
    found = edge_rows(proof(HEADER + body).outcomes[0][0].run)

    assert [(one.title, one.left, one.right) for one in found] == [("Part 0", 3, 3)] * bool(before)


def test_flat_rows_before_a_tube_are_sides_though_both_beds_are_set_to_knit():
    body = FLAT.format("front") + (
        "set both to knit\nknit 4 rows\n"
        "bring centre 8 of back into work to cast on\nset both to circular\nknit 20 rounds\n")

    assert edges(body) == [(7, 7)]


@pytest.mark.parametrize("end", [TOES["grafted"][0], "bind off front\nbind off back\ncut"])
def test_the_flat_rows_of_a_sock_are_sewn_and_those_of_a_swatch_are_not(end):
    """The cast-on row, a round of two passes, 17 rows of rib, and one on one bed; also where the
    sock has no toe."""
    sock = made([("Cuff", START["rib turned to a tube"][0]), ("Leg", LEG), ("Heel", HEEL),
                 ("Foot", FOOTWAYS["rounds"]), ("End", end)])

    assert seams(sock) == [("Cuff", 20)]
    assert seams(run(FLAT.format("front") + "cut\nbind off front\n")) == []


FLAT_LEG = ("bring centre 24 of front into work to cast on\nset front to knit\nthread main\n"
            "knit 30 rows\n")
SHORT = ("respect hold on front\nhold left 8 of front\nhold right 8 of front\nknit 10 rows\n"
         "cancel hold on front\n")
NARROWS = ("repeat 8 times\n    move 3 stitches at left of front in by 1\n"
           "    move 3 stitches at right of front in by 1\n    knit 2 rows\n")


@pytest.mark.parametrize("body, sewn, made", [
    (FLAT_LEG + SHORT + "knit 30 rows\n" + NARROWS, [("Test", 76)], "A cuff-down sock"),
    (FLAT_LEG + SHORT + "knit 30 rows\n", [], "A flat piece"),
    ("bring centre 24 of front into work\nthread main\ncast on centre 24 of front\n"
     "set front to knit\n" + SHORT + "knit 30 rows\n" + NARROWS, [], "A flat piece")])
def test_a_flat_piece_is_sewn_as_a_sock_if_it_has_leg_heel_and_toe(body, sewn, made):
    done = run(body + "bind off front\ncut\n")

    assert seams(done) == sewn
    assert next(phrases(done)).words == made


BAND = [("Band", "bring centre 40 of front into work to cast on\nset front to knit\nthread main\n"
                 "knit 10 rows\n"),
        ("Edge", "knit 30 rows\n"),
        ("Off", "cut\nbind off front\n"),
        ("Leg", "half pitch\nbring centre 10 of both into work\n"
                "pick up along 40 rows at left of front to empty of both\n"
                "set both to circular\nthread main\nknit 10 rounds\n")]


def banded(change):
    return HEADER + "".join(
        f'section "{title}"\n' + "".join(f"    {line}\n" for line in lines.splitlines())
        for title, lines in ((title, lines.replace(*change) if change[0] else lines)
                             for title, lines in BAND))


@pytest.mark.parametrize("change, found", [
    (("", ""), ["Edge"]), (("knit 30 rows\n", "note \"Ready.\"\n"), ["Band"]),
    # Loops of one bed alone are no tube.
    (("empty of both", "L10 to R10 of front"), []),
    (("empty of both", "L10 to R10 of back"), [])])
def test_a_band_is_picked_up_into_a_tube_along_its_whole_length(change, found):
    assert bands(proof(banded(change)).outcomes[0][0].run) == found


@pytest.mark.parametrize("bed", ["front", "back"])
def test_loops_picked_up_beside_stitches_begin_no_tube(bed):
    assert bands(run(f"half pitch\n{FLAT.format(bed)}bring R5 to R8 of both into work\n"
                     f"pick up along 3 rows at right of {bed} to empty of both\n")) == []
