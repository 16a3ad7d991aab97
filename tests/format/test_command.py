"""The command as a person types it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
BROKEN = ROOT / "examples" / "broken" / "unknown-word.sockscript"
CROOKED = 'PATTERN "A"\n\n\nlet a=2 1/2 inches\n'
STRAIGHT = 'pattern "A"\n\nlet a = 2½ in\n'


def sockscript(*arguments):
    return subprocess.run([sys.executable, "-m", "sockscript", "format", *map(str, arguments)],
                          capture_output=True, text=True, timeout=60, check=False)


def test_it_writes_the_layout_and_then_has_nothing_to_do(tmp_path):
    script = tmp_path / "a.sockscript"
    script.write_text(CROOKED, "utf-8")

    first, second = sockscript(script), sockscript(script)

    assert (first.returncode, second.returncode) == (0, 0)
    assert script.read_text("utf-8") == STRAIGHT
    assert "laid out anew" in first.stdout and "laid out already" in second.stdout


def test_check_and_diff_write_nothing_and_the_status_tells(tmp_path):
    script, good = tmp_path / "a.sockscript", tmp_path / "b.sockscript"
    script.write_text(CROOKED, "utf-8")
    good.write_text(STRAIGHT, "utf-8")

    checked, shown = sockscript("--check", good, script), sockscript("--diff", good, script)

    assert script.read_text("utf-8") == CROOKED
    assert (checked.returncode, shown.returncode) == (1, 1)
    assert sockscript("--check", good).returncode == sockscript("--diff", good).returncode == 0
    assert f"{script}: would be laid out anew" in checked.stdout
    assert '-let a=2 1/2 inches\n+let a = 2½ in\n' in shown.stdout
    assert str(good) not in shown.stdout


def test_a_missing_end_of_the_last_line_is_told(tmp_path):
    script = tmp_path / "a.sockscript"
    script.write_text(STRAIGHT.rstrip("\n"), "utf-8")

    assert "only the end" in sockscript("--diff", script).stdout


def test_line_ends_of_another_computer_are_no_reason_to_write(tmp_path):
    script = tmp_path / "a.sockscript"
    data = b"\xef\xbb\xbf" + STRAIGHT.replace("\n", "\r\n").encode()
    script.write_bytes(data)

    assert sockscript(script).returncode == 0
    assert script.read_bytes() == data


def test_a_script_with_slips_is_left_and_the_others_are_laid_out(tmp_path):
    spoiled, script = tmp_path / "a.sockscript", tmp_path / "b.sockscript"
    spoiled.write_bytes(BROKEN.read_bytes())
    script.write_text(CROOKED, "utf-8")

    done = sockscript(spoiled, script, tmp_path / "none.sockscript")

    assert done.returncode == 2
    assert "unknown-word" in done.stdout and "mend it first" in done.stdout
    assert "no such file" in done.stdout
    assert spoiled.read_bytes() == BROKEN.read_bytes()
    assert script.read_text("utf-8") == STRAIGHT


def test_a_folder_is_told(tmp_path):
    done = sockscript(tmp_path)

    assert done.returncode == 2 and "This is a folder" in done.stdout


def test_without_files_it_says_what_it_wants():
    done = sockscript()

    assert done.returncode == 2 and "at least one script" in done.stderr
