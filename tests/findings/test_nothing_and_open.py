"""Hands that find no stitch, and narrow ends of tubes that are bound off open."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, TUBE, findings, flat, kinds

FLAT = flat(20) + "knit 6 rows\n{}\nknit 2 rows\nbind off front\ncut"


def told(body: str, header: str = "") -> set[str]:
    return set(kinds(body, HEADER + header))


# ---- nothing there

@pytest.mark.parametrize("line", [
    "bind off back", "gather back", "drop all of back", "scrap off back as rest",
    "transfer back to front", "fold back onto front"])
def test_a_bed_without_stitches_is_told_whatever_is_done(line):
    found, = [one for one in findings(FLAT.format(line)) if one.kind == "nothing-there"]

    assert found.message == "There is no stitch on the back bed: nothing is done here."


@pytest.mark.parametrize("line", ["gather both", "graft front to back", "bind off both"])
def test_both_beds_without_stitches_are_told(line):
    found, = [one for one in findings(FLAT.format("knit 2 rows") + f"\n{line}")
              if one.kind == "nothing-there"]

    assert found.message == "There is no stitch on either bed: nothing is done here."


def test_it_is_shown_where_the_stitches_of_that_bed_went():
    found, = [one for one in findings(TUBE + "\nbind off back\ndrop left 1 of front\ngather back")
              if one.kind == "nothing-there"]
    lines = found.at.source.lines

    assert [lines[one.at.line - 1].strip() for one in found.others] == ["bind off back"]


def test_from_a_technique_it_is_the_same():
    assert "nothing-there" in told(FLAT.format("do off with bed = back"),
                                   "technique off with bed\n    bind off bed\n")


@pytest.mark.parametrize("line", ["gather left 0 of front", "drop left 0 of front"])
def test_a_number_that_comes_to_none_is_meant(line):
    assert "nothing-there" not in told(FLAT.format(line))


def test_what_is_left_of_both_beds_may_be_on_one():
    body = FLAT.format("knit 2 rows").replace("bind off front\ncut", "cut\ngather both")
    assert told(body) == set()


@pytest.mark.parametrize("line", ["return held of front to work",
                                  "take empty of front out of work"])
def test_settings_that_find_nothing_to_change_are_no_mistake(line):
    assert told(FLAT.format(line)) == set()


# ---- a narrow end

NARROWED = """{tube}
repeat until {leave} stitches on front
    move 3 stitches at left of both in by 1
    {right}
    {rounds}
remove weights
{end}
cut"""
RIGHT = "move 3 stitches at right of both in by 1"


def ended(end: str, leave: int = 20, rounds: str = "knit 2 rounds", right: str = RIGHT) -> bool:
    return "narrow-end-open" in told(NARROWED.format(
        tube=TUBE, end=end, leave=leave, rounds=rounds, right=right))


@pytest.mark.parametrize("rounds", ["knit 2 rounds", "knit 4 rows",
                                    "repeat 4 times\n        knit 1 row"])
def test_each_bed_by_itself_leaves_the_end_open(rounds):
    assert ended("bind off front\nbind off back", rounds=rounds)
    assert ended("bind off back\nbind off front", rounds=rounds)


@pytest.mark.parametrize("end", [
    "graft front to back", "gather both", "bind off both",
    "transfer back onto front\nset back to rest\nset front to knit\nknit 1 row\nbind off front"])
def test_an_end_that_is_closed_is_closed(end):
    assert not ended(end)
    # Binding off what is not there any more (told as such) opens nothing.
    assert not ended(f"{end}\nbind off front\nbind off back")


@pytest.mark.parametrize(("leave", "found"), [(24, True), (26, False)])
def test_more_than_six_tenths_of_the_stitches_let_a_foot_through(leave, found):
    """48 of 80 stitches are just so many; common practice, no source."""
    assert ("narrow-end-open" in told(NARROWED.format(
        tube=TUBE.replace("centre 36", "centre 40"), end="bind off front\nbind off back",
        leave=leave, rounds="knit 2 rounds", right=RIGHT))) is found


def test_from_a_technique_the_end_is_as_open():
    assert "narrow-end-open" in told(NARROWED.format(
        tube=TUBE, end="do off", leave=20, rounds="knit 2 rounds", right=RIGHT),
        "technique off\n    bind off front\n    bind off back\n")


# ---- drawn together in two bunches


@pytest.mark.parametrize("rounds", ["knit 6 rounds", "knit 12 rows",
                                    "repeat 12 times\n    knit 1 row"])
@pytest.mark.parametrize(("end", "found"), [
    ("gather front\ngather back", True), ("gather back\ngather front", True),
    ("gather left 10 of both\ngather right 10 of both", True), ("do bunches", True),
    ("gather both", False), ("gather front\ngather left 0 of back\nbind off back", False),
    ("gather left 10 of front\nthread main\nknit 2 rounds\ncut\ngather both", False),
    ("scrap off back as others\ngather front\nbring centre 20 of back into work\n"
     "rehang others to centre 20 of back\ngather back", False)])
def test_a_tube_is_drawn_together_as_one(rounds, end, found):
    body = f"do tube-cast-on with half = 20, yarn = main\nstitch size 6\n{rounds}\n" \
        f"remove comb\nremove weights\ncut\n{end}"
    bunches = "technique bunches\n    gather front\n    gather back\n"

    assert ("gathered-apart" in told(body, bunches)) is found


def test_flat_knitting_may_be_drawn_together_in_parts():
    assert "gathered-apart" not in told(FLAT.format("knit 2 rows").replace(
        "bind off front\ncut", "cut\ngather left 4 of front\ngather front"))


# ---- a sock without a way in

HEEL = "do heel on front with leave = 8\nset both to circular\n"
CLOSED = "do tube-cast-on with half = 24, yarn = main\nremove comb\nstitch size 6\n"
OPEN = ("bring centre 24 of both into work\nset both to circular\nthread main\n"
        "cast on centre 24 of both\nstitch size 6\nhang weights\n")
TOE = "do wedge-toe with leave = 10\nknit 1 round\n"
SHUT = {"grafted": "graft front to back", "drawn together": "gather both",
        "a row over both beds": "set both to knit\nknit 1 row\nbind off front\nbind off back",
        "grafted from waste yarn": "scrap off front as sole\nscrap off back as instep\n"
        "graft sole to instep"}


def sock(begun: str, end: str, rounds: str = "knit 20 rounds", toe: str = TOE, header: str = "",
         between: str = "") -> set[str]:
    return told(f"{begun}{rounds}\n{HEEL}{between}{rounds}\n{toe}remove weights\n{end}\ncut",
                header)


@pytest.mark.parametrize("rounds", ["knit 20 rounds", "knit 40 rows",
                                    "repeat 40 times\n    knit 1 row"])
@pytest.mark.parametrize("end", SHUT.values(), ids=SHUT)
def test_a_sock_that_begins_and_ends_shut_has_no_way_in(end, rounds):
    assert "no-way-in" in sock(CLOSED, end, rounds)
    assert "no-way-in" not in sock(OPEN, end, rounds)


def test_one_open_end_is_enough():
    for around in ("bind off front\nbind off back", "bind off both"):
        assert "no-way-in" not in sock(CLOSED, around, toe="")
    assert "no-way-in" not in sock(CLOSED, "gather both", toe=""), "a sample without a toe"
    technique = f"technique shut\n    {SHUT['grafted']}\n"
    assert "no-way-in" in sock(CLOSED, "do shut", header=technique)


def test_a_bag_may_be_shut_and_a_slit_is_a_way_in():
    """Without a heel it is no sock; a place kept with waste yarn opens later."""
    assert "no-way-in" not in told(f"{CLOSED}knit 40 rounds\nremove weights\ncut\ngather both")
    slit = ("set back to rest\nset front to knit\nknit 1 row on front\nmark slit way-in on front\n"
            "knit 1 row on front\nset both to circular\n")
    assert "no-way-in" not in sock(CLOSED, "gather both", between=slit)
    heel = ("gather both\ncut\nbring centre 24 of both into work\n"
            "rehang way-in to centre 24 of front and centre 24 of back\n"
            "set both to circular\nthread main\nknit 9 rounds\ngather both")
    assert "no-way-in" in sock(CLOSED, heel, between=slit), "it is taken up again"


def test_it_is_told_at_the_wider_end():
    def line(text: str) -> str:
        (found,) = [one for one in findings(text) if one.kind == "no-way-in"]
        return found.at.source.line(found.at.line).strip()

    body = f"{CLOSED}knit 20 rounds\n{HEEL}knit 20 rounds\n"
    assert line(f"{body}{TOE}remove weights\ncut\ngather both").startswith("do tube-cast-on")
    toe_up = (CLOSED.replace("24", "12")
              + "repeat 6 times\n    do increase-once\n    knit 2 rounds\n")
    narrowed = "bind off left 1 of front\nbind off left 1 of back\nknit 9 rounds\n"
    assert line(f"{toe_up}knit 20 rounds\n{HEEL}knit 20 rounds\n{narrowed}remove weights\n"
                "gather both\ncut") == "gather both"

