"""What was knitted, told back: tubes, flat pieces, rings, and socks in half their width."""

from __future__ import annotations

import re

import pytest
from support.scripts import HEADER, findings_of_text, proof

from sockscript.findings.told_back import told_back

RIB = """{needles}
set both to knit
stitch size 3
thread main
knit 1 row
hang comb
hang weights
{edge}
set both to knit
stitch size 4
{rows}
{end}
remove weights
bind off both
cut
remove comb
sew sides"""
ONE_BY_ONE = """full pitch
bring every 2nd from 1 of centre 40 of front into work to cast on
bring every 2nd from 2 of centre 40 of back into work to cast on"""
ALL_NEEDLES = "half pitch\nbring centre 20 of both into work to cast on"
EDGE = "set both to circular\nknit 2 rows"


def body(lines: str, header: str = HEADER) -> str:
    indented = "\n".join(f"    {line}" for line in lines.splitlines())
    return f'{header}section "Piece" in plain\n{indented}\n'


def told(text: str) -> str:
    assert [one.kind for one in findings_of_text(text) if one.severity != "advice"] == []
    return " ".join(told_back(proof(text)))


def test_of_a_choice_that_stops_nothing_is_told_back():
    text = (f'{HEADER}option way one, two, three\nsection "A"\n'
            "    bring centre 4 of front into work\n    set front to knit\n    thread main\n"
            "    cast on front\n"
            "    when way is two\n        knit 3 cm rows\n    when way is three\n"
            "        knit 4 rows\n    knit 2 rows\n")

    assert [words.partition(":")[0] for words in told_back(proof(text))] == [
        "A flat piece", "With way three"]


def test_where_nothing_is_knitted_nothing_is_left():
    assert told_back(proof(f'{HEADER}section "A"\n    note "So."\n')) == [
        "Nothing: no row was knitted. Nothing is left open."]


@pytest.mark.parametrize("needles", [ONE_BY_ONE, ALL_NEEDLES])
@pytest.mark.parametrize("edge, rows, end, what", [
    (EDGE, "knit 40 rows", "", "A flat piece"),
    ("set both to circular\nknit 1 row\nknit 1 row\nknit 1 row", "knit 40 rows", "",
     "A flat piece"),
    (EDGE, "repeat 40 times\n    knit 1 row", EDGE, "A flat piece"),
    (EDGE, "knit 40 rows", "", "A flat piece"),
    ("set both to circular\nknit 40 rows", "", "", "A tube")])
def test_a_rib_with_an_edge_of_rounds_is_flat(needles, edge, rows, end, what):
    lines = RIB.format(needles=needles, edge=edge, rows=rows, end=end)
    if what == "A tube":
        lines = lines.replace("\nsew sides", "")

    assert told(body(lines)).startswith(what)


def test_a_tube_by_way_of_a_rib_is_one():
    text = body("do tubular-cast-on with around = 48, yarn = main\nknit 20 rows\n"
                "do rib-to-one-bed on back\nset back to knit\nstitch size 6\nknit 1 row on back\n"
                "do turn-to-tube with bed = back\nset both to circular\nthread main\n"
                "hang weights\nknit 20 rounds\nremove weights\nbind off both\ncut")
    assert told(text).startswith("A tube")


BAND = """bring centre 20 of front into work to cast on
set front to knit
set back to rest
stitch size 6
thread waste
knit 8 rows
hang weights
cut
thread cord
knit 1 row
cut
mark edge beginning on front
move carriage to far side
thread main
{rows}
remove weights
cut
{end}"""
TO_NAMES = "scrap off front as last-row\ngraft last-row to beginning"
ON_BEDS = "bring centre 20 of back into work\nrehang beginning to centre 20 of back\n" \
    "graft front to back"
YARNS = HEADER + 'yarn waste "cotton" as waste\nyarn cord "strong cord" as ravel cord\n'
WEDGE = """knit 10 rows
respect hold on front
repeat 3 times
    hold left 4 working of front
    knit 1 row
    wrap left 1 held of front
    knit 1 row
cancel hold on front
knit 2 rows
"""


@pytest.mark.parametrize("end", [TO_NAMES, ON_BEDS])
@pytest.mark.parametrize("rows, words", [
    ("knit 84 rows", "20 stitches, 20 cm round."),
    ("repeat 42 times\n    knit 1 row\n    knit 1 row", "20 stitches, 20 cm round."),
    (f"note \"Move the weights.\"\n{WEDGE * 7}", "20 stitches, 20 cm round and 42 short rows.")])
def test_a_band_whose_last_row_is_grafted_to_its_first_is_a_ring(end, rows, words):
    """84 rows of 2.38 mm; short rows that come at one edge make a cap of it."""
    text = body(BAND.format(rows=rows, end=end), YARNS)

    assert told(text).startswith(f"A ring, its last row grafted to its first: {words}")


HALF = """bring centre {n} of front into work
set front to knit
stitch size 6
thread main
cast on front
hang weights
note "Move the weights."
knit {first} rows
{cup}knit {sole} rows
{cup}knit {last} rows
bind off front
cut
remove weights
{end}"""
CUP = """respect hold on front
repeat until 10 stitches in work on front
    hold carriage side 1 working of front
    knit 1 row
wrap carriage side 1 held of front
repeat until 28 stitches in work on front
    return far side 1 held of front to work
    knit 1 row
    wrap carriage side 1 held of front
repeat 2 times
    return far side 1 held of front to work
    knit 1 row
cancel hold on front
"""
SIZED = HEADER + """sizes One
    foot-round 18.7 cm
    foot-length 22 cm
    leg-length {leg} cm
let n = stitches(foot-round) / 2 to nearest even plus 2
"""


def half(first: int, sole: int, last: int, leg: str = "9.5", end: str = "sew sides") -> str:
    header = SIZED.format(leg=leg).replace("stitches(foot-round) / 2 to nearest even plus 2", "30")
    return body(HALF.format(n="n", first=first, sole=sole, last=last, cup=CUP, end=end), header)


@pytest.mark.parametrize("first, last", [(96, 40), (40, 96)])
def test_a_sock_in_half_its_width_is_measured_as_it_lies_double(first, last):
    """Twice 30 stitches less two seams are 18.7 cm round; 54 rows of sole and two cups of half of
    39 rows are 22 cm; 40 rows of leg 9.5, and one more of the cup 9.8."""
    assert re.match(
        r"A sock in half its width, folded at heel and toe: 30 stitches; 9\.[58] cm from the edge "
        "to the heel; heel of 39 short rows, down to 10 stitches; toe of 39 short rows",
        told(half(first, 54, last)))
    long = findings_of_text(half(first, 54, last, "12"))
    assert [(one.kind, one.message.split(",")[0]) for one in long] == [
        ("size-missed", "'leg-length' is 12 cm")]


@pytest.mark.parametrize("heel, toe, told_of", [
    (10, 10, []), (8, 10, []), (6, 10, ["heel-point-unusual"]), (10, 6, []),
    (10, 4, ["toe-too-pointed"]), (12, 18, []), (14, 20, ["heel-point-unusual", "toe-too-blunt"])])
def test_the_cups_of_a_sock_in_half_its_width_are_looked_at(heel, toe, told_of):
    """A heel's point is a third of its 30 stitches, 13 % off at most; a toe's 15 % to 60 %."""
    header = HEADER + "let n = 30\n"
    lines = HALF.format(n="n", first=96, sole=54, last=40, cup="{cup}", end="sew sides")
    for left in (toe, heel):
        lines = lines.replace("{cup}", CUP.replace("until 10", f"until {left}"), 1)
    found = [one.kind for one in findings_of_text(body(lines, header))]

    assert sorted(kind for kind in found if "toe" in kind or "point" in kind) == told_of


def test_what_is_not_sewn_or_not_folded_is_no_such_sock():
    assert "in half its width" not in " ".join(told_back(proof(half(96, 54, 40, end=""))))
    assert "in half its width" not in " ".join(told_back(proof(half(96, 54, 1))))


def test_what_still_hangs_is_not_called_closed():
    text = body("bring centre 20 of front into work\nset front to knit\nthread main\n"
                "cast on front\nknit 20 rows",
                HEADER + 'allow live-stitches-left because "more follows"\n'
                         'allow yarn-left-in-feeder because "more follows"\n')
    assert " ".join(told_back(proof(text))).endswith("Left on the needles: 20 stitches.")


END_OF_STRIP = """bring centre 20 of front into work
set front to knit
thread main
cast on front
hang weights
{rows}
{end}"""


@pytest.mark.parametrize("rows", ["knit 20 rows", "repeat 20 times\n    knit 1 row", "do plain"])
@pytest.mark.parametrize("end, told_of", [
    ("bind off front\ncut", True), ("cut\ngather front", True), ("do transfer-bind-off on front",
                                                                  True),
    ("remove weights\nbind off front\ncut", False), ("bind off front\ncut\nremove weights", False),
    ("cut", False)])
def test_weights_still_hang_in_what_was_taken_off(rows, end, told_of):
    """On stitches that stay on the needles they go on hanging."""
    script = body(END_OF_STRIP.format(rows=rows, end=end),
                  HEADER + "technique plain\n    knit 20 rows\n")
    found = [one for one in findings_of_text(script) if one.kind == "never-weights-off"]

    assert [one.others[-1].label for one in found] == ["the weights were hung here"] * told_of


@pytest.mark.parametrize("rows, kinds", [
    ("when wide is 20\n        knit 9 rows", ["size-without-rows"]),
    ("knit wide - 20 rows", ["size-without-rows"]), ("knit wide - 19 rows", []),
    ("repeat wide - 20 times\n        knit 1 row", ["size-without-rows"])])
def test_a_size_that_has_no_row_is_told(rows, kinds):
    script = body("bring centre wide of front into work\nset front to knit\nthread main\n"
                  f"cast on front\n{rows}\nbind off front\ncut".replace("\n        ", "\n    "),
                  HEADER + "sizes S M\n    wide 20 24\n")
    found = [one.kind for one in findings_of_text(script) if one.kind != "sizes-alike"]

    assert found == kinds


@pytest.mark.parametrize("steps", [
    "bind off carriage side 5 of front\n    take empty of front out of work\n    knit 1 row\n"
    "    bind off carriage side 5 of front\n    take empty of front out of work\n    knit 1 row",
    "repeat 2 times\n        bind off carriage side 5 of front\n"
    "        take empty of front out of work\n        knit 1 row"])
def test_all_stitches_that_are_bound_off_are_counted(steps):
    """Five at each side and twenty at the end; the bank book has as many."""
    text = f'''pattern "x"
yarn main "y"
section "S"
    bring centre 30 of front into work
    set front to knit
    thread main
    cast on front
    knit 31 rows
    {steps}
    knit 3 rows
    bind off front
    cut
'''
    assert "; 30 stitches bound off." in " ".join(told_back(proof(text)))
