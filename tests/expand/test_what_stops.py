"""Lines that cannot be worked out or carried out: what is said of each, and what to do.

Each line tells after its ``#`` the whole of what is said.
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, run

TOLD = """
knit 2 cm + 1 rows  # A plain number (1) cannot be added to a length (2 cm). Write the unit after the number, for example 2 cm, or turn the length into stitches(…) or rows(…).
knit rows(3 cm, 4) rows  # The name of a fabric should stand here. For example: rows(…, plain).
knit 3 cm rows  # A number of rows should stand here, not a length (3 cm). Turn the length into rows with rows(…).
knit 3.5 rows  # This comes to 3.5 rows, which is not a whole number. Say how to round it, for example 'to nearest even'.
knit 7/2 rows  # This comes to 3.5 rows, which is not a whole number. Say how to round it, for example 'to nearest even'.
knit 2 - 3 rows  # This comes to -1 rows, less than none. Look at the measurements it is worked out from.
knit stitches(3 cm) rows  # A number of rows should stand here, not a number of stitches (9).
knit 10 / 0 rows  # This divides by 0. Look at the value of what stands after the /.
knit 3 cm to nearest even rows  # A length is rounded only after it is turned into stitches or rows. Use stitches(…) or rows(…) first.
knit stitches(4) rows  # stitches(…) needs a length, such as 12 cm, not a plain number (4).
knit rows(stitches(1 cm)) rows  # rows(…) needs a length, such as 12 cm, not a number of stitches (3).
knit width(3 cm) rows  # width(…) needs a number of stitches, not a length (3 cm).
knit height(stitches(3 cm)) rows  # height(…) needs a number of rows, not a number of stitches (9).
knit count-before(front) rows  # 'count-before' is how many stitches there were when a technique was called; this line stands in none. Write count-on(…) for those that are there now.
knit rows(3 cm, plain, 4) rows  # rows(…) takes 1 or 2 values, not 3.
knit number(1, 2) rows  # number(…) takes 1 value, not 2.
knit smaller(1) rows  # smaller(…) takes 2 values, not 1.
knit yarn-end(3) rows  # yarn-end(…) takes 2 values, not 1.
knit 100000001 rows  # 100000001 rows: nobody knits that far. Look at the measurements and the gauge.
knit rounds for a foot length of 12  # A length should stand here. For example: knit rounds for a foot length of 24 cm
repeat 100001 times  # 100001 times is more than a sock needs. At most 100000 are worked out.
repeat 3.5 times  # This comes to 3.5 times, which is not a whole number. Say how to round it, for example 'to nearest even'.
repeat 3 cm times  # A number of times should stand here, not a length (3 cm).
repeat rows(3 cm) times  # This comes to 12.6 rows, which is not a whole number. Say how to round it, for example 'to nearest even'.
stitch size 3 cm  # A number of the dial should stand here. For example: stitch size 5
stitch size rows(3 cm)  # A number of the dial should stand here. For example: stitch size 5
stitch size word  # A number of the dial should stand here. For example: stitch size 5
target girth 3  # A length should stand here. For example: target girth 20 cm within 5 mm
target girth 3 cm within 3  # A length should stand here. For example: target girth 20 cm within 5 mm
target heel width 3 cm  # A share of the heel should stand here. For example: target heel width 1/3 within 1/10
target heel width 1/3 within 3 cm  # A share of the heel should stand here. For example: target heel width 1/3 within 1/10
target girth word  # A length should stand here. For example: target girth 20 cm within 5 mm
knit word rows  # 'one' is a word, not a number. Write a number here, or the name of a value that is one.
knit word + 1 rows  # 'one' is a word, not a number. Write a number here, or the name of a value that is one.
set word to knit  # 'one' is not a bed. Write front, back or both.
knit count-on(word) rows  # 'one' is not a bed. Write front, back or both.
move carriage to word  # 'one' is not an end of the bed. Write left, right, carriage side or far side.
expect 3 cm is 3  # A length cannot be compared with a plain number.
expect word is more than 3  # Words can only be the same or not the same. Write 'is' or 'is not'.
do threaded with n = word  # There is no yarn called 'one'. Add a line such as  yarn one "what it is"  to the header.
do knitted with n = main  # 'main' is a word, not a number. Write a number here, or the name of a value that is one.
transfer L1 of both onto front  # These stitches are on the front bed already. Name the needles that they go to.
transfer L1 of front onto both  # One bed should stand here, not both. Write front or back.
transfer L1 and L2 of front onto L1 of back  # From 2 to 1 needles: they do not pair up. Name as many needles to go to as to come from.
fold L1 of front onto front  # These stitches are on the front bed already. A group is folded onto the bed that faces it.
graft front to front  # Stitches of one bed are grafted to those of the other. For example: graft front to back
graft both to front  # Stitches of one bed are grafted to those of the other. For example: graft front to back
graft front to both  # Stitches of one bed are grafted to those of the other. For example: graft front to back
graft off to front  # The stitches called 'off' are off the needles, those that they are to be grafted to are not. Scrap those off too (scrap off front as last-row) and graft one name to the other.
cut fine  # 'thin cotton' cannot be cut here: 'four-ply sock wool' is in the feeder. Write  cut main  or just  cut.
bring L0 of front into work  # There is no needle L0. Needles are counted out from the centre: L1, L2 …, R1, R2 …
bring every 2nd from 0 of centre 4 of front into work  # Counting starts with 1. For example: every 2nd from 1 of centre 20 of front.
"""  # noqa: E501

WITH = HEADER + """yarn fine "thin cotton"
option word one, two
technique threaded with n
    thread n
technique knitted with n
    knit n rows
"""
BEFORE = """bring centre 8 of both into work to cast on
set both to knit
thread main
knit 1 row
scrap off right 1 of back as off
"""


@pytest.mark.parametrize("told", [line for line in TOLD.splitlines() if line])
def test_what_is_said_of_a_line_that_cannot_be_done(told):
    line, _, words = told.partition("  # ")
    stopped = run(BEFORE + line + ("\n    knit 1 row" if line.startswith("repeat") else ""),
                  WITH).stopped

    assert stopped is not None and f"{stopped.message} {stopped.hint}".strip() == words
    assert line.startswith("do ") or stopped.at.source.line(stopped.at.line).strip() == line


@pytest.mark.parametrize("around", ["repeat 2 times", "when 1 is 1", "repeat until comb hung"])
def test_it_is_told_in_its_own_line_inside_of_others(around):
    for line in ("knit count-before(front) rows", "knit count-on(word) rows", "set word to knit"):
        done = run(f"{BEFORE}{around}\n    {line}", WITH)

        assert done.stopped.at.source.line(done.stopped.at.line).strip() == line


@pytest.mark.parametrize("line", [
    "knit 100000000 rows", "repeat stitches(3 cm) times\n    knit 1 row",
    "repeat rows(10 cm) times\n    knit 1 row", "repeat 0 times\n    knit 1 row",
    "knit 2 - 2 rows", "knit number(stitches(4 cm)) rows", "cut main", "cut",
    "do threaded with n = main", "do knitted with n = 2", "graft front to back",
    "bring every 2nd from 1 of centre 4 of front into work", "target heel width 1/3 within 1/20",
    "knit 4.0 rows", "knit smaller(3, stitches(1 cm)) rows",
    "knit larger(stitches(1 cm), 3) rows", "fold L1 of front onto back", "stitch size 5 1/3",
    "knit rows(10 cm, plain) rows"])
def test_what_is_right_beside_it_does(line):
    assert run(BEFORE + line, WITH).stopped is None
