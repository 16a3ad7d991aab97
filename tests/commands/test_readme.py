"""What the README shows is what the program prints."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text("utf-8")
SHOWN = re.findall(r"```\n\$ sockscript ([^\n]+)\n(.*?)```", README, re.S)


@pytest.mark.parametrize("command, lines", SHOWN, ids=[command[:40] for command, _ in SHOWN])
def test_the_output_shown_is_real(command, lines, tmp_path):
    # Run beside the examples, but not where the source tree would be imported.
    (tmp_path / "examples").symlink_to(ROOT / "examples")
    done = subprocess.run([sys.executable, "-m", "sockscript", *command.split()],
                          capture_output=True, text=True, cwd=tmp_path, check=False)
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
    commands = re.findall(r"```sh\n(.*?)\n```", README, re.S)

    assert commands[:2] == [
        "pip install . && sockscript steps examples/family-sock.sockscript",
        "pip install '.[test]' && pytest"]
