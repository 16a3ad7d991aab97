"""Stitches turned over to the other bed, whatever tool they hang on meanwhile.

Facts of the cloth and the machine; common practice of the trade, no source.
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, findings, kinds

from sockscript.findings.finding import Finding

FLAT = """bring centre 24 of back into work
set back to knit
set front to rest
stitch size 6
thread main
cast on back
{hung}knit 20 rows
half pitch
{before}"""
TUBE = """thread main
set both to circular
{again}knit 20 rounds
bind off both
cut
remove weights"""
NEEDLES = "bring centre 12 of front into work\n"

WAYS = {
    "by waste yarn, turned": (
        "scrap off right 6 of back as one\nscrap off left 6 of back as two\n"
        "take empty of back out of work\nrehang one to R1 to R6 of front turned\n"
        "rehang two to L6 to L1 of front turned\n"),
    "in the other order": (
        "scrap off left 6 of back as two\nrehang two to L6 to L1 of front turned\n"
        "scrap off right 6 of back as one\nrehang one to R1 to R6 of front turned\n"
        "take empty of back out of work\n"),
    "by a technique": (
        "do quarter-off\nscrap off left 6 of back as two\n"
        "rehang two to L6 to L1 of front turned\ntake empty of back out of work\n"),
    "by single transfers": "".join(
        f"transfer {side}{13 - n} of back to {side}{n} of front\n"
        for side in "RL" for n in range(1, 7)) + "take empty of back out of work\n",
    "by single transfers, the innermost first": "".join(
        f"transfer {side}{13 - n} of back to {side}{n} of front\n"
        for side in "RL" for n in range(6, 0, -1)) + "take empty of back out of work\n",
    "folded": (
        "fold right 6 of back onto front\nfold left 6 of back onto front\n"
        "take empty of back out of work\n"),
}
QUARTER = """technique quarter-off
    scrap off right 6 of back as one
    rehang one to R1 to R6 of front turned
"""


def found(way: str, *, hung: str = "", before: str = "cut\n", again: str = "hang weights\n",
          thread: str = "thread main\n") -> list[Finding]:
    end = TUBE.replace("thread main\n", thread)
    return findings(FLAT.format(hung=hung, before=before) + NEEDLES + WAYS[way]
                    + end.format(again=again), HEADER + QUARTER)


def told(way: str, **others: str) -> list[str]:
    return [one.kind for one in found(way, **others)]


ways = pytest.mark.parametrize("way", WAYS)


@ways
def test_with_nothing_hung_and_the_yarn_cut_the_turn_is_sound(way):
    assert told(way) == []
    assert told(way, hung="hang comb\nhang weights\n",
                before="remove weights\nremove comb\ncut\n") == []


@ways
def test_the_comb_holds_the_edge_straight(way):
    assert told(way, hung="hang comb\n", again="remove comb\nhang weights\n") == ["fold-with-comb"]


@ways
def test_weights_pull_at_what_is_turned(way):
    assert told(way, hung="hang weights\n", again="") == ["fold-with-weights"]


@ways
def test_the_yarn_comes_from_a_stitch_that_is_turned(way):
    (message,) = [one.message for one in found(way, before="", thread="")
                  if one.kind == "fold-with-yarn"]

    assert "comes from the stitch of needle R12 of the back" in message


def test_the_yarn_may_leave_the_work_where_nothing_is_turned():
    """Only the left quarter is turned, and the carriage stands at the right."""
    for way in WAYS:
        body = FLAT.format(hung="", before="") + NEEDLES + "".join(
            line + "\n" for line in WAYS[way].splitlines()
            if not any(word in line for word in ("right", " R", " one ", "quarter-off")))
        assert "fold-with-yarn" not in kinds(body + "cut\ngather both", HEADER + QUARTER), way


def test_the_yarn_may_be_cut_while_the_stitches_are_on_waste_yarn():
    body = FLAT.format(hung="", before="") + NEEDLES + (
        "scrap off right 6 of back as one\nscrap off left 6 of back as two\n{}"
        "take empty of back out of work\nrehang one to R1 to R6 of front turned\n"
        "rehang two to L6 to L1 of front turned\n")
    assert kinds(body.format("cut\n") + TUBE.format(again="hang weights\n")) == []


PAUSE = """{taken}
{hung}
knit 10 rows
bind off back
remove weights
remove comb
cut"""


@pytest.mark.parametrize(("taken", "hung"), [
    ("scrap off back as all-of-it", "rehang all-of-it to L12 to R12 of back"),
    ("scrap off right 6 of back as one", "rehang one to R7 to R12 of back")])
def test_stitches_hung_straight_where_they_were_are_not_turned(taken, hung):
    body = FLAT.format(hung="hang comb\nhang weights\n", before="") + PAUSE.format(
        taken=taken, hung=hung)

    assert {"fold-with-comb", "fold-with-weights", "fold-with-yarn"}.isdisjoint(kinds(body))


@pytest.mark.parametrize("moved", [
    "transfer back to front", "scrap off back as row\nrehang row to L12 to R12 of front",
    "scrap off right 6 of back as row\nrehang row to R7 to R12 of front"])
def test_stitches_moved_straight_to_the_other_bed_are_not_turned(moved):
    body = FLAT.format(hung="hang comb\nhang weights\n", before="") + (
        f"bring centre 24 of front into work\n{moved}\ntake empty of both out of work\n"
        "set both to knit\nknit 10 rows\ncut\ngather both\nremove weights\nremove comb")

    assert {"fold-with-comb", "fold-with-weights", "fold-with-yarn"}.isdisjoint(kinds(body))


def test_stitches_crossed_on_their_own_bed_are_not_turned():
    body = FLAT.format(hung="hang weights\n", before="").replace("centre 24", "centre 2") \
        + "bring L3 of back into work\nbring R3 of back into work\n" \
        "transfer L1 of back to R3 of back\ntransfer R1 of back to L3 of back\n"
    assert "fold-with-weights" not in kinds(body)


def test_a_piece_that_is_all_off_the_needles_hangs_on_nothing():
    """Comb and weights come off the bed with it: the knitter turns it in her hands."""
    body = FLAT.format(hung="hang comb\nhang weights\n", before="cut\n") + (
        "scrap off back as row\nrehang row to L12 to R12 of back turned\nthread main\n"
        "knit 10 rows\ncut\ngather back\nremove weights\nremove comb")

    assert {"fold-with-comb", "fold-with-weights"}.isdisjoint(kinds(body))


def test_it_is_told_once_at_the_first_turn():
    found = findings(FLAT.format(hung="hang comb\nhang weights\n", before="cut\n") + NEEDLES
                     + WAYS["by waste yarn, turned"]
                     + TUBE.format(again="remove comb\n"))

    assert [(one.kind, one.at.source.line(one.at.line).strip()) for one in found] == [
        ("fold-with-comb", "rehang one to R1 to R6 of front turned"),
        ("fold-with-weights", "rehang one to R1 to R6 of front turned")]
