"""A nought in place of any number at the head of a pattern brings no command down."""

from __future__ import annotations

import re
from random import Random

import pytest
from support.command import ROOT

from attack.corpus import in_thick_yarn, of_few_sizes
from sockscript.cli import _dispatch

EXAMPLES = sorted((ROOT / "examples").glob("*.sockscript"))
OTHERS = (["sizes", "a.sockscript"], ["fit", "a.sockscript", "--shoe", "eu 39"],
          ["picture", "a.sockscript", "--what", "sock", "-o", "a.svg"])


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_a_nought_anywhere_at_the_head(path, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    random = Random(path.stem)
    text = in_thick_yarn(random, of_few_sizes(random, path.read_text("utf-8")))
    head = text[:text.index("\nsection ")]
    # A third of the numbers in each: together they stand in every kind of line.
    numbers = list(re.finditer(r"(?<![\w.])\d+(\.\d+)?", head))
    for n, number in enumerate(numbers[EXAMPLES.index(path) % 3::3]):
        (tmp_path / "a.sockscript").write_text(
            text[:number.start()] + "0" + text[number.end():], "utf-8")
        line = text[:number.start()].rpartition("\n")[2]
        _not_fallen(["check", "a.sockscript"], line)
        # Only a foot of a length of nothing has brought these down.
        if "foot-" in line:
            _not_fallen(OTHERS[n % 3], line)
    capsys.readouterr()


def _not_fallen(words, line):
    assert _dispatch(words) in (0, 1, 2), (words, line)
