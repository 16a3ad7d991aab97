"""Options that cannot go together are refused; every row is listed for all that was asked."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from commands.test_cli import SOCK, sockscript

SMALL = str(Path(__file__).resolve().parents[1] / "sheet" / "golden" / "small.sockscript")


@pytest.mark.parametrize("options, says", [
    (("check", SOCK, "--watch", "--mend"), "cannot be had together"),
    (("check", SOCK, "--watch", "--format", "json"), "cannot be had together"),
    (("check", SOCK, "--mend", "--format", "json"), "cannot be had together"),
    (("check", SOCK, "--yes"), "means nothing"),
    (("steps", SOCK, "--every-row", "--format", "markdown"), "Leave --format"),
    (("steps", SOCK, "--every-row", "--format", "json"), "Leave --format"),
    (("steps", SOCK, "--every-row", "-o", "rows.md"), "Leave --format"),
    (("steps", SOCK, "--every-row", "--with-bank-book"), "without the bank book"),
    (("compare", SOCK, SMALL, "--every-step", "--format", "json"), "--every-step"),
    (("picture", SOCK, "--what", "heel", "--size", "Man-M", "--step", "3", "-o", "a.svg"),
     "goes with --what beds")])
def test_what_cannot_go_together_is_refused(options, says, tmp_path):
    done = sockscript(*options, cwd=tmp_path)

    assert done.returncode == 2 and says in done.stderr and done.stdout == ""
    assert not list(tmp_path.iterdir())


def test_every_row_of_every_choice_and_of_ones_own_size():
    out = sockscript("steps", SOCK, "--every-row", "--all-choices", "--size", "Man-M").stdout
    heads = re.findall(r"EVERY ROW: .*", out)

    # Two options of two choices each.
    assert len(heads) == len(set(heads)) == 4 and all("Man-M, " in h for h in heads)
    mine = sockscript("steps", SOCK, "--every-row", "--my-size", "Man-M").stdout
    assert len(re.findall(r"EVERY ROW: Man-M", mine)) == len(re.findall("EVERY ROW", mine)) == 1


def test_every_row_begins_with_the_cautions():
    out = sockscript("steps", SOCK, "--every-row", "--size", "Man-M").stdout

    assert out.startswith("Mind: ") and "Latch hooks" in out.split("EVERY ROW")[0]


def test_each_row_of_a_heel_names_the_needle_that_goes_into_hold():
    """On the front bed of 34 stitches, from both ends inwards, the carriage side first: in all
    as many different needles as rows, and afterwards the same ones back."""
    out = sockscript("steps", SOCK, "--every-row", "--size", "Man-M",
                     "--choose", "heel-point=third").stdout
    heel = out.split("\nHEEL\n")[1].split("\nFOOT\n")[0]
    held = re.findall(r"\bhold front ([LR]\d+)\b", heel, re.I)
    back = re.findall(r"\binto work: front ([LR]\d+)\b", heel, re.I)

    assert "Again." not in heel
    assert len(held) == len(set(held)) == 22
    assert {needle[0] for needle in held} == {"L", "R"} and "R17" in held and "L17" in held
    assert set(back) == set(held)


def test_after_a_mishap_the_caution_is_said():
    out = sockscript("needles", SOCK, "--size", "Man-M", "--step", "18").stdout

    assert "never force a carriage that jams" in " ".join(out.split())
