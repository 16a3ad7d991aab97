"""What nobody sees in a script or on a command line moves no screen and fools no reader."""

from __future__ import annotations

import csv
import io
import json
import os
import pty
import re
import shutil
import subprocess
import sys
from random import Random

import pytest
from support.command import ROOT, sockscript

from attack.corpus import of_few_sizes
from sockscript.commands.check import check_file, report
from sockscript.text.visible import visible

SOCK = of_few_sizes(Random(1), (ROOT / "examples" / "flat-sock.sockscript").read_text("utf-8"))
TITLE = re.search(r'^pattern "(.*)"', SOCK, re.M)[1]
SIZE = re.search(r"^sizes +(\S+)", SOCK, re.M)[1]
CONTROLS = [chr(code) for code in (*range(1, 9), 11, 12, *range(14, 32), 127, *range(128, 160),
                                   0x2028, 0x2029, 0xfffe)]
DIRECTIONS = [chr(code) for code in (*range(0x202a, 0x202f), *range(0x2066, 0x206a))]
UNSEEN = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ufffe]")


def script(tmp_path, odd, text=SOCK):
    """A whole sock with something in its title, the name of a size and a step."""
    path = tmp_path / "odd.sockscript"
    path.write_text(text.replace(TITLE, f"Odd{odd}Sock", 1), "utf-8", newline="")
    return path


@pytest.mark.parametrize("odd", CONTROLS, ids=lambda odd: f"{ord(odd):04x}")
def test_a_control_character_in_a_script_is_told_with_its_place(odd, tmp_path):
    checked = check_file(script(tmp_path, odd), None)

    problem = next(p for p in checked.problems if p.kind == "control-character")
    line = next(n for n, text in enumerate(SOCK.split("\n"), 1) if TITLE in text)
    assert (problem.at.line, problem.at.start) == (line, len('pattern "Odd') + 1)
    assert f"U+{ord(odd):04X}" in problem.message
    assert not UNSEEN.search(report(checked))


@pytest.mark.parametrize("where", ["# a comment {}\n", 'use "x{}.sockscript"\n', "{}\n",
                                   'yarn main{} "wool"\n'])
def test_it_is_told_wherever_it_stands(where, tmp_path):
    path = tmp_path / "a.sockscript"
    path.write_text(SOCK + where.format("\x1b[2J"), "utf-8")

    assert "control-character" in [p.kind for p in check_file(path, None).problems]


@pytest.mark.parametrize("odd", [
    "\u200b", "\u2060", "\ufeff", "\u00ad", "\u3164", "\u115f", "\u034f", "\u200d", "\u200c",
    "\U000e0041"], ids=lambda odd: f"{ord(odd):04x}")
def test_a_letter_without_width_is_told_and_shown(odd, tmp_path):
    # Of two names that look the same one would be another: in words and in names of values.
    for text in (SOCK.replace(TITLE, f"Odd{odd}Sock", 1),
                 SOCK.replace("let flank", f"let fl{odd}ank", 1)):
        path = tmp_path / "odd.sockscript"
        path.write_text(text, "utf-8")
        checked = check_file(path, None)

        problem = next(p for p in checked.problems if p.kind == "control-character")
        assert f"U+{ord(odd):04X}" in problem.message
        assert odd not in report(checked) and "\ufffd" in report(checked)
    assert sockscript("check", "--mend", "--yes", str(path)).returncode == 0
    assert path.read_text("utf-8") == SOCK


@pytest.mark.parametrize("words", ["می\u200cخواهم", "👩\u200d🌾", "क्\u200dष",
                                   "🏴\U000e0067\U000e007f"])
def test_joiners_stay_where_they_join(words, tmp_path):
    assert not check_file(script(tmp_path, words), None).problems


def test_it_is_mended_without_touching_anything_else(tmp_path):
    path = script(tmp_path, "\x1b")

    assert sockscript("check", "--mend", "--yes", str(path)).returncode == 0
    assert path.read_text("utf-8") == SOCK.replace(TITLE, "OddSock", 1)


def test_a_machine_profile_is_read_as_strictly(tmp_path):
    path = tmp_path / "odd.machine"
    path.write_text('machine "My\x1b[2Jbed"\n    beds 2\n    needles 180\n', "utf-8")
    done = sockscript("check", str(ROOT / "examples" / "flat-sock.sockscript"),
                      "--machine", str(path))

    assert done.returncode == 2 and "control-character" in done.stdout
    assert not UNSEEN.search(done.stdout + done.stderr)


EVERY_FORM = [
    ["check"], ["check", "--format", "json"], ["check", "--format", "sarif"],
    ["check", "--format", "lines"], ["steps"], ["steps", "--format", "markdown"],
    ["steps", "--format", "json"], ["steps", "--every-row"], ["sizes", "--format", "csv"],
    ["sizes", "--format", "json"], ["sizes"], ["sizes", "--format", "markdown"]]
WRITTEN = [["sheet", "-o", "out.html", "--with-script"], ["follow", "--size", SIZE, "-o",
           "out.html"], ["picture", "--what", "heel", "--size", SIZE, "-o", "out.svg"],
           ["steps", "-o", "out.txt"], ["sizes", "-o", "out.csv"]]


def test_what_turns_the_direction_of_writing_is_shown_in_every_form(tmp_path):
    path = script(tmp_path, "".join(DIRECTIONS), SOCK + "# \u202e a comment\n")

    for command, *options in EVERY_FORM:
        done = sockscript(command, str(path), *options)
        assert done.returncode == 0, done.stderr
        assert not UNSEEN.search(done.stdout + done.stderr), (command, options)
    for command, *options in WRITTEN:
        done = sockscript(command, str(path), *options, cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        text = (tmp_path / options[options.index("-o") + 1]).read_text("utf-8")
        assert not UNSEEN.search(text), (command, options)
        assert "odd\ufffd" in text.lower() or command == "sizes"


def test_a_pdf_and_a_png_are_made_all_the_same(tmp_path):
    path = script(tmp_path, "\u202e")

    for command, *options in (["sheet", "-o", "out.pdf"], [
            "picture", "--what", "heel", "--size", SIZE, "-o", "out.png"]):
        done = sockscript(command, str(path), *options, cwd=tmp_path)
        assert done.returncode == 0, done.stderr


def test_laying_out_and_mending_keep_what_the_author_wrote(tmp_path):
    path = script(tmp_path, "\u202e\u2067", SOCK.replace("section", "section ", 1))

    assert sockscript("format", str(path)).returncode == 0
    assert "Odd\u202e\u2067Sock" in path.read_text("utf-8")


ODD = "x\x1b]0;owned\x07\x1b[2J\u202e\x9b31m"


@pytest.mark.parametrize("arguments", [
    ["check", ODD], ["check", "FILE", "--machine", ODD], ["steps", "FILE", "--size", ODD],
    ["steps", "FILE", "--choose", f"{ODD}={ODD}"], ["steps", "FILE", "--format", ODD],
    ["steps", "FILE", "-o", ODD], ["fit", "FILE", f"--{ODD}", "1"], ["fit", "FILE", "--shoe", ODD],
    ["swatch", ODD], ["swatch", "60x84/20x20cm", "--fabric", ODD], ["explain", ODD],
    ["new", "--kind", ODD], ["new", "--title", ODD, "--author", ODD], ["new", "--from", ODD],
    ["picture", "FILE", "--what", ODD, "-o", "a.svg"], [ODD], ["check", f"--{ODD}"],
    ["needles", "FILE", "--step", ODD]])
def test_words_of_a_command_line_are_shown_as_marks(arguments, tmp_path):
    path = shutil.copy(ROOT / "examples" / "flat-sock.sockscript", tmp_path / "a.sockscript")
    done = sockscript(*(str(path) if word == "FILE" else word for word in arguments), cwd=tmp_path)

    assert "mistake in sockscript" not in done.stderr
    assert not UNSEEN.search(done.stdout + done.stderr), done.stdout + done.stderr


def test_a_terminal_gets_our_colours_and_no_other_codes(tmp_path):
    path = tmp_path / "\x1b[8mhidden.sockscript"
    path.write_text('section "Leg"\n    kint \x1b[31m 2 rows\n', "utf-8")
    ours, theirs = pty.openpty()
    with subprocess.Popen([sys.executable, "-m", "sockscript", "check", str(path)], stdout=theirs,
                          stderr=theirs, env={**os.environ, "TERM": "xterm", "NO_COLOR": ""}):
        os.close(theirs)
        shown = b""
        while True:
            try:
                more = os.read(ours, 4096)
            except OSError:
                break
            if not more:
                break
            shown += more
    os.close(ours)
    text = shown.decode("utf-8").replace("\r\n", "\n")

    assert "\x1b[1;31mCANNOT READ\x1b[0m" in text
    assert not UNSEEN.search(re.sub("\x1b\\[(0|1|2|32|36|1;3[136])m", "", text))
    assert "\x1b[8m" not in text and "\x1b[31m" not in text


def test_the_terminal_s_filter_knows_all_our_colours():
    from sockscript.commands.streams import _OWN
    from sockscript.findings import paint

    codes = {"0", "1", "1;31", *paint._SEVERITIES.values(), *paint._KINDS.values()}
    assert all(_OWN.fullmatch(f"\x1b[{code}m") for code in codes)


def test_cells_are_never_taken_for_a_formula(tmp_path):
    text = ('yarn main "=1+1"\ngauge plain 30 stitches, 42 rows per 10 cm\n'
            'sizes "=HYPERLINK(1)" "+S" "-5" "@x"\n    foot-round 20 20 20 20 cm\n'
            'section "-cmd|1"\n    half pitch\nsection "=2"\n    half pitch\n')
    path = tmp_path / "a.sockscript"
    path.write_text(text, "utf-8")
    done = sockscript("sizes", str(path), "--format", "csv")

    assert done.returncode == 0, done.stderr
    cells = [cell for row in csv.reader(io.StringIO(done.stdout)) for cell in row]
    assert not [cell for cell in cells if re.match(r"[=@+]|-(?!\d+(\.\d+)?$)", cell)]
    assert "'=HYPERLINK(1)" in cells


def test_json_keeps_every_letter_and_says_them_in_numbers(tmp_path):
    path = script(tmp_path, "\u202e")
    done = sockscript("steps", str(path), "--format", "json")

    assert "Odd\ufffdSock" in json.loads(done.stdout)["title"]


@pytest.mark.parametrize("text, shown", [
    ("a\tb\nc", "a\tb\nc"), ("\x00\x1b\x7f", "\u2400\u241b\u2421"), ("\x9b\u202e", "\ufffd\ufffd"),
    ("קוֹל\u200f שׁ 🏴󠁧󠁢󠁥󠁮󠁧󠁿 👩‍🌾", "קוֹל\u200f שׁ 🏴󠁧󠁢󠁥󠁮󠁧󠁿 👩‍🌾")])
def test_marks_stand_for_what_is_not_seen_and_nothing_else(text, shown):
    assert visible(text) == shown and len(visible(text)) == len(text)


def test_a_technique_and_a_profile_from_elsewhere_smuggle_nothing(tmp_path):
    odd = "\u202e\u2066"
    (tmp_path / "tech.sockscript").write_text(
        f'technique odd-one\n    step "Lift{odd}it."\n        half pitch\n', "utf-8")
    (tmp_path / "a.sockscript").write_text(
        'pattern "A"\nuse "tech.sockscript"\nsection "Leg"\n'
        "    do odd-one\n    full pitch\n", "utf-8")
    (tmp_path / "my.machine").write_text(re.sub(
        r'"([^"]*)"', rf'"\1{odd}"',
        (ROOT / "sockscript/machines/fell-90.machine").read_text("utf-8")), "utf-8")
    texts = []
    for command, *options in (["steps"], ["steps", "-o", "a.md"], ["sheet", "-o", "a.html"],
                              ["check", "--format", "sarif"]):
        done = sockscript(command, "a.sockscript", "--machine", "my.machine", *options,
                          cwd=tmp_path)
        assert done.returncode in (0, 1), done.stderr
        texts += [done.stdout, done.stderr]
    texts += [(tmp_path / name).read_text("utf-8") for name in ("a.md", "a.html")]

    assert not any(UNSEEN.search(text) for text in texts)
    assert all("Lift\ufffd\ufffdit" in text for text in (texts[0], *texts[-2:]))
