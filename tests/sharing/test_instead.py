"""One technique of another's pattern exchanged for one's own, and the whole checked."""

from __future__ import annotations

import re

import pytest
from support.command import ROOT, sockscript

SOCK = str(ROOT / "examples" / "family-sock.sockscript")
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
    return tmp_path


def mark(done):
    return re.search(r"Fingerprint (\S+)", done.stdout)[1]


def test_a_technique_of_a_file_stands_for_one_of_the_pattern(folder):
    """It may call the one that it stands for, and others of its file."""
    plain = sockscript("check", SOCK)
    done = sockscript("check", SOCK, "--with", "wedge-toe=our-toe", cwd=folder)

    assert done.returncode == 0, done.stdout
    assert "Technique our-toe in the place of wedge-toe, from our-toe.sockscript, version 2, by " \
        "Ada" in done.stdout
    assert mark(done) != mark(plain)
    assert mark(sockscript("check", SOCK, "--with", "wedge-toe=our-toe.sockscript", cwd=folder)) \
        == mark(done)


def test_a_shipped_technique_may_stand_for_another_and_is_printed(tmp_path):
    steps = sockscript("steps", SOCK, "--with", "wedge-toe=round-toe").stdout
    sockscript("sheet", SOCK, "--with", "wedge-toe=round-toe", "-o", str(tmp_path / "a.html"))

    assert "round-toe in the place of wedge-toe" in steps
    assert steps != sockscript("steps", SOCK).stdout
    assert "round-toe in the place of wedge-toe" in (tmp_path / "a.html").read_text("utf-8")


def test_the_whole_is_checked_with_it(folder):
    (folder / "our-toe.sockscript").write_text(OURS.replace("leave + 2", "leave + 4"))
    done = sockscript("check", SOCK, "--with", "wedge-toe=our-toe", cwd=folder)

    assert done.returncode == 1
    assert "technique-promise-broken" in done.stdout
    assert re.search(r"\d+ \|\s+do wedge-toe", done.stdout)


@pytest.mark.parametrize("words, told", [
    ("wedge-to=round-toe", "Did you mean 'wedge-toe'?"), ("wedge-toe", "--with heel=our-heel"),
    ("=", "--with heel=our-heel"), ("wedge-toe=nowhere", "no file nowhere.sockscript"),
    ("wedge-toe=two.sockscript", "has no technique 'two'"), ("heel=round-toe", "is not told a bed"),
    ("wedge-toe=../../x.sockscript", "no file")])
def test_what_cannot_be_exchanged_is_told(words, told, folder):
    (folder / "two.sockscript").write_text("technique a\n    cut\ntechnique b\n    cut\n")
    done = sockscript("check", SOCK, "--with", words, cwd=folder)

    assert done.returncode == 2 and told in re.sub(r"\s+", " ", done.stdout)
    assert "Traceback" not in done.stderr


def test_it_works_on_a_pack(folder):
    sockscript("pack", SOCK, "-o", str(folder / "a.sockpack"))
    of_pack = sockscript("check", "a.sockpack", "--with", "wedge-toe=our-toe", cwd=folder)

    assert mark(of_pack) == mark(sockscript("check", SOCK, "--with", "wedge-toe=our-toe",
                                            cwd=folder))


@pytest.mark.parametrize("option", ["--watch", "--mend"])
def test_it_goes_with_no_option_that_writes_or_waits(option):
    assert sockscript("check", SOCK, "--with", "heel=heel", option).returncode == 2
