"""What a finding tells: sizes, choices, since when; and rules seen over several lines."""

from __future__ import annotations

import pytest
from support.scripts import (
    FLAT,
    HEADER,
    TUBE,
    checked,
    findings,
    findings_of_text,
    kinds,
    run,
)

from sockscript.findings.report import circumstances, following_text, problem_text
from sockscript.operations.ops import Knit
from sockscript.text.source import Problem, Source, Span
from sockscript.text.width import settle
from sockscript.trace.engine import Engine


def test_it_names_the_sizes_and_choices_that_are_concerned():
    text = HEADER + '''sizes Small Medium Large
    edge 4 4 12
option finish gather, leave
section "Test"
    bring centre 20 of front into work
    set front to knit
    thread main
    cast on front
    knit 3 rows
    when edge is more than 10
        scrap off left 3 of front as rest
        rehang rest to L10 to L9 of front
        rehang rest to L8 of front
    cut
    when finish is gather
        gather front
'''
    found = {f.kind: f for f in checked(text).findings}

    assert found["rehang-count"].sizes == ("Large",)
    assert found["rehang-count"].choices == ""
    assert found["live-stitches-left"].sizes == ()
    assert found["live-stitches-left"].choices == "finish leave"


def test_an_expectation_tells_the_line_since_which_it_is_so():
    found = findings(FLAT + '''
knit 2 rows
move 3 stitches at left of front in by 1
knit 2 rows
expect 20 stitches
cut
gather front''')

    assert [f.kind for f in found] == ["expectation-not-met"]
    assert "there are 19" in found[0].message
    assert "move 3 stitches at left" in found[0].advice


@pytest.mark.parametrize("line, clean", [
    ("expect 20 stitches", True), ("expect 20 stitches on front", True),
    ("expect 19 stitches on front", False), ("expect 0 stitches on back", True),
    ("expect 18 stitches in work on front", True), ("expect 2 stitches in hold", True),
    ("expect 2 held at left on front", True), ("expect 0 held at right on front", True),
    ("expect carriage left", True), ("expect carriage right", False),
    ("expect row counter 1", True), ("expect row counter 2", False),
    ("expect tube of 10 stitches a bed", False), ("expect beds equal", False),
    ("expect not beds equal", True), ("expect yarn threaded", True), ("expect comb hung", False),
    ("expect 20 stitches and carriage left", True), ("expect 3 stitches or carriage left", True),
])
def test_expectations(line, clean):
    found = kinds(f"{FLAT}\nhold left 2 of front\n{line}\nreturn held of front to work\n"
                  "cut\ngather front")

    assert found == ([] if clean else ["expectation-not-met"])


HEEL_IN = '''set back to rest
set front to knit
respect hold on front
'''


def test_the_needle_that_knitted_last_may_go_into_hold_without_a_hole():
    assert "short-row-hole" not in kinds(f'''{TUBE}
{HEEL_IN}repeat 8 times
    hold carriage side 1 working of front
    knit 1 row on front
cancel hold on front
return held of front to work
cut
gather both''')


def test_holding_on_the_far_side_needs_a_wrap():
    body = f'''{TUBE}
{HEEL_IN}repeat 8 times
    hold far side 1 working of front
    knit 1 row on front
%scancel hold on front
return held of front to work
cut
gather both'''

    assert "short-row-hole" in kinds(body % "")
    assert "short-row-hole" not in kinds(body % "    wrap carriage side 1 held of front\n")


def test_two_rows_at_once_beside_a_held_needle_turn_there_too():
    assert "short-row-hole" in kinds(f'''{FLAT}
respect hold on front
hold left 3 of front
hold right 3 of front
cut
thread main
knit 2 rows
cancel hold on front
return held of front to work
cut
gather front''')


def test_a_block_set_aside_is_not_an_unequal_short_row():
    assert "unequal-short-rows" not in kinds(f'''{FLAT}
respect hold on front
hold left 10 of front
hold right 1 working of front
wrap left 1 held of front
return held of front to work
cancel hold on front
knit 1 row
cut
gather front''')


def test_waste_yarn_may_have_holes():
    assert "short-row-hole" not in kinds('''bring centre 20 of front into work to cast on
set front to knit
thread waste
knit 1 row
respect hold on front
hold far side 1 working of front
knit 2 rows
cancel hold on front
return held of front to work
cut
gather front''')


def test_a_tubular_cast_on_of_three_rows_is_no_odd_pass():
    # Three circular passes after the zigzag (alessandrina.com, 2019: two or three).
    assert kinds('''full pitch
bring every 2nd from 1 of centre 20 of front into work to cast on
bring every 2nd from 2 of centre 20 of back into work to cast on
set both to knit
thread main
knit 1 row
set both to circular
knit 3 rows
set both to knit
knit 4 rows
cut
gather both''') == []


def test_an_increase_that_is_meant_is_no_finding():
    body = FLAT + '''
bring L11 of front into work%s
knit 1 row
cut
gather front'''

    assert kinds(body % " to increase") == []
    assert kinds(body % "") == ["empty-needle-catches"]


def test_conservation_is_checked_by_counting_the_needles():
    """A ledger that is made wrong on purpose is caught at the next operation."""
    engine = run(FLAT + "\ncut\ngather front").engine
    assert engine.apply(Knit(1))[0].kind == "nothing-knits"
    engine = Engine()
    engine.made += 1

    assert [fault.kind for fault in engine.apply(Knit(1))] == ["nothing-knits",
                                                              "conservation-broken"]


def test_an_expectation_that_fails_for_a_reason_told_already_is_not_told_again():
    assert kinds(f"{FLAT}\ntake left 3 of front out of work\nexpect 20 stitches\ncut\n"
                 "gather front") == ["loop-on-idle-needle"]


def test_an_expectation_that_fails_by_itself_is_told():
    assert kinds(f"{FLAT}\nmove 3 stitches at left of front in by 1\nknit 1 row\n"
                 "expect 20 stitches\ncut\ngather front") == ["expectation-not-met"]


def test_the_line_that_led_to_it_is_shown():
    (found,) = findings(f"{FLAT}\nhang comb\nknit 4 rows\ncut\ngather front")

    assert found.kind == "never-comb-off"
    (second,) = found.others
    assert second.at.source.line(second.at.line).strip() == "hang comb"


def test_findings_stand_in_the_order_of_the_work():
    """What stops one choice before what another comes to later; then what the header has, in the
    order of its lines."""
    text = f"""{HEADER}allow off-target because "it was so"
yarn fine "thin cotton"
option way one, two
section "A"
    bring centre 20 of front into work
    set front to knit
    thread main
    cast on front
    when way is two
        knit 3 cm rows
    knit 4 rows
    take left 3 of front out of work
    cut
    gather front
"""
    assert [one.kind for one in findings_of_text(text)] == [
        "units-do-not-fit", "loop-on-idle-needle", "allow-without-effect"]
    assert [one.kind for one in findings_of_text(text.replace("3 cm", "3"))] == [
        "loop-on-idle-needle", "allow-without-effect", "yarn-never-used"]


def test_a_finding_in_words():
    """When it happens, what follows from it, and a place in a line that is too long to show."""
    one, = findings(f"{FLAT}\ntake left 3 of front out of work\ncut\ngather front")
    assert circumstances(one._replace(sizes=("A", "B"), choices="way two", step=3, counter=4,
                                      times=2)) == (
        "sizes A, B; with way two; printed step 3; row counter 4; 2 times, this is the first")
    assert circumstances(one._replace(sizes=("A",), counter=None)) == "size A"

    def at(*lines):
        return [one._replace(kind=f"k{n}", at=one.at._replace(line=line))
                for n, line in enumerate(lines)]
    for lines, words in (((7,), "1 more comes after it, in line 7, and"),
                         ((7, 7), "2 more come after it, in line 7, and"),
                         ((9, 7), "2 more come after it, in lines 7 to 9, and")):
        assert words in following_text(at(*lines))
    long = Span(Source("a", "knit " * 50), 1, 6, 240)
    assert problem_text(Problem("unknown-word", long, "So.", "")).count("^") == 115
    settle(60)
    try:
        assert max(map(len, problem_text(Problem("unknown-word", long, "So.", "")).splitlines())) \
            == 60, "the page is filled"
    finally:
        settle(None)
    far = Span(Source("a", "knit " * 36 + "here " + "knit " * 13), 1, 181, 185)
    code, marks = [line for line in problem_text(
        Problem("unknown-word", far, "So.", "")).splitlines() if " | " in line]
    assert code.index("here") == marks.index("^^^^") and marks.count("^") == 4


def test_on_both_beds_it_is_told_once_and_of_both():
    """The double stitch of the front bed makes it no other finding."""
    one, = [one for one in findings(f"{TUBE}\ntransfer L2 of front onto L1 of front\n"
                                    "take L1 of both out of work")
            if one.kind == "loop-on-idle-needle"]

    assert one.times == 1 and one.message == (
        "Needle L1 of the front bed still holds 2 stitches; out of work it drops off. "
        "The same on the back bed.")


def test_the_needles_concerned_are_drawn():
    (found,) = findings(f"{FLAT}\ntake left 3 of front out of work\ncut\ngather front")
    picture = found.drawing.splitlines()

    assert picture[1].split() == ["front", "ooooooooo"]
    assert picture[2].count("!") == 3
    assert picture[1].index("ooo") == picture[2].index("!") == picture[0].index("L10")
    first, second, *_ = findings("latch up L1 of front\nwrap L1 of front")
    assert first.kind == "nothing-to-latch-up" and not first.drawing, "nothing was there before"
    assert second.kind == "wrap-without-yarn", "in the order of the work"
    # Six on either side of them and no more than 64.
    wide = FLAT.replace("centre 20", "centre 60") + "\nlatch up L26 to R{} of front"
    assert [bool(findings(wide.format(last))[1].drawing) for last in (26, 27)] == [True, False]


@pytest.mark.parametrize("needle, bed", [("L1", "front"), ("L2", "back")])
def test_the_other_bed_is_drawn_racked_as_it_stands(needle, bed):
    """Racked by one to the right, L2 of the back bed stands before L1 of the front bed."""
    found, = [one for one in findings(f"""bring L1 of front into work to cast on
bring L2 of back into work to cast on
thread main
cast on both
rack to 1 right
latch up {needle} of {bed}""") if one.kind == "nothing-to-latch-up"]
    names, *rows = found.drawing.splitlines()[:4]

    assert [row.split()[-1] for row in rows] in (["o", "o", "!"], ["o", "!", "o"])
    assert {len(row) for row in rows} == {names.index(needle) + 1}, "all end in one column"


@pytest.mark.parametrize("dial", ["0 to 10 by 1/2", "1 to 8 by 1", "0.5 to 9 by 1/3"])
def test_a_number_that_the_dial_has_not_is_told_with_those_that_it_has(dial):
    (found,) = findings("stitch size 30", f"{HEADER}machine\n    dial {dial}\n")

    assert found.kind == "size-off-dial" and dial in f"{found.message} {found.advice}"


def test_rows_that_no_bed_knits_after_a_rib_are_no_plain_rows():
    found = kinds("""bring every other of centre 20 of front into work to cast on
bring every other of centre 20 of back into work to cast on
set both to knit
thread main
knit 1 row
knit 8 rows
set both to rest
knit 8 rows""")

    assert "nothing-knits" in found
    assert "size-unchanged-after-rib" not in found


@pytest.mark.parametrize("body, header, never", [
    ("scrap off front as rest\nrehang rest to centre 20 of front", 'yarn waste "string" as waste',
     False),
    # Stitches go onto waste yarn, not onto the ravel cord.
    ("scrap off front as rest\nrehang rest to centre 20 of front", 'yarn cord "cord" as ravel cord',
     True),
    ("knit 2 rows", 'yarn waste "string" as waste', True)])
def test_waste_yarn_that_stitches_are_scrapped_off_onto_is_used(body, header, never):
    lines = [line for line in HEADER.split("\n")
             if not line.startswith(("yarn waste", "yarn cord"))]
    found = checked("\n".join(lines) + header + f'''
section "Test"
    bring centre 20 of front into work
    set front to knit
    thread main
    cast on front
    knit 20 rows
    {body.replace(chr(10), chr(10) + "    ")}
    cut
    gather front
''').findings

    assert ("yarn-never-used" in [f.kind for f in found]) == never
