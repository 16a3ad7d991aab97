"""Numbers in the words of a step against everything that its lines deal with, and what a section on
finishing forgets.  What agrees is counted by hand; that these are the numbers which words mean is
common practice, no source."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, findings, findings_of_text, run

from sockscript.findings.rules.prose import number_in_words

BEGUN = """half pitch
bring centre 8 of both into work to cast on
set both to knit
thread main
knit 1 row
set both to circular
"""


def agreeing(lines, thing, before=""):
    """Which of the numbers 1 to 29 the words may say."""
    words = ", ".join(f"{number} {thing}" for number in range(1, 30))
    body = f'{BEGUN}{before}step "Mind {words}."\n' + "".join(
        f"    {line}\n" for line in lines.splitlines())
    told = {mishap.detail["said"] for mishap in number_in_words(run(body))}
    return [number for number in range(1, 30) if f"{number} {thing}" not in told]


@pytest.mark.parametrize("lines, rows, rounds", [
    ("knit 4 rows", [4], [2]), ("knit 4 rows\nknit 6 rows", [4, 6, 10], [2, 3, 5]),
    ("knit 1 row", [1], []), ("knit 1 round", [2], [1]), ("knit 3 rounds", [6], [3]),
    ("wrap L2 of front", [], [])])
def test_rows_and_rounds_are_those_of_a_line_or_of_all(lines, rows, rounds):
    assert agreeing(lines, "rows") == rows
    assert agreeing(lines, "rounds") == rounds


@pytest.mark.parametrize("lines, before, numbers", [
    # Eight stitches a bed, and sixteen on both.
    ("knit 4 rows", "", [8, 16]),
    # Three in hold, five that work.
    ("hold left 3 of front", "respect hold on front\n", [3, 5, 8, 13, 16]),
    # Ten needles in work on the front bed.
    ("transfer left 2 of front to L6 to L5 of front", "bring L6 to L5 of front into work\n",
     [2, 8, 10, 16, 18]),
    ("fold right 3 of front onto back", "", [3, 5, 8, 13, 16]),
    ("wrap L2 of front", "", [1, 8, 16]),
    # Five left on the front bed; two come back there, one to the back bed.
    ("rehang part to L4 to L3 of front and L5 of back",
     "scrap off left 3 of front as part\nbring L5 of back into work\n",
     [1, 2, 3, 5, 7, 8, 9, 13, 16, 17]),
    # By one needle, which leaves seven on the bed.
    ("move 3 stitches at left of front in by 1", "", [1, 3, 7, 8, 15, 16]),
    ("bring R5 to R9 of back into work", "", [5, 8, 13, 16, 21]),
    # The needle beside the filled one gives a loop of its own.
    ("fill L5 of front from right", "bring L5 of front into work\n", [1, 8, 9, 16, 17]),
    ("graft L4 to L2 of front to L4 to L2 of back", "cut\n", [3, 5, 6, 8, 10, 16]),
    # Three on each bed.
    ("set L3 to L1 of both to tuck", "set both to knit\n", [3, 6, 8, 16]),
    # Five with stitches and two without work on the front bed, three wait in hold.
    ("bring R5 to R6 of front into work", "respect hold on front\nhold left 3 of front\n",
     [2, 3, 5, 7, 8, 13, 15, 16])])
@pytest.mark.parametrize("thing", ["stitches", "needles"])
def test_stitches_and_needles_are_those_that_hang_or_are_named(lines, before, numbers, thing):
    assert agreeing(lines, thing, before) == numbers


def test_the_first_step_of_all_has_nothing_before_it():
    body = 'step "Bring {} needles into work."\n    bring centre 8 of front into work\n'
    for number, told in ((8, False), (7, True)):
        assert any(one.kind == "number-in-words"
                   for one in findings(body.format(number))) == told


@pytest.mark.parametrize("words, told", [
    ("Knit 9 rows", True), ("Knit 9 ROWS", True), ("Knit after every 9 rows", False),
    ("Knit each 9 rows", False), ("Knit per 9 rows", False), ("Knit about 9 rows", False),
    ("Knit 1/9 rows", False), ("Knit 0.9 rows", False), ("Knit 8-9 rows", False),
    ("Knit 9 rowing strokes", False), ("Knit 9 roundels", False), ("Knit 9 needlessly", False)])
def test_which_words_give_a_number(words, told):
    body = f'{BEGUN}step "{words}."\n    knit 4 rows\n'
    assert any(one.kind == "number-in-words" for one in findings(body)) == told


def test_a_note_and_a_step_without_work_may_say_any_number():
    for lines in ('note "Knit 9 rows."\nknit 4 rows\n', 'step "Knit 9 rows."\n    note "Now."\n',
                  'step "Knit on."\n    note "Not 9 rows."\n    knit 4 rows\n'):
        assert not any(one.kind == "number-in-words" for one in findings(BEGUN + lines))


@pytest.mark.parametrize("lines, some", [
    ("knit 1 row\nknit 2 rows", "1 or 2 or 3"),
    ("knit 1 row\nknit 2 rows\nknit 4 rows", "1 or 2 or 4 or 7"),
    ("knit 1 row\nknit 2 rows\nknit 4 rows\nknit 5 rows", "1, 2, 4, 5 …"),
    ("wrap L2 of front", "none")])
def test_up_to_four_numbers_are_told(lines, some):
    body = BEGUN + 'step "Knit 19 rows."\n' + "".join(f"    {x}\n" for x in lines.splitlines())
    (message,) = [one.message for one in findings(body) if one.kind == "number-in-words"]

    assert message == f"The words say 19 rows, but the lines under them come to {some}."


# ---- finishing

FLAT = """bring centre 8 of back into work to cast on
set back to knit
thread main
knit 20 rows
bind off back
cut
"""


def finishing(title, words, flat="", sewn=True):
    text = HEADER + 'section "Leg"\n' + "".join(
        f"    {line}\n" for line in (FLAT + flat + ("sew sides\n" if sewn else "")).splitlines())
    text += f'section "{title}"\n' + (f'    step "{words}"\n' if words else "")
    return [one.message for one in findings_of_text(text) if one.kind == "finishing-incomplete"]


@pytest.mark.parametrize("words, missing", [
    ("Weave in the ends and sew the seam.", ""), ("Darn in all tails and join the sides.", ""),
    ("Wash it.", "2 ends to weave in and the seam of the leg"),
    ("Sew it up.", "2 ends to weave in"), ("Fasten off.", "the seam of the leg")])
@pytest.mark.parametrize("title", ["Finishing", "To finish", "Making up", "Make up"])
def test_a_section_on_finishing_names_the_ends_and_the_seams(title, words, missing):
    assert finishing(title, words) == ([
        f"The section on finishing does not mention {missing}."] if missing else [])


def test_what_is_no_section_on_finishing_need_not():
    assert finishing("Washing", "Wash it.") == []
    assert finishing("Remaking upwards", "Wash it.") == []
    assert finishing("Finishing", "Weave in the ends.", sewn=False) == []
