"""One technique of another's pattern exchanged for one's own, and the whole checked."""

from __future__ import annotations

import re

import pytest
from support.command import sockscript

SOCK = "tube.sockscript"
TUBE = """pattern "Harbour Tube"
author "Ben"
version 4
licence "CC0"
yarn main "any yarn"
gauge plain 30 stitches, 42 rows per 10 cm
section "Tube" in plain
    do tube-cast-on with half = 24, yarn = main
    stitch size 5
    knit 24 rounds
    do wedge-toe with leave = 12
    knit 1 round
    cut
    remove weights
    remove comb
    do graft-end
"""
OURS = """version 2
author "Ada"
technique our-toe with leave, edge = 3
    # The usual toe, its last decrease by itself.
    leaves tube of leave stitches a bed
    do wedge-toe with leave = leave + 2, edge = edge
    do last with edge = edge
technique last with edge
    do decrease-once with edge = edge
    knit 2 rounds
"""


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "our-toe.sockscript").write_text(OURS)
    (tmp_path / SOCK).write_text(TUBE)
    return tmp_path


def mark(done):
    return re.search(r"Fingerprint (\S+)", done.stdout)[1]


def test_a_technique_of_a_file_stands_for_one_of_the_pattern(folder):
    """It may call the one that it stands for, and others of its file."""
    plain = sockscript("check", SOCK, cwd=folder)
    done = sockscript("check", SOCK, "--with", "wedge-toe=our-toe", cwd=folder)

    assert done.returncode == 0, done.stdout
    assert "Technique our-toe in the place of wedge-toe, from our-toe.sockscript, version 2, by " \
        "Ada" in re.sub(r"\s+", " ", done.stdout)
    assert "last from our-toe.sockscript, version 2, by Ada" in re.sub(r"\s+", " ", done.stdout)
    assert mark(done) != mark(plain)
    assert mark(sockscript("check", SOCK, "--with", "wedge-toe=our-toe.sockscript", cwd=folder)) \
        == mark(done)


def test_a_shipped_technique_may_stand_for_another_and_is_printed(folder):
    asked = (SOCK, "--with", "wedge-toe=round-toe")
    steps = sockscript("steps", *asked, cwd=folder).stdout
    for command in ("sheet", "follow"):
        sockscript(command, *asked, "-o", f"{command}.html", cwd=folder)
        assert "round-toe in the place of wedge-toe" in (folder / f"{command}.html").read_text(
            "utf-8")
    sockscript("picture", *asked, "--what", "schematic", "-o", "a.svg", cwd=folder)
    assert "round-toe in the place of wedge-toe" in (folder / "a.svg").read_text("utf-8")
    for command in (["sizes"], ["needles", "--step", "5"]):
        assert "round-toe in the place of wedge-toe" in sockscript(
            command[0], *asked, *command[1:], cwd=folder).stdout

    assert "round-toe in the place of wedge-toe" in steps
    assert steps != sockscript("steps", SOCK, cwd=folder).stdout


def test_what_is_exchanged_for_itself_stays(folder):
    plain = sockscript("check", SOCK, cwd=folder)

    assert sockscript("check", SOCK, "--with", "wedge-toe=wedge-toe", cwd=folder).stdout \
        == plain.stdout


def test_the_whole_is_checked_with_it(folder):
    (folder / "our-toe.sockscript").write_text(OURS.replace("leave + 2", "leave + 4"))
    done = sockscript("check", SOCK, "--with", "wedge-toe=our-toe", cwd=folder)

    assert done.returncode == 1
    assert "technique-promise-broken" in done.stdout
    assert re.search(r"\d+ \|\s+do wedge-toe", done.stdout)


@pytest.mark.parametrize("words, told", [
    ("wedge-to=round-toe", "Did you mean 'wedge-toe'?"), ("wedge-toe", "--with heel=our-heel"),
    ("=", "--with heel=our-heel"), ("wedge-toe=nowhere", "no file nowhere.sockscript"),
    ("wedge-toe=two.sockscript", "has no technique 'two'"),
    ("heel=round-toe", "does not do 'heel'"), ("wedge-toe=../../x.sockscript", "no file"),
    ("wedge-toe=two.sockscript", "It has a, b."), ("wedge-toe=none.sockscript", "It has none."),
    ("=round-toe", "--with heel=our-heel"), ("wedge-toe=", "--with heel=our-heel"),
    ("tube-cast-on=round-toe",
     "--with tube-cast-on=round-toe 'round-toe' cannot stand in the place of 'tube-cast-on': the "
     "pattern gives it 'half' and 'yarn', which it does not take, and it needs 'leave', which the "
     "pattern does not give."),
    ("wedge-toe=gusset-heel", "needs 'long', which the pattern does not give"),
    ("graft-end=heel", "needs 'leave'")])
def test_what_cannot_be_exchanged_is_told(words, told, folder):
    (folder / "two.sockscript").write_text("technique a\n    cut\ntechnique b\n    cut\n")
    (folder / "none.sockscript").write_text('pattern "A"\n')
    done = sockscript("check", SOCK, "--with", words, cwd=folder)

    assert done.returncode == 2 and told in re.sub(r"\s+", " ", done.stdout)
    assert done.stdout.count("CANNOT READ") == 1
    assert "Traceback" not in done.stderr
    # What stands on the command line has no lines.
    assert "line 1" not in done.stdout


def test_it_works_on_a_pack(folder):
    sockscript("pack", SOCK, "-o", "a.sockpack", cwd=folder)
    of_pack = sockscript("check", "a.sockpack", "--with", "wedge-toe=our-toe", cwd=folder)

    assert mark(of_pack) == mark(sockscript("check", SOCK, "--with", "wedge-toe=our-toe",
                                            cwd=folder))


@pytest.mark.parametrize("option", ["--watch", "--mend"])
def test_it_goes_with_no_option_that_writes_or_waits(option):
    assert sockscript("check", SOCK, "--with", "heel=heel", option).returncode == 2
