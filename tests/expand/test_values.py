"""Values of a script: what they are worked out from, and when they are worked out anew."""

from __future__ import annotations

import pytest
from support.scripts import (
    HEADER,
    checked,
    findings,
    prepared,
    problems,
    run,
)

from sockscript.expand.values import CannotDoError, Names, no_counts
from sockscript.findings.ranges import RangeProof
from sockscript.machine.load import script_profile
from sockscript.numbers.quantity import Quantity

GAUGES = HEADER + "gauge rib 34 stitches, 44 rows per 10 cm\n"


def counter(expression, header=GAUGES, before=""):
    """The number of rows that an expression comes to, read off the row counter."""
    done = run(f"{before}row counter {expression}", header)
    assert done.stopped is None, done.stopped
    return done.row_counter()


@pytest.mark.parametrize("expression, value", [
    ("number(stitches(10 cm))", 30), ("rows(10 cm)", 42), ("rows(10 cm, rib)", 44),
    ("number(stitches(10 cm, rib))", 34), ("number(stitches(1 cm))", 3),
    ("rows(height(rows(5 cm)))", 21), ("number(stitches(width(15)))", 15),
    ("rows(height(rows(20 cm, rib), rib), rib)", 88),
    ("smaller(3, 4)", 3), ("smaller(4, 3)", 3), ("larger(3, 4)", 4), ("larger(4, 3)", 4),
    ("smaller(3, 3)", 3), ("larger(3, 3)", 3), ("smaller(5 / 2, 3) * 2", 5),
    ("larger(5 / 2, 3) * 2", 6), ("smaller(3, 5 / 2) * 2", 5), ("larger(3, 5 / 2) * 2", 6),
    ("7 / 2 to nearest even", 4), ("5 to nearest even", 6), ("4 to nearest odd", 5),
    ("10 to nearest multiple of 4", 12), ("9 to nearest multiple of 4", 8),
    ("9 to nearest multiple of 4 plus 2", 10), ("7 + 3 - 2 * 4", 2), ("12 / 4 + 1", 4),
    ("10 less 20%", 8), ("10 plus 20%", 12)])
def test_what_expressions_come_to(expression, value):
    assert counter(expression) == value


def test_the_gauge_is_that_of_the_section_and_otherwise_the_first():
    text = GAUGES + 'section "A" in rib\n    row counter rows(10 cm)\n'
    assert checked(text).proof.outcomes[0][0].run.row_counter() == 44
    assert counter("rows(10 cm)") == 42


HUNG = """bring centre 6 of front into work
set front to knit
thread main
cast on front
respect hold on front
hold left 2 of front
"""


@pytest.mark.parametrize("expression, value", [
    ("count-on(front)", 6), ("count-on(back)", 0), ("count-on(both)", 6),
    ("count-working(front)", 4), ("count-held(front)", 2), ("count-held(back)", 0)])
def test_what_hangs_is_counted_when_the_line_is_reached(expression, value):
    assert counter(f"number({expression})", before=HUNG) == value


def test_a_value_of_its_own_is_not_worked_out_again():
    body = HUNG + ("let before = count-working(front)\nreturn left 1 held of front to work\n"
                   "row counter number(before) * 10 + number(count-working(front))")
    assert run(body).row_counter() == 45


def test_a_choice_changes_the_values_that_ask_for_it_and_those_that_ask_for_them():
    text = HEADER + """option width narrow, wide
option second one, two
let fixed = 7
let plain = fixed + 1
section "A"
    when width is narrow
        row counter plain
    when width is wide
        row counter plain * 2
    when second is two
        half pitch
"""
    outcomes = checked(text).proof.outcomes[0]
    assert {tuple(choices.values()): outcome.run.row_counter() for outcome in outcomes
            for choices in outcome.choices} == {
        ("narrow", "one"): 8, ("narrow", "two"): 8, ("wide", "one"): 16, ("wide", "two"): 16}


def test_an_option_of_numbers_goes_into_lets():
    text = HEADER + """option heel 10, 12, 14
let half = heel / 2
let twice = half + half
section "A"
    row counter twice * 10 + half
"""
    outcomes = checked(text).proof.outcomes[0]
    assert [o.run.row_counter() for o in outcomes] == [105, 126, 147]


def test_sizes_have_their_own_values():
    text = HEADER + """sizes S M L
    leg 1 2 3
let more = leg + 10
section "A"
    row counter more
"""
    assert [size[0].run.row_counter() for size in checked(text).proof.outcomes] == [11, 12, 13]


def test_a_technique_sees_its_own_values_and_those_of_its_script():
    header = HEADER + """let outside = 4
technique counted with rows-done = 3, more
    let inside = rows-done + more + outside
    row counter inside
"""
    assert run("do counted with more = 10", header).row_counter() == 17
    assert run("do counted with more = 10, rows-done = 20", header).row_counter() == 34
    missing = problems(header + 'section "A"\n    do counted\n')
    assert [p.kind for p in missing] == ["missing-value"] and "more" in missing[0].message


@pytest.mark.parametrize("before", [0, 1, 2, 3, 10])
@pytest.mark.parametrize("size", [1, 2, 3, 4, 7, 8, 20])
def test_values_that_go_round_in_a_ring_are_told(before, size):
    """However long the way to the ring is; of a long ring its first six names."""
    ring = [f"ring-{n}" for n in range(size)]
    names = [*(f"in-{n}" for n in range(before)), *ring]
    lets = [f"let {name} = {needs} + 1\n"
            for name, needs in zip(names, [*names[1:], ring[0]], strict=True)]
    stopped = run(f"row counter {names[0]}", HEADER + "".join(lets)).stopped
    told = [*ring, "ring-0"] if size < 8 else [*ring[:6], "…", "ring-0"]

    assert stopped.message == f"'ring-0' is worked out from itself: {' needs '.join(told)}."
    assert stopped.at.source.line(stopped.at.line).startswith("let ring-0 =")


@pytest.mark.parametrize("many", [2, 3, 4, 5, 20])
def test_a_value_that_is_settled_needs_no_other(many):
    """As with a range: the ring is open where its value is given."""
    lets = "".join(f"let ring-{n} = ring-{(n + 1) % many} + 1\n" for n in range(many))
    script = prepared(HEADER + lets).script
    names = Names(script, 0, {f"ring-{many - 1}": Quantity(5)})

    assert names.get("ring-0", script.lets[0].at, no_counts) == Quantity(5 + many - 1)


def test_values_are_worked_out_anew_for_other_choices_and_told_alike_each_time():
    script = prepared(HEADER + "option wide 3, 4\nlet more = wide + 1\nlet off = wide + 1 cm\n"
                      "let most = more + 1\n").script
    at = script.lets[0].at
    names = Names(script, 0, {"wide": Quantity(3)})
    for wide in (3, 4, 5):
        names.forget({"wide": Quantity(wide)})
        names.looked_at = set()
        assert names.get("most", at, no_counts) == Quantity(wide + 2)
        assert names.looked_at == {"wide"}
        for _ in range(2):
            with pytest.raises(CannotDoError, match="cannot be added to"):
                names.get("off", at, no_counts)


def test_a_long_chain_of_values_is_worked_out_for_each_size_and_choice():
    lets = "".join(f"let n-{i} = n-{i + 1} + leg\n" for i in range(300))
    text = HEADER + ("option wide 3, 4\nsizes A B\n    leg 1 2\n" + lets + "let n-300 = wide\n"
                     'let two = n-0 + n-30\nsection "A"\n    row counter two\n')

    assert [[one.run.row_counter() for one in size] for size in checked(text).proof.outcomes] == [
        [300 + 3 + 270 + 3, 300 + 4 + 270 + 4], [600 + 3 + 540 + 3, 600 + 4 + 540 + 4]]


@pytest.mark.parametrize("expression", [
    "10 cm to nearest even", "stitches(4)", "rows(stitches(1 cm))", "width(3 cm)", "2 cm + 1"])
def test_units_that_do_not_fit_stop_the_size(expression):
    done = run(f"row counter number({expression})", GAUGES)

    assert done.stopped is not None and done.stopped.kind == "units-do-not-fit"


@pytest.mark.parametrize("wrap", ["{}", "repeat 1 times\n        {}",
                                  "when 2 is 2\n        {}"])
@pytest.mark.parametrize("where, told", [
    ('section "One"', 'in the section "One"'),
    ("technique deepen", "in the technique 'deepen'")])
def test_a_value_of_another_part_is_known_only_there(where, told, wrap):
    """Above the sections it is known to all of them."""
    let = wrap.format("let deep = 20")
    text = HEADER + f'{where}\n    {let}\n    row counter deep\n' + '{}section "Two"\n    {}\n'

    found, = problems(text.format("", "row counter deep"))
    assert found.kind == "unknown-name"
    line = text.splitlines().index(next(one for one in text.splitlines() if "let deep" in one)) + 1
    assert f"known only {told}" in found.message and f"line {line}." in found.message
    assert "above the sections" in found.hint
    assert problems(text.format("", "let deep = 3\n    row counter deep")) == []
    assert problems(HEADER + "let deep = 2\n" + text.removeprefix(HEADER).format(
        "", "row counter deep")) == []


def test_a_value_that_is_given_further_down():
    text = HEADER + 'section "One"\n    row counter deep\n    let deep = 20\n'
    found, = problems(text)

    assert "only further down, in line 7" in found.message and "before this one" in found.hint
    itself, = problems(text.replace("    row counter deep\n", "").replace("20", "deep + 1"))
    assert itself.message == "Nothing is called 'deep'."


TAKEN = {"stitches": ("1 or 2 values", 1, 2), "rows": ("1 or 2 values", 1, 2),
         "width": ("1 or 2 values", 1, 2), "height": ("1 or 2 values", 1, 2),
         "number": ("1 value", 1, 1), "smaller": ("2 values", 2, 2), "larger": ("2 values", 2, 2),
         "count-on": ("1 value", 1, 1), "count-working": ("1 value", 1, 1),
         "count-held": ("1 value", 1, 1), "count-before": ("1 value", 1, 1),
         "yarn-end": ("2 values", 2, 2)}
"""The table of functions in grammar/README.md."""


@pytest.mark.parametrize("function", TAKEN)
def test_how_many_values_a_function_takes(function):
    words, fewest, most = TAKEN[function]
    for given in range(4):
        first = "front" if "count" in function else "1 cm" if function in "stitches rows" else "1"
        values = ", ".join([first, "rib" if most == 2 > fewest else "2", "3"][:given])
        stopped = run(f"row counter number({function}({values}))", GAUGES).stopped
        told = f"{function}(…) takes {words}, not {given}."

        assert (stopped is not None and stopped.message == told) == (not fewest <= given <= most)


def test_before_anything_is_knitted_no_stitch_hangs():
    """So a row of a table, or a range with ``where``, that counts stitches has none."""
    text = GAUGES + """works for
    deep 1 to 3
    where there is less than deep - 1
let deep = 2
let there = number(count-on(both))
section "A"
    knit deep rows
"""
    ready = prepared(text)
    found = RangeProof(ready, script_profile(ready.script)).survey(0, 3)

    assert [found.verdicts[which] is None for which in found.which] == [True, False, False]


# ---- words handed over to techniques, also by way of another

PASSED_ON = {
    "its own": "{}",
    "handed on": "{}technique outer with group, way = plain\n"
                 "    do inner with group = group, way = way\n",
    "handed on twice": "{}technique between with place, how = plain\n"
                       "    do inner with group = place, way = how\n"
                       "technique outer with group, way = plain\n"
                       "    when way is plain\n"
                       "        do between with place = group, how = way\n"
                       "    otherwise\n"
                       "        do between with place = group, how = way\n",
}
INNER = """technique inner with group, way = plain
    rehang group to centre 10 of front
    when way is doubled
        knit 2 rows
    otherwise
        knit 1 row
"""
SET_ASIDE = """bring centre 10 of front into work
set front to knit
thread main
cast on front
knit 2 rows
cut
scrap off front as my-stitches
bring centre 10 of front into work
thread main
"""


def unread(body: str, header: str) -> list[str]:
    """What keeps a script from being checked."""
    lines = body.replace("\n", "\n    ")
    return [one.message for one in problems(f'{header}section "S"\n    {lines}\n')]


@pytest.mark.parametrize("passed", PASSED_ON)
def test_names_of_stitches_and_words_are_handed_on(passed):
    """Whoever takes up two thumbs gives each opening a name of its own."""
    call = "do inner" if passed == "its own" else "do outer"
    header = HEADER + PASSED_ON[passed].format(INNER)
    body = SET_ASIDE + call + " with group = {}, way = {}\ncut\ngather front"

    assert findings(body.format("my-stitches", "doubled"), header) == []
    assert [one.kind for one in findings(body.format("other-stitches", "plain"), header)][:1] \
        == ["no-such-group"]
    assert unread(body.format("my-stitches", "trebled"), header) == ["Nothing is called 'trebled'."]


def test_two_thumbs_of_one_piece():
    body = "do tube-cast-on with half = 14, yarn = main\nstitch size 6\nknit 6 rounds\n" \
        "do thumb-opening on back with end = left, half = 4, waste = waste, opening = a-thumb\n" \
        "do thumb-opening on back with end = right, half = 4, waste = waste, opening = two-thumb" \
        "\nknit 6 rounds\nremove comb\ncut\nremove weights\ngather both\n" \
        "do thumb with half = 4, yarn = main, long = 6, opening = a-thumb\n" \
        "do thumb with half = 4, yarn = main, long = 6, opening = two-thumb"
    assert findings(body) == []


def test_named_stitches_are_grafted_in_a_technique():
    header = HEADER + "technique join with this, that\n    graft this to that\n" \
        "technique join-both with this, that\n    do join with this = this, that = that\n"
    body = "do tube-cast-on with half = 10, yarn = main\nstitch size 6\nknit 4 rounds\n" \
        "remove comb\ncut\nremove weights\nscrap off front as a-loops\n" \
        "scrap off back as b-loops\n" \
        "do join-both with this = a-loops, that = b-loops"
    assert findings(body, header) == []


def test_a_word_that_is_not_asked_for_is_told_with_those_that_are():
    text = f'{HEADER}section "S"\n    do thumb-opening with end = outer, half = 4, waste = main\n'
    assert [one.hint for one in problems(text)] == ["'thumb-opening' asks whether 'end' is left."]
