"""The loop graph against the engine on random operations, and the order of loops in pieces."""

from __future__ import annotations

from collections import Counter
from types import SimpleNamespace

from hypothesis import HealthCheck, given, settings
from oracle.strategies import BEGINNINGS, NEEDLES, beginnings, profiles, sequences

from sockscript.fabric.loops import loop_graph
from sockscript.operations import ops
from sockscript.operations.beds import BACK, BEDS, FRONT
from sockscript.trace.engine import Engine

REFUSED = {"no-such-group", "name-taken", "not-scrapped", "not-an-edge", "mark-on-empty"}
"""Lines that the machine does not carry out: their names mean nothing."""


def graph_of(engine, operations, sections=()):
    """The loops of operations; of the yarns, waste is waste."""
    return loop_graph(SimpleNamespace(
        engine=engine, moments=[SimpleNamespace(op=op) for op in operations],
        sections=[SimpleNamespace(last=last) for last in (*sections, len(operations))],
        waste={"waste"}))


def carried_out(profile, operations):
    """The machine after what it can carry out of some operations, and these."""
    engine, kept = Engine(profile), []
    for op in operations:
        if isinstance(op, ops.Knit):
            op = ops.Knit(min(op.passes, 6), op.intent)
        after = engine.fork()
        # How many loops an edge gives is for a finding, not for the machine (test_picking_up).
        if not isinstance(op, ops.PickUp) and not {f.kind for f in after.apply(op)} & REFUSED:
            engine = after
            kept.append(op)
    return engine, kept


@settings(max_examples=200, derandomize=True, deadline=None,
          suppress_health_check=list(HealthCheck))
@given(profiles, beginnings, sequences)
def test_every_loop_is_where_the_machine_has_it(profile, beginning, sequence):
    engine, kept = carried_out(profile, [*BEGINNINGS[beginning], *sequence])
    graph = graph_of(engine, kept)

    held = [{n: tuple(graph.loops[loop].yarn for loop in stack) for n, stack in bed.items()}
            for bed in graph.on_needles]
    machine = [{n: stack for n in range(NEEDLES) if (stack := engine.needle(bed, n).loops)}
               for bed in BEDS]
    if any(isinstance(op, (ops.Mark, ops.KnitIn, ops.Fill)) for op in kept):
        # What these give is yarn that is still to be found (below, test_loops).
        held, machine = ([{n: len(stack) for n, stack in bed.items()} for bed in both]
                         for both in (held, machine))
    assert held == machine
    assert sum(map(len, graph.gathered)) == engine.ledger.gathered
    if not any(isinstance(op, ops.Fill) for op in kept):  # which takes no yarn
        assert engine.yarn_loops == Counter(
            yarn for loop in graph.loops for yarn in (loop.yarn, loop.along) if yarn)
    for number, loop in enumerate(graph.loops):
        assert all(parent < number for parent in loop.parents)
        assert loop.parents == () or loop.course >= min(
            graph.loops[parent].course for parent in loop.parents)


SIX = 0b111111
START = (ops.Place("work", SIX, SIX), ops.SetBed(FRONT, "knit"), ops.Thread("main"))


def knitted(*operations, sections=()):
    engine = Engine()
    for op in (*START, *operations):
        engine.apply(op)
    return graph_of(engine, [*START, *operations], sections)


def order(graph, course):
    """The needles of a course in the order of the yarn: F and B with their number from the left."""
    made = [graph.loops[loop] for loop in graph.courses[course].loops]
    return " ".join(f"{'F' if loop.bed is FRONT else 'B'}{loop.needle}" for loop in made)


def test_the_yarn_goes_from_bed_to_bed_in_the_order_of_the_needles():
    """At half pitch a back needle stands half a needle to the right of its front one; racked to the
    right, so many needles more."""
    both = (ops.Place("out", 0b111000, 0b111000), ops.SetBed(BACK, "knit"))

    graph = knitted(*both, ops.Knit(2), ops.Rack(1), ops.Knit(2), ops.Rack(-1), ops.Knit(1))
    assert [order(graph, course) for course in range(5)] == [
        "B2 F2 B1 F1 B0 F0", "F0 B0 F1 B1 F2 B2",  # the carriage comes from the right
        "B2 B1 F2 B0 F1 F0", "F0 F1 B0 F2 B1 B2", "F2 B2 F1 B1 F0 B0"]
    assert [course.direction for course in graph.courses] == [
        "left", "right", "left", "right", "left"]


def test_rows_and_their_ends():
    """Yarn runs on from row to row until it is cut; a flat row ends in open edges, a short row or a
    round does not at all its ends."""
    graph = knitted(
        ops.Knit(2), ops.Cut(), ops.Thread("main"), ops.Knit(1),
        ops.SetHold(FRONT, True), ops.Place("hold", 0b110000, 0), ops.Knit(1),
        ops.Place("hold", 0b1, 0), ops.Knit(1),
        ops.SetHold(FRONT, False), ops.SetBed(BACK, "knit"), ops.Knit(1), ops.SetBed(BACK, "rest"),
        ops.Knit(1), ops.SetBed(FRONT, "circular"), ops.SetBed(BACK, "circular"), ops.Knit(2),
        sections=(3, 4, 7))

    assert [course.joined for course in graph.courses] == [
        False, True, False, True, True, True, True, True, True]
    # Rows on one bed while the other is empty, then on both; the last are a row beside stitches
    # that rest, and a round.
    assert [course.flat for course in graph.courses] == [True] * 6 + [False] * 3
    assert [course.edges for course in graph.courses[:6]] == [
        (True, True), (True, True), (True, True), (True, False), (False, False), (True, True)]
    assert [course.section for course in graph.courses[:4]] == [1, 1, 2, 3]
    assert [graph.loops[course.loops[0]].course for course in graph.courses] == list(range(9))


def test_a_row_ends_at_the_edge_of_all_that_is_on_the_needles():
    """The back bed has stitches to the left and to the right of those on the front."""
    wide = (ops.SetBed(BACK, "knit"), ops.Place("out", 0b100001, 0), ops.Knit(1))
    narrow = (ops.SetBed(BACK, "rest"), ops.Knit(1))

    for moved, edges in (((), (False, False)), ((ops.Drop(0, 1),), (True, False)),
                         ((ops.Drop(0, 0b100000),), (False, True))):
        graph = knitted(*wide, *moved, *narrow)
        assert [course.edges for course in graph.courses] == [(True, True), edges]


def test_casting_on_by_hand_is_a_course_of_its_own():
    graph = knitted(ops.CastOn(0b111, 0), ops.Knit(1))

    laid = graph.courses[0]
    assert order(graph, 0) == "F0 F1 F2"
    assert (laid.joined, laid.flat, laid.edges) == (False, False, (False, False))
    # The row after it is drawn through these, and begins new loops on the needles beside them.
    assert {graph.loops[loop].needle: graph.loops[loop].parents
            for loop in graph.courses[1].loops} == {0: (0,), 1: (1,), 2: (2,), 3: (), 4: (), 5: ()}
    assert knitted(ops.Cut(), ops.CastOn(0b111, 0)).loops == ()


def test_a_gathered_ring_goes_along_the_front_bed_and_back_along_the_other():
    graph = knitted(ops.SetBed(BACK, "knit"), ops.Knit(1), ops.Gather(0b111, 0b111))

    (ring,) = graph.gathered
    assert [(graph.loops[loop].bed, graph.loops[loop].needle) for loop in ring] == [
        (FRONT, 0), (FRONT, 1), (FRONT, 2), (BACK, 2), (BACK, 1), (BACK, 0)]
    # Of two loops on a needle the end of yarn is seen in the one that was hung on last.
    doubled = knitted(ops.Knit(1), ops.Transfer(((FRONT, 1, FRONT, 0),), True),
                      ops.Gather(0b101, 0))
    assert [doubled.loops[loop].needle for loop in doubled.gathered[0]] == [1, 2]


def test_grafted_stitches_are_those_that_face_each_other_or_stand_in_the_same_place():
    tube = (ops.SetBed(BACK, "knit"), ops.Knit(1))
    beds = knitted(*tube, ops.Graft(0b111, 0b111))
    groups = knitted(*tube, ops.ScrapOff(FRONT, 0b111, "toe"), ops.ScrapOff(BACK, 0b111, "heel"),
                     ops.GraftGroups("toe", "heel"))

    for graph in (beds, groups):
        pairs = [(graph.loops[a], graph.loops[b]) for a, b in graph.grafted]
        assert [(a.bed, a.needle, b.bed, b.needle) for a, b in pairs] == [
            (FRONT, n, BACK, n) for n in range(3)]
    assert not beds.on_needles[FRONT].keys() & {0, 1, 2}


def test_waste_yarn_frees_the_loops_below_it_and_those_above():
    """Three needles with waste yarn laid over them by hand; below are the loops of the last row
    before, above those of the first row after."""
    graph = knitted(
        ops.Knit(3), ops.KnitIn(FRONT, 0b111, "waste", "thumb", "main"), ops.Knit(2),
        ops.Rehang("thumb", tuple((BACK, n) for n in range(6)), False, False))

    rehung = [graph.loops[graph.on_needles[BACK][n][0]] for n in range(6)]
    assert [(loop.yarn, loop.needle, loop.course) for loop in rehung] == [
        *(("main", n, 2) for n in range(3)), *(("main", n, 4) for n in range(3))]
    waste = graph.courses[3]
    assert (waste.joined, waste.flat, waste.edges) == (False, False, (False, False))
    assert [graph.loops[loop].yarn for loop in waste.loops] == ["waste"] * 3
    # A name that is taken is refused, and so is waste yarn over no stitch.
    again = knitted(ops.Knit(3), *(ops.KnitIn(FRONT, mask, "waste", name, "main") for mask, name in
                                   ((0b111, "thumb"), (0b111000, "thumb"), (SIX << 6, "other"))))
    assert len(again.courses) == 4


def test_a_row_of_waste_knitting_frees_them_too():
    """Eight rows of waste yarn between two of the pattern's own, as for a heel that is knitted
    last."""
    waste = (ops.Cut(), ops.Thread("waste"), ops.Knit(8),
             ops.Mark("heel", "slit", FRONT, "main"), ops.Cut(), ops.Thread("main"), ops.Knit(2))
    graph = knitted(
        ops.Knit(3), *waste, ops.Rehang("heel", tuple((BACK, n) for n in range(4)), False, False),
        ops.Rehang("heel", ((BACK, 4), (BACK, 5)), True, False))

    rehung = [graph.loops[graph.on_needles[BACK][n][0]] for n in range(6)]
    assert [(loop.yarn, loop.needle, loop.course) for loop in rehung] == [
        *(("main", n, 2) for n in range(4)), ("main", 5, 11), ("main", 4, 11)]


def test_a_dropped_stitch_comes_back_as_it_was():
    graph = knitted(ops.Knit(2), ops.Drop(0b11, 0), ops.LatchUp(0b1, 0))

    assert [graph.loops[loop].course for loop in graph.on_needles[FRONT][0]] == [1]
    assert 1 not in graph.on_needles[FRONT]


def test_the_bump_of_a_neighbour_is_drawn_through_what_the_neighbour_was():
    graph = knitted(ops.Place("out", 0b100000, 0), ops.Knit(2), ops.Place("work", 0b100000, 0),
                    ops.Fill(FRONT, 5, 4))

    filled, neighbour = (graph.loops[graph.on_needles[FRONT][n][0]] for n in (5, 4))
    assert filled.parents == neighbour.parents != ()


def test_a_hem_is_sewn_from_its_edge_or_from_where_the_piece_was_begun():
    """The rows of a piece that was bound off before are none of its rows."""
    graph = knitted(
        ops.Knit(4), ops.SewDown("first", 2, ""), ops.BindOff(SIX, 0),
        ops.Place("work", SIX, 0), ops.Knit(3), ops.Mark("brim", "edge", FRONT, "main"),
        ops.Knit(3), ops.SewDown("last", 1, ""), ops.SewDown("first", 2, "brim"))

    assert [(one.first, one.end, one.part, one.rows) for one in graph.sewn] == [
        (0, 4, "first", 2), (4, 10, "last", 1), (7, 10, "first", 2)]
    assert graph.on_needles == ({}, {})


def test_an_edge_that_is_closed_gives_no_loops():
    """Sewn, folded onto the other bed or closed by a round, it is no edge; nor are those of a piece
    that was bound off before edges of this one, nor rows of waste yarn."""
    pick_up = ops.PickUp(FRONT, "left", 4, ((BACK, 0), (BACK, 1), (BACK, 2), (BACK, 3)), "main",
                         True)
    rings = (ops.SetBed(FRONT, "circular"), ops.SetBed(BACK, "circular"), ops.Knit(2))
    begun = (ops.BindOff(SIX, 0), ops.Place("work", SIX, 0), ops.Knit(2))
    waste = (ops.Cut(), ops.Thread("waste"), ops.Knit(4))

    def taken(*between):
        graph = knitted(ops.Knit(6), *between, pick_up)
        return sorted(graph.loops[loop].course for loop in graph.picked_along)

    assert taken() == taken(*waste) == [2, 3, 4, 5]
    assert taken(ops.SewSides()) == taken(ops.Fold(((FRONT, 5, BACK, 5),))) == taken(*rings) == []
    assert taken(*begun) == [6, 7]
    # A short row that does not reach the edge is none of its rows.
    short = (ops.SetHold(FRONT, True), ops.Place("hold", 0b1, 0), ops.Knit(2))
    assert taken(*short) == [2, 3, 4, 5]
