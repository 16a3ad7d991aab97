"""Tables of sizes and measurements of feet, each rule on both sides of its limit.

The limits are those of the pages of the findings; nothing is knitted for them.
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, findings_of_text, kinds


def told(header: str) -> list[tuple[str, str]]:
    return [(one.kind, one.message) for one in findings_of_text(
        f'{HEADER}{header}section "Nothing"\n    row counter 0\n')
        if one.kind not in ("yarn-never-used", "sizes-alike")]


def table(names: str, *rows: str) -> list[tuple[str, str]]:
    return told(f"sizes {names}\n" + "".join(f"    {row}\n" for row in rows))


def uneven(names: str, *rows: str) -> list[str]:
    found = table(names, *rows)
    assert {kind for kind, _ in found} <= {"grading-uneven"}
    return [message for _, message in found]


# ---- a row in another unit


@pytest.mark.parametrize("row, usual", [
    ("cuff-length 15 15 mm", ""), ("cuff-length 14 14.5 mm", "14 cm"), ("cuff-length 14 15 mm", ""),
    ("cuff-length 30 30 cm", ""), ("cuff-length 30.1 31 cm", "3.01 cm"),
    ("cuff-length 300 300 cm", "30 cm"), ("cuff-length 300.1 301 cm", ""),
    ("cuff-length 1.5 1.6 mm", "1.5 cm"), ("cuff-length 1.4 1.5 mm", ""),
    ("leg-length 20 20 mm", ""), ("leg-length 19 19.5 mm", "19 cm"),
    ("leg-length 80 80 cm", ""), ("leg-length 80.1 81 cm", "8.01 cm"),
    ("cuff-length 14 mm", "14 cm"), ("leg-length 0 10 cm", "")])
def test_a_row_that_is_usual_in_another_unit_only(row, usual):
    """For all sizes, or for the only one; a length of nothing says nothing."""
    names = "One Two" if row.count(" ") > 2 else "One"
    found = uneven(names, row)

    assert len(found) == bool(usual)
    for message in found:
        assert message.endswith(f"for One; {usual} is usual.")


# ---- rows that go backwards


@pytest.mark.parametrize("names, rows, message", [
    ("Small Large", ["wide 30 28 cm"],
     "'wide' goes from 30 cm (Small) to 28 cm (Large), against the other sizes and rows."),
    ("S M L", ["wide 30 29 28 cm"],
     "'wide' runs the other way than the sizes: from 30 cm (S) to 28 cm (L)."),
    ("S M L", ["wide 30 30 28 cm"],
     "'wide' goes from 30 cm (M) to 28 cm (L), against the other sizes and rows."),
    ("S M L XL", ["wide 30 28 29 27 cm"],
     "'wide' goes from 30 cm (S) to 28 cm (M), against the other sizes and rows."),
    ("Large Small", ["wide 28 30 cm"],
     "'wide' goes from 28 cm (Large) to 30 cm (Small), against the other sizes and rows."),
    ("Small Large", ["wide 30 2.8 cm"], "'wide' goes from 30 cm (Small) to 2.8 cm (Large), against "
     "the other sizes and rows; 28 cm would fit."),
    ("Large Small", ["wide 30 28 cm"], ""), ("Large Small", ["wide 30 30 cm"], ""),
    ("Ann Bea", ["wide 30 28 cm", "deep 5 6 cm", "long 7 8 cm"],
     "'wide' goes from 30 cm (Ann) to 28 cm (Bea), against the other sizes and rows."),
    ("Ann Bea", ["wide 30 28 cm", "deep 5 6 cm", "long 7 7 cm"], ""),
    ("Ann Bea", ["wide 30 28 cm", "deep 5 6 cm", "long 8 7 cm", "high 3 4 cm"], ""),
    ("S Small", ["wide 30 28 cm"], ""), ("S Bea", ["wide 30 28 cm"], ""),
    ("Ann L", ["wide 30 28 cm"], "")])
def test_which_way_a_row_goes(names, rows, message):
    assert uneven(names, *rows) == [message] * bool(message)


# ---- leaps


@pytest.mark.parametrize("names, rows, leaps", [
    ("A B", ["wide 10 18 cm", "deep 10 13.9 cm"], True),
    ("A B", ["wide 10 18 cm", "deep 10 14 cm"], False),  # half of the step itself
    ("A B", ["wide 10 18 cm"], False),  # nothing to compare it with
    ("A B C", ["wide 10 18 18.5 cm"], False),  # the value between may be the odd one
    ("A B C D", ["wide 10 18 18.5 19 cm"], True),
    ("A B C", ["wide 10 10 18 cm", "deep 10 10 18 cm"], False),  # all of them there
    ("A B C", ["wide 10 10 18 cm", "deep 10 18 18 cm"], True),  # each at a place of its own
    ("A B", ["wide 10 16 cm", "deep 10 10 cm"], False),
    ("A B", ["wide 10 16.1 cm", "deep 10 10 cm"], True)])
def test_a_step_that_others_do_not_share(names, rows, leaps):
    assert any("leaps from 10 cm" in message for message in uneven(names, *rows)) == leaps


@pytest.mark.parametrize("row, fits", [
    ("wide 20 2.5 25 cm", "25 cm"), ("wide 20 2.6 26 cm", ""),
    ("wide 20 22 2.4 cm", "24 cm"), ("wide 2 22 27 cm", "20 cm"), ("wide 20 22 240 cm", "24 cm"),
    ("wide 20 22 2.76 cm", ""), ("wide 20 22 2.75 cm", "27.5 cm")])
def test_what_a_value_would_fit_as(row, fits):
    """Within a quarter of both its neighbours."""
    (first, *_) = uneven("S M L", row, "deep 10 10 10 cm", "high 10 11 12 cm")

    assert first.endswith(f"; {fits} would fit.") if fits else "would fit" not in first


@pytest.mark.parametrize("row, slip", [
    ("wide 10 20 16 cm", "20 cm for M"),  # 10 to 16 is 60 %, 10 to 20 is more
    ("wide 10 20 16.1 cm", ""), ("wide 10 16 15.9 cm", ""),
    ("wide 10 16 6.3 cm", "6.3 cm for L"), ("wide 10 16.1 6.3 cm", "")])
def test_which_value_is_the_slip(row, slip):
    """The one without which the row grows by no step of more than 60 %."""
    (first, *_) = uneven("S M L", row, "high 10 11 12 cm")

    assert first.startswith(f"'wide' is {slip}, but ") if slip else "against the other" in first


# ---- ease


GIRTHS = '''sizes One Two
    foot-round 20 22 cm
    ankle-round 18 20 cm
    foot-length 20 22 cm
'''


@pytest.mark.parametrize("lines, left_out", [
    (["stitches(foot-round less 10%)", "stitches(ankle-round, plain)"], True),
    (["stitches(foot-round less 10%)", "stitches(ankle-round)", "stitches(ankle-round less 5%)"],
     False),
    (["stitches(foot-round less 10%)", "rows(ankle-round)"], False),
    (["stitches(foot-round less 10%)", "stitches(foot-length)"], False)])
def test_a_girth_is_eased_in_stitches_only_and_once_is_enough(lines, left_out):
    lets = "".join(f"let value-{n} = {line} to nearest\n" for n, line in enumerate(lines))
    found = [(kind, message) for kind, message in told(GIRTHS + lets) if kind == "ease-left-out"]

    assert [message[:14] for _, message in found] == ["'ankle-round' "] * left_out


# ---- feet


@pytest.mark.parametrize("row, told_of", [
    ("foot-length = 80 mm", False), ("foot-length = 79 mm", True), ("foot-length = 35 cm", False),
    ("foot-length = 351 mm", True), ("heel-round = 40 mm", False), ("heel-round = 39 mm", True),
    ("heel-round = 70 cm", False), ("heel-round = 701 mm", True),
    ("heel-round = 1000", False)])
def test_between_what_measures_there_are_feet(row, told_of):
    found = told(f"let {row}\n")

    assert [kind for kind, _ in found] == ["unlikely-foot"] * told_of
    for _, message in found:
        limits = "8 cm and 35 cm" if "length" in row else "4 cm and 70 cm"
        assert message.endswith(f"on people it lies between {limits}.")


@pytest.mark.parametrize("girth, length, told_of", [
    ("26", "20", False), ("26.1", "20", True), ("14", "20", False), ("13.9", "20", True)])
def test_how_round_a_foot_is_for_its_length(girth, length, told_of):
    found = told(f"let foot-round = {girth} cm\nlet foot-length = {length} cm\n")

    assert [kind for kind, _ in found] == ["measurements-contradict"] * told_of
    assert all("'foot-round'" in message for _, message in found)


@pytest.mark.parametrize("larger, smaller", [
    ("heel-round", "foot-round"), ("heel-round", "ankle-round"), ("calf-round", "ankle-round")])
def test_what_is_larger_on_every_foot(larger, smaller):
    for one, other, told_of in ((25, 24, False), (24, 24, True), (23, 24, True)):
        found = told(f"let {larger} = {one} cm\nlet {smaller} = {other} cm\n")
        assert [kind for kind, _ in found] == ["measurements-contradict"] * told_of


@pytest.mark.parametrize("spacing, told_of", [
    # 30 stitches in 10 cm are 0.3 in a millimetre; two a needle at 6⅔ mm.
    ("4.5", False), ("6.6", False), ("6.7", True), ("9", True), ("", False)])
def test_stitches_that_no_yarn_makes_on_needles_so_far_apart(spacing, told_of):
    machine = f"machine\n    spacing {spacing} mm\n" if spacing else ""
    found = told(machine)

    assert [kind for kind, _ in found] == ["gauge-too-fine"] * told_of
    if spacing == "9":
        assert "30 stitches in 10 cm, but the machine has 11 needles there" in found[0][1]
    fine = HEADER.replace("gauge plain 30", "machine\n    spacing 5 mm\ngauge plain 40")
    assert "gauge-too-fine" not in kinds("row counter 0", fine), "two a needle"
    assert "gauge-too-fine" in kinds("row counter 0", fine.replace("plain 40", "plain 41"))


# ---- counts out of order


@pytest.mark.parametrize(("names", "counts", "told_of"), [
    ("Small Medium Large", "14 10 16",
     "'toe' is 10 for Medium, but 14 for Small and 16 for Large."),
    ("Small Medium Large", "14 11 16", ""),  # 14 is 1.27 times as much
    ("Small Medium Large", "14 24 16",
     "'toe' is 24 for Medium, but 14 for Small and 16 for Large."),
    ("Small Medium Large", "14 22 16", ""), ("Small Medium Large", "8 5 7", "'toe' is 5 "),
    ("Small Medium Large", "7 4 7", ""),  # small numbers jump
    ("Small Medium Large", "16 10 6", ""), ("Small Large", "16 8", ""),
    ("Large Small Medium", "16 8 14", ""),  # the sizes do not run one way
    ("A B C", "14 8 16", ""),  # nor is it known that they do
    ("Small Medium Large XL", "14 8 16 18", "'toe' is 8 for Medium"),
    ("XS S M L XL", "16 8 16 8 16", "")])
def test_a_count_of_one_size_that_stands_out(names, counts, told_of):
    found = [message for kind, message in table(names, f"toe {counts}") if kind == "grading-uneven"]
    assert len(found) == bool(told_of) and told_of in "".join(found)


@pytest.mark.parametrize(("names", "around", "along", "exchanged"), [
    ("S L", "21 24", "20 22.8 cm", True), ("S L", "20.9 24", "20 22.8 cm", False),
    ("S L", "21 23.7", "20 22.8 cm", False), ("S L", "20.8 24", "19.8 22.8 cm", False),
    ("One", "21", "20 cm", False), ("S L", "19 21", "21 24 cm", False)])
def test_grown_feet_are_not_all_rounder_than_long(names, around, along, exchanged):
    """105 % of the length, from 20 cm on; one foot alone may be so wide, a child's is rounder."""
    found = uneven(names, f"foot-round {around} cm", f"foot-length {along}")
    assert [("may be exchanged" in one) for one in found] == [True] * exchanged
