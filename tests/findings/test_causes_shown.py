"""The line that led to a finding is shown with it, with the calls that led there."""

from __future__ import annotations

from pathlib import Path

import pytest

import sockscript

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
FAMILY = (EXAMPLES / "family-sock.sockscript").read_text("utf-8")

BEGINNING = """\
pattern "Causes"
yarn main "four-ply sock wool"
gauge plain 30 stitches, 42 rows per 10 cm
let around = 54
let half = around / 2
"""


def places(text: str, kind: str) -> list[tuple[str, str]]:
    """Label and line of all further places of the first finding of a kind."""
    one = next(f for f in sockscript.check_text(text).findings if f.kind == kind)
    return [(other.label, other.at.source.line(other.at.line).strip()) for other in one.others]


def advice(text: str, kind: str) -> str:
    return next(f.advice for f in sockscript.check_text(text).findings if f.kind == kind)


def test_a_count_that_does_not_divide_points_at_the_value_it_was_worked_out_from():
    text = FAMILY.replace("to nearest multiple of 4", "to nearest multiple of 6")

    assert ("'around' is worked out here",
            "let around = stitches(foot-round less 10%) to nearest multiple of 6") \
        in places(text, "not-whole")


def test_it_says_which_multiple_would_do():
    text = FAMILY.replace("to nearest multiple of 4", "to nearest multiple of 6")

    # A quarter of 42 stitches (Child-S) is turned to the other bed.
    assert advice(text, "not-whole") == "42 must be a multiple of 4: 40 or 44 would do."


def test_a_sum_of_plain_numbers_has_nothing_behind_it():
    text = BEGINNING + """\
section "Test"
    bring centre 20 of front into work
    set front to knit
    thread main
    cast on front
    knit 1 row
    knit 7 / 2 rows
"""
    assert places(text, "not-whole") == []


def test_an_expectation_shows_the_values_that_it_speaks_of():
    text = FAMILY.replace("let half = around / 2", "let half = around / 4")

    assert ("'half' is worked out here", "let half = around / 4") \
        in places(text, "expectation-not-met")


def test_the_values_behind_the_line_that_led_to_it_are_shown_too():
    text = BEGINNING + """\
section "Test"
    bring centre 54 of front into work
    set front to knit
    thread main
    cast on front
    hold left half of front
    repeat until 3 stitches in hold
        note "Wait."
"""
    assert places(text, "never-true") == [
        ("the needles came to be so with this line", "hold left half of front"),
        ("'half' is worked out here", "let half = around / 2"),
        ("'around' is worked out here", "let around = 54")]


def test_of_needles_that_tuck_those_are_shown_that_are_told():
    text = BEGINNING + """\
section "Test"
    bring centre 20 of front into work
    set front to knit
    thread main
    cast on front
    set L1 of front to tuck
    knit 3 rows
    set R3 of front to {}
    knit 2 rows
"""
    for other in ("tuck", "knit"):
        assert places(text.format(other), "too-many-strands") == [
            ("it was set to tuck here", "set L1 of front to tuck")]


OWN_TECHNIQUES = BEGINNING + """\
technique narrow-once
    move 1 stitch at left of front in by 1

technique narrow-thrice
    do narrow-once
    do narrow-once
    do narrow-once

section "Test"
    bring centre 20 of front into work
    set front to knit
    thread main
    cast on front
    knit 4 rows
    do narrow-thrice
"""


def test_the_calls_are_shown_by_which_a_line_was_reached():
    assert places(OWN_TECHNIQUES, "stack-too-high")[:2] == [
        ("called by this line", "do narrow-once"), ("called by this line", "do narrow-thrice")]


def test_of_the_calls_that_led_to_it_the_nearest_is_shown():
    text = BEGINNING + """\
technique hold-some
    hold left 3 of front
technique more
    do hold-some
section "Test"
    bring centre 20 of front into work
    set front to knit
    thread main
    cast on front
    do more
    repeat until 5 stitches in hold
        note "Wait."
"""
    assert places(text, "never-true") == [
        ("the needles came to be so with this line", "hold left 3 of front"),
        ("called by this line", "do hold-some")]


def test_what_keeps_a_row_from_knitting_is_the_bed_not_what_was_hung_since():
    text = BEGINNING + """\
section "Test"
    bring centre 20 of front into work
    thread main
    cast on front
    set front to rest
    hang comb
    knit 1 row from left
    knit 1 row from right
"""
    assert places(text, "nothing-knits") == [("the bed was set here", "set front to rest")]
    message = next(one.message for one in sockscript.check_text(text).findings
                   if one.kind == "wrong-carriage-side")
    assert message == "This starts from the left, but the carriage stands at the right."


def test_where_the_yarn_was_left_and_the_carriage_came_from():
    text = BEGINNING + """\
section "Test"
    bring centre 20 of front into work
    set front to knit
    thread main
    cast on front
    knit 1 row
    hold left 12 of front
    respect hold on front
    knit 1 row
    wrap R10 of front
    knit 2 rows on front from left
"""
    assert ("the yarn was left here", "knit 1 row") in places(text, "yarn-jump")
    assert ("the carriage came there with this line", "knit 1 row") \
        in places(text, "wrong-carriage-side")


def test_a_missed_length_shows_where_most_of_its_rows_are_knitted():
    text = BEGINNING + """\
section "Test"
    bring centre 20 of front into work
    target length 10 cm
    set front to knit
    thread main
    cast on front
    knit 6 rows
    knit 20 rows
    knit 8 rows
    cut
    gather front
"""
    assert places(text, "off-target") == [("most of the rows are knitted here", "knit 20 rows")]


def test_a_missed_girth_shows_where_the_stitches_came_to_be_so_many():
    text = BEGINNING + """\
section "Test"
    bring centre 20 of front into work
    target girth 10 cm
    set front to knit
    thread main
    cast on front
    knit 6 rows
    cut
    gather front
"""
    assert places(text, "off-target") == [
        ("the stitches came to be so many here", "cast on front")]


def test_what_is_decreased_after_a_section_is_no_cause_of_its_girth():
    """The stitches of a zigzag row come by knitting it; the toe comes after the leg."""
    text = BEGINNING + """\
section "Leg"
    bring centre 20 of both into work to cast on
    target girth 8 cm
    set both to knit
    thread main
    knit 1 row
    hang comb
    set both to circular
    knit 20 rounds
section "Toe"
    move 2 stitches at left of front in by 1
    move 2 stitches at left of back in by 1
    knit 1 round
    cut
    gather both
"""
    assert places(text, "off-target") == [
        ("the stitches came to be so many here", "knit 1 row")]


@pytest.mark.parametrize("odd, line", [
    ("knit 1 row", "knit 1 row"), ("repeat 3 times\n        knit 1 row", "knit 1 row"),
    ("do one-more", "knit 1 row"), ("knit 7 rows", "knit 7 rows")])
@pytest.mark.parametrize("after", ["", "    knit 4 rounds\n"])
def test_an_odd_pass_in_a_tube_shows_the_rows_that_made_it_odd(odd, line, after):
    text = BEGINNING + f"""\
technique one-more
    knit 1 row
section "Tube"
    bring centre 20 of both into work to cast on
    set both to knit
    thread main
    knit 1 row
    hang weights
    set both to circular
    knit 60 rounds
    {odd}
{after}section "Heel"
    set front to rest
    set back to knit
    knit 1 row
    cut
    gather both
"""
    assert ("the number of passes becomes odd here", line) in places(text, "odd-pass-in-tube")


@pytest.mark.parametrize(("lets", "told"), [
    ("let around = 54.2 to nearest even\nlet part = around / 4\n",
     "'around' is 54 and must be a multiple of 4 for this: round it there, to nearest multiple of "
     "4."),
    ("let around = 50.2 to nearest\nlet half = around / 2\nlet part = half / 6\n",
     "'around' is 50 and must be a multiple of 12 for this: round it there, to nearest multiple of "
     "12."),
    # A part of thirteen is nothing that anybody divides by; a sum is no part.
    ("let around = 50.2 to nearest\nlet part = around / 13\n", None),
    ("let around = 50.2 to nearest odd\nlet part = around / 2 + 1\n", None),
    ("let part = 27 / 2\n", None),
    # A value of the same line that cannot be worked out at all.
    ("let around = 54.2 to nearest even\nlet part = around / 4\nlet none = 1 / 0 to nearest\n",
     "'around' is 54 and must be a multiple of 4 for this: round it there, to nearest multiple of "
     "4.")])
def test_a_part_that_does_not_come_out_names_the_rounding_behind_it(lets, told):
    text = BEGINNING.partition("let ")[0] + lets + \
        'section "One"\n    bring L(part) to L{} of front into work\n'.format(
            "(none)" if "none" in lets else "1")

    assert advice(text, "not-whole") == (told or "Say how to round it, for example 'to nearest "
                                         "even'.")
