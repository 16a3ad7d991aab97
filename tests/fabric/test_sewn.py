"""Hems that are sewn down, and side edges that are sewn together.

That half of a hem lies behind the other is plain geometry; that the seam of a flat piece is as
long as its side edges too.
"""

from __future__ import annotations

import pytest
from support.scripts import FLAT, HEADER, TUBE, findings, kinds, run

from sockscript.fabric.finished import finished
from sockscript.fabric.loops import loop_graph
from sockscript.fabric.measures import measures
from sockscript.fabric.pieces import pieces
from sockscript.fabric.side_edges import edge_rows, seams
from sockscript.findings.phrases import phrases
from sockscript.pictures.shape import shape_of
from sockscript.sheet.facts import finishing, tools

SQUARE = f"{FLAT}\nknit 39 rows\nbind off front\ncut\n"
RIB = '''bring centre 20 of both into work to cast on
set both to knit
thread main
knit 1 row
hang weights
set both to circular
knit {} rows
set both to knit
knit 30 rows
'''
OPEN = '''bring centre 20 of front into work to cast on
set front to knit
thread waste
knit 6 rows
cut
mark edge brim on front
thread main
knit 40 rows
bind off front
cut
'''


def rows(body):
    return [(one.rows, one.inside) for one in measures(run(body))]


@pytest.mark.parametrize("hem, inside", [
    ("sew down first 10 rows", 10), ("sew down last 1 row", 1), ("sew down last 20 rows", 20),
    ("sew down first 10 rows\nsew down last 10 rows", 20), ("", 0),
    ("sew down first 30 rows\nsew down last 30 rows", 40)])
def test_rows_sewn_down_lie_inside(hem, inside):
    assert rows(SQUARE + hem) == [(40, inside)]
    assert measures(run(SQUARE + hem))[0].deep == 40 - inside


def test_nothing_is_folded_before_anything_is_knitted():
    early = "sew down first 10 rows\n" + SQUARE

    assert rows(early) == [(40, 0)]
    assert kinds(early) == ["hem-too-deep"]
    assert kinds("sew down first 10 rows") == ["hem-too-deep"]


@pytest.mark.parametrize("begin", [
    "knit 20 rounds", "repeat 20 times\n    knit 1 round", "knit 20 rounds\ndo nothing-more"])
def test_a_tube_is_turned_in_on_both_beds(begin):
    header = HEADER + "technique nothing-more\n    row counter 0\n"
    body = f"{TUBE}\n{begin}\ncut\nremove weights\nsew down last 8 rounds"
    done = run(body, header)

    assert measures(done)[0].inside == 8
    assert kinds(body, header) == []
    # What was on the needles has been sewn where it belongs.
    assert done.engine.ledger.bound_off == done.moments[-1].state.ledger.bound_off > 0


def test_open_loops_are_sewn_by_their_name_and_not_left_to_be_secured():
    done = run(OPEN + "sew down brim over 12 rows")

    assert measures(done)[0].inside == 12
    assert not any("Secure the open loops" in line for line in finishing([done]))
    assert any("Secure the open loops" in line for line in finishing([run(OPEN)]))


@pytest.mark.parametrize("knitted, told", [(20, []), (19, ["hem-too-deep"])])
@pytest.mark.parametrize("part", ["first", "last"])
def test_half_of_the_rows_at_most_lie_inside(knitted, told, part):
    body = f"{FLAT}\nknit {knitted - 1} rows\nbind off front\ncut\nsew down {part} 10 rows"

    assert kinds(body) == told
    rows_one_by_one = body.replace(f"knit {knitted - 1} rows",
                                   f"repeat {knitted - 1} times\n    knit 1 row")
    assert kinds(rows_one_by_one) == told


def test_only_the_piece_at_hand_is_folded():
    two = f"{SQUARE}bring centre 20 of front into work\n" + "\n".join(SQUARE.splitlines()[1:])

    assert kinds(f"{two}\nsew down first 20 rows") == []
    assert kinds(f"{two}\nsew down first 21 rows") == ["hem-too-deep"]


def test_a_piece_whose_last_rows_are_sewn_down_off_the_needles_is_finished():
    """As it is when it is bound off; the next begins on needles that are in work still."""
    begun, _ = SQUARE.split("bind off front")
    again = "bring centre 20 of front into work to cast on\ncast on centre 20 of front\n"

    for end in ("sew down last 6 rows", "bind off front"):
        made = run(f"{begun}{end}\ncut\nthread main\n{again}knit 40 rows\nbind off front\n")
        assert len(pieces(made)) == 2, end


def test_the_drawing_turns_a_sewn_hem_in():
    """Ten of the forty rows: as many courses lie inside in the net of loops."""
    shape = shape_of(run(SQUARE + "sew down last 10 rows"))

    assert sorted(shape.inside) == list(range(30, 40))
    assert sorted(shape_of(run(SQUARE + "sew down first 10 rows")).inside) == list(range(10))
    assert not shape_of(run(SQUARE)).inside


# ---- seams


def test_a_flat_square_is_not_told_to_be_sewn_into_a_tube():
    assert seams(run(SQUARE)) == []
    assert not any("Sew" in line for line in finishing([run(SQUARE)]))
    assert "darning needle for the ends" in tools([run(SQUARE)])


def test_a_line_sews_the_sides_and_the_finishing_tells_it_once():
    done = run(SQUARE + "sew sides")

    assert seams(done) == [("Test", 40)]
    assert [line for line in finishing([done]) if "Sew" in line] == [
        "Sew the two side edges together: “Test”, 40 rows."]
    assert "blunt darning needle" in tools([done])


@pytest.mark.parametrize("circular", [0, 2, 4, 6])
def test_the_rows_of_a_seam_are_those_of_its_edges(circular):
    """A row of the cast-on, two circular passes to a row, 30 of rib: as long as it measures."""
    start = RIB.format(circular) if circular else RIB.replace(
        "set both to circular\nknit {} rows\nset both to knit\n", "")
    done = run(f"{start}cut\nremove weights\nbind off both\nsew sides")

    assert [(one.left, one.right) for one in edge_rows(done)] == [(31 + circular // 2,) * 2]
    assert measures(done)[0].rows == 31 + circular // 2


@pytest.mark.parametrize("begin", [TUBE, TUBE + "\ncut\nset both to knit\nthread main\nknit 1 row"])
def test_the_closed_ends_of_a_tube_are_no_sides(begin):
    assert edge_rows(run(f"{begin}\ncut\nremove weights\ngather both")) == []
    found = findings(f"{TUBE}\ncut\nremove weights\ngather both\nsew sides")

    assert [one.kind for one in found] == ["no-side-edges"]


def test_a_hem_of_a_sock_does_not_count_as_leg():
    text = '''do tubular-cast-on with around = 60, yarn = main
knit 39 rows
do rib-to-one-bed on back
set back to knit
stitch size 6
knit 1 row on back
do turn-to-tube with bed = back
set both to circular
thread main
hang weights
knit 20 rounds
do heel on front with leave = 10
set both to circular
knit 50 rounds
do wedge-toe with leave = 12
knit 1 round
cut
remove weights
do graft-end
'''
    plain, hemmed = finished(run(text)), finished(run(text + "sew down first 14 rows"))

    assert plain.foot == hemmed.foot
    assert float(plain.leg - hemmed.leg) == pytest.approx(14 * 100 / 42)


SIDEWAYS = OPEN.replace("bind off front\ncut\n", "cut\nscrap off front as end\ngraft end to brim\n")


@pytest.mark.parametrize("body", [SIDEWAYS, SIDEWAYS.replace("end to brim", "brim to end")])
def test_a_band_knitted_sideways_is_a_ring(body):
    """Its last loops are grafted to the first that are not waste yarn; no end of it is shut and no
    row of it lies double."""
    done = run(body)
    graph = loop_graph(done)
    pairs = [sorted((graph.loops[a].course, graph.loops[b].course)) for a, b in graph.grafted]
    (piece,) = pieces(done)

    assert pairs == [[6, 45]] * 20
    assert all(graph.loops[a].needle == graph.loops[b].needle for a, b in graph.grafted)
    assert (piece.began, piece.ended) == ("open", "open")
    assert sum(one.rows for one in piece.rows) == 40
    assert any("last row grafted to its first" in phrase.words for phrase in phrases(done))
    assert kinds(body) == ["ravel-cord-missing"]


@pytest.mark.parametrize("line, kind", [
    ("graft end to brin", "no-such-group"), ("graft front to brim", "same-bed"),
    ("graft brim to left 3 of front", "same-bed")])
def test_an_edge_is_not_grafted_to_stitches_on_needles(line, kind):
    assert kind in kinds(SIDEWAYS.replace("graft end to brim", line))


FOLDED = """bring centre 20 of {beds} into work to cast on
set {beds} to {action}
hang weights
thread waste
knit 6 {unit}s
cut
{marks}thread main
stitch size 5
{before}
stitch size {fold}
knit 1 {unit}
stitch size 5
{after}
{hangs}knit 4 {unit}s
cut
remove weights
gather {beds}
"""
HEMS = {"row": ("front", "knit", "mark edge brim on front\n", "rehang brim onto front\n"),
        "round": ("both", "circular", "mark edge brim on front\nmark edge back-brim on back\n",
                  "rehang brim onto front\nrehang back-brim onto back\n")}
SO_MANY = ("knit {n} {unit}s", "repeat {n} times\n    knit 1 {unit}", "do more-of with deep = {n}")


@pytest.mark.parametrize("unit", ["row", "round"])
@pytest.mark.parametrize("words", SO_MANY)
@pytest.mark.parametrize("before, after, fold, told", [
    (10, 10, 8, False), (10, 12, 8, False), (10, 13, 8, True), (12, 10, 8, False),
    (10, 7, 8, True), (10, 4, 5, False), (10, 4, 4, False)])
def test_a_hem_folds_in_its_middle(unit, words, before, after, fold, told):
    """A looser row elsewhere is told; a tighter one, or none, says nothing of the fold."""
    beds, action, marks, hangs = HEMS[unit]
    header = HEADER + f"technique more-of with deep\n    knit deep {unit}s\n"
    body = FOLDED.format(beds=beds, action=action, marks=marks, hangs=hangs, unit=unit, fold=fold,
                         before=words.format(n=before, unit=unit),
                         after=words.format(n=after, unit=unit))

    assert ("fold-off-centre" in kinds(body, header)) == told


def test_two_looser_rows_are_no_fold():
    body = FOLDED.format(beds="front", action="knit", unit="row", marks=HEMS["row"][2],
                         hangs=HEMS["row"][3], fold=8, before="knit 10 rows", after="knit 4 rows")

    assert "fold-off-centre" in kinds(body)
    assert "fold-off-centre" not in kinds(body.replace("knit 1 row", "knit 2 rows"))
    # Nor is one hung on the other bed a hem.
    assert "fold-off-centre" not in kinds(body.replace(
        "rehang brim onto front", "bring centre 20 of back into work\nrehang brim to back"))


HOLES = "transfer every {n} from 2 of all of {bed} onto every {n} from 1 of all of {bed}\n" \
        "bring every {n} from 2 of all of {bed} into work to increase"


@pytest.mark.parametrize("unit", ["row", "round"])
@pytest.mark.parametrize("words", SO_MANY)
@pytest.mark.parametrize("before, after, nth, told", [
    (10, 10, "2nd", False), (10, 13, "2nd", True), (10, 12, "2nd", False), (10, 7, "2nd", True),
    (10, 4, "3rd", True), (10, 4, "4th", False)])
def test_a_hem_folds_on_its_row_of_holes(unit, words, before, after, nth, told):
    """The row that makes the holes is the fold; through fewer holes a cord is drawn."""
    beds, action, marks, hangs = HEMS[unit]
    header = HEADER + f"technique more-of with deep\n    knit deep {unit}s\n"
    body = FOLDED.format(beds=beds, action=action, marks=marks, hangs=hangs, unit=unit, fold=5,
                         before=words.format(n=before, unit=unit) + "\n" + HOLES.format(
                             n=nth, bed="both" if unit == "round" else "front"),
                         after=words.format(n=after, unit=unit))
    found = [one for one in findings(body, header) if one.kind == "fold-off-centre"]

    assert bool(found) == told
    assert all("row of holes" in one.message for one in found)
    assert all("transfer every" in one.others[0].at.source.line(one.others[0].at.line)
               for one in found)
