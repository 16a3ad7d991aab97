"""A member's own machine: her usual one, and a profile by questions."""

from __future__ import annotations

import os
import pty
import re
import subprocess
import sys
from pathlib import Path

import pytest
from support.command import ROOT, sockscript
from support.smaller import small

from sockscript.machine.load import load_profile
from sockscript.machine.profile import Profile

SOCK = str(ROOT / "examples" / "family-sock.sockscript")
PLAIN = 'pattern "Nothing yet"\nsection "Start"\n    stitch size 5\n'


@pytest.fixture
def own(tmp_path):
    """A folder of settings, as the environment names it."""
    return {"XDG_CONFIG_HOME": str(tmp_path / "settings")}


def test_the_usual_machine_is_used_by_every_command_and_said(own, tmp_path):
    assert "is your usual machine now" in sockscript("machine", "Harbour-45", **own).stdout
    size = ("--size", "Man-M")
    few = str(tmp_path / "few.sockscript")
    Path(few).write_text(small().replace("by 1 cm", "by 7 cm").replace("by 2 cm", "by 8 cm"),
                         "utf-8")
    for words in (("check", SOCK), ("check", SOCK, "--format", "json"), ("steps", SOCK, *size),
                  ("needles", SOCK, *size, "--step", "9"), ("range", few, "--format", "csv"),
                  ("sheet", SOCK, "-o", str(tmp_path / "a.html")),
                  ("picture", SOCK, "--what", "heel", *size, "-o", str(tmp_path / "a.svg")),
                  ("follow", SOCK, *size, "-o", str(tmp_path / "b.html")),
                  ("fit", SOCK, "--foot-length", "24cm")):
        done = sockscript(*words, **own)
        assert done.returncode == 0, done.stderr
        assert (done.stdout + done.stderr).count("On your usual machine, harbour-45") == 1
    steps = sockscript("steps", SOCK, *size, **own).stdout
    assert "slip lever" in steps
    assert "slip lever" in (tmp_path / "a.html").read_text("utf-8")
    assert steps == sockscript("steps", SOCK, *size, "--machine", "harbour-45").stdout


def test_it_is_left_out_where_another_is_asked_for(own):
    sockscript("machine", "harbour-45", **own)
    plain = sockscript("steps", SOCK, "--size", "Man-M")
    done = sockscript("steps", SOCK, "--size", "Man-M", "--machine", "any", **own)
    other = sockscript("check", SOCK, "--machine", "dunlin-60", **own)

    assert (done.stdout, done.stderr) == (plain.stdout, plain.stderr)
    assert "usual" not in other.stdout + other.stderr
    assert sockscript("machine", "any", **own).returncode == 0
    assert "usual" not in sockscript("check", SOCK, **own).stdout


def test_what_the_usual_machine_has_not_is_found(own, tmp_path):
    sockscript("machine", "cottage-single", **own)
    done = sockscript("check", SOCK, **own)

    assert done.returncode == 1 and "machine-lacks" in done.stdout
    assert "On your usual machine, cottage-single (--machine any" in done.stdout
    # Nothing of the machine stands in a table of sizes.
    assert sockscript("sizes", SOCK, **own).returncode == 0


def test_a_usual_machine_that_is_gone_is_told(own, tmp_path):
    path = tmp_path / "mine.machine"
    path.write_text('machine "Mine"\n    beds 2\n    needles 150\n')
    assert sockscript("machine", "mine", cwd=tmp_path, **own).returncode == 0
    script = tmp_path / "x.sockscript"
    script.write_text(PLAIN)
    # It is found from any folder.
    assert sockscript("check", str(script), **own).returncode == 0
    path.unlink()
    done = sockscript("check", str(script), **own)

    assert done.returncode == 2 and "unreadable-file" in done.stdout
    assert "usual machine" in done.stdout


def test_the_list_shows_where_each_is_and_which_is_usual(own, tmp_path):
    (tmp_path / "bad.machine").write_text('machine "x"\n    beds 3\n    colour red\n')
    sockscript("machine", "fell-90", **own)
    out = sockscript("machine", cwd=tmp_path, **own).stdout

    assert re.search(r"(?m)^\* fell-90 +Fell 9 mm chunky double bed  \(comes with", out)
    assert re.search(r"(?m)^  bad +3 things to mend  \(bad.machine\)", out)
    assert str(tmp_path / "settings" / "sockscript") in out
    assert sockscript("machine", "bad", cwd=tmp_path, **own).returncode == 2


def typed(answers, *words, cwd, **environment):
    """What the command says to someone at a terminal who types these lines."""
    near, far = pty.openpty()
    with subprocess.Popen([sys.executable, "-m", "sockscript", *words], stdin=far, stderr=far,
                          stdout=subprocess.PIPE, text=True, cwd=cwd,
                          env={**os.environ, **environment}) as process:
        os.close(far)
        # The end of all input follows the last answer.
        os.write(near, "".join(f"{answer}\n" for answer in answers).encode() + b"\x04")
        asked = b""
        while True:
            try:
                part = os.read(near, 65536)
            except OSError:
                break
            if not part:
                break
            asked += part
        out = process.stdout.read()
    os.close(near)
    return asked.decode(), out, process.returncode


ANSWERS = ["Gale Lane", "2", "99", "100", "5,5", "5,5 mm", "1", "9", "1/4", "perhaps",
           "no", "3", "yes", "sideways", "right", "no", "yes",
           # Swatches: without a length, off the dial, and in inches.
           "60x84", "60x84/20x20cm", "", "Our \"own\" wool", "", "99", "6 1/2",
           "30x44/4in", "two words", "rib", "", "7,25", "",
           "catch up", "catch down", *[""] * 8]


def test_a_profile_by_questions_is_kept_and_found(own, tmp_path):
    asked, out, status = typed(ANSWERS, "new", "--kind", "machine", cwd=tmp_path, **own)
    path = tmp_path / "settings" / "sockscript" / "gale-lane.machine"

    assert status == 0, asked
    assert f"Written: {path}" in out and "sockscript machine gale-lane" in out
    profile = load_profile(str(path))
    assert isinstance(profile, Profile)
    assert (profile.name, profile.needles, float(profile.spacing)) == ("Gale Lane", 100, 5.5)
    assert (profile.dial_low, profile.dial_high, float(profile.dial_step)) == (1, 9, 0.25)
    assert (profile.pitches, profile.racking) == (("half",), 3)
    assert profile.settings == {"circular", "hold"}
    assert profile.front_circular == "right"
    assert profile.words == {"knit": "catch up", "rest": "catch down"}
    for said in ("even number of needles", "yes or no", "is not a swatch", "Another swatch?",
                 "The dial has no stitch size 99", "plain or rib."):
        assert said in asked
    assert [(one.fabric, one.yarn, float(one.size)) for one in profile.swatches] == [
        ("plain", "Our own wool", 6.5), ("rib", "four-ply sock wool", 7.25)]
    # 60 stitches over 20 cm are 30 in 10 cm; 30 over 4 in are 7.5 in one.
    assert "30 stitches, 42 rows per 10 cm at" in path.read_text("utf-8")
    assert "7.5 stitches, 11 rows per inch at" in path.read_text("utf-8")
    script = tmp_path / "x.sockscript"
    script.write_text(PLAIN)
    assert sockscript("check", str(script), "--machine", "gale-lane", **own).returncode == 0


def test_without_anybody_to_answer_a_profile_to_fill_in(own, tmp_path):
    out = tmp_path / "mine.machine"
    done = sockscript("new", "--kind", "machine", "--title", "Attic", "-o", str(out), **own)

    assert done.returncode == 0 and f"Written: {out}" in done.stdout
    assert load_profile(str(out)).name == "Attic"
    assert sockscript("format", "--check", str(out)).returncode == 0
    again = sockscript("new", "--kind", "machine", "-o", str(out), **own)
    assert again.returncode == 2 and "not written over" in again.stderr
    # A line whose # is taken away is used.
    text = out.read_text("utf-8").replace("# words", "words").replace("# rest", "rest")
    out.write_text(text, "utf-8")
    assert load_profile(str(out)).words == {"rest": "a bed that does not knit"}


def test_one_bed_is_not_asked_about_the_other(own, tmp_path):
    asked, _, status = typed(["Solo", "1", *[""] * 30], "new", "--kind", "machine", "-o",
                             "solo.machine", cwd=tmp_path, **own)

    assert status == 0 and "racked" not in asked and "circular" not in asked
    assert load_profile(str(tmp_path / "solo.machine")).beds == 1
