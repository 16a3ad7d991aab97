"""The cause is told first; what only follows from it is told in a sentence, or not at all."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.scripts import TUBE, findings, kinds, proof

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
