"""What is printed fits the terminal, from 50 columns up."""

from __future__ import annotations

import json
import os
import pty
import re
import subprocess
import sys
from contextlib import suppress
from itertools import pairwise
from pathlib import Path

import pytest

from sockscript import cli
from sockscript.text import width

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SCRIPTS = sorted(path.name for path in EXAMPLES.glob("*.sockscript"))
FAMILY = "family-sock.sockscript"


def printed(arguments, columns, monkeypatch, capsys) -> list[str]:
    """The lines of a command in a terminal of so many columns."""
    monkeypatch.chdir(EXAMPLES)
    monkeypatch.setenv("COLUMNS", str(columns))
    monkeypatch.setattr("sys.argv", ["sockscript", *arguments])
    try:
        cli.run()
    finally:
        width.settle(None)
    out, err = capsys.readouterr()
    assert len(out) > 40, err
    return out.splitlines()


def too_wide(lines, columns) -> list[str]:
    """Lines of more columns, unless they are one word or a line to stand in a script (four blanks
    deep in the example of a page)."""
    return [line for line in lines if len(line) > columns and len(line.split()) > 1
            and not re.match(r"  [ +-] {4,}[a-z]|    swatch ", line)]


@pytest.mark.parametrize("columns", [50, 64, 80, 120])
@pytest.mark.parametrize("arguments", [
    ["check", FAMILY], ["steps", FAMILY], ["steps", FAMILY, "--every-row", "--size", "Man-L"],
    ["sizes", FAMILY], ["needles", FAMILY, "--size", "Man-L", "--step", "18"],
    ["needles", FAMILY, "--size", "Man-L", "--row", "4"],
    ["numbers", FAMILY, "--size", "Woman-M"], ["explain"], ["explain", "weights-not-moved"],
    ["swatch", "60x84/20x20cm", "--washed", "60x84/19x18.5cm"],
    ["compare", FAMILY, "toe-up-sock.sockscript"], ["fit", FAMILY, "--foot-length", "24cm"],
    ["machine"], ["explain", "wedge-toe"],
    ["check", "broken/transfer-to-idle-needle.sockscript"]], ids=" ".join)
def test_every_command_fits_the_terminal(arguments, columns, monkeypatch, capsys):
    assert too_wide(printed(arguments, columns, monkeypatch, capsys), columns) == []


@pytest.mark.parametrize("arguments", [
    ["fit", FAMILY, "--shoe", "moon 3"], ["catalogue", ".", "--gauge", "x"],
    ["steps", "broken/unknown-word.sockscript"]], ids=" ".join)
def test_what_is_refused_fits_the_terminal(arguments):
    near, far = pty.openpty()
    done = subprocess.run([sys.executable, "-m", "sockscript", *arguments], cwd=EXAMPLES,
                          stderr=far, stdout=subprocess.PIPE, timeout=60, check=False,
                          env={**os.environ, "COLUMNS": "50"})
    os.close(far)
    with suppress(OSError):  # what is left to read ends so on Linux
        said = os.read(near, 65536).decode()
    os.close(near)
    told = said.splitlines()

    assert done.returncode == 2 and len(told) > 2
    assert [line for line in told if len(line) > 50 and not line.startswith("For example:")] == []
    # A line of a script stands as it was written, with its place under it.
    if arguments[0] == "steps":
        assert re.search(r"(?m)^ +\d+ \| ", said)


@pytest.mark.parametrize("name", SCRIPTS)
@pytest.mark.parametrize("command", [["check"], ["steps", "--all-choices"], ["sizes"]],
                         ids=lambda words: words[0])
def test_every_example_fits_50_columns(name, command, monkeypatch, capsys):
    lines = printed([command[0], name, *command[1:]], 50, monkeypatch, capsys)

    assert too_wide(lines, 50) == []


STRIP = '''pattern "A strip for nothing in particular, as long as its title"
version 1
yarn main "four-ply sock wool" 400 m per 100 g
gauge plain 30 stitches, 42 rows per 10 cm
sizes            Small   Large
    foot-length  22      26 cm
works for
    foot-length  20 to 30 cm by 2 cm
let wide = stitches(foot-length / 3)
section "Strip" in plain
    bring centre wide of front into work
    set front to knit
    thread main
    cast on front
    knit rows(foot-length) rows
    cut
    gather front
'''
LOG = {"form": "sockscript-log-1",
       "title": "A strip for nothing in particular, as long as its title", "version": "1",
       "size": "Large", "choices": "", "machine": "", "mark": "",
       "fingerprint": "", "knitter": "Ada Quillfeather of the Tuesday club", "sock": "the first",
       "began": "", "ended": "", "measured": {"weight": 9, "foot": 9},
       "notes": [{"section": "Strip", "step": 1, "counter": 12, "at": "",
                  "words": "the yarn broke and I had to hang twelve stitches again"}],
       "times": [{"section": "Strip", "step": 4, "seconds": 4000, "pauses": 0, "rows": 92,
                  "row-seconds": 300}]}


def test_what_is_told_of_other_files_fits_too(tmp_path, monkeypatch, capsys):
    for name in ("XDG_CACHE_HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME"):
        monkeypatch.setenv(name, str(tmp_path / "own"))
    club = tmp_path / "club"
    club.mkdir()
    script, log, pack = (club / name for name in ("s.sockscript", "s.log.json", "s.sockpack"))
    script.write_text(STRIP, "utf-8")
    log.write_text(json.dumps(LOG), "utf-8")
    (club / "slip.sockscript").write_text("pattern Slip", "utf-8")
    monkeypatch.chdir(club)
    wide = {}
    for words in (["pack", script, "-o", pack], ["open", pack], ["logs", script, log],
                  ["range", script], ["catalogue", club], ["catalogue", club, "--trouble"],
                  ["fit", script, "--foot-length", "23cm"], ["check", club], ["key"],
                  ["machine", "fell-90"], ["check", script], ["explain", "no-such-word"]):
        monkeypatch.setattr("sys.argv", ["sockscript", *map(str, words)])
        monkeypatch.setenv("COLUMNS", "50")
        cli.run()
        width.settle(None)
        lines = "".join(capsys.readouterr()).replace(f"{club}", "club").splitlines()
        assert lines
        wide[words[0]] = too_wide(lines, 50)

    assert {name: lines for name, lines in wide.items() if lines} == {}


def test_what_is_piped_has_80_columns(tmp_path):
    done = subprocess.run([sys.executable, "-m", "sockscript", "steps", FAMILY], cwd=EXAMPLES,
                          capture_output=True, text=True, timeout=60, check=True,
                          env={**os.environ, "COLUMNS": ""})

    assert 76 < max(map(len, done.stdout.splitlines())) <= 80


def test_no_number_is_parted_from_its_unit():
    width.settle(50)
    try:
        for blanks in range(30):
            lines = width.wrapped(f"{'x' * blanks} then knit on for 12½ in or 33 cm, 4 %, 60 g")
            assert [line for line in lines if re.search(r"[\d½]$", line)] == []
    finally:
        width.settle(None)


def test_narrower_than_50_is_50_and_a_wide_terminal_is_not_filled(monkeypatch, capsys):
    assert max(map(len, printed(["steps", FAMILY], 20, monkeypatch, capsys))) > 45
    assert max(map(len, printed(["steps", FAMILY], 400, monkeypatch, capsys))) <= 88


def test_beds_are_cut_between_needles_each_part_with_its_ruler(monkeypatch, capsys):
    wide = printed(["needles", FAMILY, "--size", "Man-L", "--step", "10"], 88, monkeypatch, capsys)
    narrow = printed(["needles", FAMILY, "--size", "Man-L", "--step", "10"], 50, monkeypatch,
                     capsys)

    def beds(lines):
        return ["".join(line[6:] for line in lines if line.startswith(name))
                for name in ("back ", "front ")]

    assert beds(wide) == beds(narrow) and len(beds(wide)[0]) > 60
    for lines, parts in ((wide, 1), (narrow, 2)):
        backs = [n for n, line in enumerate(lines) if line.startswith("back ")]
        assert len(backs) == parts
        assert all(set(lines[n - 1]) == {" ", "|"} and "L" in lines[n - 2] + "L" for n in backs)


def test_a_wide_table_is_cut_into_even_parts():
    width.settle(50)
    try:
        parts = width.parts_of_table(14, [9] * 9)
    finally:
        width.settle(None)

    # 36 columns are left: four of nine a part, so three parts, of three each.
    assert [len(part) for part in parts] == [3, 3, 3]
    assert all(a.stop == b.start for a, b in pairwise(parts))
