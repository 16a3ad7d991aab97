"""A full disk, a closed output and odd file names are told as what they are."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest
from support.command import ROOT, sockscript

from sockscript.cli import _dispatch

FLAT = ROOT / "examples" / "flat-sock.sockscript"
COMMANDS = [["check", str(FLAT)], ["steps", str(FLAT)], ["sizes", str(FLAT)], ["--help"],
            ["explain"], ["check", str(FLAT), "--format", "json"]]


@pytest.mark.parametrize("arguments", COMMANDS)
def test_a_full_disk_is_no_mistake_of_the_program(arguments):
    with open("/dev/full", "w") as full:
        done = subprocess.run([sys.executable, "-m", "sockscript", *arguments], stdout=full,
                              stderr=subprocess.PIPE, text=True, cwd=ROOT / "tests", check=False)

    assert done.returncode == 2
    assert "No space left" in done.stderr and "room" in done.stderr
    assert "mistake" not in done.stderr and "Exception" not in done.stderr


@pytest.mark.parametrize("arguments", COMMANDS)
def test_a_closed_output_is_no_mistake_of_the_program(arguments):
    done = subprocess.run(["sh", "-c", 'exec "$@" >&-', "sh", sys.executable, "-m", "sockscript",
                           *arguments], capture_output=True, text=True, cwd=ROOT / "tests",
                          check=False)

    assert done.returncode == 2 and "closed" in done.stderr
    assert "mistake" not in done.stderr and "Exception" not in done.stderr


def test_with_a_closed_output_a_file_is_written_all_the_same(tmp_path):
    done = subprocess.run(["sh", "-c", 'exec "$@" >&- 2>&-', "sh", sys.executable, "-m",
                           "sockscript", "steps", str(FLAT), "-o", str(tmp_path / "a.txt")],
                          capture_output=True, text=True, cwd=ROOT / "tests", check=False)

    assert done.returncode == 0
    assert (tmp_path / "a.txt").stat().st_size > 1000


def test_a_file_name_that_is_not_utf_8(tmp_path):
    name = os.fsencode(tmp_path) + b"/caf\xe9.sockscript"
    with open(name, "wb") as file:
        file.write(FLAT.read_bytes())
    for options in ([], ["--format", "json"], ["--format", "sarif"], ["--format", "lines"]):
        done = sockscript("check", os.fsdecode(name), *options)
        assert done.returncode == 0, done.stderr
        assert done.stderr == ""
    done = sockscript("steps", os.fsdecode(name), "-o", os.fsdecode(os.fsencode(tmp_path)
                                                                   + b"/\xff.txt"))
    assert done.returncode == 0 and done.stderr == ""
    assert "caf\ufffd" in sockscript("check", os.fsdecode(name)).stdout


def test_a_name_that_no_file_can_have_after_use(tmp_path):
    path = tmp_path / "a.sockscript"
    (tmp_path / "loop.sockscript").symlink_to("loop.sockscript")
    for odd in ("x\x00y", "loop", "a" * 300, "\ud800".encode("utf-8", "surrogatepass").decode(
            "latin-1")):
        path.write_text(f'use "{odd}.sockscript"\nsection "x"\n    half pitch\n', "utf-8")
        done = sockscript("check", str(path))
        assert done.returncode == 2 and "mistake" not in done.stderr, done.stderr


def test_an_editor_s_address_with_a_nul():
    from sockscript.service.server import SockscriptServer, _path_in

    assert _path_in("file:///tmp/a%00b.sockscript") is None
    assert SockscriptServer().text_of("file:///tmp/a%00b.sockscript").lines == []


def test_numbers_of_thousands_of_digits_on_the_command_line():
    for arguments in (["swatch", "9" * 5000 + "x84/20x20cm"], ["new", "--gauge", "9" * 500 + "x1"],
                      ["fit", str(FLAT), "--foot-length", "9" * 5000 + "cm"],
                      ["needles", str(FLAT), "--step", "9" * 5000]):
        done = sockscript(*arguments)
        assert done.returncode == 2 and "mistake" not in done.stderr, done.stderr


@pytest.mark.parametrize("option", ["--size", "--author", "--licence", "--technique",
                                    "--fingerprint", ""])
def test_letters_that_are_no_text_find_nothing(option, tmp_path, monkeypatch, capsys):
    # A letter typed in another coding reaches a program as half of a letter.
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    (tmp_path / "a.sockscript").write_bytes(b'pattern "A"\nsection "Leg"\n    half pitch\n')
    asked = [option, "Maim\udce9"] if option else ["Maim\udce9"]

    assert _dispatch(["catalogue", str(tmp_path), *asked]) in (1, 2)
    assert "damaged" not in capsys.readouterr().err
