"""When a condition holds: each at the value, one less and one more."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, checked, findings, flat, kinds, on_both, run

TUBE = on_both(8)
FLAT = flat(6)
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


TOLD = """
expect 7 stitches on front  # Expected 7 stitches on the front bed, but there are 8.  # knit 1 row
expect 9 stitches  # Expected 9 stitches, but there are 16.  # knit 1 row
expect 4 stitches in hold  # Expected 4 stitches in hold, but there are 3.  # hold left 2 and right 1 of front
expect 1 stitch in hold on back  # Expected 1 stitch in hold on the back bed, but there are 0.  # It is so from the beginning.
expect 1 held at left on front  # Expected 1 stitch in hold at the left on the front bed, but there are 2.  # hold left 2 and right 1 of front
expect 0 held at right on front  # Expected 0 stitches in hold at the right on the front bed, but there is 1.  # hold left 2 and right 1 of front
expect 3 held at left on both  # Expected 3 stitches in hold at the left, but there are 2.  # hold left 2 and right 1 of front
expect count-on(front) is 7  # Expected 7 stitches on the front bed, but there are 8.  # knit 1 row
expect count-working(front) is count-on(back)  # Expected 8 stitches in work on the front bed, but there are 5.  # hold left 2 and right 1 of front
expect count-held(both) is more than 3  # Expected more than 3 stitches in hold, but there are 3.  # hold left 2 and right 1 of front
expect count-on(front) + 1 is 8  # Expected 'count-on(front) + 1' to be 8, but it is 8 + 1 = 9.  # knit 1 row
expect count-on(front) * 2 to nearest multiple of 4 is 8  # Expected 16 to be 8, but it is 16.  # knit 1 row
expect stitches(1 cm) is count-held(front) + 1  # Expected 3 to be 4, but it is 3.  # hold left 2 and right 1 of front
expect 1 + number(count-on(front)) is 8  # Expected '1 + number(count-on(front))' to be 8, but it is 1 + 8 = 9.  # knit 1 row
expect deep is 5  # Expected 'deep' to be 5, but it is 4.  # No row has changed it: look at the lines that give these values.
expect deep + 1 is at most 3  # Expected 'deep + 1' to be at most 3, but it is 4 + 1 = 5.  # No row has changed it: look at the lines that give these values.
expect 2 * (deep + (1 + 2)) is 8  # Expected '2 * (deep + (1 + 2))' to be 8, but it is 2 * 7 = 14.  # No row has changed it: look at the lines that give these values.
expect (1 + deep) * (deep + 3) is 8  # Expected '(1 + deep) * (deep + 3)' to be 8, but it is 5 * 7 = 35.  # No row has changed it: look at the lines that give these values.
expect not carriage left  # Expected anything but the carriage at the left, but it is at the left.  # knit 1 row
expect not beds at half pitch  # Expected anything but the beds at half pitch, but they are at half pitch.  # Look at what comes before this line.
expect not front set to knit  # Expected anything but the front bed set to knit, but it is.  # Look at what comes before this line.
expect not front respects hold  # Expected anything but hold to be respected on the front bed, but it is.  # Look at what comes before this line.
expect not beds equal  # Expected anything but as many stitches on the one bed as on the other, but there are 8 on the front bed and 8 on the back bed.  # knit 1 row
expect not row counter 9  # Expected anything but the row counter to show 9, but it shows 9.  # knit 8 rows
expect (deep + 1) * 2 is multiple of 4  # Expected '(deep + 1) * 2' to be a multiple of 4, but it is 5 * 2 = 10.  # No row has changed it: look at the lines that give these values.
expect 4 is 5  # Expected 4 to be 5, but it is 4.  # No row has changed it: look at the lines that give these values.
expect end is right  # Expected 'end' to be right, but it is left.  # No row has changed it: look at the lines that give these values.
expect end is not left  # Expected 'end' not to be left, but it is left.  # No row has changed it: look at the lines that give these values.
expect carriage right  # Expected the carriage at the right, but it is at the left.  # knit 8 rows
expect row counter 8  # Expected the row counter to show 8, but it shows 9.  # knit 8 rows
expect tube of 7 stitches a bed  # Expected a tube of 7 stitches a bed, but there are 8 on the front bed and 8 on the back bed.  # knit 1 row
expect comb hung  # Expected the comb to be hung, but it is not.  # It is so from the beginning.
expect weights hung  # Expected the weights to be hung, but they are not.  # It is so from the beginning.
expect not yarn threaded  # Expected no yarn in the feeder, but there is one.  # thread main
expect not 8 stitches on front  # Expected anything but 8 stitches on the front bed, but there are 8.  # knit 1 row
expect front set to rest  # Expected the front bed set to rest, but it is set to knit.  # Look at what comes before this line.
expect both set to circular  # Expected the beds set to circular, but one is set to knit.  # Look at what comes before this line.
expect beds at full pitch  # Expected the beds at full pitch, but they are at half pitch.  # Look at what comes before this line.
expect 7 stitches on front and carriage right  # Expected 7 stitches on the front bed, but there are 8.  # knit 1 row
expect 8 stitches on front and carriage right  # Expected the carriage at the right, but it is at the left.  # knit 8 rows
expect 7 stitches on front or carriage right  # Expected 7 stitches on the front bed or the carriage at the right, but there are 8.  # knit 1 row
expect end is right or 7 stitches on front  # Expected 7 stitches on the front bed, but there are 8.  # knit 1 row
expect end is right or end is not left  # Expected 'end' to be right or 'end' not to be left, but it is left.  # Look at what comes before this line.
expect end is right or deep is 3 or 7 stitches on back  # Expected 'deep' to be 3 or 7 stitches on the back bed, but it is 4.  # Look at what comes before this line.
"""  # noqa: E501
"""Behind each expectation what is said of it, and the line that made it so or what to do."""

PIECE = HEADER + """sizes B
    wide 3
option end left, right
let deep = 4
machine
    beds 2
    needles 20
    needs racking
"""
BEFORE = TUBE + """knit 8 rows
respect hold on both
hold left 2 and right 1 of front
stitch size 5
"""


@pytest.mark.parametrize("row", [row for row in TOLD.splitlines() if row])
def test_what_was_expected_and_what_there_was_instead(row):
    line, message, advice = row.split("  # ")
    found = next(f for f in findings(BEFORE + line, PIECE) if f.kind == "expectation-not-met")

    assert found.message == message and found.advice.endswith(advice)


@pytest.mark.parametrize("line, told", [
    ("expect tube of 7 stitches a bed", "there are 8 on the front bed and 8 on the back bed"),
    ("expect tube of 8 stitches a bed", "the stitches of the two beds do not face each other"),
    ("expect both set to circular", "one is set to rest"),
    ("expect both set to knit", "one is set to rest"), ("expect both set to rest",
                                                        "one is set to knit")])
def test_what_there_was_where_the_beds_are_unlike(line, told):
    found = next(f for f in findings(f"{TUBE}set front to rest\nrack to 1 right\n{line}")
                 if f.kind == "expectation-not-met")

    assert found.message.endswith(f", but {told}.")
