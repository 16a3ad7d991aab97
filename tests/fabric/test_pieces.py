"""Pieces read from end to end, and what their sections measure, on small pieces counted by hand."""

from __future__ import annotations

import pytest
from support.scripts import proof, run

from sockscript.fabric.measures import measures, passes_of
from sockscript.fabric.pieces import pieces
from sockscript.fabric.side_edges import edge_rows
from sockscript.operations.beds import indices

HEADER = '''pattern "Pieces"
yarn main "sock yarn" 400 m per 100 g
gauge plain 30 stitches, 40 rows per 10 cm
gauge dense 40 stitches, 50 rows per 10 cm
'''
TWO_FABRICS = HEADER + '''section "Loose" in plain
    bring centre 24 of front into work to cast on
    set front to knit
    thread main
    knit 20 rows
section "Tight" in dense
    knit 20 rows
    cut
    bind off front
'''


def test_every_section_is_measured_by_its_own_gauge():
    """24 stitches at 3 and at 4 to the cm, 20 rows at 4 and at 5 to the cm."""
    done = proof(TWO_FABRICS).outcomes[0][0].run
    loose, tight = measures(done)

    assert (loose.around, loose.rows, loose.girth, loose.length) == (24, 20, 80, 50)
    assert (tight.around, tight.rows, tight.girth, tight.length) == (24, 20, 60, 40)
    (piece,) = pieces(done)
    assert [(one.stitches, one.rows, one.mm, one.rib) for one in piece.rows] == [
        (24, 20, 50, False), (24, 20, 40, False)]


def test_the_passes_of_a_section_are_its_own():
    done = proof(TWO_FABRICS).outcomes[0][0].run

    assert [[op.passes for op, _, _ in passes_of(done, section.first, section.last)]
            for section in done.sections] == [[20], [20]]
    first = done.passes()[1].number
    assert [op.passes for op, _, _ in passes_of(done, 0, first)] == [20]
    assert [op.passes for op, _, _ in passes_of(done, 0, first + 1)] == [20, 20]


@pytest.mark.parametrize("lines, held", [
    ("", False), ("respect hold on front", False), ("hold left 2 needles of front", False),
    ("hold left 2 needles of front\nrespect hold on front", True)])
def test_stitches_are_held_where_some_are_in_hold_and_hold_is_respected(lines, held):
    state = run(STRIP + lines).engine.snapshot().front

    assert bool(state.set_aside) is held


STRIP = """bring centre 8 of front into work to cast on
set front to knit
thread main
knit 2 rows
"""
PLAIN = HEADER.replace("gauge dense 40 stitches, 50 rows per 10 cm\n", "")


def only_piece(lines):
    (piece,) = pieces(run(lines, PLAIN))
    return piece


def rows_of(piece):
    return [(one.stitches, one.rows, one.rib) for one in piece.rows]


def test_short_rows_that_come_back_are_a_cup():
    """Two stitches at each end wait, one a row: the four in the middle knit four rows meanwhile."""
    done = run(STRIP + """respect hold on front
hold left 1 needle of front
knit 1 row
hold right 1 needle of front
knit 1 row
hold left 1 working of front
knit 1 row
hold right 1 working of front
knit 1 row
cancel hold on front
knit 3 rows""", PLAIN)
    (piece,) = pieces(done)
    (cup,) = piece.cups
    passes = [change.number for change in done.passes()]

    assert (cup.rows, cup.depth, cup.flap, cup.picked_up) == (4, 5, 0, 0)
    assert list(indices(cup.core)) == [98, 99, 100, 101]
    assert (cup.first, cup.last) == (passes[1], passes[5])
    assert rows_of(piece) == [(8, 2, False), (8, 3, False)]
    assert piece.widest == 8


def test_short_rows_of_the_back_bed_are_a_cup_of_that_bed():
    """The front rests, so that none of its stitches has a row of the cup."""
    width = 200
    piece = only_piece("""bring centre 4 of both into work to cast on
set both to knit
thread main
knit 1 row
set both to circular
knit 6 rounds
set front to rest
set back to knit
respect hold on back
hold right 1 needle of back
knit 2 rows
cancel hold on back
knit 2 rows
set both to circular
knit 5 rounds""")
    (cup,) = piece.cups

    assert cup.rows == 4 and cup.depth == 5
    assert [n - width for n in indices(cup.core)] == [98, 99, 100]
    assert rows_of(piece) == [(8, 1, True), (8, 6, False), (8, 5, False)]


def test_rows_on_one_bed_and_then_as_many_on_the_other_are_rows_all_round():
    tube = """bring centre 4 of both into work to cast on
set both to knit
thread main
knit 1 row
set both to circular
knit 4 rounds
set both to knit
set {0} to rest
knit 4 rows
set {0} to knit
set {1} to rest
knit {2} rows
set both to circular
knit 4 rounds"""

    even = only_piece(tube.format("back", "front", 4))
    assert rows_of(even) == [(8, 1, True), (8, 4, False), (8, 4, False), (8, 4, False)]
    assert even.cups == []
    # Two rows more on the back bed are no cup: none of its stitches waits while others knit.
    assert only_piece(tube.format("back", "front", 6)).cups == []
    assert rows_of(only_piece(tube.format("front", "back", 6)))[2] == (8, 4, False)


@pytest.mark.parametrize("rows, ended", [(1, "closed"), (2, "closed"), (3, "open")])
def test_up_to_two_rows_on_both_beds_close_a_tube_and_more_are_a_rib(rows, ended):
    """Common practice, no source."""
    piece = only_piece(f"""bring centre 8 of both into work to cast on
set both to knit
thread main
knit 1 row
set both to circular
knit 6 rounds
set both to knit
knit {rows} rows""")

    assert piece.ended == ended


def test_pieces_follow_each_other():
    done = run(STRIP + "cut\nbind off front\n" + STRIP + "knit 3 rows\ncut\nbind off front", PLAIN)
    first, second = pieces(done)

    assert rows_of(first) == [(8, 2, False)]
    assert rows_of(second) == [(8, 2, False), (8, 3, False)]
    assert (first.first, second.first) == tuple(
        change.number for change in done.passes())[:2]


@pytest.mark.parametrize("off", ["bind off front", "drop front", "take all of front out of work",
                                 "gather front", "scrap off front as more"])
def test_a_piece_ends_when_its_needles_are_empty(off):
    done = run(STRIP + f"cut\n{off}\n" + STRIP + "knit 3 rows", PLAIN)

    assert [rows_of(piece) for piece in pieces(done)] == [
        [(8, 2, False)], [(8, 2, False), (8, 3, False)]]


@pytest.mark.parametrize("off", ["", "take all of front out of work", "bind off front"])
def test_short_rows_that_end_a_piece_are_a_cup_up_to_its_end(off):
    done = run(f"{STRIP}respect hold on front\nhold left 2 needles of front\nknit 4 rows\n{off}",
               PLAIN)
    ((cup,),) = [piece.cups for piece in pieces(done)]

    assert (cup.rows, cup.last) == (4, len(done.moments) - bool(off))
    assert cup.first == done.passes()[1].number


@pytest.mark.parametrize("cast_on", [
    "bring centre 16 of back into work to cast on\nset back to knit\nthread main\nknit 4 rows\n",
    "bring centre 16 of both into work to cast on\nset both to knit\nthread main\nknit 1 row\n"
    "transfer front onto back\ntake all of front out of work\nset front to rest\nknit 4 rows\n"])
def test_a_flat_piece_that_hands_turn_to_a_tube_is_open_at_both_ends(cast_on):
    """However its first row was made; its end is shut where it is grafted."""
    turned = cast_on + ("half pitch\nbring centre 8 of front into work\n"
                        "fold right 4 of back onto front\nfold left 4 of back onto front\n"
                        "take empty of both out of work\nset both to circular\nknit 6 rounds\n")
    open_end, shut = only_piece(turned), only_piece(turned + "cut\ngraft front to back")

    assert (open_end.began, open_end.ended) == ("open", "open")
    assert (shut.began, shut.ended) == ("open", "closed")
    assert rows_of(open_end)[-2:] == [(16, 4, False), (16, 6, False)]


def test_rows_go_on_where_a_piece_is_taken_to_the_other_bed_and_back():
    """Two, three and four rows, one above the other; also where a part comes over."""
    over = ("bring centre 8 of {1} into work\ntransfer {0} to {1}\nset {0} to rest\n"
            "set {1} to knit\n")
    body = STRIP + over.format("front", "back") + "knit 3 rows\n" + over.format("back", "front")

    assert rows_of(only_piece(body + "knit 4 rows\n")) == [
        (8, 2, False), (8, 3, False), (8, 4, False)]
    half = STRIP + ("bring centre 8 of back into work\n"
                    "transfer left 4 of front to L4 to L1 of back\n"
                    "take empty of both out of work\nset both to circular\nknit 3 rounds\n")
    assert rows_of(only_piece(half)) == [(8, 2, False), (8, 3, False)]


@pytest.mark.parametrize("end, began", [("gather front", "closed"), ("bind off front", "open"),
                                        ("scrap off front as more", "open")])
def test_a_first_row_taken_up_is_as_open_as_what_is_knitted_on_from_it(end, began):
    body = STRIP.replace("main", "waste") + (
        "mark edge tip on front\ncut\nthread main\nknit 6 rows\ncut\nscrap off front as top\n"
        "rehang tip to centre 8 of front\nthread main\nknit 4 rows\ncut\n" + end)
    first, second = pieces(run(body, PLAIN + 'yarn waste "smooth waste yarn" as waste\n'))

    assert (first.began, first.ended) == (began, "open")
    assert second.taken_up == (first, "edge", "tip")


def test_the_edges_of_a_flat_piece_are_its_flat_rows_whatever_comes_later():
    """Six rows, turned to a tube with a flap that is picked up along; and six of a rib, before
    rows over both beds of which some stitches wait."""
    tube = """bring centre 16 of back into work to cast on
set back to knit
thread main
knit 6 rows
half pitch
bring centre 8 of front into work
fold right 4 of back onto front
fold left 4 of back onto front
take empty of both out of work
set both to circular
knit 10 rounds
set back to rest
set front to knit
knit 10 rows
"""
    flap = tube + ("bring R5 to R9 of front into work\n"
                   "pick up along 10 rows at right of front to R5 to R9 of front\nknit 1 row\n")
    rib = """full pitch
bring every 2nd from 1 of centre 16 of front into work to cast on
bring every 2nd from 2 of centre 16 of back into work to cast on
set both to knit
thread main
knit 6 rows
respect hold on front
hold left 1 of front
knit 4 rows
"""
    for body in (tube, flap, rib):
        assert [(one.left, one.right) for one in edge_rows(run(body, PLAIN))] == [(6, 6)]


@pytest.mark.parametrize("left, right, core, rows", [
    (2, 2, [98, 99, 100, 101], 2), (2, 3, [98, 99, 100], 2), (4, 4, [], 0), (0, 0, [], 0)])
def test_stitches_that_wait_one_after_the_other_have_their_rows_in_common(left, right, core, rows):
    """Two rows without those at the left, two without those at the right: each stitch has two, and
    those that never wait have four."""
    lines = STRIP
    if left:
        lines += (f"respect hold on front\nhold left {left} of front\nknit 2 rows\n"
                  f"return held of front to work\nhold right {right} of front\nknit 2 rows\n"
                  "cancel hold on front\nknit 3 rows")
    piece = only_piece(lines)

    assert rows_of(piece) == [(8, 2, False), (8, 2, False), (8, 3, False)][:3 if left else 1]
    assert [(cup.rows, list(indices(cup.core))) for cup in piece.cups] == (
        [(rows, core)] if rows else [])


def test_a_piece_of_a_first_row_alone_has_no_width():
    piece = only_piece("bring centre 8 of front into work\nthread main\ncast on front\n"
                       "mark edge tip on front\n")

    assert (piece.widest, piece.rows, piece.edges) == (0, [], {"tip": (0, 0)})


EDGE = """bring centre 8 of both into work to cast on
set both to knit
thread main
knit 1 row
set both to circular
knit {} rows
"""
BY_HAND = """bring centre 8 of both into work
thread main
cast on centre 8 of both
set both to circular
knit {} rows
"""
RIB = "set both to knit\nknit 6 rows\n"


@pytest.mark.parametrize("lines, tube", [
    (EDGE.format(3), False), (EDGE.format(4), True),
    (BY_HAND.format(3), False), (BY_HAND.format(4), True),
    # An edge of two passes before a rib and one of two after it are no tube together.
    (EDGE.format(2) + RIB + "set both to circular\nknit 2 rows\n", False),
    (EDGE.format(2) + RIB + "set both to circular\nknit 4 rows\n", True)])
def test_more_circular_passes_than_an_edge_has_are_a_tube(lines, tube):
    """Two or three passes make an edge (see the source at CAST_ON_PASSES)."""
    assert only_piece(lines).tube == tube


BED_BY_BED = """set back to rest
set front to knit
knit 4 rows
set front to rest
set back to knit
knit 4 rows
"""


@pytest.mark.parametrize("lines, tube", [
    (EDGE.format(14), False), (EDGE.format(16), True),
    (EDGE.format(4) + BED_BY_BED, False), (EDGE.format(8) + BED_BY_BED, True)])
def test_up_to_eight_rows_between_two_over_both_beds_are_a_welt(lines, tube):
    """The cast-on row is one of them.  Common practice, no source."""
    piece = only_piece(lines + "set both to knit\nknit 1 row\n")

    assert (piece.began, piece.tube) == (("closed", True) if tube else ("open", False))


JOIN = EDGE.format(12) + """full pitch
transfer back onto front
set back to rest
set front to knit
"""


@pytest.mark.parametrize("lines, ended", [
    (JOIN, "closed"), (JOIN + "knit 1 row\nbind off front\ncut", "closed"),
    (EDGE.format(12) + "full pitch\ntransfer left 7 of back onto front\n", "open"),
    # Lost on needles that are out of work, they lie on nothing.
    (EDGE.format(12) + "transfer back to R5 to R12 of front\n", "open"),
    # Stitches that come beside the others lay nothing together.
    (STRIP + "bring centre 8 of back into work\ntransfer front to back\n", "open"),
    # A rib that is knitted on from the joined row is as open as any.
    (JOIN + "knit 1 row\nbring every 2nd from 1 of centre 8 of back into work\n"
     "transfer every 2nd from 1 of centre 8 of front to back\nset both to knit\nhalf pitch\n"
     "knit 1 row\n", "open")])
def test_a_tube_is_shut_where_every_stitch_of_a_bed_lies_on_one_of_the_other(lines, ended):
    assert only_piece(lines).ended == ended


@pytest.mark.parametrize("rounds, tube", [(0, False), (1, True)])
def test_a_piece_that_hands_turn_is_a_tube_from_its_first_round(rounds, tube):
    body = ("bring centre 16 of back into work to cast on\nset back to knit\nthread main\n"
            "knit 4 rows\nhalf pitch\nbring centre 8 of front into work\n"
            "fold right 4 of back onto front\nfold left 4 of back onto front\n"
            "take empty of both out of work\nset both to circular\n")

    assert only_piece(body + f"knit {rounds} rounds\n" * bool(rounds)).tube == tube


@pytest.mark.parametrize("end, ended", [
    ("graft sole to instep", "closed"), ("", "open"),
    ("bring centre 8 of front into work\nrehang sole to centre 8 of front\nthread main\n"
     "set front to knit\nset back to rest\nknit 2 rows", "open")])
def test_a_tube_taken_off_by_name_is_shut_where_both_are_grafted(end, ended):
    lines = EDGE.format(12) + "cut\nscrap off front as sole\nscrap off back as instep\n" + end

    assert pieces(run(lines, PLAIN))[0].ended == ended


WASTE = PLAIN + 'yarn waste "smooth waste yarn" as waste\n'
STRIP_BEGUN = STRIP.replace("main", "waste") + "mark edge tip on front\ncut\nthread main\n"
WEDGE = ("respect hold on front\nhold left 2 of front\nknit 4 rows\ncancel hold on front\n"
         "knit 3 rows\n")
HUNG = "bring centre 8 of back into work\nrehang tip to centre 8 of back\n"


@pytest.mark.parametrize("end, ring", [
    ("cut\nscrap off front as top\ngraft top to tip", True),
    (HUNG + "cut\ngraft front to back", True), ("cut\nscrap off front as top", False)])
@pytest.mark.parametrize("short", [False, True])
def test_a_strip_whose_last_row_is_grafted_to_its_first_is_a_ring(end, ring, short):
    """Twenty rows; or with a wedge of four and three more."""
    (piece,) = pieces(run(STRIP_BEGUN + "knit 20 rows\n" + WEDGE * short + end, WASTE))

    assert (piece.ring, piece.began, piece.ended) == (ring, "open", "open")
    assert rows_of(piece) == [(8, 20, False), (8, 3, False)][:1 + short]
    assert [cup.rows for cup in piece.cups] == [4] * short


@pytest.mark.parametrize("after, deep", [(3, 27), (0, 24)])
def test_folded_in_two_it_is_the_tip_of_the_tube_that_goes_on(after, deep):
    """Twenty rows, four short ones and three or none; what is grafted is the other end."""
    wedge = WEDGE if after else WEDGE.replace("knit 3 rows\n", "")
    (piece,) = pieces(run(STRIP_BEGUN + "knit 20 rows\n" + wedge + HUNG + (
        "set both to circular\nknit 10 rounds\ncut\ngraft front to back"), WASTE))

    assert (piece.ring, piece.began, piece.ended) == (False, "closed", "closed")
    assert rows_of(piece) == [(16, 10, False)]
    assert [(cup.rows, cup.depth) for cup in piece.cups] == [(deep, deep * 1.25)]


@pytest.mark.parametrize("bed", ["front", "back"])
def test_a_piece_goes_on_where_it_is_hung_again(bed):
    lines = STRIP + "cut\nscrap off front as body\n" + (
        f"bring centre 8 of {bed} into work\nrehang body to centre 8 of {bed}\nset front to rest\n"
        f"set {bed} to knit\nthread main\nknit 3 rows")

    assert rows_of(only_piece(lines)) == [(8, 2, False), (8, 3, False)]


def test_an_end_grafted_to_a_row_above_the_first_makes_no_ring_of_the_piece():
    """Two rows, two of waste yarn whose loops are taken up, twenty more."""
    lines = STRIP + ("cut\nthread waste\nknit 2 rows\nmark edge middle on front\ncut\n"
                     "thread main\nknit 20 rows\ncut\nscrap off front as top\n"
                     "graft top to middle")

    assert not pieces(run(lines, WASTE))[0].ring
