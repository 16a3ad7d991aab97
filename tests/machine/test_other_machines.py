"""Another's script on one's own machine: what it cannot do, what to do instead, whose numbers."""

from __future__ import annotations

import re

import pytest
from support.command import ROOT, sockscript

SOCK = str(ROOT / "examples" / "family-sock.sockscript")
PROFILE = {"beds": "beds 2", "needles": "needles 180", "dial": "dial 0 to 10 by 1/2",
           "pitches": "pitches half, full", "racking": "racking 10",
           "has": "has circular, tuck, hold"}


@pytest.fixture
def told(tmp_path):
    """What the check tells of a machine, with some of its lines changed."""
    def tell(script=SOCK, **changed):
        path = tmp_path / "mine.machine"
        path.write_text('machine "Attic bed"\n' + "".join(
            f"    {line}\n" for line in {**PROFILE, **changed}.values()))
        out = sockscript("check", script, "--machine", str(path)).stdout
        found = re.search(r"\n\nOn the Attic bed\n(.*?)\n\n", out, re.S)
        return re.sub(r"\s+", " ", found[1]).strip() if found else ""
    return tell


def test_a_machine_that_has_all_is_told_nothing(told):
    assert told() == ""


def test_fewer_needles_name_the_sizes_that_fit(told):
    """The family sock is 36 to 72 stitches around, cast on over both beds."""
    words = told(needles="needles 60")

    assert "Its bed has 60 needles. Too wide for it: Woman-L (64), Man-M (68), Man-L (72)." in words
    assert "These fit: Toddler" in words and "A thicker yarn" in words
    assert "Woman-L (64)" not in told(needles="needles 64")
    assert "Man-M (68), Man-L (72)." in told(needles="needles 64")
    assert "No size fits." in told(needles="needles 30")


def test_one_bed_is_knitted_flat_and_sewn(told):
    words = told(beds="beds 1", needles="needles 70", pitches="pitches half",
                 has="has tuck, hold")

    assert "It has one bed" in words and "flat on one bed" in words and "sew it" in words
    assert "Too wide for it, knitted flat: Man-M (70)" not in words
    assert "Too wide for it, knitted flat: Man-L (74)" in words


def test_no_rounds_no_hold_no_such_dial(told):
    assert "It cannot knit in rounds" in told(has="has tuck, hold")
    assert "It cannot hold needles" in told(has="has circular, tuck")
    assert "Its dial has no 6: it runs from 1 to 4." in told(dial="dial 1 to 4 by 1")
    assert "Its dial has no" not in told(dial="dial 1 to 8 by 1")


def test_racking_that_is_too_far_is_done_by_hand(told, tmp_path):
    path = tmp_path / "racked.sockscript"
    path.write_text('pattern "A"\nmachine\n    racking 10\nsection "A"\n    rack to 3 left\n'
                    "    rack to 2 right\n")

    assert "It is racked by 2 at most and this asks 3: move the stitches to those needles by " \
        "hand." in told(str(path), racking="racking 2")
    assert told(str(path), racking="racking 3") == ""


def test_a_flat_sock_on_one_bed_needs_nothing_else(told):
    flat = str(ROOT / "examples" / "flat-sock.sockscript")

    assert told(flat, beds="beds 1", pitches="pitches half", has="has hold") == ""


def test_numbers_of_another_dial_are_never_taken_over_silently(tmp_path):
    plain = sockscript("steps", SOCK).stdout
    mine = sockscript("steps", SOCK, "--machine", "harbour-45").stdout
    sockscript("sheet", SOCK, "--machine", "harbour-45", "-o", str(tmp_path / "a.html"))

    for text in (mine, (tmp_path / "a.html").read_text("utf-8")):
        text = re.sub(r"\s+", " ", text)
        assert "My number for size 6" in text and "My number for size 4" in text
        assert "write your own number into the box" in text
    assert "My number" not in plain and "author's dial" not in plain


def test_a_swatch_of_one_s_own_answers_the_size_of_its_gauge_and_no_other(tmp_path):
    """The sock knits plain at 30 x 42 with size 6, rib at 34 x 44 with size 4, its edge with 2."""
    def printed(*swatches):
        path = tmp_path / "mine.machine"
        path.write_text('machine "Attic bed"\n' + "".join(
            f"    {line}\n" for line in (*PROFILE.values(), *swatches)))
        return re.sub(r"\s+", " ", sockscript("steps", SOCK, "--machine", str(path)).stdout)

    yarns = ['swatch plain "blue wool" 30 stitches, 42 rows per 10 cm at stitch size 7',
             'swatch plain "four-ply sock wool" 30.5 stitches, 43 rows per 10 cm at stitch size 6½']
    text = printed(*yarns)
    assert "size 6 (plain): 6.5 by your swatch of four-ply sock wool, 30.5 stitches and 43 rows " \
        "over 10 cm" in text
    assert "My number for size 2" in text and "My number for size 4" in text
    assert "My number for size 6" not in text
    assert "size 6 (plain): 7 by your swatch of blue wool" in printed(yarns[0])
    for far in (yarns[1].replace("30.5", "30.6"), yarns[1].replace("43", "43.1"),
                yarns[0].replace("plain", "rib")):
        assert "My number for size 6" in printed(far)


def test_the_author_s_own_machine_has_her_own_numbers(tmp_path):
    name = re.search(r'machine "(.*)"', (ROOT / "sockscript" / "machines" / "harbour-45.machine"
                                         ).read_text("utf-8"))[1]
    path = tmp_path / "a.sockscript"
    text = (ROOT / "examples" / "family-sock.sockscript").read_text("utf-8")
    path.write_text(re.sub(r"(?m)^machine$", f'machine "{name}"', text))

    assert "My number" not in sockscript("steps", str(path), "--machine", "harbour-45").stdout
