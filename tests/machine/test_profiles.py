"""Machine profiles: the shipped ones, mistakes in one's own, and what a machine lacks."""

from __future__ import annotations

from fractions import Fraction

import pytest
from support.scripts import prepared

from sockscript.machine.load import lacks, load_profile, script_profile
from sockscript.machine.places import shipped_profiles
from sockscript.machine.profile import Profile
from sockscript.service.document import Document

NAMES = ["cottage-single", "dunlin-60", "fell-90", "harbour-45"]


def test_the_shipped_ones():
    assert sorted(shipped_profiles()) == NAMES
    found = {name: load_profile(name) for name in NAMES}
    assert all(isinstance(profile, Profile) for profile in found.values())

    # Of invented machines; 4.5 and 9 mm are usual (from memory), 6 mm lies between.
    assert {n: float(p.spacing) for n, p in found.items()} == {
        "cottage-single": 4.5, "fell-90": 9, "harbour-45": 4.5, "dunlin-60": 6}
    assert {n: p.beds for n, p in found.items()} == {
        "cottage-single": 1, "fell-90": 2, "harbour-45": 2, "dunlin-60": 2}
    assert {p.front_circular for p in found.values()} == {"left", "right"}


def test_each_has_its_own_words():
    words = [load_profile(name).words for name in NAMES]

    for setting in ("knit", "rest", "hold-respected"):
        assert len({one[setting] for one in words}) == len(NAMES)


GOOD = "machine \"Mine\"\n    beds 2\n    needles 100\n"


@pytest.mark.parametrize("text, says", [
    ("", "no 'machine' block"), ("machine \"x\"\n    beds 2\n", "how many needles"),
    ("machine \"x\"\n    needles 100\n", "how many beds"), (GOOD.replace("2", "3"), "1 or 2 beds"),
    (GOOD.replace("100", "99"), "even number of needles"),
    (GOOD + "    dial 10 to 0 by 1\n", "tightest to its loosest"),
    (GOOD + "    dial 0 to 10 by 0\n", "tightest to its loosest"),
    (GOOD + "    words\n        knitt \"x\"\n", "Did you mean 'knit'"),
    (GOOD + "    colour red\n", "No line of a machine block begins with 'colour'"),
    (GOOD + "    neddles 4\n", "Did you mean 'needles'"),
    (GOOD + "    pitches half, quarter\n", "does not fit"),
    # A swatch of a machine is written otherwise than one of a script.
    (GOOD + "    swatch plain 60 stitches\n", "rows per 10 cm at stitch size 6"),
])
def test_mistakes_in_a_profile_are_told(text, says, tmp_path):
    path = tmp_path / "mine.machine"
    path.write_text(text)
    found = load_profile(str(path))

    assert isinstance(found, tuple)
    assert [p for p in found if says in p.message + p.hint]


WRONG = """machine "Mine"
    beds 3
    needles 99
    spacing 4,5 mm
    dial 0 to 10 by 1/3
    pitches half, quarter
    racking 2.5
    racking 4
    has circular, fly
    colour red
    words
        knitt "x"
        rest lever
        hold "up"
        hold "down"

gauge plain 30 stitches, 42 rows per 10 cm
section "Cuff"
    knit 2 rows
"""


def test_every_wrong_line_is_told_in_one_run(tmp_path):
    path = tmp_path / "mine.machine"
    path.write_text(WRONG)
    found = load_profile(str(path))

    assert isinstance(found, tuple)
    # Every line but: the first, spacing (a decimal comma is one), the dial, 'words', the first
    # 'hold', the empty one, and what stands in the section, which is told with its first line.
    assert [p.at.line for p in found] == [2, 3, 6, 7, 8, 9, 10, 12, 13, 15, 17, 18]


def test_a_swatch_at_a_number_that_the_dial_has_not_is_told(tmp_path):
    path = tmp_path / "mine.machine"
    swatch = '    swatch "wool" 30 stitches, 42 rows per 10 cm at stitch size '
    path.write_text(f"{GOOD}    dial 0 to 10 by 1/2\n{swatch}10\n", "utf-8")
    assert isinstance(load_profile(str(path)), Profile)
    path.write_text(f"{GOOD}    dial 0 to 10 by 1/2\n{swatch}11\n{swatch.replace('30', '0')}1\n",
                    "utf-8")

    found = load_profile(str(path))
    assert [one.message for one in found] == [
        "The dial has no stitch size 11.", "A swatch cannot have a 0 in it."]


def test_an_editor_tells_the_same(tmp_path):
    path = tmp_path / "mine.machine"
    path.write_text(WRONG)
    found = Document("mine.machine", tmp_path).examine(WRONG).problems

    assert [p.at.line for p in found] == [p.at.line for p in load_profile(str(path))]


def test_a_third_needs_no_sign_of_its_own(tmp_path):
    steps = []
    for number, written in enumerate(("\u2153", "1/3", "1\u20443")):
        path = tmp_path / f"m{number}.machine"
        path.write_text(GOOD + f"    dial 0 to 10 by {written}\n    spacing 4 1/2 mm\n", "utf-8")
        profile = load_profile(str(path))
        assert isinstance(profile, Profile)
        steps.append((profile.dial_step, profile.spacing))

    assert set(steps) == {(Fraction(1, 3), Fraction(9, 2))}


def test_a_profile_of_ones_own_is_read_from_its_file(tmp_path):
    path = tmp_path / "mine.machine"
    path.write_text(GOOD + "    has circular\n    words\n        rest \"lever up\"\n")
    found = load_profile(str(path))

    assert isinstance(found, Profile)
    assert (found.name, found.needles, found.words["rest"]) == ("Mine", 100, "lever up")
    assert found.settings == {"circular"}


@pytest.mark.parametrize("name", ["no-such", "nowhere.machine"])
def test_a_machine_that_is_not_there_is_told(name):
    assert isinstance(load_profile(name), tuple)


@pytest.mark.parametrize("needs, lacking", [
    ("beds 2", ["two beds"]), ("needles 300", ["300 needles"]), ("needs circular", ["circular"]),
    ("needs hold, tuck", []), ("needs full pitch", ["full pitch"]), ("needs racking", ["racking"]),
])
def test_what_a_machine_lacks_is_told_at_the_machine_block(needs, lacking):
    script = prepared(f"machine\n    {needs}\nsection \"x\"\n    half pitch\n").script
    profile = load_profile("cottage-single")
    assert isinstance(profile, Profile)
    found = lacks(script, profile)

    assert [what in p.message for p, what in zip(found, lacking, strict=True)] == [True] * len(
        lacking)


def test_without_a_machine_any_that_is_as_the_script_says():
    script = prepared("machine\n    needles 120\n    dial 1 to 9 by ½\nsection \"x\"\n").script

    assert script_profile(script).needles == 120
    assert script_profile(script).dial_high == 9
