"""Choices that are knitted alike: the reader is asked, and gets the same either way.

A fact of the script; no source.
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, findings, flat

START = flat(20)
END = "\nbind off front\ncut"
WAYS = {
    "rows": "when edge is doubled\n    knit {} rows\notherwise\n    knit 2 rows",
    "single rows": "when edge is doubled\n    repeat {} times\n        knit 1 row\notherwise\n"
                   "    repeat 2 times\n        knit 1 row",
    "technique": "when edge is doubled\n    do some with many = {}\notherwise\n"
                 "    do some with many = 2",
    "by a value": "do some with many = 2\nwhen edge is doubled\n    do some with many = {} - 2",
}
OPTION = HEADER + "option edge plain, doubled\ntechnique some with many\n" \
    "    when many is more than 0\n        knit many rows\n"


def told(lines: str, header: str = OPTION) -> list[str]:
    return [one.message for one in findings(START + lines + END, header)
            if one.kind == "choices-alike"]


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(("rows", "alike"), [(2, True), (4, False)])
def test_two_choices_that_knit_the_same(way, rows, alike):
    assert told(WAYS[way].format(rows)) == (
        ["With edge plain and with edge doubled the same is knitted, stitch for stitch."]
        if alike else [])


def test_of_three_choices_alike_and_of_none_that_knits_one_is_told():
    three = OPTION.replace("plain, doubled", "plain, doubled, trebled") + "option end 1, 2\n"
    lines = "when edge is {}\n    knit 2 rows\notherwise\n    knit 2 rows\nknit 1 row"
    found = findings("when edge is doubled\n    " + START.replace("\n", "\n    ") + "knit 9 rows\n"
                     "when end is 2\n    note \"So be it.\"", three)

    assert len(told(lines.format("doubled"), three)) == 1
    (at,) = [one.at for one in found if one.kind == "size-without-rows"]
    assert at.source.line(at.line).startswith("option edge ")


def test_a_choice_that_no_line_asks_for_is_told_otherwise():
    assert told("knit 2 rows") == []


def test_words_of_her_own_make_a_difference():
    lines = 'when edge is doubled\n    note "{}"\notherwise\n    note "Sew it down."\nknit 2 rows'

    assert told(lines.format("Leave it.")) == []
    assert len(told(lines.format("Sew it down."))) == 1


def test_alike_in_one_size_and_not_in_the_other():
    sizes = OPTION + "sizes S M\n    more 2 {}\n"
    lines = "when edge is doubled\n    knit more rows\notherwise\n    knit 2 rows"

    assert told(lines, sizes.format(4)) == []
    assert len(told(lines, sizes.format(2))) == 1
    # A size in which no line asks has nothing that could be alike or not.
    asked = "when size is M\n" + "".join(f"    {line}\n" for line in lines.splitlines())
    assert len(told(asked + "otherwise\n    knit 3 rows", sizes.format(2))) == 1
    assert told(asked + "otherwise\n    knit 3 rows", sizes.format(4)) == []


@pytest.mark.parametrize(("lines", "alike"), [
    ("knit 2 rows", [("S", "M"), ("S", "L")]), ("knit more rows", [("S", "M")]),
    ("when edge is doubled\n    knit more rows\notherwise\n    knit 2 rows", [("S", "M")]),
    ("when edge is plain\n    knit more rows\notherwise\n    knit 2 rows", [("S", "M")])])
def test_sizes_alike_whatever_is_chosen(lines, alike):
    header = OPTION + "sizes S M L\n    more 2 2 4\n"
    found = [one.message for one in findings(START + lines + END, header)
             if one.kind == "sizes-alike"]

    assert found == [f"The sizes {one} and {two} are knitted alike, stitch for stitch."
                     for one, two in alike]


def test_sizes_of_which_nothing_is_knitted_are_not_told_to_be_alike():
    found = findings("", OPTION + "sizes S M\n    more 2 2\n")

    assert "sizes-alike" not in {one.kind for one in found}


def test_beside_another_choice():
    two = OPTION + "option end short, long\n"
    lines = "when end is long\n    knit 6 rows\n" + WAYS["rows"]

    assert told(lines.format(4), two) == []
    assert len(told(lines.format(2), two)) == 1
    # Where it matters only together with another choice it matters.
    nested = "knit 2 rows\nwhen end is long\n    when edge is doubled\n        knit 6 rows"
    assert told(nested, two) == []
