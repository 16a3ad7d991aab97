"""Single facts of work by hand: what each operation leaves on the needles and in the bank book."""

from __future__ import annotations

import pytest
from oracle.strategies import DOUBLE, HALF

from sockscript.operations import ops
from sockscript.operations.beds import BACK, FRONT
from sockscript.trace.replay import replay
from sockscript.trace.state import Ledger
from sockscript.trace.symbols import SIGNS, legend, symbol

TUBE = (ops.Place("work", HALF, HALF, "cast-on"), ops.SetBed(FRONT, "knit"),
        ops.SetBed(BACK, "knit"), ops.Thread("main"), ops.Knit(2))
"""Stitches 4 to 9 of both beds: twelve in all."""
DOUBLES = ops.Transfer(((FRONT, 5, FRONT, 6), (BACK, 5, BACK, 6)), True)
TWO_YARNS = (ops.Place("work", 0b111, 0b111), ops.Thread("main"), ops.CastOn(0b111, 0), ops.Cut(),
             ops.Thread("waste"), ops.CastOn(0, 0b111))
"""Needles 0 to 2: the yarn on the front bed, waste yarn on the back bed."""


def after(*sequence):
    return replay(sequence, DOUBLE)


def told(*sequence):
    """The faults of the last operation as kind, bed, needles, amount."""
    found = replay(sequence[:-1], DOUBLE).apply(sequence[-1])
    return [(f.kind, f.bed, f.needles, f.amount) for f in found]


# ---- dropping, latching up, filling


def test_dropped_stitches_come_up_again_one_by_one_the_newest_first():
    dropped = (*TWO_YARNS, ops.Transfer(((BACK, 0, FRONT, 0),), True), ops.Drop(1, 0))
    once = after(*dropped, ops.LatchUp(1, 0))
    both = after(*dropped, ops.LatchUp(1, 0), ops.Transfer(((FRONT, 0, BACK, 0),)),
                 ops.LatchUp(1, 0))

    assert after(*dropped).ledger.dropped == 2
    assert after(*dropped).ladders(FRONT) == {0: ("main", "waste")}
    assert once.needle(FRONT, 0).loops == ("waste",)
    assert (once.ledger.dropped, once.ladders(FRONT)) == (1, {0: ("main",)})
    assert (both.needle(FRONT, 0).loops, both.needle(BACK, 0).loops) == (("main",), ("waste",))
    assert (both.ledger.dropped, both.ladders(FRONT)) == (0, {})


def test_where_nothing_can_be_latched_up():
    dropped = (*TUBE, ops.Drop(0b11 << 4, 0))

    assert told(*dropped, ops.LatchUp(0b111 << 4, 0)) == [
        ("nothing-to-latch-up", FRONT, 1 << 6, 0)]
    assert told(*dropped, ops.Place("out", 1 << 4, 0), ops.LatchUp(0b11 << 4, 0)) == [
        ("nothing-to-latch-up", FRONT, 1 << 4, 0)]
    assert told(*TUBE, ops.Place("work", 1 << 2, 0), ops.LatchUp(1 << 2, 0)) == [
        ("nothing-to-latch-up", FRONT, 1 << 2, 0)]


def test_a_needle_is_filled_from_its_neighbour():
    start = (*TWO_YARNS, ops.Transfer(((BACK, 1, FRONT, 1),), True), ops.Place("work", 1 << 3, 0),
             ops.Transfer(((FRONT, 0, FRONT, 3),)))
    done = after(*start, ops.Fill(FRONT, 0, 1))

    assert done.needle(FRONT, 0).loops == ("waste",), "the newest loop of the neighbour"
    assert done.needle(FRONT, 1).loops == ("main", "waste")
    assert done.ledger.made == 1
    assert told(*start, ops.Fill(FRONT, 1, 2)) == [("fill-target-not-free", FRONT, 0b10, 0)]
    assert told(*start, ops.Fill(FRONT, 5, 1)) == [("fill-target-not-free", FRONT, 1 << 5, 0)]
    assert told(*start, ops.Place("work", 1 << 4, 0), ops.Fill(FRONT, 4, 5)) == [
        ("transfer-from-empty", FRONT, 1 << 5, 0)]


# ---- groups


def test_doubles_count_as_joined_when_they_are_bound_off_grafted_or_gathered():
    for op, column in ((ops.BindOff(HALF, HALF), "bound_off"), (ops.Gather(HALF, HALF), "gathered"),
                       (ops.Graft(HALF, HALF), "grafted")):
        done = after(*TUBE, DOUBLES, op)
        book = done.ledger
        assert (book.joined, getattr(book, column)) == (2, 10)
        assert (done.bed(FRONT).in_use, done.bed(BACK).in_use) == (1 << 5, 1 << 5)


@pytest.mark.parametrize("off, unequal", [(0, 0), (1, -1)])
def test_groups_with_doubles_grafted_off_the_machine(off, unequal):
    start = (*TUBE, DOUBLES, ops.ScrapOff(FRONT, HALF & ~(off << 4), "one"),
             ops.ScrapOff(BACK, HALF, "two"))
    whole = after(*start)
    assert (whole.ledger.scrapped, len(whole.groups["one"].stacks)) == (12 - off, 5 - off)
    done = after(*start, ops.GraftGroups("one", "two"))

    assert (done.ledger.scrapped, done.ledger.joined, done.ledger.grafted) == (0, 2, 10 - off)
    assert done.groups == {}
    assert told(*start, ops.GraftGroups("one", "two")) == [
        ("unequal-graft", None, 0, unequal)] * bool(unequal)


def test_which_groups_cannot_be_grafted():
    start = (*TUBE, ops.ScrapOff(FRONT, HALF, "one"), ops.Mark("edge", "edge", BACK, "main"))

    assert [kind for kind, *_ in told(*start, ops.GraftGroups("one", "none"))] == ["no-such-group"]
    assert [kind for kind, *_ in told(*start, ops.GraftGroups("x", "y"))] == ["no-such-group"] * 2
    assert [kind for kind, *_ in told(*start, ops.GraftGroups("one", "one"))] == ["no-such-group"]
    slit = (*start, ops.Mark("slit", "slit", BACK, "main"))
    for pair in (("one", "slit"), ("slit", "edge"), ("slit", "slit")):
        assert [kind for kind, *_ in told(*slit, ops.GraftGroups(*pair))] == ["slit-grafted"]
        assert after(*slit, ops.GraftGroups(*pair)).groups.keys() == {"one", "edge", "slit"}


@pytest.mark.parametrize("first, second, made, joined, grafted", [
    ("one", "edge", 5, 1, 10), ("edge", "one", 5, 1, 10), ("edge", "other", 10, 0, 10),
    ("one", "few", 4, 1, 9)])
def test_the_open_loops_of_an_edge_come_to_be_when_they_are_grafted(
        first, second, made, joined, grafted):
    """Waste yarn drawn out frees a loop for each stitch: they are made, and grafted at once."""
    start = (*TUBE, DOUBLES, ops.Mark("edge", "edge", BACK, "main"),
             ops.Mark("other", "edge", BACK, "main"), ops.ScrapOff(BACK, 1 << 4, "rest"),
             ops.Mark("few", "edge", BACK, "main"), ops.ScrapOff(FRONT, HALF, "one"))
    before = after(*start)
    done = after(*start, ops.GraftGroups(first, second))
    gone = len(before.groups["one"].stacks) + 1 if "one" in (first, second) else 0

    assert done.groups.keys() == before.groups.keys() - {first, second}
    assert (done.ledger.made - before.ledger.made, done.ledger.grafted) == (made, grafted)
    assert done.ledger.joined == joined
    assert before.ledger.scrapped - done.ledger.scrapped == gone
    assert told(*start, ops.GraftGroups(first, second)) == [
        ("unequal-graft", None, 0, 1)] * (second == "few")


@pytest.mark.parametrize("turned, first", [(False, ("main",)), (True, ("waste", "main"))])
def test_a_group_is_hung_in_order_or_turned_and_what_is_left_waits(turned, first):
    """A single, a single, a double; then two needles for three stacks."""
    start = (*TWO_YARNS, ops.Transfer(((FRONT, 2, BACK, 2),), True), ops.Cut(),
             ops.Thread("main"), ops.Transfer(((FRONT, 0, FRONT, 2),)),
             ops.Transfer(((BACK, 0, FRONT, 0), (BACK, 1, FRONT, 1)), False))
    before = (*start, ops.Transfer(((BACK, 2, BACK, 0),)))
    scrap = (*before, ops.ScrapOff(FRONT, 0b100, "a"), ops.ScrapOff(BACK, 0b1, "a"))
    two = after(*scrap)
    assert two.groups["a"].stacks == (("main",), ("waste", "main"))
    done = after(*scrap, ops.Rehang("a", ((BACK, 1),), turned))

    assert done.needle(BACK, 1).loops == first
    assert [len(stack) for stack in done.groups["a"].stacks] == [3 - len(first)]
    assert done.ledger.scrapped == 3 - len(first)
    assert told(*scrap, ops.Rehang("a", ((BACK, 1),), turned)) == [("rehang-count", None, 0, 1)]
    rest = after(*scrap, ops.Rehang("a", ((BACK, 1),), turned), ops.Rehang("a", ((BACK, 2),)))
    assert rest.groups == {}


def test_a_slit_frees_twice_as_many_loops_as_an_edge():
    for kind, stacks in (("edge", 6), ("slit", 12)):
        done = after(*TUBE, ops.Mark("a", kind, FRONT, "other"))
        assert done.groups["a"].stacks == (("other",),) * stacks
        freed = after(*TUBE, ops.Mark("a", kind, FRONT, "other"), ops.Place("work", 0b11, 0),
                      ops.Rehang("a", ((FRONT, 0), (FRONT, 1))))
        assert (freed.ledger.made, freed.needle(FRONT, 1).loops) == (2, ("other",))


def test_a_freed_loop_is_no_yarn_until_it_is_knitted():
    """Also where many rows follow in one go: the machine looks alike from the first row on."""
    freed = (*TUBE, ops.SetBed(BACK, "rest"), ops.Mark("a", "edge", FRONT, "other"),
             ops.Place("work", 0b1111, 0), ops.Rehang("a", ((FRONT, 0), (FRONT, 1))), ops.Cut(),
             ops.Place("out", HALF, 0), ops.Place("out", 0b1100, 0), ops.Thread("other"))

    assert after(*freed).yarn_loops == {"main": 24}
    for rows in (1, 2, 7, 100):
        assert after(*freed, ops.Knit(rows)).yarn_loops == {"main": 24, "other": 2 * rows}


# ---- needles


def test_why_an_empty_needle_was_brought_into_work():
    """The last word counts; a mark stays until the needle gets a loop or goes out of work."""
    def wanted(*places):
        return after(*TUBE, *places).wanted(FRONT)

    new = 0b11 << 2
    increase, cast_on, plain = (ops.Place("work", new, 0, purpose)
                                for purpose in ("increase", "cast-on", "none"))
    assert wanted(increase) == (new, 0)
    assert wanted(cast_on) == (0, new)
    assert wanted(increase, cast_on) == (0, new)
    assert wanted(cast_on, increase) == (new, 0)
    assert wanted(cast_on, plain) == (0, new)
    assert wanted(increase, ops.Place("hold", new, 0)) == (new, 0)
    assert wanted(increase, ops.Place("out", 1 << 2, 0)) == (1 << 3, 0)
    assert wanted(cast_on, ops.Place("out", 1 << 2, 0)) == (0, 1 << 3)
    assert wanted(increase, ops.Transfer(((FRONT, 4, FRONT, 3),))) == (1 << 2, 0)
    assert wanted(cast_on, ops.Transfer(((FRONT, 4, FRONT, 3),))) == (0, 1 << 2)
    assert wanted(cast_on, ops.Knit(1)) == (0, 0)
    assert wanted(increase, ops.Transfer(((FRONT, 4, FRONT, 3),)),
                  ops.Transfer(((FRONT, 3, FRONT, 4),))) == (1 << 2, 0)
    assert wanted(ops.Place("work", HALF, 0, "increase")) == (0, 0), "they have stitches"


@pytest.mark.parametrize("purpose, made, cast_on, faults", [
    ("increase", 1, 0, []), ("cast-on", 0, 1, []),
    ("none", 1, 0, [("empty-needle-catches", FRONT, 1 << 3, 0)])])
def test_what_an_empty_needle_in_work_becomes(purpose, made, cast_on, faults):
    start = (*TUBE, ops.Place("work", 1 << 3, 0, purpose))
    was, now = after(*TUBE).ledger, after(*start, ops.Knit(1)).ledger

    assert (now.made - was.made, now.cast_on - was.cast_on) == (made, cast_on)
    assert told(*start, ops.Knit(1)) == faults


def test_a_double_that_was_not_knitted_is_told_on_the_bed_where_it_hangs():
    move = ops.Transfer(((FRONT, 6, BACK, 5),))

    assert told(*TUBE, DOUBLES, move) == [("double-not-knitted", FRONT, 1 << 6, 0)]


def test_what_is_told_of_the_yarn_in_the_hand():
    """Four strands a needle holds; from where the yarn hangs, at the right end, it reaches five."""
    wraps = (ops.Wrap(FRONT, 9),) * 5
    assert [told(*TUBE, *wraps[:many]) for many in (4, 5)] == [
        [], [("too-many-strands", FRONT, 1 << 9, 4)]]
    assert told(*TUBE, ops.CastOn(0b11 << 3, 0)) == [
        ("cast-on-idle-needle", FRONT, 1 << 3, 0), ("cast-on-over-loop", FRONT, 1 << 4, 0)]
    wide = (ops.Place("work", 0xfff << 1, 0, "cast-on"), *TUBE[1:])
    assert [[kind for kind, *_ in told(*wide, ops.BindOff(mask, 0))]
            for mask in (0xfff << 1, 0b11 << 6, 0b11 << 5)] == [[], [], ["yarn-jump"]]


def test_what_is_grafted_is_counted_by_stitches_not_by_needles():
    empty = ("graft-from-empty", FRONT, 1 << 3, 0)

    assert told(*TUBE, ops.Graft(0b111 << 3, 0b11 << 4)) == [empty]
    assert told(*TUBE, ops.Graft(0b11 << 3, 0b11 << 4)) == [
        empty, ("unequal-graft", None, 0, -1)]


def test_strands_stay_on_a_needle_while_another_is_emptied():
    laid = (*TUBE, ops.SetBed(FRONT, "tuck"), ops.SetBed(BACK, "rest"), ops.Knit(3))
    done = after(*laid, ops.Transfer(((FRONT, 4, BACK, 4),), True))

    assert [done.needle(FRONT, n).strands for n in (4, 5)] == [0, 3]
    assert [done.needle(BACK, n).strands for n in (4, 5)] == [3, 0]


def test_each_needle_keeps_its_own_yarn_through_every_hand():
    """Waste yarn and the yarn on both beds, at the very end of the bed too."""
    swapped = after(*TWO_YARNS, ops.Transfer(((FRONT, 0, BACK, 0), (BACK, 0, FRONT, 0),
                                              (FRONT, 2, BACK, 1)), True))
    found = [[swapped.needle(bed, n).loops for n in range(3)] for bed in (FRONT, BACK)]

    assert found == [[("waste",), ("main",), ()], [("main",), ("waste", "main"), ("waste",)]]
    emptied = after(*TWO_YARNS, ops.Transfer(((BACK, 0, FRONT, 0),), True), ops.Drop(1, 0),
                    ops.CastOn(1, 0))
    assert emptied.needle(FRONT, 0).loops == ("waste",)
    beside = after(*TUBE, ops.Place("work", 0b11, 0), ops.Cut(), ops.Thread("waste"),
                   ops.CastOn(0b10, 0), ops.Transfer(((FRONT, 1, FRONT, 0),)))
    assert beside.needle(FRONT, 0).loops == ("waste",)
    knitted = after(*TWO_YARNS, ops.SetBed(FRONT, "knit"), ops.Place("hold", 1, 0),
                    ops.SetHold(FRONT, True), ops.Knit(1))
    assert [knitted.needle(FRONT, n).loops for n in range(3)] == [("main",), ("waste",), ("waste",)]


# ---- the machine as a whole


@pytest.mark.parametrize("op", [
    ops.Tackle("comb", "hang"), ops.Tackle("weights", "hang"), ops.SetPitch("full"), ops.Rack(1),
    ops.SetBed(FRONT, "tuck"), ops.SetBed(BACK, "tuck"), ops.SetHold(BACK, True),
    ops.SetSize((FRONT,), 5), ops.SetSize((BACK,), 5), ops.Mark("a", "edge", FRONT, "main"),
    ops.Drop(1 << 4, 0), ops.Drop(0, 1 << 4), ops.Wrap(FRONT, 9), ops.Knit(1), ops.Cut(),
    ops.MoveCarriage("left"), ops.Place("upper", 1 << 4, 0), ops.Place("work", 1, 0, "increase"),
    ops.Place("work", 0, 1, "cast-on")], ids=str)
def test_a_situation_is_all_that_can_matter_from_here_on(op):
    assert after(*TUBE, op).situation() != after(*TUBE).situation()


def test_a_new_machine_is_empty_and_so_is_its_bank_book():
    assert {(bed.in_use, bed.tuck, bed.slip) for bed in map(after().bed, (FRONT, BACK))} == {
        (0, 0, 0)}
    assert set(Ledger()) == {0}
    assert after().ledger == Ledger()


def test_totals_and_the_counter_are_no_part_of_a_situation():
    one, two = after(*TUBE), after(*TUBE, ops.Knit(20), ops.ResetCounter(7))

    assert one.situation() == two.situation()
    assert one.snapshot() != two.snapshot()


@pytest.mark.parametrize("position, doubled, laid, sign", [
    ("work", False, False, "o"), ("work", True, False, "8"), ("work", False, True, "&"),
    ("hold", False, False, "^"), ("hold", True, False, "%"), ("hold", False, True, "&"),
    ("upper", False, False, "u")])
def test_the_sign_of_a_needle(position, doubled, laid, sign):
    hung = (ops.Transfer(((FRONT, 5, FRONT, 6),), True),) if doubled else ()
    wrapped = (ops.Wrap(FRONT, 6),) if laid else ()
    state = after(*TUBE, *hung, *wrapped, ops.Place(position, 1 << 6, 0)).bed(FRONT)

    assert symbol(state, 6) == sign
    assert symbol(state, 7) == "o"


@pytest.mark.parametrize("position, sign", [("out", " "), ("work", "-"), ("upper", "-"),
                                            ("hold", "-")])
def test_the_sign_of_an_empty_needle(position, sign):
    state = after(*TUBE, ops.Place(position, 1 << 2, 0)).bed(FRONT)

    assert symbol(state, 2) == sign
    assert legend({sign, "o"}) == "; ".join(
        f"{one.mark} {one.words}" for one in SIGNS if one.mark in ({sign, "o"} - {" "}))


def test_loops_of_three_yarns_keep_their_own_wherever_they_are_moved():
    three = (*TWO_YARNS, ops.Place("work", 0b111000, 0b111000), ops.Cut(), ops.Thread("cord"),
             ops.CastOn(0, 0b111000))
    moved = after(*three, ops.Transfer(((BACK, 0, FRONT, 3), (BACK, 4, FRONT, 4))))

    assert [moved.needle(FRONT, n).loops for n in range(6)] == [
        ("main",), ("main",), ("main",), ("waste",), ("cord",), ()]
    again = after(*three, ops.Transfer(((BACK, 4, FRONT, 4), (BACK, 0, FRONT, 3))))
    assert [again.needle(FRONT, n).loops for n in (3, 4)] == [("waste",), ("cord",)]
