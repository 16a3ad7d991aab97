"""Words inside a repeat are printed there, so they are held against what the lines under them do.

Common practice, no source.
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, findings, flat, kinds

START = flat(20)
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


# ---- what is taken away, sizes in brackets, numbers that count nothing that is worked

TUBE = """do tube-cast-on with half = 20, yarn = main
stitch size 6
knit 6 rounds
remove comb
"""
BY_HAND = "\n".join(f"move 3 stitches at {end} of {bed} in by 1"
                    for bed in ("front", "back") for end in ("left", "right"))


def tube_told(words: str, lines: str, header: str = HEADER) -> list[str]:
    body = "\n    ".join(lines.split("\n"))
    return kinds(f'{TUBE}step "{words}"\n    {body}\nremove weights{END}'
                 .replace("gather front", "gather both"), header)


@pytest.mark.parametrize("lines", [
    "repeat 4 times\n    do decrease-once\n    knit 2 rounds",
    "repeat 4 times\n    " + BY_HAND.replace("\n", "\n    ") + "\n    knit 4 rows",
    "do decrease-every with each = 2, times-over = 4",
    "do wedge-toe with leave = 12",
])
@pytest.mark.parametrize(("words", "right"), [
    ("Decrease 1 stitch at each end of each bed every 2nd round.", True),
    ("Decrease 2 stitches on each bed every 2nd round.", True),
    ("Decrease 4 stitches every 2nd round until 24 stitches are left.", True),
    ("Decrease 16 stitches in all, 8 stitches on each bed.", True),
    ("Knit 2 stitches together at each end.", True),
    ("Decrease 1 stitch at each end of each bed every 3rd round.", False),
    ("Decrease 5 stitches every 2nd round.", False),
    ("Decrease 4 stitches every 2nd round until 22 stitches are left.", False),
    ("Decrease every 2nd round; move the weights every 10 rows.", True)])
def test_what_is_taken_away_is_a_number_of_the_lines(words, right, lines):
    """Full-fashioned decreases at both ends of both beds: 1 at an end, 2 on a bed, 4 in all."""
    assert ("number-in-words" not in tube_told(words, lines)) is right


def test_flat_decreases_too():
    lines = "\n    move 3 stitches at left of front in by 1\n" \
        "    move 3 stitches at right of front in by 1\n    knit 2 rows"
    for words, right in (("Decrease 1 stitch at each end every 2nd row.", True),
                         ("Decrease 2 stitches every 2nd row.", True),
                         ("Decrease 1 stitch at each end every 4th row.", False)):
        block = f'repeat 3 times\n    step "{words}"' + lines.replace("\n", "\n    ")
        assert ("number-in-words" not in told(block)) is right


@pytest.mark.parametrize(("pace", "right"), [("2nd", True), ("4th", True), ("3rd", False)])
def test_two_ends_that_take_turns(pace, right):
    lines = "repeat 3 times\n        move 3 stitches at left of front in by 1\n" \
        "        knit 2 rows\n        move 3 stitches at right of front in by 1\n" \
        "        knit 2 rows"
    block = f'step "Decrease 1 stitch at each end by turns, every {pace} row."\n    {lines}'
    assert ("number-in-words" not in told(block)) is right


@pytest.mark.parametrize(("before", "lines", "pace", "right"), [
    # What lies before the first decrease is no interval, and a stitch size makes none.
    ("{0}\n", "knit 4 rows\n{0}\nknit 6 rows\n{0}", 4, False),
    ("{0}\n", "knit 4 rows\n{0}\nknit 6 rows\n{0}", 6, True),
    ("", "{0}\nknit 2 rows\nstitch size 6\nknit 2 rows\nstitch size 6\nknit 2 rows\n{0}", 6, True)])
def test_the_pace_is_that_of_the_lines_under_the_words(before, lines, pace, right):
    once = "move 3 stitches at left of front in by 1"
    body = lines.format(once).replace("\n", "\n    ")
    block = f'{before.format(once)}step "Decrease at the left every {pace}th row."\n    {body}'

    assert ("number-in-words" not in told(block)) is right


def test_where_a_wrong_number_is_told():
    """After the lines under the words, the first time round."""
    block = "row counter 0\nrepeat 2 times\n    step \"Knit 5 rows.\"\n        knit 4 rows\n" \
        "        knit 6 rows\n    wrap carriage side 1 of front"
    (found,) = findings(START + block + END)

    assert (found.kind, found.counter) == ("number-in-words", 10)
    (found,) = findings(START + "stitch size 6\n" + block.replace("Knit 5 rows", "Stitch size 9")
                        + END)
    assert (found.kind, found.counter) == ("words-say-otherwise", 10)
    (found,) = findings(START + 'step "Knit 3 rounds."\n    knit 1 row\n    knit 8 rows' + END)
    assert found.message.endswith("the lines under them come to 4.")


@pytest.mark.parametrize(("words", "lines", "otherwise"), [
    ("Wind the yarn 3 times round your finger.", "knit 2 rows", ""),
    ("Set stitch size 9 and knit on.", "knit 2 rows", "the dial stands at 6"),
    ("Lay the stitch at the end of the front bed over.", "bring L11 of back into work\n"
     "    transfer L10 of front to L11 of back", ""),
    ("Lay the stitch at the end onto the back bed.", "bring L11 of back into work\n"
     "    transfer L10 of front to L11 of back", ""),
    ("Mind the right edge.", "bring L11 of front into work", ""),
    ("From stitch size 5 go to stitch size 7.", "stitch size 7\n    knit 2 rows", ""),
    ("Set the back bed to rest.", "set back to knit\n    set back to circular",
     "the lines under them set it to circular"),
    ("Wrap the needle at the left.", "wrap right 1 of front",
     "the lines under them work at the right")])
def test_what_lines_do_once_after_them_or_from_bed_to_bed(words, lines, otherwise):
    step = f'stitch size 5\nstitch size 6\nstep "{words}"\n    {lines}\n'
    body = f"{START}{step}stitch size 9\nknit 2 rows{END}"
    found = [one.message for one in findings(body) if one.kind == "words-say-otherwise"]

    assert len(found) == bool(otherwise)
    assert all(message.endswith(f"{otherwise}.") for message in found)


def test_the_side_at_which_stitches_are_moved_is_where_they_hung():
    """Three of six, moved in by one: they lie over the middle then."""
    few = START.replace("centre 20", "centre 6") + "knit 2 rows\n" \
        'step "Move stitches in at the right."\n    move 3 stitches at left of front in by 1' + END
    assert "words-say-otherwise" in kinds(few)


@pytest.mark.parametrize(("words", "right"), [
    ("Knit 20 rounds: 40 rows on the counter, 20 rows on each bed.", True),
    ("Knit 20 rounds, 20 rows a bed.", True),
    ("Knit 20 rounds, 21 rows on each bed.", False),
    ("Knit 20 rows.", False),
    ("Knit 20 rounds. 10 stitches should measure 3 cm.", True),
    ("Knit 20 rounds. The gauge is 30 stitches and 42 rows per 10 cm.", True),
    ("Knit 20 rounds over 30 stitches.", False)])
def test_rows_of_each_bed_and_what_is_measured(words, right):
    assert ("number-in-words" not in tube_told(words, "knit 20 rounds")) is right


SIZES = HEADER + "sizes S M L\n    long 20 24 28\n    small 4 4 4\n"


@pytest.mark.parametrize(("words", "told_of"), [
    ("Knit 20 (24, 28) rounds.", None), ("Knit 20 (24) [28] rounds.", None),
    ("Knit 20 (24/28) rounds.", None),
    ("Knit 20 (24, 30) rounds.", "30 rounds for L, but the lines under them come to 28."),
    ("Knit 21 (24, 28) rounds.", "21 rounds for S, but the lines under them come to 20."),
    ("Knit 20 (24) rounds.", "20 (24) rounds, but there are 3 sizes."),
    ("Knit 20 (24, 28, 30) rounds.", "20 (24, 28, 30) rounds, but there are 3 sizes."),
    ("Knit (24, 28) or so rounds.", None)])
@pytest.mark.parametrize("lines", ["knit long rounds", "knit long * 2 rows",
                                   "do some with many = long"])
def test_numbers_of_all_sizes_are_held_against_each(words, told_of, lines):
    some = "technique some with many\n    knit many rounds\n"
    body = f'{TUBE}step "{words}"\n    {lines}\ncut\nremove weights\ngather both'
    messages = [one.message for one in findings(body, SIZES + some)
                if one.kind == "number-in-words"]

    assert messages == ([f"The words say {told_of}"] if told_of else [])


def test_numbers_of_two_sizes():
    body = f'{TUBE}step "Knit 20 (24, 28) rounds."\n    knit long rounds\ncut\n' \
        "remove weights\ngather both"
    two = HEADER + "sizes S M\n    long 20 24\n"
    assert [one.message for one in findings(body, two)] == [
        "The words say 20 (24, 28) rounds, but there are 2 sizes."]
    assert [one.message for one in findings(body.replace("24, 28", "25"), two)] == [
        "The words say 25 rounds for M, but the lines under them come to 24."]
    assert findings(body, HEADER + "sizes S\n    long 20\n") == []
