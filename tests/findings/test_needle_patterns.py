"""Single needles that tuck or slip while their bed knits: what the machine does, and what is told.

That more than four strands hardly knit off, more than five needles make a float that catches, more
than two tucks side by side are not drawn down, and four rows are the most to slip is common
practice, no source.
"""

from __future__ import annotations

import pytest
from support.scripts import FLAT, HEADER, TUBE, findings, kinds, run

from sockscript.fabric.courses import courses
from sockscript.fabric.loops import loop_graph
from sockscript.follow.states import States
from sockscript.operations.beds import BACK, FRONT
from sockscript.operations.ops import Knit
from sockscript.pictures.unrolled import fabric_picture
from sockscript.sheet.facts import machine_needs
from sockscript.trace.in_words import whole_machine

STRIP = f"{FLAT}\nknit 3 rows\n"
"""L10 to R10 of the front bed."""
TUBED = f"{TUBE}\n"
"""L18 to R18 of both beds."""
END = "\nset all of both to knit\nknit 1 round\nremove weights\ncut\ngather both"
ENDED = "\nset all of front to knit\nknit 1 row\nbind off front\ncut"


def ways(rows: str):
    """The same rows in one line, row by row, and from a technique."""
    count, word = rows.split()[1:]
    return [rows, f"repeat {count} times\n    knit 1 {word.rstrip('s')}", "do more"], \
        HEADER + f"technique more\n    {rows}\n"


def told(body: str, rows: str, end: str) -> list[list[str]]:
    lines, header = ways(rows)
    return [kinds(f"{body}{line}{end}", header) for line in lines]


# ---- what the machine does

def test_a_tuck_lays_yarn_over_the_stitch_and_the_next_row_knits_both_off():
    done = run(f"{STRIP}set every 2nd from 2 of all of front to tuck\nknit 3 rows{ENDED}")
    after = [change.after for change in done.changes() if isinstance(change.op, Knit)]

    assert after[-2].front.laid.bit_count() == 10
    assert after[-1].front.laid == 0
    # Cast on and 4 rows of 20; in three rows ten stitches, in the last all.
    assert done.engine.yarn_loops == {"main": 20 * 5 + 3 * 10 + 20}
    assert done.engine.yarn_strands == {"main": 30}
    assert done.engine.ledger.made == done.engine.ledger.dropped == 0


def test_a_slipped_stitch_keeps_its_loop_and_takes_no_yarn():
    done = run(f"{STRIP}set L3 to L1 of front to slip\nknit 4 rows{ENDED}")
    graph = loop_graph(done)

    assert done.engine.yarn_loops == {"main": 20 * 5 + 4 * 17 + 20}
    assert done.engine.yarn_strands == {}
    # Drawn through in the last row, the slipped loops span five rows.
    last = graph.courses[-1].loops
    spans = sorted(graph.loops[n].course - graph.loops[graph.loops[n].parents[0]].course
                   for n in last)
    assert spans == [1] * 17 + [5] * 3


def test_the_way_of_a_needle_holds_until_it_or_its_bed_is_set():
    def laid(between: str) -> int:
        done = run(f"{TUBED}set every 2nd of all of front to tuck\n{between}\nknit 1 round")
        return done.engine.bed(FRONT).laid.bit_count()

    assert laid("knit 1 round") == laid("set back to circular") == 18
    assert laid("set L18 to L1 of front to knit") == 9
    assert laid("set front to circular") == laid("set all of front to slip") == 0


def test_long_and_short_cost_alike_and_a_repeat_costs_by_its_changes():
    one = run(f"{STRIP}set every 2nd from 2 of all of front to slip\nknit 4000 rows")

    assert len(one.moments) == len(run(f"{STRIP}set every 2nd from 2 of all of front to slip\n"
                                       "knit 4 rows").moments)
    assert one.engine.counter == 4004


# ---- what is told

@pytest.mark.parametrize("rows, expected", [(4, []), (5, ["too-many-strands"])])
def test_so_many_strands_lie_on_a_needle(rows, expected):
    strip = f"{STRIP}set every 2nd from 2 of L10 to R9 of front to tuck\n"
    tube = f"{TUBED}set every 2nd of all of front to tuck\n"

    for found in (*told(strip, f"knit {rows} rows", ENDED),
                  *told(tube, f"knit {rows} rounds", END)):
        assert found == expected


@pytest.mark.parametrize("rows, expected", [(4, []), (5, ["slipped-too-long"])])
def test_so_many_rows_a_stitch_is_slipped(rows, expected):
    strip = f"{STRIP}set L2 to L1 of front to slip\n"
    tube = f"{TUBED}set every 4th from 2 of all of both to slip\n"

    for found in (told(strip, f"knit {rows} rows", ENDED), told(tube, f"knit {rows} rounds", END)):
        assert {kind for one in found for kind in one} == set(expected)
    # Knitted off between, it begins anew; where all of the bed slip it goes on.
    for way, goes_on in (("knit", []), ("slip", ["nothing-knits", "slipped-too-long"])):
        again = f"{strip}knit 4 rows\nset all of front to {way}\nknit 2 rows\n"
        again += "set all of front to knit\nset L2 to L1 of front to slip\nknit 4 rows"
        assert kinds(again + ENDED) == goes_on


@pytest.mark.parametrize("which, expected", [("L3 to R2", []), ("L3 to R3", ["float-too-long"]),
                                             ("L6 to L2 and R1 to R5", [])])
def test_so_many_needles_a_float_spans(which, expected):
    assert kinds(f"{STRIP}set {which} of front to slip\nknit 2 rows{ENDED}") == expected
    assert kinds(f"{TUBED}set {which} of front to slip\nknit 2 rounds{END}") == expected
    # In a rib the other bed knits between, unless all of it slip.
    rib = f"{TUBED}set both to knit\nset {which} of front to slip\nknit 1 row"
    assert "float-too-long" not in kinds(rib)
    slips = rib.replace("knit 1 row", "set all of back to slip\nknit 1 row")
    assert [kind for kind in kinds(slips) if kind == "float-too-long"] == expected


@pytest.mark.parametrize("which, expected", [("L1 to R1", []),
                                             ("L2 to R1", ["tucks-side-by-side"]),
                                             ("L4 to L3 and L1 to R1", [])])
def test_so_many_needles_tuck_side_by_side(which, expected):
    assert kinds(f"{STRIP}set {which} of front to tuck\nknit 2 rows{ENDED}") == expected
    assert kinds(f"{TUBED}set {which} of front to tuck\nknit 2 rounds{END}") == expected
    rib = f"{TUBED}set both to knit\nset {which} of front to tuck\nknit 1 row"
    assert "tucks-side-by-side" not in kinds(rib)


@pytest.mark.parametrize("way", ["tuck", "slip"])
def test_an_open_edge_knits_in_every_row_and_a_tube_has_none(way):
    for line in (f"set L10 of front to {way}", f"set R10 of front to {way}"):
        assert "edge-in-pattern" in kinds(f"{STRIP}{line}\nknit 1 row{ENDED}")
    assert kinds(f"{STRIP}set L9 of front to {way}\nknit 1 row{ENDED}") == []
    assert kinds(f"{TUBED}set L18 of front to {way}\nknit 1 round{END}") == []


@pytest.mark.parametrize("bed, words", [("rest", "the bed rests"), ("tuck", "all its needles")])
def test_needles_of_a_bed_that_does_not_knit_are_set_in_vain(bed, words):
    body = f"{STRIP}set front to {bed}\nset L1 of front to tuck\nset front to knit\nknit 1 row"
    found = findings(body + ENDED)

    assert [one.kind for one in found] == ["needles-set-in-vain"] and words in found[0].message
    assert kinds(body.replace(f"set front to {bed}\n", "") + ENDED) == []
    assert kinds(f"{STRIP}set front to {bed}\nset L1 of front to knit\nset front to knit\n"
                 f"knit 1 row{ENDED}") == []


def test_each_stitch_is_slipped_for_rows_of_its_own():
    """One for five rows, another for the last two of them."""
    (found,) = findings(f"{STRIP}set L2 of front to slip\nknit 3 rows\nset L5 of front to slip\n"
                        f"knit 2 rows{ENDED}")

    assert found.kind == "slipped-too-long" and found.message.startswith("Needle L2 of the front")


def test_of_a_bed_that_tucks_as_a_whole_no_single_needles_are_told():
    for which in ("L4 to L1", "L10"):
        body = f"{STRIP}set front to tuck\nset {which} of front to tuck\nknit 1 row{ENDED}"
        assert kinds(body) == ["needles-set-in-vain"]


# ---- shown

def test_the_picture_and_the_needs_know_of_it():
    done = run(f"{TUBED}do tuck-stitch with repeats = 2\ndo slip-stitch with repeats = 2{END}")
    picture = fabric_picture(done, heading="x")
    here = [course for course in courses(done) if any(course.tucked) or any(course.slipped)]

    assert picture is not None
    assert "tucked: the yarn is laid over" in picture.svg
    assert "slipped: the yarn passes behind" in picture.svg
    assert "tuck" in machine_needs([done])
    state = run(f"{TUBED}set every 2nd of all of front to tuck\nset L2 of front to slip\n"
                "knit 1 round").engine.snapshot()
    front = "Front bed: 36 stitches, set to circular, 17 of its needles set to tuck, 1 of its " \
        "needles set to slip"
    assert whole_machine(state, 2, "wool")[2] == front
    states = States(100, 2)
    states.number(state, "wool", 0)
    assert states.words[states.beds[0][3]] == front
    assert {course.tucked[bed].bit_count() for course in here for bed in (FRONT, BACK)} == {0, 18}
    assert {course.slipped[bed].bit_count() for course in here for bed in (FRONT, BACK)} == {0, 9}
