"""A nought in place of any number at the head of a pattern brings no command down."""

from __future__ import annotations

import re
from random import Random

import pytest
from support.command import ROOT

from attack.corpus import in_thick_yarn, of_few_sizes
from sockscript.cli import _dispatch

EXAMPLES = sorted((ROOT / "examples").glob("*.sockscript"))
COMMANDS = {"check": [], "sizes": [], "fit": ["--shoe", "eu 39"],
            "picture": ["--what", "sock", "-o", "a.svg"]}


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_a_nought_anywhere_at_the_head(path, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    random = Random(path.stem)
    text = in_thick_yarn(random, of_few_sizes(random, path.read_text("utf-8")))
    head = text[:text.index("\nsection ")]
    # A third of the numbers in each: together they stand in every kind of line.
    numbers = list(re.finditer(r"(?<![\w.])\d+(\.\d+)?", head))
    for number in numbers[EXAMPLES.index(path) % 3::3]:
        (tmp_path / "a.sockscript").write_text(
            text[:number.start()] + "0" + text[number.end():], "utf-8")
        line = text.count("\n", 0, number.start()) + 1
        for command, more in COMMANDS.items():
            if command in ("check", "picture") or "foot-" in text.split("\n")[line - 1]:
                assert _dispatch([command, "a.sockscript", *more]) in (0, 1, 2), (command, line)
    capsys.readouterr()
