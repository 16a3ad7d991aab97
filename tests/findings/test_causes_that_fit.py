"""The cause and the mend that are named are those of the slip that was made."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, findings, findings_of_text, problems

from sockscript.findings.mends import mended
from sockscript.text.source import Source

RIB = """full pitch
bring every 2nd from 1 of centre 12 of front into work to cast on
bring every 2nd from 2 of centre 12 of back into work to cast on
set both to knit
stitch size 3
thread main
knit 1 row
hang comb
hang weights
{racked}
{rows}
remove weights
remove comb
transfer front to back
bind off back
cut"""


# ---- needles that meet

@pytest.mark.parametrize("rows", ["knit 6 rows", "repeat 6 times\n    knit 1 row", "do more"])
@pytest.mark.parametrize("racked", ["rack to 1 right", "rack to 1 left", "rack to 3 right"])
def test_needles_that_meet_because_the_beds_are_racked(racked, rows):
    header = HEADER + "technique more\n    knit 6 rows\n"
    found = findings(RIB.format(racked=racked, rows=rows), header)
    (collide,) = [one for one in found if one.kind == "beds-collide"]
    onto = next(one for one in found if one.kind == "transfer-onto-loop")

    assert "rack to 0" in collide.advice and "half pitch" not in collide.advice
    brought = collide.others[-1]
    assert (brought.label, brought.at.source.line(brought.at.line).strip()) == (
        "this brought them before each other", racked)
    assert "rack to 0" in onto.advice
    assert collide.mend is not None


def test_needles_that_meet_as_the_beds_stand():
    """An even number of steps leaves the needles of a 1x1 rib between each other."""
    (sound, *_) = [findings(RIB.format(racked="rack to 2 right", rows="knit 6 rows"))]
    all_needles = RIB.replace("every 2nd from 1 of ", "").replace("every 2nd from 2 of ", "")
    for racked in ("rack to 0", "rack to 1 right"):
        found = findings(all_needles.format(racked=racked, rows="knit 6 rows"))
        first = next(one for one in found if one.kind == "beds-collide")
        assert "half pitch" in first.advice and first.mend is None

    assert "beds-collide" not in [one.kind for one in sound]


def test_the_mend_of_racked_beds_takes_it_away():
    text = HEADER + 'section "Rib"\n' + "".join(
        f"    {line}\n" for line in RIB.format(racked="rack to 1 right",
                                               rows="knit 6 rows").splitlines())
    text = mended(Source("test.sockscript", text), findings_of_text(text))

    assert text is not None and "    rack to 0\n    knit 6 rows\n" in text
    assert "beds-collide" not in [one.kind for one in findings_of_text(text)]


# ---- names of stitches

ONCE = """bring centre 20 of front into work
set front to knit
thread main
cast on front
knit 4 rows
cut
scrap off front as {name}
thread main
cast on front
knit 4 rows
cut
scrap off front as second
graft {name} to second
{again}"""
WASTE = HEADER + 'yarn waste "cotton" as waste\n'


def lines(body: str) -> str:
    return WASTE + 'section "Two"\n' + "".join(f"    {line}\n" for line in body.splitlines())


@pytest.mark.parametrize("line", ["scrap off front as {}", "mark edge {} on front",
                                  "mark slit {} on front",
                                  "knit in waste over R1 to R4 of front as {}"])
@pytest.mark.parametrize("name", ["front", "back", "both", "left"])
def test_stitches_are_not_called_as_a_place_on_the_machine(line, name):
    def kinds(called: str) -> list[tuple[str, str]]:
        return [(one.kind, one.hint) for one in problems(lines(line.format(called)))]

    assert kinds(name) == [
        ("reserved-word", f"Choose another name, for example {name}-stitches.")]
    assert kinds(f"{name}-part") == kinds("first") == []


@pytest.mark.parametrize("again", ["graft first to second", "graft second to front",
                                   "graft back to first"])
def test_stitches_that_were_grafted_once_are_gone(again):
    (one,) = [one for one in findings_of_text(lines(ONCE.format(name="first", again=again)))
              if one.kind in ("not-a-bed", "same-bed")]

    assert "no stitches of that name are off the needles now" in one.message
    assert findings_of_text(lines(ONCE.format(name="first", again=""))) == []


# ---- two stitches on a needle, grafted off the machine

DOUBLED = """bring centre 20 of front into work
set front to knit
thread main
cast on front
knit 4 rows
move {many} stitches at left of front in by 1
{rows}
cut
scrap off front as first
take empty of front out of work
bring centre 18 of front into work
bring L10 of front into work
thread main
cast on front
knit 4 rows
cut
{end}"""
GRAFTED = "scrap off front as second\ngraft first to second"


@pytest.mark.parametrize("many, rows, end, told", [
    (3, "", GRAFTED, ["double-not-knitted"]), (3, "knit 1 row", GRAFTED, []),
    (3, "", GRAFTED.replace("first to second", "second to first"), ["double-not-knitted"]),
    (3, "", "gather front\nbring L9 to R10 of front into work\nrehang first to L9 to R10 of front\n"
     "thread main\nknit 2 rows\nbind off front\ncut", [])])
def test_two_stitches_on_a_needle_are_told_before_they_are_grafted_off_the_machine(many, rows, end,
                                                                                   told):
    found = findings_of_text(lines(DOUBLED.format(many=many, rows=rows, end=end)))

    assert [one.kind for one in found] == told
    assert all(one.message.startswith("Needle L7 of the front bed") for one in found)


# ---- the side of the carriage

SIDE = """bring centre 20 of front into work
set front to knit
thread main
cast on front
{rows}
expect carriage left
bind off front
cut"""


@pytest.mark.parametrize("rows, advice", [
    ("knit 24 rows", "A row more or less brings it over; the last rows before this are in line"),
    ("knit 24 rows\nrepeat 3 times\n    knit 2 rows", "A row more or less brings it over"),
    ("knit 23 rows\nknit 1 row", "It is so since"),
    ("knit 3 rows\ncut\nmove carriage to far side\nthread main", "It is so since")])
def test_an_even_number_of_rows_leaves_the_carriage_where_it_was(rows, advice):
    body = SIDE.format(rows=rows)
    (found,) = [one for one in findings(body) if one.kind == "expectation-not-met"]

    assert found.advice.startswith(advice)
    assert not findings(SIDE.format(rows="knit 23 rows"))


# ---- what is offered and never asked for

OFFERED = """pattern "Offered"
yarn main "wool"
sizes S M
    wide 20 24
    deep 8 12
    long 10 12 cm
option edge plain, doubled
{more}section "Strip"
    bring centre wide of front into work
    set front to knit
    thread main
    cast on front
    {rows}
    bind off front
    cut
"""


@pytest.mark.parametrize("more, rows, kinds", [
    ("", "knit 8 rows", {"option-without-effect", "row-never-used"}),
    ("", "knit deep rows", {"option-without-effect"}),
    ("let rows-of = deep / 2\n", "knit 4 rows", {"option-without-effect"}),
    ("", "when edge is doubled\n        knit 8 rows", {"row-never-used"}),
    ("technique rows with many\n    knit many rows\n",
     "do rows with many = deep", {"option-without-effect"}),
    ("technique ours with many\n    do theirs with many = many\ntechnique theirs with many\n"
     "    knit many rows\n", "knit deep rows", {"option-without-effect", "technique-never-called"}),
    ("", 'note "The edge is {edge}, {deep} rows deep."\n    knit 8 rows', set())])
def test_options_and_numbers_that_no_line_asks_for(more, rows, kinds):
    """A length may be there to tell the reader what a size is made for."""
    found = [one for one in findings_of_text(
        OFFERED.replace("{more}", more).replace("{rows}", rows)) if "never" in one.kind
        or "effect" in one.kind]

    assert {one.kind for one in found} == kinds
    assert all(one.sizes == () for one in found)


def test_the_last_of_the_choices_is_the_example():
    text = OFFERED.replace("plain, doubled", "plain, doubled, hemmed").replace(
        "{more}", "").replace("{rows}", "knit deep rows")
    (found,) = [one for one in findings_of_text(text) if one.kind == "option-without-effect"]

    assert "(when edge is hemmed)" in found.advice


PARTED = """pattern "Parted"
yarn main "wool"
sizes      A   B   C
    deep   {deep}
    wide   40  44  48
technique half-way with long
    knit long / 2 rows on front
section "Piece"
    bring centre wide of front into work
    set front to knit
    thread main
    cast on front
    {line}
    bind off front
    cut
"""


@pytest.mark.parametrize("line", ["do half-way with long = deep", "knit deep / 2 rows"])
@pytest.mark.parametrize(("deep", "told"), [("24 25 30", True), ("24 25 31", False),
                                            ("25 24 30", True)])
def test_a_number_of_one_size_is_beside_those_of_the_others(line, deep, told):
    (found,) = findings_of_text(PARTED.format(deep=deep, line=line))
    assert found.kind == "not-whole" and found.sizes[0] in "AB"
    assert found.others[-1].at.line == 4 and "in the table" in found.others[-1].label
    assert ("'deep' is 25 for this size and a multiple of 2 for all others" in found.advice) is told


RACKED = """half pitch
bring centre 20 of both into work to cast on
set both to knit
thread main
knit 1 row
hang comb
hang weights
{rack}
transfer {across}
gather both
cut
remove comb
remove weights"""


@pytest.mark.parametrize(("rack", "across", "shown"), [
    ("rack to 1 left", "back onto front", [True]),
    ("rack to 1 left\nrack to 0", "back onto front", []),
    ("rack to 1 left", "L10 of front to L11 of front", [False])])
def test_racked_beds_are_told_where_a_stitch_misses_its_needle(rack, across, shown):
    found = [one for one in findings(RACKED.format(rack=rack, across=across))
             if one.kind == "transfer-to-idle-needle"]
    assert ["still racked by 1" in one.advice for one in found] == shown


@pytest.mark.parametrize(("lines", "words"), [
    ("knit 1 row from left", "No row is knitted before this line: say  from right"),
    ("knit 1 row\nknit 1 row from right", "Count the rows before this line")])
def test_rows_are_counted_only_where_there_are_some(lines, words):
    found = findings(f"bring centre 20 of front into work\nset front to knit\nthread main\n"
                     f"cast on front\n{lines}\nbind off front\ncut")
    assert words in next(one.advice for one in found if one.kind == "wrong-carriage-side")


def test_a_foot_that_nobody_knows_is_told_once():
    text = PARTED.format(deep="24 24 24", line="knit rows(foot-length) to nearest rows").replace(
        "    wide ", "    feet   woman-38 men-44 man-44\n    wide ")
    assert [one.kind for one in problems("gauge plain 30 stitches, 42 rows per 10 cm\n" + text)] \
        == ["unknown-foot"]
