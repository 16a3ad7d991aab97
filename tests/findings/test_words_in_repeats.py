"""Words inside a repeat are printed there, so they are held against what the lines under them do.

Common practice, no source.
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, findings, kinds

START = """bring centre 20 of front into work
set front to knit
thread main
cast on front
"""
END = "\ncut\ngather front"
TECHNIQUE = """technique some-rows with many
    repeat many times
        step "Knit 4 rows."
            knit 6 rows
"""
IN = {
    "top level": "{}",
    "repeat times": "repeat 3 times\n    {}",
    "repeat once": "repeat 1 times\n    {}",
    "repeat until": "repeat until row counter 6\n    {}",
    "repeat in a repeat": "repeat 2 times\n    repeat 2 times\n        {}",
}


def wrapped(where: str, block: str) -> str:
    frame = IN[where]
    depth = frame.rindex("{}") - frame.rindex("\n") - 1 if "\n" in frame else 0
    return frame.format(block.replace("\n", "\n" + " " * depth))


def told(body: str) -> list[str]:
    return kinds(START + body + END, HEADER + TECHNIQUE)


wherever = pytest.mark.parametrize("where", IN)


@wherever
def test_a_number_of_rows_is_held_against_the_lines(where):
    block = 'step "Knit {} rows."\n    knit 6 rows'
    assert told(wrapped(where, block.format(4))) == ["number-in-words"]
    assert told(wrapped(where, block.format(6))) == []


def test_from_a_technique_too():
    assert told("do some-rows with many = 3") == ["number-in-words"]


@wherever
@pytest.mark.parametrize(("words", "lines"), [
    ("On the {back} bed wrap the end.", "knit 1 row\n    wrap carriage side 1 of front"),
    ("Set stitch size {9}.", "stitch size 7\n    knit 2 rows"),
    ("Wrap {5} times.", "repeat 3 times\n        wrap left 1 of front\n    knit 2 rows"),
])
def test_beds_and_sizes_and_times_are_held_against_them_too(where, words, lines):
    right = {"{back}": "front", "{9}": "7", "{5}": "3"}
    wrong_words = words.replace("{", "").replace("}", "")
    right_words = words
    for old, new in right.items():
        right_words = right_words.replace(old, new)

    assert "words-say-otherwise" in told(wrapped(where, f'step "{wrong_words}"\n    {lines}'))
    assert "words-say-otherwise" not in told(wrapped(where, f'step "{right_words}"\n    {lines}'))


def test_a_side_that_is_right_every_other_time_is_no_mistake():
    body = 'repeat 4 times\n    step "Wrap the end at the left."\n' \
        "        knit 1 row\n        wrap carriage side 1 of front"
    assert "words-say-otherwise" not in told(body)


def test_a_number_that_is_right_the_last_time_is_no_mistake():
    """What a repeat comes to."""
    body = 'repeat until 14 stitches on front\n    step "Move in, until 14 stitches are left."\n' \
        "        move 3 stitches at left of front in by 1\n" \
        "        move 3 stitches at right of front in by 1\n        knit 2 rows"
    assert "number-in-words" not in told(body)
    assert "number-in-words" in told(body.replace("until 14 stitches are", "until 13 stitches are"))


@wherever
def test_a_number_is_told_once(where):
    body = wrapped(where, 'step "Knit 4 rows."\n    knit 6 rows')
    found = findings(START + body + END)
    assert [one.message for one in found] == [
        "The words say 4 rows, but the lines under them come to 6."]


CUP = """hang weights
respect hold on front
{}repeat until 8 stitches in work on front
    {}hold carriage side 1 working of front
    knit 1 row on front
wrap carriage side 1 held of front
do short-rows-out-wrapped on front with until = 36
cancel hold on front
remove weights"""


@pytest.mark.parametrize("inside", [False, True])
def test_a_note_on_the_weights_may_stand_in_the_repeat(inside):
    start = START.replace("20", "36") + "knit 1 row\n"
    note = 'note "Move the weights every few rows."\n'
    body = CUP.format("" if inside else note, note + "    " if inside else "")

    assert "weights-not-moved" not in kinds(start + body + END)
    assert "weights-not-moved" in kinds(start + CUP.format("", "") + END)
