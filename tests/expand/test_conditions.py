"""When a condition holds: each at the value, one less and one more."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, checked, findings, kinds, run

TUBE = """bring centre 8 of both into work to cast on
set both to knit
thread main
knit 1 row
"""
FLAT = """bring centre 6 of front into work
set front to knit
thread main
cast on front
"""
HELD = FLAT + "respect hold on front\nhold left 2 of front\n"


def holds(condition, before=FLAT, header=HEADER):
    """Whether an expectation is met; nothing else is looked at."""
    return "expectation-not-met" not in kinds(f"{before}expect {condition}", header)


@pytest.mark.parametrize("words, right", [
    ("{} stitches on front", 6), ("{} stitches", 6), ("{} stitches on both", 6),
    ("{} stitches on back", 0), ("{} stitches in hold", 2), ("{} stitches in hold on front", 2),
    ("{} stitches in hold on back", 0), ("{} stitches in work on front", 4),
    ("{} held at left on front", 2), ("{} held at right on front", 0), ("row counter {}", 0)])
def test_counts(words, right):
    for count in range(max(0, right - 1), right + 2):
        assert holds(words.format(count), HELD) == (count == right), count


def test_the_row_counter_counts_passes_from_where_it_was_set():
    for count in (4, 5, 6):
        assert holds(f"row counter {count}", FLAT + "row counter 2\nknit 3 rows\n") == (count == 5)


@pytest.mark.parametrize("before, condition", [
    ("", "comb hung"), ("", "weights hung"), (TUBE + "cut\n", "yarn threaded"),
    (TUBE, "carriage right"), (TUBE + "scrap off left 1 of back as off\n", "beds equal"),
    (TUBE, "tube of 7 stitches a bed"), (TUBE, "tube of 9 stitches a bed"),
    (TUBE + "rack to 1 right\n", "tube of 8 stitches a bed"),
    (TUBE, "not carriage left"), (TUBE, "carriage left and carriage right"),
    (TUBE, "carriage right and carriage left"), (TUBE, "carriage right or comb hung")])
def test_what_does_not_hold_and_its_contrary_does(before, condition):
    assert not holds(condition, before)
    whole = f"when {condition}\n    expect 1 is 2\n"
    assert holds("1 is 1", before + whole)


@pytest.mark.parametrize("before, condition", [
    (TUBE + "hang comb\n", "comb hung"), (TUBE + "hang weights\n", "weights hung"),
    (TUBE, "yarn threaded"), (TUBE, "carriage left"), (TUBE, "beds equal"),
    (TUBE, "tube of 8 stitches a bed"), (TUBE, "not carriage right"),
    (TUBE, "carriage right or carriage left"), (TUBE, "carriage left or carriage right"),
    (TUBE, "carriage left and beds equal")])
def test_what_holds(before, condition):
    assert holds(condition, before)


def test_stitches_that_do_not_face_each_other_are_no_tube():
    """Racked by one, the beds are moved against each other: no stitch faces its own neighbour."""
    found = next(f for f in findings(TUBE + "rack to 1 right\nexpect tube of 8 stitches a bed")
                 if f.kind == "expectation-not-met")

    assert "do not face each other" in found.message


@pytest.mark.parametrize("how, less, same, more", [
    ("is", False, True, False), ("is not", True, False, True),
    ("is more than", False, False, True), ("is less than", True, False, False),
    ("is at least", False, True, True), ("is at most", True, True, False)])
def test_comparing(how, less, same, more):
    for value, right in ((4, less), (5, same), (6, more)):
        assert holds(f"{value} {how} 5") == right
        assert holds(f"{value} mm {how} 1/2 cm") == right


def test_words_are_the_same_or_not_and_no_more():
    header = HEADER + "technique look with bed\n    expect bed {}\n"
    for condition, told in (("is front", False), ("is back", True), ("is not front", True),
                            ("is not back", False)):
        found = kinds("do look on front", header.format(condition))
        assert ("expectation-not-met" in found) == told, condition
    stopped = run("do look on front", header.format("is more than 2")).stopped
    assert stopped is not None and stopped.kind == "not-a-number"


def test_lengths_are_not_compared_with_rows():
    stopped = run("expect rows(3 cm) is 3 cm").stopped

    assert stopped is not None and stopped.kind == "units-do-not-fit"


@pytest.mark.parametrize("lines_after", [1, 2, 3])
def test_since_which_line_an_expectation_is_not_met(lines_after):
    """It names the line that took two stitches away, however many lines ago that was."""
    body = (FLAT + "knit 1 row\nscrap off left 2 of front as off\n"
            + "stitch size 5\n" * lines_after + "expect 6 stitches on front")
    found = next(f for f in findings(body) if f.kind == "expectation-not-met")
    line = HEADER.count("\n") + 2 + body[:body.index("scrap")].count("\n")

    assert f"since line {line}: scrap off" in found.advice


def test_a_size_by_its_name_in_any_case():
    text = HEADER + ('sizes Small Middle Large\n    leg 1 2 3\nsection "A"\n'
                     "    when size is small, middle\n        row counter 1\n"
                     "    otherwise\n        row counter 2\n")
    assert [size[0].run.row_counter() for size in checked(text).proof.outcomes] == [1, 1, 2]


@pytest.mark.parametrize("parts, found", [
    ("5 stitches on front or 1 stitch on back", "6"),
    ("1 stitch on back or 5 stitches on front", "0")])
def test_what_was_there_instead_is_told_of_the_first(parts, found):
    message = next(f.message for f in findings(f"{FLAT}expect {parts}")
                   if f.kind == "expectation-not-met")

    assert f"but there are {found}" in message or f"but there is {found}" in message, message
