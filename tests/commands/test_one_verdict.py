"""What the check calls a fault is a fault for every other command, the editor and Python."""

from __future__ import annotations

import json

import pytest
from support.command import sockscript

import sockscript as library
from sockscript.service.diagnostics import diagnostics
from sockscript.service.document import Document

SCRIPT = '''pattern "Held"
author "Quayside Knitting Circle"
machine
    beds 2
    needles 100
    needs hold
yarn main "four-ply sock wool" 400 m per 100 g
gauge plain 30 stitches, 42 rows per 10 cm
sizes          Small Large
    foot-round 18    22 cm
works for
    foot-round 18 to 22 cm by 1 cm
let wide = stitches(foot-round / 2) to nearest even
section "Strip" in plain
    target length 10 cm within 3 cm
    bring centre wide of front into work
    set front to knit
    thread main
    cast on front
    knit 44 rows
    bind off front
    cut
'''
MACHINE = 'machine "Old double bed"\n    beds 2\n    needles 180\n    racking 3\n'


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "held.sockscript").write_text(SCRIPT, "utf-8")
    (tmp_path / "old.machine").write_text(MACHINE, "utf-8")
    return tmp_path


def asked(folder, *words):
    return sockscript(words[0], "held.sockscript", *words[1:], "--machine", "old.machine",
                      cwd=folder)


def test_without_a_machine_of_its_own_the_script_is_clean(folder):
    assert sockscript("check", "held.sockscript", cwd=folder).returncode == 0
    assert sockscript("range", "held.sockscript", cwd=folder).returncode == 0


def test_a_fault_for_the_check_is_one_for_the_range(folder):
    done = asked(folder, "check")
    assert done.returncode == 1 and "machine-lacks" in done.stdout

    done = asked(folder, "range")
    assert done.returncode == 1 and "machine-lacks" in done.stdout
    done = asked(folder, "range", "--format", "json")
    told = json.loads(done.stdout)
    assert told["knit"] == 0 and len(told["tried"]["foot-round"]) == 5


def test_nothing_is_fitted_to_a_machine_that_lacks_what_it_needs(folder):
    done = asked(folder, "fit", "--foot-round", "20cm")

    assert done.returncode == 1
    assert "machine-lacks" in done.stderr and done.stdout == ""


@pytest.mark.parametrize("words", [
    ("steps",), ("sheet", "-o", "x.html"), ("picture", "--what", "fabric", "--size", "Small", "-o",
                                           "x.svg"),
    ("needles", "--size", "Small", "--step", "1"), ("follow", "--size", "Small", "-o", "x.html")])
def test_who_prints_it_all_the_same_is_warned(folder, words):
    done = asked(folder, *words)

    assert done.returncode == 0, done.stderr
    assert "1 fault in this pattern" in done.stderr


def test_python_and_the_editor_say_the_same(folder):
    found = library.check(folder / "held.sockscript", str(folder / "old.machine"))
    assert [f.kind for f in found.findings] == ["machine-lacks"] and not found.knits

    text = SCRIPT.replace("knit 44 rows", "knit 44 rows on back")
    document = Document("held.sockscript")
    document.examine(text)
    assert [m.kind for m in diagnostics(document)] == [f.kind
                                                 for f in library.check_text(text).findings]
