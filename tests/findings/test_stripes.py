"""Two yarns in turn: where the one that rests can be taken up, and how far it floats.

That a changer takes a yarn up only where it waits is a fact of machines, from memory; how many rows
a yarn may be carried up an edge is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from oracle.strategies import DOUBLE, HALF
from support.scripts import FLAT, HEADER, TUBE, findings, kinds, proof, run

from sockscript.expand import printed
from sockscript.fabric.amounts import yarn_amounts
from sockscript.machine.profile import ANY_DOUBLE_BED
from sockscript.operations import ops
from sockscript.operations.beds import FRONT
from sockscript.sheet.facts import finishing
from sockscript.sheet.sentences import sentence
from sockscript.trace.replay import replay

STRIPED = (Path(__file__).resolve().parents[2] / "examples" / "striped-sock.sockscript")
TWO = HEADER + 'yarn second "blue wool"\n'
TECHNIQUE = TWO + '''technique stripe with colour, depth
    change to colour
    knit depth rows
'''
SIX = (ops.Place("work", HALF, 0), ops.Thread("main"), ops.CastOn(HALF, 0),
       ops.SetBed(FRONT, "knit"), ops.Knit(2))


def stripes(begin, rows, close, unit="rows"):
    return (f"{begin}\nknit 5 {unit}\nchange to second\nknit {rows} {unit}\nchange to main\n"
            f"knit 2 {unit}\ncut second\ncut\n{close}")


# ---- the machine


def test_the_yarn_that_rests_has_no_end_more_and_goes_on_where_it_was():
    done = replay([*SIX, ops.Change("second"), ops.Knit(4)], DOUBLE)

    assert done.ends == {"main": 1, "second": 1}
    assert [name for name, _ in done.snapshot().waiting] == ["main"]
    spot = done.waiting["main"].spot
    assert done.apply(ops.Change("main")) == []
    assert done.attached == spot
    assert done.ends == {"main": 1, "second": 1}


def test_at_the_other_side_it_cannot_be_taken_up():
    done = replay([*SIX, ops.Change("second"), ops.Knit(3)], DOUBLE)
    fault, = done.apply(ops.Change("main"))

    assert (fault.kind, fault.name, fault.needles) == ("yarn-waits-elsewhere", "main", 1 << 9)


def test_one_that_waits_is_cut_by_its_name_and_threaded_anew_is_cut_too():
    done = replay([*SIX, ops.Change("second"), ops.Knit(2)], DOUBLE)
    twin = done.fork()

    assert done.apply(ops.Cut("main")) == []
    assert done.ends == {"main": 2, "second": 1}
    assert done.feeder == "second"
    assert [fault.kind for fault in twin.apply(ops.Thread("main"))] == [
        "yarn-still-waits", "yarn-not-cut"]
    assert twin.ends == {"main": 3, "second": 2}


# ---- in a script


@pytest.mark.parametrize("begin, unit, close", [
    (FLAT, "rows", "gather front"), (TUBE, "rounds", "remove weights\ngather both")])
@pytest.mark.parametrize("rows, told", [(2, []), (6, []), (8, ["long-edge-float"])])
def test_it_floats_up_the_edge_for_some_rows(begin, unit, close, rows, told):
    body = stripes(begin, rows, close, unit)

    assert kinds(body, TWO) == told
    one_by_one = body.replace(f"knit {rows} {unit}",
                              f"repeat {rows} times\n    knit 1 {unit.removesuffix('s')}")
    assert kinds(one_by_one, TWO) == told


def test_seven_rounds_are_one_too_many():
    """In a tube the carriage comes back after any number of rounds."""
    assert kinds(stripes(TUBE, 7, "remove weights\ngather both", "rounds"), TWO) == [
        "long-edge-float"]


def test_after_an_odd_number_of_rows_it_waits_at_the_other_side():
    assert kinds(stripes(FLAT, 3, "gather front"), TWO) == ["yarn-waits-elsewhere"]


def test_from_a_technique_and_with_a_repeat():
    body = (FLAT + "\nknit 1 row\nrepeat 4 times\n    do stripe with colour = second, depth = {}\n"
            "    do stripe with colour = main, depth = 2\ncut second\ncut\ngather front")

    assert kinds(body.format(4), TECHNIQUE) == []
    assert "yarn-waits-elsewhere" in kinds(body.format(5), TECHNIQUE)


def test_what_is_left_at_the_edge_is_told():
    body = stripes(FLAT, 4, "gather front").replace("cut second\n", "")

    assert kinds(body, TWO) == ["yarn-left-waiting"]


LEFT = """{begin}
knit 4 {unit}
change to second
{rows}
cut
{again}
knit 4 {unit}
cut
{close}"""


@pytest.mark.parametrize("rows", ["knit 4 {unit}", "repeat 4 times\n    knit 1 {unit}",
                                  "do more-of with yarn = second"])
@pytest.mark.parametrize("begin, unit, close", [
    (FLAT + "\nknit 1 row", "rows", "gather front"),
    (TUBE, "rounds", "remove weights\ngather both")])
def test_a_yarn_that_waits_is_not_threaded_again(begin, unit, close, rows):
    """It waits at the edge: taken up there or cut first, nothing is told."""
    header = TWO + f"technique more-of with yarn\n    knit 4 {unit}\n"
    body = LEFT.format(begin=begin, unit=unit, close=close, rows=rows, again="{}")
    body = body.replace("{unit}", unit.removesuffix("s") if "repeat" in rows else unit)

    found, = findings(body.format("thread main"), header)
    assert (found.kind, found.mend.text) == ("yarn-still-waits", "change to main")
    assert "change to main" in found.advice and "cut main" in found.advice
    assert found.others[-1].at.source.line(found.others[-1].at.line).strip() == "change to second"
    for sound in ("change to main", "cut main\nthread main"):
        assert kinds(body.format(sound), header) == []


def test_at_the_other_side_or_with_another_in_the_feeder_it_is_not_just_taken_up():
    body = LEFT.format(begin=FLAT + "\nknit 1 row", unit="rows", rows="knit 3 rows",
                       again="thread main", close="gather front")

    found, = findings(body, TWO)
    assert (found.kind, found.mend) == ("yarn-still-waits", None)
    told = findings(body.replace("3 rows\ncut\n", "4 rows\n"), TWO)
    assert [(one.kind, one.mend is None) for one in told] == [
        ("yarn-not-cut", False), ("yarn-still-waits", True)]


def test_changing_to_what_is_in_the_feeder_is_told():
    body = stripes(FLAT, 4, "gather front").replace("change to main", "change to second")

    assert kinds(body.replace("cut second\ncut\n", "cut\ncut main\n"), TWO) == [
        "yarn-in-feeder-already"]


def test_loops_and_ends_of_each_yarn():
    done = run(stripes(FLAT, 4, "gather front"), TWO)

    # Twenty cast on by hand, a row after it, five, and two after the stripe.
    assert done.engine.yarn_loops == {"main": 20 * 9, "second": 20 * 4}
    assert any("Weave in 4 ends" in line for line in finishing([done]))
    told = [sentence(one.printed, ANY_DOUBLE_BED) for one in done.sections[0].instructions
            if isinstance(one.printed, (printed.Changing, printed.Cutting))]
    assert told == ["Change to the blue wool; the four-ply sock wool waits at this edge, uncut.",
                    "Change to the four-ply sock wool; the blue wool waits at this edge, uncut.",
                    "Cut the blue wool.", "Cut the four-ply sock wool."]


@pytest.mark.parametrize("size, around, count", [(0, 44, 4), (1, 56, 6), (2, 68, 7)])
def test_the_stripes_of_the_sock_are_counted(size, around, count):
    """By hand: four of eight rounds of the leg are of the second yarn, and all of the toe.

    Nine tenths of 17, 21 and 24.5 cm at 3 stitches a cm are 44, 56 and 68 to the nearest four; of
    8, 11 and 13 cm at 4.2 rows a cm eight rounds are 4, 6 and 7 to the nearest.
    """
    one = proof(STRIPED.read_text("utf-8")).outcomes[size][0].run
    amounts = {amount.yarn.name: amount for amount in yarn_amounts(one)}
    toe = next(section for section in one.sections if section.title == "Toe")
    stitches = sum(change.before.turns(change.op.passes, "left")[bed]
                   * (change.before.front, change.before.back)[bed].loaded.bit_count()
                   for change in one.changes()[toe.first:toe.last]
                   if isinstance(change.op, ops.Knit) for bed in (0, 1))

    assert amounts["second"].loops == 4 * count * around + stitches
    assert one.engine.ends == {"main": 4, "second": 4, "nylon": 4}


# ---- stripes of a tube


@pytest.mark.parametrize("rows, passes", [
    ("knit 5 rows", 5), ("knit 4 rows", 0), ("knit 2 rounds", 0), ("knit 1 row", 1),
    ("repeat 7 times\n    knit 1 row", 7), ("do some with n = 3", 3), ("do some with n = 6", 0)])
def test_a_stripe_of_a_tube_is_whole_rounds(rows, passes):
    header = TWO + "technique some with n\n    knit n rows\n"
    turns = f"cut\nthread second\n{rows}\ncut\nthread main\n{rows}\nknit 1 round\n"
    found = [one.message for one in findings(f"{TUBE}\n{turns}remove weights\ncut\ngather both",
                                             header) if one.kind == "stripe-uneven"]

    assert len(found) == (1 if passes else 0)
    assert all(message.startswith("The blue wool ends in the middle of a round, after "
                                  f"{passes} pass") for message in found)
    # Flat rows are no rounds; the same yarn again is no stripe; nor is a thread that goes along.
    flat = f"{FLAT}\n{turns.replace('round', 'row')}cut\ngather front"
    assert "stripe-uneven" not in kinds(flat, header)
    for other in (turns.replace("second", "main"), f"thread second along\n{rows}\ncut second\n"
                  f"{rows}\n"):
        assert "stripe-uneven" not in kinds(
            f"{TUBE}\n{other}remove weights\ncut\ngather both", header)


def test_a_stripe_begins_with_its_tube_or_after_flat_rows():
    """Nine passes of the one tube are no stripe of the next; three after two flat rows are one."""
    off = "remove weights\ncut\ngather both\n"
    again = ("bring centre 36 of both into work\nthread second\ncast on centre 36 of both\n"
             "knit 4 rounds\n")
    flat = "set back to rest\nset front to knit\nknit 2 rows\nset both to circular\nknit 3 rows\n"
    found = findings(f"{TUBE}\n{flat}cut\nthread second\nknit 3 rows\n{off}", TWO)

    assert "stripe-uneven" not in kinds(f"{TUBE}\nknit 1 row\n{off}{again}{off}", TWO)
    assert [" after 3 passes:" in one.message for one in found if one.kind == "stripe-uneven"] == [
        True]


# ---- the yarn that waits at the corner of a heel


@pytest.mark.parametrize(("heel", "long"), [
    ("do heel on front with leave = 12", False),
    ("do heel on front with leave = 12, way = wrapped-twice", False),
    ("do heel on front with leave = 12, way = plain", False),
    ("do heel-flap on front with long = 6", False), ("do heel-flap on front with long = 8", True),
    ("set back to rest\nset front to knit\nknit 8 rows", True),
    ("set back to rest\nset front to knit\nrepeat 8 times\n    knit 1 row", True)])
def test_a_heel_in_another_colour_ends_where_it_began(heel, long):
    """The outermost stitches wait in hold while the heel grows: the edge does not grow there.  A
    flap's do not."""
    body = f"{TUBE}\nknit 4 rounds\nchange to second\n{heel}\nchange to main\ncut second\n" \
        "set both to circular\nknit 4 rounds"
    assert ("long-edge-float" in kinds(body, TWO)) is long


def test_what_comes_out_again_leaves_no_stripe():
    waste = TUBE.replace("thread main", "thread waste").replace("knit 4 rounds", "knit 9 rows")
    body = f"{waste}\ncut\nmark edge one on front\nmark edge two on back\nthread main\n" \
        "knit {} rows\ncut\nthread second\nknit 4 rows\nremove weights\ncut\ngather both"

    assert "stripe-uneven" not in kinds(body.format(4), TWO)
    assert "stripe-uneven" in kinds(body.format(5), TWO)
