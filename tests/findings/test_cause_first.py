"""The cause is told first; what only follows from it is told in a sentence, or not at all."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.scripts import TUBE, findings, findings_of_text, kinds, proof

import sockscript
from sockscript.commands.check import report
from sockscript.findings.told_back import told_back

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
FAMILY = (EXAMPLES / "family-sock.sockscript").read_text("utf-8")


def without(line: str) -> str:
    """The family sock without every line that says just this."""
    lines = FAMILY.splitlines(keepends=True)
    kept = [one for one in lines if one.strip() != line]
    assert len(kept) < len(lines)
    return "".join(kept)


def told(text: str) -> list[str]:
    """The findings that are told in full."""
    checked = sockscript.check_text(text)
    return [one.kind for one in checked.findings if one.cause is None]


def test_one_forgotten_yarn_is_one_finding():
    assert told(without("thread main")) == ["pass-without-yarn"]


def test_beds_that_are_not_set_are_told_where_they_should_have_been():
    text = without("set both to circular")
    checked = sockscript.check_text(text)

    assert {one.kind for one in checked.findings} == {"not-set-to-circular"}
    assert len(report(checked).splitlines()) <= 20


@pytest.mark.parametrize("body, kind", [
    ("set front to rest\nknit 4 rows on front", "bed-left-resting"),
    ("set back to rest\nset front to knit\nknit 4 rows on back", "bed-left-resting"),
    ("set front to knit\nset back to knit\nknit 2 rounds", "not-set-to-circular"),
])
def test_a_bed_is_put_right_and_told_once(body, kind):
    found = kinds(f"{TUBE}\n{body}\n{body.splitlines()[-1]}\nset both to circular\n"
                  "knit 2 rounds\nremove weights\ncut\ngraft front to back")

    assert found.count(kind) == 1


def test_the_wrong_bed_is_one_finding_that_names_both():
    (one,) = findings(f"{TUBE}\nset front to rest\nset back to knit\nknit 3 rows on front\n"
                      "set both to circular\nknit 1 round\nremove weights\ncut\ngather both")[:1]

    assert one.message.endswith("the front bed is still set to rest and the back bed knits.")
    assert "set front to knit  and  set back to rest" in one.advice
    assert "name the back bed" in one.advice
    only = findings(f"{TUBE}\nset both to rest\nknit 2 rows on front")[0]
    assert only.message.endswith("still set to rest.") and "name" not in only.advice


@pytest.mark.parametrize("rows", ["knit 6 rows", "repeat 6 times\n    knit 1 row"])
@pytest.mark.parametrize("setting, kind", [
    ("full pitch", "beds-collide"), ("set both to tuck", "too-many-strands")])
def test_what_a_setting_does_to_every_row_is_told_once_with_its_line(rows, setting, kind):
    begin = "half pitch\nbring centre 20 of both into work to cast on\nset both to knit\n" \
        "thread main\nknit 1 row\nhang weights\n"
    body = f"{begin}{setting}\n{rows}\nstitch size 5\n{rows}\nstitch size 6\n{rows}"
    found = [one for one in findings(body) if one.kind == kind]

    assert len(found) == 3
    assert [one.cause is None for one in found].count(True) == 1 and found[0].cause is None
    assert all(one.cause.at == found[0].at for one in found[1:])
    shown = [other.at.source.line(other.at.line).strip() for other in found[0].others]
    assert setting in shown
    # Set anew, it is told anew.
    again = body.replace("stitch size 6", "half pitch\nset both to knit\nknit 1 row\n" + setting)
    twice = [one for one in findings(again) if one.kind == kind]
    assert [one.cause is None for one in twice].count(True) == 2


def test_a_yarn_put_in_unasked_is_not_left_over_and_not_in_the_way():
    start = "bring centre 20 of front into work\nthread main\ncast on centre 20 of front\n" \
        "set front to knit\nknit 4 rows\ncut\n"

    assert kinds(start + "knit 2 rows\ngather front") == ["pass-without-yarn"]
    assert kinds(start + "knit 2 rows\nthread main\nknit 2 rows\ncut\ngather front") \
        == ["pass-without-yarn"]
    assert kinds(start + "knit 2 rows\ncut\ngather front") == ["pass-without-yarn"]


@pytest.mark.parametrize("end", [
    "bind off front\nbind off back", "bind off both",
    "repeat 2 times\n    bind off left 18 of front\nbind off back"])
def test_who_binds_off_without_yarn_is_told_once(end):
    assert kinds(f"{TUBE}\nremove weights\ncut\n{end}") == ["bind-off-without-yarn"]
    assert kinds(f"{TUBE}\nremove weights\ncut\n{end}\ncut") == ["bind-off-without-yarn"]
    assert kinds(f"{TUBE}\nremove weights\n{end}\ncut") == []


def test_left_and_right_are_one_finding():
    heel = f'''{TUBE}
set back to rest
set front to knit
do short-rows-in on front with leave = 12
wrap carriage side 1 held of front
do short-rows-out-wrapped on front with until = 34
repeat 2 times
    return far side 1 held of front to work
    knit 1 row on front
cancel hold on front
set both to circular
knit 4 rounds
remove weights
cut
graft front to back'''
    (corner,) = [one for one in findings(heel) if one.kind == "open-corner"]

    assert "The same at the" in corner.message


def test_the_first_finding_is_what_happens_first():
    text = FAMILY.replace("do rib-to-one-bed on back", "do rib-to-one-bed on front")
    checked = sockscript.check_text(text)
    full = [one for one in checked.findings if one.cause is None]

    assert full[0].at.line == min(one.at.line for one in checked.findings)
    assert len(checked.findings) > 10 and len(full) <= 3
    assert "may only follow from it" in report(checked)


def test_a_repeat_that_never_comes_true_ends_soon():
    body = f"{TUBE}\nrepeat until 5 stitches on front\n    knit 1 round\nremove weights\n" \
        "cut\ngraft front to back"
    (run,) = (outcome.run for outcomes in proof(
        'pattern "x"\nyarn main "y"\nsection "A"\n'
        + "".join(f"    {line}\n" for line in body.splitlines())).outcomes for outcome in outcomes)

    assert run.stopped is not None and len(run.moments) < 200


@pytest.mark.parametrize("name, words", [
    ("family-sock", ["A cuff-down sock", "seam at the centre back", "Nothing is left open."]),
    ("toe-up-sock", ["A toe-up sock", "without a seam", "rows folded in and sewn down"]),
    ("leg-warmer", ["A tube", "seam in the middle of the front bed"]),
    ("afterthought-sock", ["heel taken up from a slit"]),
    ("flat-sock", ["heel cup in two halves"]),
])
def test_a_clean_check_tells_back_what_was_knitted(name, words):
    first = told_back(proof((EXAMPLES / f"{name}.sockscript").read_text("utf-8")))[0]

    assert all(part in first for part in words), first


def test_a_slip_of_design_shows_in_what_is_told_back():
    usual = told_back(proof(FAMILY))[0]
    slipped = told_back(proof(FAMILY.replace("let narrow = half / 3 to nearest even",
                                             "let narrow = half / 2 to nearest even")))[0]

    assert usual != slipped and "down to 6 to 12 stitches" in usual


def test_choices_are_told_where_they_differ():
    paragraphs = told_back(proof(FAMILY))

    assert any(text.startswith("With finish gather: closed by drawing") for text in paragraphs)


@pytest.mark.parametrize("leg, foot", [
    ("knit rounds for a leg length of leg-length", "knit rounds for a foot length of foot-length"),
    ("knit 20 rounds", "knit 60 rounds\n    target foot length 22 cm"),
    ("repeat 20 times\n        knit 1 round", "knit 120 rows")])
def test_a_heel_of_waste_yarn_is_told_and_not_the_lengths_that_lack_it(leg, foot):
    """Rows that come out again are none of the sock, so that it has no heel to measure from; with
    its own yarn the lengths are looked at."""
    sock = f"""pattern "After"
yarn main "four-ply sock wool"
yarn scrap "smooth waste" as waste
gauge plain 30 stitches, 42 rows per 10 cm
sizes  One
    foot-length 22 cm
    leg-length 9 cm
section "Leg" in plain
    do tubular-cast-on with around = 64, yarn = main
    knit 18 rows
    do rib-to-one-bed on back
    set back to knit
    stitch size 6
    knit 1 row on back
    do turn-to-tube with bed = back
    set both to circular
    thread main
    hang weights
    {leg}
    do afterthought-opening with waste = scrap, yarn = main
section "Foot" in plain
    set both to circular
    {foot}
    do wedge-toe with leave = 12
    knit 1 round
    remove weights
    do graft-end
section "Heel" in plain
    do afterthought-heel with half = 32, leave = 12, yarn = """
    lengths = {"size-missed", "off-target", "no-rows-fit", "not-measured"}

    assert {one.kind for one in findings_of_text(sock + "scrap\n")} == {"waste-knitted-in"}
    assert bool({one.kind for one in findings_of_text(sock + "main\n")} & lengths) \
        == ("length" not in leg)


def test_weights_on_needles_that_are_empty_for_another_reason():
    """The loops fell off needles out of work: that is the one thing to mend."""
    text = """pattern "Two fingers"
yarn main "y"
section "Hand"
    do tube-cast-on with half = 6, yarn = main
    stitch size 6
    knit 6 rounds
    remove comb
    remove weights
    cut
    scrap off front as one-loops
    scrap off back as other-loops
    take empty of both out of work
    rehang one-loops to centre 6 of front
    rehang other-loops to centre 6 of back
    hang weights
"""
    assert told(text)[:1] == ["transfer-to-idle-needle"]
    assert "hung-on-nothing" not in told(text)
    alone = text.replace("    take empty of both out of work\n", "").replace(
        "    rehang one-loops to centre 6 of front\n", "").replace(
        "    rehang other-loops to centre 6 of back\n", "")
    assert "hung-on-nothing" in told(alone)


@pytest.mark.parametrize(("right", "wrong", "cause", "comes"), [
    ("24.5     26.5", "2.45     26.5", "unlikely-foot", "no-rows-fit"),
    ("30 stitches, 42 rows", "30 stitches, 4.2 rows", "yarn-and-gauge-apart", "no-rows-fit")])
def test_a_number_above_the_sections_is_told_before_what_comes_of_it(right, wrong, cause, comes):
    assert right in FAMILY
    found = sockscript.check_text(FAMILY.replace(right, wrong)).findings
    assert found[0].kind == cause
    assert comes in {one.kind for one in found if one.cause is not None}


LEFT = """pattern "Two"
yarn main "wool"
section "One"
    bring centre 10 of both into work to cast on
    set both to knit
    thread main
    knit 6 rows
    bind off front
    cut
section "Two"
    bring centre 4 of front into work
    thread main
    cast on front
    set front to circular
    set back to rest
    knit 40 rows
    {line}
    cut
    gather front
"""


@pytest.mark.parametrize(("line", "follows"), [
    ("set front to knit", False), ("set both to knit\n    knit 1 row", True)])
def test_a_piece_that_was_never_taken_off_follows_from_nothing_later(line, follows):
    found = findings_of_text(LEFT.format(line=line))
    (left,) = [one for one in found if one.kind == "live-stitches-left"]
    causes = {one.kind for one in found if one.cause is None} - {"live-stitches-left"}
    assert "circular-on-one-bed" in causes and (left.cause is not None) is follows
