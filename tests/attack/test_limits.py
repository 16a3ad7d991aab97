"""Scripts made to be too much are answered soon and in little room.

``python tests/bench/hostile_scripts.py`` measures all of them; here one of each kind runs, and
the time has slack for a computer that is busy.
"""

from __future__ import annotations

import pytest
from bench.hostile_scripts import MEGABYTES, SECONDS, used_by

from attack.hostile import SCRIPTS
from sockscript.cli import _dispatch
from sockscript.commands import range as range_command

SLACK = 3
ONE_OF_EACH = (
    "many-drop", "most-top-use", "values-in-a-note", "values-in-notes", "longer-run-of-digits",
    "long-names", "sizes-and-options", "options-in-sections", "wide-table", "repeat-knitting",
    "brackets", "ring-of-lets", "doubling-techniques", "doubling-values", "handed-on", "quotes",
    "space-lines", "letters")
IN_AN_EDITOR = ("digits-before-quotes", "misspelt", "nots", "sum")


@pytest.mark.parametrize("command, name", [
    *(("check", name) for name in ONE_OF_EACH), *(("editor", name) for name in IN_AN_EDITOR),
    ("format", "sum"), ("format", "nots"), ("steps", "chain-of-lets"), ("steps", "repeat-notes"),
    ("range", "many-sizes")])
def test_what_is_too_much_is_answered_soon(command, name, tmp_path):
    used = used_by(SCRIPTS[name], [command, "FILE"], tmp_path)

    assert used.status in (0, 1, 2), used
    assert used.seconds < SLACK * SECONDS and used.megabytes < MEGABYTES, used


def test_a_range_that_takes_long_says_so_before(capsys, monkeypatch, tmp_path):
    monkeypatch.setattr(range_command, "WORTH_SHARING", 10)
    for last, told in ((26, []), (27, ["10 combinations are tried."])):
        (tmp_path / "a.sockscript").write_text(
            f"sizes S\n    foot-round 20 cm\nworks for\n    foot-round 18 to {last} cm by 1 cm\n"
            'section "Leg"\n    half pitch\n', "utf-8")

        _dispatch(["range", str(tmp_path / "a.sockscript"), "--format", "csv"])
        assert capsys.readouterr().err.splitlines() == told


@pytest.mark.parametrize("seconds, says", [
    (4, ""), (6, "10 seconds"), (44, "40 seconds"), (91, "2 minutes")])
def test_roughly_how_long(seconds, says, capsys):
    range_command._say_how_long(seconds)

    told = capsys.readouterr().err
    assert says in told and bool(told) == bool(says)
