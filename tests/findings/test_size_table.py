"""Rows of the size table as targets, and what the header tells of itself.

The thresholds are the project's own (see ``rules/size_table`` and ``rules/grading``): a shoe size
is 2/3 cm (Paris point); the rest is common practice, no source.
"""

from __future__ import annotations

import pytest
from support.command import ROOT
from support.scripts import findings, findings_of_text
from support.sock_parts import HEEL, START, TOES, script

RIB, EDGE = START["rib turned to a tube"]
"""The cuff and its rows: the rib and the row that turns it."""


def sock(table, *, foot="knit 60 rounds", leg="knit 40 rounds", lets="", sections=True,
         toe="grafted", extra=""):
    """A sock of 48 stitches (16 cm), 4 rows a cm: foot 91 rows (22.75 cm) with 60 rounds."""
    text = script([("Cuff", RIB), ("Leg", leg), ("Heel", HEEL), ("Foot", foot),
                   ("Toe", TOES[toe][0])], sections)
    head = f"\nsizes One\n    {table}\n{lets}{extra}\nsection"
    return text.replace("\nsection", head, 1)


def told(text, *kinds):
    return [(one.kind, one.message) for one in findings_of_text(text) if one.kind in kinds]


def names(text):
    return [kind for kind, _ in told(text, "size-missed", "not-measured", "off-target")]


@pytest.mark.parametrize("way", [
    "knit 60 rounds", "knit 120 rows", "repeat 60 times\n    knit 1 round",
    "repeat 120 times\n    knit 1 row", "do plain with n = 60"])
@pytest.mark.parametrize(("long", "missed"), [
    ("227.5", False), ("234.1", False), ("234.3", True), ("220.9", False), ("220.7", True)])
def test_the_foot_may_be_off_by_a_shoe_size(long, missed, way):
    """16 + 60 + 15 rows of 2.5 mm are 227.5 mm; 6.67 mm either way."""
    technique = "\ntechnique plain with n\n    knit n rounds\n" if "plain" in way else ""
    text = sock(f"foot-length {long} mm", foot=way, lets=technique)

    assert names(text) == (["size-missed"] if missed else [])


def test_a_whole_sock_in_one_section_is_measured_too():
    assert names(sock("foot-length 227.5 mm", sections=False)) == []
    assert names(sock("foot-length 250 mm", sections=False)) == ["size-missed"]


@pytest.mark.parametrize(("rounds", "words"), [
    (60 + 31, "both were left out of the sum"), (60 + 16, "the heel was left out of the sum"),
    (60 + 15, "the toe was left out of the sum"), (60 - 15, "the toe was taken off twice"),
    (60 - 31, "both were taken off twice"), ("228.75", "the heel or the toe was left out")])
def test_what_heel_and_toe_add_is_said(rounds, words):
    """Heel 16 rows (4 cm), toe 15 (3.75 cm); 38.75 mm more are as much one as the other."""
    aim, count = (rounds, 76) if isinstance(rounds, str) else ("227.5", rounds)
    (_, message), = told(sock(f"foot-length {aim} mm", foot=f"knit {count} rounds"), "size-missed")

    assert "the heel adds 4 cm and the toe 3.8 cm" in message and words in message


def test_another_miss_has_no_such_cause():
    (one,) = [one for one in findings_of_text(sock(
        "foot-length 227.5 mm", foot="knit 65 rounds")) if one.kind == "size-missed"]

    assert "left out" not in one.message and "the heel adds 4 cm" in one.message
    assert "knit rounds for a foot length of foot-length  finds the rows itself" in one.advice
    (one,) = [one for one in findings_of_text(sock("cuff-length 9 cm"))
              if one.kind == "size-missed"]
    assert "finds the rows" not in one.advice


def test_a_line_that_finds_its_rows_settles_the_part_that_it_knits():
    own = "knit rounds for a {} length of foot-length less 30 mm"

    assert names(sock("foot-length 28 cm", foot=own.format("foot"))) == []
    assert names(sock("foot-length 28 cm", leg=own.format("leg"))) == ["size-missed"]


def test_an_explicit_target_comes_first():
    foot = "target foot length 25 cm within 3 cm\nknit 60 rounds"

    assert names(sock("foot-length 25 cm", foot=foot)) == []
    assert names(sock("foot-length 25 cm", foot=foot.replace("3 cm", "1 cm"))) == ["off-target"]


@pytest.mark.parametrize(("target", "message"), [
    ("foot length 25 cm", "The foot length comes to 22.75 cm: 22 mm less than the 25 cm aimed at; "
                          "the heel adds 4 cm and the toe 3.8 cm."),
    ("leg length 12 cm", "The leg length comes to 15 cm: 30 mm more than the 12 cm aimed at."),
    ("heel depth 6 cm", "The heel depth comes to 4 cm: 20 mm less than the 6 cm aimed at."),
    ("toe depth 3 cm", "The toe depth comes to 3.75 cm: 8 mm more than the 3 cm aimed at."),
    ("girth 15 cm", "The girth of 'Foot' comes to 16 cm: 10 mm more than the 15 cm aimed at."),
    ("length 16 cm", "The length of 'Foot' comes to 15 cm: 10 mm less than the 16 cm aimed at.")])
def test_what_a_target_is_missed_by(target, message):
    assert told(sock("wide 5 cm", foot=f"target {target}\nknit 60 rounds"), "off-target") == [
        ("off-target", message)]


@pytest.mark.parametrize(("what", "leg", "heel", "end", "missing"), [
    ("leg length", "", HEEL, "graft front to back", "there are no rows between an open edge and"),
    ("toe depth", "knit 9 rounds", HEEL, "graft front to back", "the toe does not narrow."),
    ("toe depth", "knit 9 rounds", HEEL, "bind off front\nbind off back", "no toe is found: "),
    ("foot length", "knit 9 rounds", HEEL, "bind off front\nbind off back", "no toe is found: "),
    ("heel depth", "knit 9 rounds", "", "bind off front\nbind off back", "no heel is found: ")])
def test_why_a_target_cannot_be_measured(what, leg, heel, end, missing):
    body = (f"{START['cast on by hand'][0]}\ntarget {what} 3 cm\n{leg}\n{heel}\nknit 40 rounds\n"
            f"cut\n{end}")
    (message,) = [one.message for one in findings(body) if one.kind == "not-measured"]

    assert message.startswith(
        f"The {what} cannot be measured on the finished piece: {missing}")


@pytest.mark.parametrize(("girth", "way"), [("160.6", "less"), ("159.4", "more")])
def test_a_narrow_target_is_missed_by_little(girth, way):
    (_, message), = told(sock("wide 5 cm", foot=f"target girth {girth} mm within 0.1 mm\n"
                              "knit 60 rounds"), "off-target")

    assert f"comes to 16 cm: 1 mm {way} than" in message
    assert names(sock("wide 5 cm", foot=f"target girth {girth} mm within 0.6 mm\n"
                      "knit 60 rounds")) == []


def test_an_allowance_silences_it():
    assert names(sock("foot-length 25 cm",
                      lets='allow size-missed because "it is knitted short on purpose"\n')) == []


def test_a_sock_meant_shorter_than_the_foot():
    """The line itself says by how much; more than 2 cm is the heel or toe, not an ease."""
    rows = "knit rows(foot-length less {}) - 31 to nearest rounds"

    assert names(sock("foot-length 24 cm", foot=rows.format("5%"))) == []
    assert names(sock("foot-length 24 cm", foot=rows.format("20 mm"))) == []
    assert names(sock("foot-length 24 cm", foot=rows.format("21 mm"))) == ["size-missed"]


@pytest.mark.parametrize(("name", "long", "missed"), [
    # Leg and cuff are 20 + 40 rows: 15 cm, or 10 cm without the rib and the row that turns it.
    ("leg-length", "15", False), ("leg-length", "10", False), ("leg-length", "12.5", True),
    ("leg-length", "15.9", False), ("leg-length", "16.1", True),
    # The rib with its cast-on is 19 rows: 47.5 mm.
    ("cuff-length", "4", False), ("cuff-length", "5.7", False), ("cuff-length", "5.8", True),
    ("cuff-length", "3.7", True)])
def test_leg_and_cuff_may_be_off_by_a_centimetre(name, long, missed):
    assert names(sock(f"{name} {long} cm")) == (["size-missed"] if missed else [])


@pytest.mark.parametrize(("ease", "missed"), [
    # 48 stitches are 16 cm; three stitches are 1 cm.
    ("less 20%", False), ("less 15%", False), ("less 14.9%", True), ("less 14%", True),
    ("less 25%", False), ("less 25.1%", True), ("less 26%", True)])
def test_a_girth_is_compared_with_the_ease_that_the_script_gives(ease, missed):
    """Of 20 cm: 17 cm is three stitches too much, 15 cm three too few, by the first gauge; in one
    line or through a value with a name."""
    lets = f"let meant = stitches(foot-round {ease}) to nearest\n"
    named = f"let wide = foot-round {ease}\nlet meant = stitches(wide) to nearest\n"
    rib = "gauge rib 34 stitches, 44 rows per 10 cm\n"
    for way in (lets, named, rib + lets):
        text = sock("foot-round 20 cm", lets=way,
                    leg="note \"{meant} stitches.\"\nknit 40 rounds")
        assert names(text) == (["size-missed"] if missed else []), way


def test_a_coarser_rounding_may_be_off_by_more():
    """To a multiple of 8: four stitches either way and one to spare."""
    lets = "let meant = stitches(foot-round) to nearest multiple of 8\n"
    note = "note \"{meant} stitches.\"\nknit 40 rounds"

    assert names(sock("foot-round 176 mm", lets=lets, leg=note)) == []
    assert names(sock("foot-round 178 mm", lets=lets, leg=note)) == ["size-missed"]


@pytest.mark.parametrize(("way", "most"), [
    # Rounding up or down may take away twice as much as to the nearest.
    ("to nearest even", 3), ("up to even", 3), ("down to odd", 3),
    ("up to multiple of 8", 9), ("down to multiple of 8", 9), ("to nearest multiple of 8", 5)])
def test_how_much_a_rounding_may_take_away(way, most):
    lets = f"let meant = stitches(foot-round) {way}\n"
    note = "note \"{meant} stitches.\"\nknit 40 rounds"

    for tenths, missed in ((most * 100 // 3, False), (most * 100 // 3 + 1, True)):
        long = f"{160 + tenths / 10:.1f}"
        assert names(sock(f"foot-round {long} mm", lets=lets, leg=note)) == [
            "size-missed"] * missed


@pytest.mark.parametrize(("girth", "missed"), [
    ("20 cm", False), ("20.1 cm", True), ("15.3 cm", False), ("15.2 cm", True)])
def test_a_girth_that_no_line_uses_allows_the_usual_ease(girth, missed):
    """16 cm are 80 % of 20 cm and 105 % of 15.24 cm."""
    assert names(sock(f"foot-round {girth}")) == (["size-missed"] if missed else [])


@pytest.mark.parametrize("sections", [True, False])
@pytest.mark.parametrize(("row", "line"), [
    # The foot has more rows than the leg; the toe changes the stitches after both.
    ("leg-length 30 cm", "knit 40 rounds"), ("foot-length 30 cm", "knit 60 rounds"),
    ("cuff-length 9 cm", "knit 17 rows"), ("foot-round 30 cm", "do tubular-cast-on")])
def test_the_line_shown_lies_in_the_part_that_is_measured(row, line, sections):
    (found,) = [one for one in findings_of_text(sock(row, leg="knit 40 rounds",
                                                     sections=sections))
                if one.kind == "size-missed"]

    at = found.others[-1].at
    assert at.source.line(at.line).strip().startswith(line)


@pytest.mark.parametrize(("long", "leg", "halved"), [
    (150, "knit 60 rows", True), (152.5, "knit 60 rows", True), (153, "knit 60 rows", False),
    (147.5, "knit 60 rows", True), (147, "knit 60 rows", False),
    (150, "repeat 60 times\n    knit 1 row", True),
    (150, "do plain with n = 60", True), (150, "knit 30 rounds", True),
    # An even number is at most one row away; more is no length in rows.
    (150, "knit 58 rows", False), (150, "knit 62 rows", False),
    (150, "knit 30 rows\nknit 30 rows", False)])
def test_rows_that_were_meant_for_rounds_are_told_where_they_are_knitted(long, leg, halved):
    """15 cm at 4 rows a cm are 60 rows, which are 30 rounds of a tube: 7.5 cm."""
    text = sock(f"leg-length {long} mm", leg=leg,
                lets="\ntechnique plain with n\n    knit n rows\n")
    (found,) = [one for one in findings_of_text(text) if one.kind == "size-missed"]

    assert ("60 rows are 30 rounds" in found.message) == halved
    if halved:
        assert f"comes to 7.5 cm there: {round(long - 75)} mm less" in found.message
        shown = found.others[-1].at
        assert shown.source.line(shown.line).strip() in leg
    else:
        assert "from the edge to the heel and" in found.message


@pytest.mark.parametrize(("long", "halved"), [
    (290, True), (289, False), (310, True), (311, False)])
def test_rows_that_are_a_part_of_the_leg_were_meant_for_rounds(long, halved):
    """Cuff and leg are 20 + 30 + 40 rows, 22.5 cm; with 60 rounds it would be 30 cm."""
    (found,) = [one for one in findings_of_text(sock(
        f"leg-length {long} mm", leg="knit 60 rows\nknit 40 rounds")) if one.kind == "size-missed"]

    assert ("60 rows are 30 rounds" in found.message) == halved
    assert "comes to 22.5 cm there" in found.message
    shown = found.others[-1].at
    assert shown.source.line(shown.line).strip() == (
        "knit 60 rows" if halved else "knit 40 rounds")


def test_a_foot_that_is_shut_straight_has_a_heel_only():
    straight = sock("foot-length 30 cm").replace("    do wedge-toe with leave = 10\n", "")
    (_, message), = told(straight, "size-missed")

    assert message.endswith("; the heel adds 4 cm.")
    (_, message), = told(straight.replace("foot-length 30", "foot-length 15"), "size-missed")
    assert message.endswith("; the heel adds 4 cm: the heel was left out of the sum.")


def test_a_foot_of_rows_that_should_be_rounds_is_half_as_long():
    """Heel and toe have 31 rows; with 72 rounds between it would be 257.5 mm."""
    (_, message), = told(sock("foot-length 257.5 mm", foot="knit 72 rows"), "size-missed")
    (_, other), = told(sock("foot-length 264.5 mm", foot="knit 72 rows"), "size-missed")

    assert "72 rows are 36 rounds" in message
    assert "rounds, since" not in other
    # The gauge of the heel before it says nothing of its rows.
    ribbed = sock("foot-length 257.5 mm", foot="knit 72 rows", extra="\ngauge rib 30 stitches, "
                  "20 rows per 10 cm\n").replace('"Heel" in plain', '"Heel" in rib')
    assert told(ribbed, "size-missed")[0][1] == message


@pytest.mark.parametrize(("rows", "halved"), [(8, False), (10, True)])
def test_rows_within_what_a_leg_may_be_off_explain_nothing(rows, halved):
    """Eight of them are a centimetre too little."""
    (_, message), = told(sock("leg-length 175 mm", leg=f"knit 40 rounds\nknit {rows} rows"),
                         "size-missed")

    assert (f"{rows} rows are {rows // 2} rounds" in message) == halved


def test_a_leg_without_a_cuff_is_told_once():
    """Another length of the table is no cuff of it."""
    plain = script([("Leg", START["cast on by hand"][0] + "\nknit 40 rounds"), ("Heel", HEEL),
                    ("Foot", "knit 60 rounds"), ("Toe", TOES["grafted"][0])], True)
    sizes = "\nsizes One\n    leg-length 15 cm\n    hem 2 cm\n\nsection"
    (_, message), = told(plain.replace("\nsection", sizes, 1), "size-missed")

    assert "less" in message and "cuff" not in message


@pytest.mark.parametrize(("fabric", "in_words"), [
    (", rib", "; it is reckoned by the gauge of rib and knitted by that of plain."), ("", "."),
    (", plain", ".")])
def test_stitches_are_told_as_they_are_reckoned(fabric, in_words):
    lets = f"gauge rib 34 stitches, 44 rows per 10 cm\n" \
        f"let meant = (stitches(foot-round less 5%{fabric})) to nearest\n"
    (found,) = [one for one in findings_of_text(sock(
        "foot-round 20 cm", lets=lets, leg='note "{meant} stitches."\nknit 40 rounds'))
        if one.kind == "size-missed"]

    assert found.message == "'foot-round less 5%' is 19 cm, but the finished piece comes to " \
        f"16 cm there: 30 mm less{in_words}"
    assert "stitches(" in found.at.source.line(found.at.line)


def test_a_row_on_one_bed_under_the_rib_does_not_give_the_leg_the_gauge_of_the_rib():
    """48 stitches: 16 cm by the gauge of the leg, 14.1 cm by that of the rib."""
    text = sock("calf-round 20 cm", lets="let meant = stitches(calf-round less 20%) to nearest\n",
                leg='note "{meant} stitches."\nknit 40 rounds')
    ribbed = text.replace('section "Cuff" in plain', 'section "Cuff" in rib').replace(
        "\nsizes", "\ngauge rib 34 stitches, 44 rows per 10 cm\nsizes")

    assert names(ribbed) == []
    assert names(ribbed.replace('section "Leg" in plain', 'section "Leg" in rib')) == [
        "size-missed"]


@pytest.mark.parametrize("row", [
    "calf-round 30 cm", "ankle-round 30 cm",  # a short sock has none
    "foot-length 22", "foot-round 22", "foot-round 160",  # no lengths
    "leg-length 0 mm"])
def test_rows_that_no_line_uses_and_nothing_is_held_against(row):
    assert names(sock(row)) == told(sock(row), "no-ease", "ease-too-large") == []
    assert names(sock("leg-length 1 mm")) == ["size-missed"]
    by_person = "feet woman-45\n    ankle-round 24 cm\n    calf-round 38 cm\n    heel-round 33 cm"
    assert names(sock(by_person)) == names(sock(by_person + "\n    foot-round 16 cm")) == []
    assert names(sock("foot-length 27 cm")) == ["size-missed"]


def test_a_cuff_that_does_not_go_over_the_heel_is_told_at_its_section():
    found = [one for one in findings_of_text(sock("heel-round 40 cm"))
             if one.kind == "cuff-too-tight"]

    assert [one.at.source.line(one.at.line) for one in found] == [
        f'section "{title}" in plain' for title in ("Cuff", "Leg")]


def test_without_a_gauge_no_row_is_measured():
    lines = sock("foot-round 16 cm", sections=False).replace(" in plain", "").splitlines()
    bare = "\n".join(line for line in lines if not line.startswith("gauge"))

    assert [message for _, message in told(bare, "not-measured", "no-ease", "ease-too-large")] == [
        "The foot-round cannot be measured on the finished piece: there is no gauge."]


@pytest.mark.parametrize(("girth", "ease", "missed"), [
    ("11.4", "plus 40%", False), ("11.2", "plus 45%", True), ("26.6", "less 40%", False),
    ("29", "less 45%", True)])
def test_what_is_far_from_the_girth_is_no_ease_of_it(girth, ease, missed):
    """48 stitches are 16 cm, as the line has it in every case."""
    lets = f"let meant = stitches(foot-round {ease}) to nearest\n"
    text = sock(f"foot-round {girth} cm", lets=lets, leg='note "{meant} stitches."\nknit 40 rounds')

    assert names(text) == ["size-missed"] * missed


def test_a_sock_that_is_not_knitted_to_its_end_is_not_measured():
    for row, leg in (("leg-length 30 cm", ""), ("wide 5 cm", "target leg length 30 cm\n"),
                     ("wide 5 cm", "target girth 30 cm\n")):
        text = sock(row, leg=leg + "knit 40 rounds",
                    foot="repeat until 3 stitches in hold\n    knit 1 row")
        assert names(text) == []
        assert names(text.replace("repeat until 3 stitches in hold", "repeat 20 times")) != []


def test_what_cannot_be_measured_is_told():
    """A foot without a toe; a cuff that is neither rib nor of another fabric."""
    open_end = sock("foot-length 22 cm").replace(
        "do wedge-toe with leave = 10", "note \"Open at the toes.\"").replace(
        "graft front to back", "scrap off front as a\n    scrap off back as b")
    plain = script([("Leg", START["cast on by hand"][0] + "\nknit 40 rounds"), ("Heel", HEEL),
                    ("Foot", "knit 60 rounds"), ("Toe", TOES["grafted"][0])], True)

    assert names(open_end) == ["not-measured"]
    assert "no toe is found" in told(open_end, "not-measured")[0][1]
    assert names(plain.replace("\nsection", "\nsizes One\n    cuff-length 5 cm\n\nsection", 1)) == [
        "not-measured"]


def test_a_target_that_cannot_be_measured_is_told():
    assert names(sock("wide 5 cm", foot="target heel depth 4 cm\nknit 60 rounds")) == []
    text = script([("Leg", START["cast on by hand"][0] + "\ntarget heel depth 4 cm\n"
                    "knit 40 rounds"), ("Toe", TOES["grafted"][0])], True)

    assert names(text) == ["not-measured"]


def test_a_row_that_no_line_uses_is_no_target_of_another_piece():
    strip = '''pattern "Strip"
yarn main "wool"
gauge plain 30 stitches, 40 rows per 10 cm
sizes One
    foot-length 22 cm
    foot-round 20 cm
section "Strip" in plain
    bring centre 30 of front into work
    set front to knit
    thread main
    cast on centre 30 of front
    knit 20 rows
    bind off front
    cut
'''
    assert names(strip) == []
    assert names(strip.replace("knit 20 rows", "knit rows(foot-length) rows")) == ["not-measured"]


# ---- the header

HEADER = '''pattern "Header"
yarn main "wool"
gauge plain {gauge} per 10 cm
{table}
section "Strip" in plain
    bring centre 30 of front into work
    set front to knit
    thread main
    cast on centre 30 of front
    {knit}
    bind off front
    cut
'''


def header(table="", gauge="30 stitches, 42 rows", knit="knit 20 rows"):
    return told(HEADER.format(gauge=gauge, table=table, knit=knit),
                "gauge-exchanged", "grading-uneven", "ease-left-out")


@pytest.mark.parametrize("knit", ["knit 20 rows", "repeat 20 times\n        knit 1 row",
                                  "do decrease-every with times-over = 1, in-rounds = no, "
                                  "beds = front"])
@pytest.mark.parametrize(("gauge", "exchanged"), [
    ("42 stitches, 30 rows", True), ("36 stitches, 36 rows", True),
    ("36 stitches, 37 rows", False)])
def test_plain_knit_has_more_rows_than_stitches(gauge, exchanged, knit):
    """1.3 times as many by the geometry of plain knit (Munden 1959: kc / kw)."""
    found = [kind for kind, _ in header(gauge=gauge, knit=knit)]

    assert found == (["gauge-exchanged"] if exchanged else [])


def test_a_rib_may_have_more_stitches_than_rows():
    text = script([("Rib", RIB.split("\ndo rib-to-one-bed")[0] + "\nbind off front\nbind off back"
                    "\ncut")], True)

    assert told(text.replace("40 rows per", "30 rows per"), "gauge-exchanged") == []


PLAIN_TUBE = "\nset both to circular\nknit {} rounds\n"


@pytest.mark.parametrize(("plain_rows", "told_of"), [
    ("30", True), ("20", True), ("19", False)])
def test_a_gauge_of_plain_knit_that_a_rib_shares(plain_rows, told_of):
    """What `sockscript new` writes: one gauge, a cuff in rib, everything else plain.  It is that of
    the fabric with more rows: the cuff has 20."""
    cuff = RIB.split("\ndo rib-to-one-bed")[0]
    leg = f"do rib-to-one-bed on front\nset front to knit\nknit {plain_rows} rows\nremove comb\n" \
        "remove weights\nbind off front\ncut"
    text = script([("Cuff", cuff), ("Leg", leg)], True)
    gauge = next(line for line in text.splitlines() if line.startswith("gauge"))
    text = text.replace(gauge, "gauge plain 42 stitches, 30 rows per 10 cm")
    if plain_rows == "30":
        text = text.replace("knit 30 rows", "\n    ".join(["knit 30 rows"] * 2))

    assert [kind for kind, _ in told(text, "gauge-exchanged")] == ["gauge-exchanged"] * told_of


@pytest.mark.parametrize(("row", "words"), [
    ("10 112 12", "'long' is 112 cm for Two, but 10 cm for One and 12 cm for Three; 11.2 cm would "
                  "fit."),
    ("10 12 1.4", "'long' is 1.4 cm for Three, but 12 cm for Two; 14 cm would fit."),
    ("15 61 17", "'long' is 61 cm for Two, but 15 cm for One and 17 cm for Three."),
    ("10 15 12", "'long' goes from 15 cm (Two) to 12 cm (Three), against the other sizes and "
                 "rows.")])
def test_which_value_of_a_row_is_the_slip(row, words):
    (_, message), = header(table("wide 20 22 24", "deep 6 7 8", f"long {row}",
                                 sizes="One Two Three"))
    assert message == words


def table(*rows, sizes="One Two Three Four"):
    return f"sizes {sizes}\n" + "\n".join(f"    {row} cm" for row in rows)


@pytest.mark.parametrize(("rows", "sizes", "words"), [
    (("wide 20 22 24 26", "deep 6 7 8 9", "long 14 13 12 11"), "One Two Three Four",
     "'long' runs the other way"),
    (("wide 20 22 24 26", "deep 6 7 8 9", "long 11 13 12 14"), "One Two Three Four",
     "'long' goes from 13 cm (Two) to 12 cm (Three)"),
    (("wide 24 22 20",), "Small Medium Large", "'wide' runs the other way"),
    (("wide 20 24 22",), "S M L", "'wide' goes from 24 cm (M) to 22 cm (L)"),
    (("wide 20 22 240 26", "deep 6 7 8 9"), "One Two Three Four",
     "'wide' leaps from 22 cm (Two) to 240 cm (Three), far more than other sizes and rows; "
     "24 cm would fit"),
    (("cuff-length 0.6 0.7 0.8 0.9",), "One Two Three Four", "6 cm is usual"),
])
def test_a_table_that_does_not_grow(rows, sizes, words):
    (kind, message), = header(table(*rows, sizes=sizes))

    assert kind == "grading-uneven" and words in message


@pytest.mark.parametrize(("rows", "sizes"), [
    # A woman's largest and a man's smallest: all rows step back at once.
    (("wide 20 24 22 26", "long 22 26 24 28"), "Woman-S Woman-L Man-S Man-L"),
    # From child to woman everything leaps.
    (("wide 13 22 24", "long 13 23 25"), "Child Woman Man"),
    # Sizes told from the largest to the smallest.
    (("wide 26 24 22", "long 14 13 12"), "Large Medium Small"),
    (("cuff-length 5 5 6", "wide 20 22 24"), "S M L"),
    # One row alone says nothing of the order of sizes with names of their own.
    (("wide 20 24 22",), "Ann Bea Cat"),
])
def test_tables_that_are_as_they_should_be(rows, sizes):
    assert header(table(*rows, sizes=sizes)) == []


@pytest.mark.parametrize(("last", "leap"), [("16", False), ("16.1", True)])
def test_how_large_a_step_may_be(last, leap):
    """10 to 16 cm is 60 %; everything else grows by a tenth."""
    rows = (f"deep 9 10 {last}", "wide 20 22 24")

    assert bool(header(table(*rows, sizes="One Two Three"))) == leap


EASE = '''sizes One Two
    foot-round 20 22 cm
    ankle-round 18 20 cm
    calf-round 28 30 cm
let a = stitches(foot-round{foot}) to nearest
let b = stitches(ankle-round{ankle}) to nearest
let c = stitches(calf-round{calf}) to nearest
'''


@pytest.mark.parametrize(("foot", "ankle", "calf", "name"), [
    (" less 10%", "", " less 10%", "ankle-round"), (" less 10%", " less 5%", "", "calf-round"),
    ("", "", " less 10%", ""), ("", "", "", ""), (" less 10%", " less 10%", " less 10%", "")])
def test_one_girth_without_the_ease_that_all_others_have(foot, ankle, calf, name):
    found = header(EASE.format(foot=foot, ankle=ankle, calf=calf))

    assert [kind for kind, _ in found] == (["ease-left-out"] if name else [])
    assert all(message.startswith(f"'{name}'") for _, message in found)


@pytest.mark.parametrize(("row", "lets", "foot", "expected"), [
    # 48 stitches are 160 mm: 97 % of 164.9 mm.
    ("foot-round 160 mm", "", "knit 60 rounds", True),
    ("foot-round 164.9 mm", "", "knit 120 rows", True),
    ("foot-round 165 mm", "", "knit 60 rounds", False),
    ("foot-round 150 mm", "let a = stitches(foot-round plus 6%)\n",
     "repeat 120 times\n    knit 1 row", True),
    ("foot-round 160 mm", "", "knit 60 rounds\ntarget girth foot-round", False),
    ("foot-round 0 mm", "", "knit 60 rounds", False),
    ("hand-round 160 mm", "", "knit 60 rounds", False)])
def test_a_sock_as_wide_as_the_foot_slides(row, lets, foot, expected):
    text = sock(row, foot=foot, lets=lets)

    assert len(told(text, "no-ease")) == expected
    # One size that has an ease is enough: rounding leaves none of it in a small one.
    two = text.replace("sizes One\n    " + row, f"sizes One Two\n    {row} {row.split(None, 1)[1]}")
    assert len(told(two, "no-ease")) == expected
    assert not told(two.replace(row.split(None, 1)[1], "180 mm", 1), "no-ease")


@pytest.mark.parametrize(("cm", "less", "kind"), [
    # 48 stitches are as many centimetres, of 20 cm exactly 97 % and three quarters.
    ("19.4", "1%", {"no-ease"}), ("19.39", "1%", set()), ("15", "25%", set()),
    ("14.99", "25%", {"ease-too-large"})])
def test_at_the_very_limits_of_ease(cm, less, kind):
    lets = f"let a = rows(foot-round)\nlet b = stitches(foot-round less {less})\n" \
        f"let c = stitches(foot-round less {less}) to nearest\n"
    text = sock("foot-round 20 cm", lets=lets).replace(
        "gauge plain 30 stitches, 40 rows per 10 cm",
        f"gauge plain 48 stitches, 60 rows per {cm} cm")
    found = [one for one in findings_of_text(text) if one.kind in ("no-ease", "ease-too-large")]

    assert {one.kind for one in found} == kind
    # It is told where the girth is first turned into stitches.
    assert all(one.at.source.line(one.at.line).startswith("let b") for one in found)


def test_a_tube_without_a_heel_has_the_width_that_it_has():
    assert not told(script([("Tube", RIB), ("Leg", "knit 40 rounds")], True).replace(
        "\nsection", "\nsizes One\n    foot-round 160 mm\nsection", 1), "no-ease")


@pytest.mark.parametrize("foot", ["knit 60 rounds", "knit 120 rows",
                                  "repeat 120 times\n    knit 1 row"])
@pytest.mark.parametrize(("girth", "expected"), [("213 mm", False), ("214 mm", True)])
def test_a_sock_far_narrower_than_the_foot_cuts_in(girth, expected, foot):
    """48 stitches are 160 mm, three quarters of 213.3 mm (rib up to a quarter narrower: a
    handbook for sock knitters)."""
    lets = "let a = stitches(foot-round less 25%)\n"

    text = sock(f"foot-round {girth}", foot=foot, lets=lets)
    found = told(text, "ease-too-large")
    assert len(found) == expected
    assert all("comes to 16 cm for a foot that is 21.4 cm round" in one for _, one in found)
    meant = foot + "\ntarget girth foot-round less 25%"
    assert not told(sock(f"foot-round {girth}", foot=meant, lets=lets), "ease-too-large")


CROSSED = (ROOT / "examples" / "broken" / "sizes-crossed.sockscript").read_text("utf-8")


@pytest.mark.parametrize("leg", ["knit 40 rounds", "knit 80 rows",
                                 "repeat 80 times\n        knit 1 row"])
@pytest.mark.parametrize(("around", "girths", "told_of"), [
    ("52 68 60", "20 22.5 25", "Size Medium comes out wider than Large: 22.7 cm beside 20 cm"),
    ("60 56 68", "20 20.5 25", "Size Small comes out wider than Medium: 20 cm beside 18.7 cm"),
    ("52 60 68", "20 22.5 25", ""), ("52 60 60", "20 22.5 24", ""),
    # The table may run from the largest to the smallest size.
    ("68 60 52", "25 22.5 20", ""),
    ("60 68 52", "25 22.5 20", "Size Medium comes out wider than Large: 22.7 cm beside 20 cm"),
    # Two sizes that are alike may come out either way.
    ("60 56 68", "20 20 25", "")])
def test_sizes_come_out_in_the_order_of_the_table(around, girths, told_of, leg):
    text = CROSSED.replace("52     68      60", around).replace("knit 40 rounds", leg)
    if told_of and leg == "knit 40 rounds":
        counts = text.replace("20     22.5    25 cm", girths)
        assert told(counts, "sizes-crossed") == [], "numbers are no lengths"
    text = text.replace("20     22.5    25 cm", f"{girths} cm")
    if girths.startswith("25"):
        text = text.replace("Small  Medium  Large", "Large Medium Small")
        text = text.replace("22.5   25      28 cm", "28 25 22.5 cm")
    found = told(text, "sizes-crossed")

    assert len(found) == bool(told_of)
    assert all(message.startswith(told_of) for _, message in found)


@pytest.mark.parametrize(("turns", "stops", "told_of"), [
    ("41 40", "", 0), ("42 40", "", 1),
    ("42 40", "target leg length leg-length within 9 cm\nknit 60 rounds", 0),
    ("42 40", "when size is Small\n    repeat until 3 stitches in hold\n        knit 1 row", 0)])
def test_two_sizes_a_row_apart_or_settled_or_not_knitted_to_their_end(turns, stops, told_of):
    text = sock(f"leg-length 150 151 mm\n    turns {turns}", foot=stops or "knit 60 rounds",
                leg='note "{leg-length}"\nknit turns rounds')

    assert len(told(text.replace("One", "Small Large", 1), "sizes-crossed")) == told_of
