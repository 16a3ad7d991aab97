"""The story of two members in the README: what it shows is what the program prints."""

from __future__ import annotations

import re

from support.command import ROOT
from support.command import here as sockscript

README = (ROOT / "README.md").read_text("utf-8")
OWN = re.search(r"```sockscript\n(builds on .*?)```", README, re.S)[1]
"""The script that Ben writes."""
BLOCKS = re.findall(r"```\n((?:ada|ben)\$ .*?)```", README, re.S)


def steps():
    """Who, the command, and the lines that are shown of what it prints."""
    for block in BLOCKS:
        for part in re.split(r"(?m)^(?=(?:ada|ben)\$ )", block):
            if part:
                who, rest = part.split("$ sockscript ", 1)
                command, _, shown = rest.partition("\n")
                yield who, command.split(), shown.splitlines()


def test_each_command_prints_what_is_shown(tmp_path):
    (tmp_path / "examples").symlink_to(ROOT / "examples")
    (tmp_path / "bens-lantern.sockscript").write_text(OWN, "utf-8")
    told = list(steps())
    assert len(told) == 9
    for who, command, lines in told:
        done = sockscript(*command, cwd=tmp_path, COLUMNS="80",
                          SOCKSCRIPT_KEYS=str(tmp_path / f"{who}-keys"))
        assert done.stderr == "", command
        rest = done.stdout
        for line in lines:
            wanted = line if line.startswith("    sockscript") else line.split("…")[0]
            if wanted.strip():
                assert wanted in rest, (command, line)
                rest = rest[rest.index(wanted) + len(wanted):]
