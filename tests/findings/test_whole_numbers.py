"""The best whole numbers, compared by what the simulator measures."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from support.scripts import HEADER, prepared, proof
from support.smaller import small

from sockscript.commands import numbers
from sockscript.findings.rules.targets import deviations
from sockscript.findings.whole_numbers import rounded_lets, trials
from sockscript.machine.load import script_profile

ROOT = Path(__file__).resolve().parents[2]
SOCK = ROOT / "examples" / "family-sock.sockscript"

STRIP = HEADER + """
sizes A B
    wide 10 10.6 cm
let across = stitches(wide) {rounding}
section "Strip" in plain
    target girth wide within 3 cm
    bring centre across of front into work
    set front to knit
    thread main
    cast on front
    knit 20 rows
    cut
    gather front
"""


def tried(rounding, size=0):
    ready = prepared(STRIP.format(rounding=rounding))
    assert not ready.problems
    return trials(ready, script_profile(ready.script), size, {})


@pytest.mark.parametrize("rounding, expected", [
    ("to nearest multiple of 4", [32, 28, 36]),
    ("to nearest even", [30, 28, 32]),
    ("down to odd", [29, 31, 27]), ("to nearest multiple of 30", [30, 60]),
    ("up to multiple of 7 plus 1", [36, 29, 22 + 21]),
])
def test_neighbours_are_those_that_the_form_allows(rounding, expected):
    """30 stitches over 10 cm, the first size 10 cm wide: by hand."""
    assert [trial.numbers["across"] for trial in tried(rounding)] == expected


def test_deviation_is_read_off_the_simulated_fabric():
    """10.6 cm at 3 stitches a cm are 31.8: 32 stitches measure 106.67 mm (by hand)."""
    first = tried("to nearest multiple of 4", size=1)[0]

    assert first.written and first.numbers == {"across": 32}
    assert first.total == Fraction(320, 3) - 106


def test_what_is_written_is_the_run_of_a_plain_check():
    ready = prepared(small())
    chosen = {option.name: option.default for option in ready.script.options}
    done = proof(small())
    for size, outcomes in enumerate(done.outcomes):
        first = trials(ready, done.profile, size, chosen)[0]
        plain = deviations(outcomes[0].run)

        assert first.written
        assert [(d.section, d.value) for d in first.deviations] == [
            (d.section, d.value) for d in plain]


def test_later_numbers_follow_from_earlier_ones():
    ready = prepared(SOCK.read_text("utf-8"))

    assert [let.name for let in rounded_lets(ready.script)] == ["around", "narrow", "toe"]


def test_the_table_says_why_a_neighbour_does_not_do(capsys):
    status = numbers.run(file=SOCK, sizes=["Woman-M"], choose=[], out=None)
    out = capsys.readouterr().out

    assert status == 0
    assert "as written        60" in out
    assert "does not do: cuff-too-tight" in out
    assert "Woman-L" not in out


def test_without_targets_or_roundings_there_is_help(capsys, tmp_path):
    path = tmp_path / "x.sockscript"
    aimless = STRIP.format(rounding="to nearest").replace("    target girth", "    # ")
    path.write_text(aimless, "utf-8")
    assert numbers.run(file=path, sizes=[], choose=[], out=None) == 2
    assert "target girth" in capsys.readouterr().err

    path.write_text(STRIP.format(rounding=""), "utf-8")
    assert numbers.run(file=path, sizes=[], choose=[], out=None) == 2
    assert "to nearest multiple of 4" in capsys.readouterr().err
