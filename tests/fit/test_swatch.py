"""Swatches: the gauge over any length, and what washing does to a sock."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.scripts import prepared

from sockscript.commands import swatch as command
from sockscript.commands.counted import read_counted
from sockscript.fit.swatch import difference


@pytest.mark.parametrize("text, stitches, rows", [
    ("60x84/20x20cm", 30, 42), ("60×84/20cm", 30, 42), ("30 x 42 / 4 in", 29.53, 41.34),
    ("45x63/150x150mm", 30, 42), ("7.5x10.5 per inch", 29.53, 41.34),
    ("7½ x 10½/1in", 29.53, 41.34),
    ('7 1/2 x 10 1/2 / 1"', 29.53, 41.34), ("30 sts and 42 rows over 4 in", 29.53, 41.34),
    ("7,5x10,5/1in", 29.53, 41.34), ("30 stitches, 42 rows to 4 inches", 29.53, 41.34),
    ('30x42/4"x4"', 29.53, 41.34), ("29x41/10cm", 29, 41)])
def test_a_gauge_from_any_measured_size(text, stitches, rows):
    """Counts divided by the measure; 4 in are 10.16 cm. Computed by hand."""
    found = read_counted(text)

    assert found is not None
    assert float(found.swatch.stitches_per_10_cm) == pytest.approx(stitches, abs=0.01)
    assert float(found.swatch.rows_per_10_cm) == pytest.approx(rows, abs=0.01)


@pytest.mark.parametrize("text", ["", "60x84", "60x84/0cm", "0x84/10cm", "-60x84/20cm", "60x84/20",
                                  "1x1/3m", "9999x84/10cm", "60x84/20x0cm", "a x b / c cm"])
def test_what_is_no_swatch_is_told(text, capsys):
    assert command.run(swatch=text, washed=None, fabric="plain") == 2
    assert "is not a swatch" in capsys.readouterr().err


def test_the_gauge_line_can_stand_in_a_script(capsys):
    assert command.run(swatch="61x83/20x20cm", washed=None, fabric="rib") == 0
    line = capsys.readouterr().out.splitlines()[0]
    gauge = prepared(f"{line}\n").script.gauges[0]

    assert (gauge.fabric, float(gauge.stitches), float(gauge.rows)) == ("rib", 30.5, 41.5)


@pytest.mark.parametrize("text, line", [
    ("30x42/4x4in", "gauge plain 7.5 stitches, 10.5 rows per inch"),
    ('31x43/4"', "gauge plain 7.75 stitches, 10.75 rows per inch"),
    ("60x84/20cm", "gauge plain 30 stitches, 42 rows per 10 cm")])
def test_a_swatch_measured_in_inches_is_answered_in_inches(text, line, capsys):
    assert command.run(swatch=text, washed=None, fabric="plain") == 0
    assert capsys.readouterr().out.splitlines()[0] == line
    assert prepared(line + "\n").script.inches is ("inch" in line)


def test_washing_is_told_in_millimetres(capsys):
    """60 stitches on 20 cm that become 19 cm: 200 mm planned give 190. Computed by hand."""
    command.run(swatch="60x84/20x20cm", washed="60x84/19x21cm", fabric="plain")
    out = " ".join(capsys.readouterr().out.split())

    assert "31.6 stitches, 40 rows" in out
    assert "10 mm narrower and 12 mm longer" in out


gauges = st.fractions(min_value=10, max_value=80, max_denominator=10)


@given(gauges, gauges, st.integers(50, 400))
def test_the_piece_has_as_many_stitches_as_were_planned(planned, found, length):
    comes_out = length + difference(planned, found, Fraction(length))

    assert comes_out * found == length * planned
