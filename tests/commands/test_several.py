"""Folders, several scripts, and files that have techniques only."""

from __future__ import annotations

from pathlib import Path

import pytest
from commands.test_cli import sockscript

ROOT = Path(__file__).resolve().parents[2]
TOE = ("# Ours.\ntechnique our-toe with leave\n    repeat until leave stitches on front\n"
       "        move 1 stitch at left of front in\n        knit 1 row\n")


@pytest.fixture
def folder(tmp_path):
    """Two sound scripts, techniques, one with a fault and one that cannot be read."""
    (tmp_path / "more").mkdir()
    (tmp_path / ".old").mkdir()
    for name in ("bag", "flat-square"):
        (tmp_path / f"{name}.sockscript").write_text(
            (ROOT / "tests" / "sound" / f"{name}.sockscript").read_text("utf-8"), "utf-8")
    (tmp_path / "toes.sockscript").write_text(TOE, "utf-8")
    for name, where in (("not-hung", "more"), ("unknown-word", "more"), ("open-quote", ".old")):
        (tmp_path / where / f"{name}.sockscript").write_text(
            (ROOT / "examples" / "broken" / f"{name}.sockscript").read_text("utf-8"), "utf-8")
    return tmp_path


def test_all_scripts_of_a_folder_are_checked_and_the_bad_ones_named_at_the_end(folder):
    done = sockscript("check", ".", cwd=folder)
    told = " ".join(done.stdout.split())

    assert done.returncode == 2
    assert told.endswith(" 5 scripts: 3 clean; something was found in more/not-hung.sockscript; "
                         "not checked: more/unknown-word.sockscript.")
    assert "open-quote" not in done.stdout


def test_a_folder_that_is_clean_says_so(folder):
    for bad in (folder / "more").iterdir():
        bad.unlink()
    done = sockscript("check", str(folder))

    assert done.returncode == 0
    assert done.stdout.strip().endswith("all 3 scripts are clean.")


def test_a_folder_without_scripts_is_told(tmp_path):
    done = sockscript("check", str(tmp_path))

    assert done.returncode == 2 and "no script in" in done.stderr


def test_one_script_has_no_total(folder):
    done = sockscript("check", str(folder / "bag.sockscript"))

    assert "scripts" not in done.stdout.splitlines()[-1]


def test_techniques_alone_check_clean(folder):
    done = sockscript("check", str(folder / "toes.sockscript"))

    assert done.returncode == 0 and "techniques only" in done.stdout


def test_techniques_with_a_slip_do_not(folder):
    path = folder / "toes.sockscript"
    path.write_text(TOE.replace("knit 1 row", "knitt 1 row"), "utf-8")

    assert sockscript("check", str(path)).returncode == 2
    path.write_text(TOE.replace("knit 1 row", "do our-hem"), "utf-8")
    done = sockscript("check", str(path))
    assert done.returncode == 2 and "unknown-technique" in done.stdout


@pytest.mark.parametrize("command", [("steps",), ("sizes",), ("numbers",), 
    ("sheet", "-o", "a.html"),
                                     ("needles", "--step", "1"), ("follow", "-o", "a.html"),
                                     ("picture", "--what", "beds", "-o", "a.svg")])
def test_nothing_is_printed_from_techniques_alone(folder, command):
    done = sockscript(command[0], "toes.sockscript", *command[1:], cwd=folder)

    assert done.returncode == 2 and "only techniques" in done.stderr and done.stdout == ""


def test_a_yarn_that_is_missing_is_named_in_the_hint(tmp_path):
    path = tmp_path / "a.sockscript"
    path.write_text('pattern "x"\nyarn blue "wool"\nsection "S"\n'
                    "    do tubular-cast-on with around = 40\n    cut yarn\n", "utf-8")
    out = sockscript("check", str(path)).stdout

    assert "Add  , yarn = blue" in out and "'cut' alone cuts the yarn in the feeder" in out
