"""Inches, yards, ounces and fractions: written as on a tape, printed as they were written."""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest
from support.scripts import FLAT, HEADER, findings, prepared

from sockscript.fit.feet import foot_length
from sockscript.numbers.quantity import (
    InchLength,
    Quantity,
    add,
    divide,
    length,
    multiply,
    read_amount,
    show,
)

UREG = pint.UnitRegistry()


def sizes_of(text: str):
    script = prepared(text).script
    assert [(p.at.line, p.message) for p in script.problems] == []
    return script.sizes


def problems_of(body: str):
    """What is wrong with the lines of a section."""
    lines = "\n".join("    " + line for line in body.splitlines())
    return prepared(f'{HEADER}section "Test"\n{lines}\n').problems


@pytest.mark.parametrize("written, inches", [
    ('7"', 7), ("7”", 7), ("7″", 7), ("6½ in", 6.5), ('6 1/2"', 6.5), ("6 ½ in", 6.5),
    ("6-1/2 in", 6.5), ("3/4 in", 0.75), ("3⁄4 in", 0.75), ("46 2/3 in", 46 + 2 / 3),
    ("7,5 in", 7.5), (".5 inch", 0.5), ("9 3/16 inches", 9.1875)])
def test_a_length_in_every_spelling_of_a_tape(written, inches):
    """The inch is pint's (25.4 mm, international yard and pound agreement)."""
    mm = (inches * UREG.inch).to("millimeter").magnitude

    assert float(sizes_of(f"sizes A\n    foot {written}\n").measures["foot"][0].value) \
        == pytest.approx(mm, rel=1e-12)


@pytest.mark.parametrize("written, inches", [("3/4 in", 0.75), ('1 1/2"', 1.5), ("1-1/2 in", 1.5),
                                             ("60 * 3/4 in", 45), ("7,5 in", 7.5)])
def test_a_length_in_a_value(written, inches):
    assert findings(f"let a = {written}\nexpect a is {inches} in\n") == []
    assert len(findings(f"let a = {written}\nexpect a is {inches + 0.1} in\n")) == 1


def test_without_a_unit_a_stroke_divides():
    assert findings("let a = 60 / 3/4\nexpect a is 5\n") == []
    assert findings("let a = 64\nlet b = a/4\nexpect b is 16\n") == []


def test_a_row_of_fractions_with_one_unit():
    found = sizes_of('sizes A B C D\n    foot 1/2 3/4 1 1 1/2 in\n').measures["foot"]

    assert [value.value / Fraction(254, 10) for value in found] == [
        Fraction(1, 2), Fraction(3, 4), 1, Fraction(3, 2)]


def test_inch_marks_stand_beside_quotes_and_comments():
    found = sizes_of('sizes "One" "Two" "Three" # "7"\n    foot 7" 8" 9" # so "\n').measures["foot"]

    assert [value.value / Fraction(254, 10) for value in found] == [7, 8, 9]


def test_inch_marks_in_printed_words_are_not_understood_and_that_is_said():
    found = problems_of('note "Knit 7" more"')

    assert [p.kind for p in found] == ["open-quote"]


@pytest.mark.parametrize("line, per_inch", [
    ("gauge plain 7 1/2 stitches, 10 1/2 rows per inch", (7.5, 10.5)),
    ("gauge 7½ stitches per inch, 10½ rows per inch", (7.5, 10.5)),
    ("gauge 30 stitches per 4 in, 42 rows per 4 in", (7.5, 10.5)),
    ('gauge 30 stitches and 42 rows per 4"', (7.5, 10.5)),
    ("gauge 15 stitches per 2 in, 42 rows per 4 in", (7.5, 10.5)),
    ("gauge 7,5 stitches, 10,5 rows per in", (7.5, 10.5)),
    ("gauge 3/4 stitches, 1 rows per 1/10 in", None)])
def test_gauge_by_the_inch(line, per_inch):
    found = prepared(line + "\n")
    if per_inch is None:
        assert found.problems
        return
    gauge = found.script.gauges[0]

    assert (gauge.stitches_per_mm * Fraction(254, 10), gauge.rows_per_mm * Fraction(254, 10)) \
        == per_inch


@pytest.mark.parametrize("band, metres_per_gram", [
    ("430 yards per 100 g", (430 * UREG.yard / (100 * UREG.gram))),
    ("430 yd per 3 1/2 oz", (430 * UREG.yard / (3.5 * UREG.ounce))),
    ("180 m per 50 g", (180 * UREG.meter / (50 * UREG.gram))),
    ("110 yards per ounce", (110 * UREG.yard / UREG.ounce))])
def test_a_band_in_yards_and_ounces_is_what_pint_says(band, metres_per_gram):
    yarn = prepared(f'yarn main "wool" {band}\n').script.yarns[0]

    assert float(yarn.metres_per_gram) == pytest.approx(
        metres_per_gram.to("meter / gram").magnitude, rel=1e-12)


def test_a_swatch_on_scales_that_show_ounces():
    """pint's avoirdupois ounce."""
    swatch = prepared('yarn main "wool"\ngauge plain 30 stitches, 42 rows per 4 in\n'
                      "swatch plain 60 stitches, 84 rows, 1/2 oz of main\n"
                      .replace("1/2", "½")).script.swatches[0]

    assert float(swatch.grams) == pytest.approx((0.5 * UREG.ounce).to("gram").magnitude, rel=1e-12)


@pytest.mark.parametrize("name, scale, size", [("woman-us-8½", "us-women", "8.5"),
                                               ("woman-us-8 1/2", "us-women", "8.5"),
                                               ("man-uk-9.5", "uk", "9.5"),
                                               ("woman-38,5", "eu", "38.5")])
def test_half_shoe_sizes(name, scale, size):
    found = sizes_of(f"sizes A B\n    feet {name} woman-39\n").measures["foot-length"]

    assert found[0].value == round(foot_length(scale, Fraction(size)))
    assert found[1].value == round(foot_length("eu", Fraction(39)))


# ---- what is printed


@pytest.mark.parametrize("inches, text", [
    ("9 3/4", "9¾ in"), ("8", "8 in"), ("1/16", "1/16 in"), ("9 3/16", "9 3/16 in"),
    ("9.8", "9¾ in"), ("9.9", "9⅞ in"), ("0.02", "0 in"), ("0.05", "1/16 in"), ("1/3", "⅜ in")])
def test_inches_are_shown_as_on_a_tape(inches, text):
    """Marks of a sixteenth stay; all else goes to the nearest eighth (common practice, no
    source)."""
    assert show(length(read_amount(inches) * Fraction(254, 10), inches=True)) == text


def test_a_length_keeps_its_unit_through_arithmetic_and_equals_the_same_in_cm():
    foot = length(254, inches=True)

    assert foot == Quantity(254, "mm") and hash(foot) == hash(Quantity(254, "mm"))
    for value in (add(foot, Quantity(10, "%"), -1), add(foot, foot), multiply(foot, Quantity(2)),
                  multiply(Quantity(10, "%"), foot), divide(foot, Quantity(2))):
        assert isinstance(value, InchLength)
    assert not isinstance(divide(foot, foot), InchLength)


@pytest.mark.parametrize("value, text", [(Fraction(19, 3), "6⅓"), (Fraction(28, 3), "9⅓"),
                                         (Fraction(1, 7), "0.14")])
def test_thirds_of_a_dial_are_shown_as_thirds(value, text):
    assert show(Quantity(value)) == text


@pytest.mark.parametrize("header, inches", [
    ("gauge plain 30 stitches, 42 rows per 10 cm\nsizes A\n    foot 9 in\n", True),
    ("gauge plain 7 stitches, 10 rows per inch\nsizes A\n    foot 22 cm\n", False),
    ("gauge plain 7 stitches, 10 rows per inch\nsizes A\n    feet woman-39\n", True),
    ("gauge plain 7 stitches, 10 rows per inch\n", True),
    ("gauge plain 30 stitches, 42 rows per 10 cm\n", False), ("", False)])
def test_the_table_of_sizes_says_in_what_the_author_measures_or_else_the_gauge(header, inches):
    assert prepared(header).script.inches is inches


def test_feet_from_the_table_are_in_inches_where_the_gauge_is():
    found = sizes_of("gauge plain 7 stitches, 10 rows per inch\nsizes A\n    feet woman-39\n")

    assert {show(value[0])[-2:] for value in found.measures.values()} == {"in"}


# ---- commas


@pytest.mark.parametrize("line", ["let a = larger(2,5, 1)", "let a = smaller(1,5)",
                                  "let a = 1,000 * 2", "knit 1,000 rows"])
def test_a_comma_that_may_mean_two_things_is_asked_about(line):
    assert [p.kind for p in problems_of(line)] == ["decimal-comma"]


def test_choices_with_a_comma_and_no_space_are_asked_about():
    found = prepared("option keep 10,12\n").problems

    assert "decimal-comma" in [p.kind for p in found]
    assert "10, 12 for two" in found[0].hint


@pytest.mark.parametrize("line", ["knit rows(2,5 cm) to nearest rows\nexpect row counter 10",
                                  "let a = number(2,5) * 2\nexpect a is 5",
                                  "let a = larger(number(2,5), 2) * 2\nexpect a is 5",
                                  "let a = 2,5 cm\nexpect a is 25 mm",
                                  "let a = larger(2, 5)\nexpect a is 5",
                                  f"{FLAT}\nstitch size 5,0\ncut\nbind off front"])
def test_other_commas_are_understood(line):
    assert [f for f in findings(line + "\n") if f.kind in ("decimal-comma", "size-off-dial",
                                                           "expectation-not-met")] == []
