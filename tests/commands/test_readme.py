"""What the README shows is what the program prints."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from support.command import sockscript

from sockscript import __version__
from sockscript.pictures.kinds import KINDS

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text("utf-8")
SHOWN = re.findall(r"```\n\$ sockscript ([^\n]+)\n(.*?)```", README, re.S)


@pytest.mark.parametrize("command, lines", SHOWN, ids=[command[:40] for command, _ in SHOWN])
def test_the_output_shown_is_real(command, lines, tmp_path):
    # Run beside the examples, but not where the source tree would be imported.
    (tmp_path / "examples").symlink_to(ROOT / "examples")
    sock = (ROOT / "examples" / "family-sock.sockscript").read_text("utf-8")
    (tmp_path / "my-sock.sockscript").write_text(sock.replace("less 10%", "less 5%"), "utf-8")
    # As wide as what is printed into a pipe.
    done = subprocess.run([sys.executable, "-m", "sockscript", *command.split()],
                          capture_output=True, text=True, cwd=tmp_path, check=False,
                          env={**os.environ, "COLUMNS": "80",
                               "XDG_CACHE_HOME": str(tmp_path / "cache")})
    rest = done.stdout
    for line in lines.splitlines():
        if line.strip() and line.strip() != "…":
            assert line in rest, line
            rest = rest[rest.index(line):]


def test_there_is_something_shown():
    assert len(SHOWN) >= 4


def test_the_script_in_the_tour_is_from_the_example():
    sock = (ROOT / "examples" / "family-sock.sockscript").read_text("utf-8")
    piece = re.search(r"```\n(section .*?)```", README, re.S)

    assert piece is not None and piece.group(1) in sock


def test_the_first_page_has_the_two_commands():
    # Each stands by itself: Debian lets nothing be installed outside an environment of its own
    # ("externally managed", PEP 668).
    for command, last in zip(re.findall(r"```sh\n(.*?)\n```", README, re.S)[:2],
                             ["sockscript steps examples/family-sock.sockscript", "pytest"],
                             strict=True):
        words = command.split(" && ")
        assert words[:2] == ["python3 -m venv .venv", ". .venv/bin/activate"]
        assert words[2].startswith("pip install ") and words[3:] == [last]
        assert "\n" not in command


def test_the_check_of_everything_takes_its_commands_from_the_first_page():
    runs = (ROOT / ".ci" / "run").read_text("utf-8")

    assert "README.md" in runs and 'bash -c "${commands[0]}"' in runs
    assert 'bash -c "${commands[1]}"' in runs


def test_every_kind_of_picture_is_told():
    told = " ".join(sockscript("picture", "--help").stdout.split())

    for kind in KINDS:
        assert f"`{kind}`" in README and kind in told, kind


def test_what_changed_begins_with_this_version():
    changed = README.partition("\n## What changed\n")[2]

    assert re.findall(r"^\*\*(\d+\.\d+\.\d+)\*\*", changed, re.M)[:1] == [__version__]
