"""A member with an inch tape: everything that is printed for her is in inches first."""

from __future__ import annotations

import json

import pytest
from commands.test_cli import sockscript

from sockscript.commands import new

INCHES = "7.5x10.5 per inch"


@pytest.fixture
def script(tmp_path):
    """A sock written by ``new`` for a gauge by the inch."""
    out = tmp_path / "mine.sockscript"
    assert sockscript("new", "--gauge", INCHES, "-o", str(out)).returncode == 0
    return out


@pytest.mark.parametrize("kind", new.KINDS)
@pytest.mark.parametrize("gauge", [INCHES, '7 1/2 x 10 1/2 / 1"', "30x42/4in", "30x42",
                                   "30x42/10cm", "11,8x16,5/4cm"])
def test_new_writes_in_the_unit_of_the_gauge_and_checks_clean(kind, gauge, tmp_path):
    out = tmp_path / "new.sockscript"
    assert sockscript("new", "--kind", kind, "--gauge", gauge, "-o", str(out)).returncode == 0
    text = out.read_text("utf-8")
    done = sockscript("check", str(out))

    assert done.returncode == 0 and "no stitch is lost" in done.stdout, done.stdout
    in_inches = "in" in gauge or '"' in gauge
    assert (" in\n" in text and "yards per" in text and " cm" not in text) is in_inches
    assert (" cm\n" in text and " in\n" not in text) is not in_inches


def test_the_steps_have_inches_first(script):
    out = sockscript("steps", str(script)).stdout

    assert "7½ stitches, 10½ rows over 1 in" in out
    assert "400 yards per 3½ oz (366 m per 100 g)" in out
    assert "foot length   9 in   9¾ in  11 in" in out
    # 56 stitches at 7.5 to the inch are 7.47 in and 19 cm: by hand.
    row = next(line for line in out.splitlines() if "Leg, round" in line)
    for value in ("7½ (19.0 cm)", "8 (20.3 cm)", "8½ (21.7 cm)"):
        assert value in row


def test_the_table_of_sizes_has_inches_yards_and_ounces(script):
    data = json.loads(sockscript("sizes", str(script), "--format", "json").stdout)
    rows = {(row["part"], row["name"]): row["values"] for row in data["rows"]}

    assert rows["Leg", "girth"] == ["7½ in", "8 in", "8½ in"]
    yards, metres = rows["sock yarn", "yards"], rows["sock yarn", "metres"]
    ounces, grams = rows["sock yarn", "ounces"], rows["sock yarn", "grams"]
    # The yard is 0.9144 m and the ounce 28.3495 g (international yard and pound, 1959).
    assert all(abs(int(y) * 0.9144 - int(m)) < 1 for y, m in zip(yards, metres, strict=True))
    assert set("".join(ounces)) <= set("0123456789¼½¾")
    assert all(grams)


def test_a_schematic_is_labelled_in_inches(script, tmp_path):
    out = tmp_path / "schematic.svg"
    assert sockscript("picture", str(script), "--what", "schematic", "--size", "Medium",
                      "-o", str(out)).returncode == 0
    drawn = out.read_text("utf-8")

    # The foot length is 9¾ in by the table. Centimetres stand only in the table below.
    assert "in inches" in drawn and ">9¾<" in drawn
    assert drawn.index(">9¾<") < drawn.index(" cm</text>")


def test_a_leaflet_has_inches_and_below_them_centimetres(script, tmp_path):
    out = tmp_path / "leaflet.html"
    assert sockscript("sheet", str(script), "-o", str(out)).returncode == 0
    page = out.read_text("utf-8")

    assert "In inches, then in cm" in page and "20.3 cm" in page
    assert "yards" in page and "oz" in page


@pytest.mark.parametrize("gauge", ["7x10", "7x10 per inch", '7 x 10 / 1"', "28x40/4in",
                                   "7 stitches, 10 rows per inch"])
def test_fit_takes_a_gauge_in_every_form_and_answers_in_the_unit_of_the_pattern(script, gauge):
    done = sockscript("fit", str(script), "--gauge", gauge, "--foot-length", "9 1/2 in")

    assert done.returncode == 0, done.stderr
    assert "foot length 9½ in (yours)" in done.stderr
    assert "plain: 7 stitches, 10 rows over 1 in" in done.stderr


@pytest.mark.parametrize("shoe", ["us women 8.5", "us-women 8½", "women's US 8 1/2",
                                  "US woman 8,5"])
def test_half_shoe_sizes_in_every_way_they_are_said(script, shoe):
    """(8½ + 21) / 3 inches: the barleycorn is a third of an inch; the zero point of the American
    scale for women is the customary one (see ``sockscript.fit.feet``)."""
    done = sockscript("fit", str(script), "--shoe", shoe)

    assert "foot length 9⅞ in (yours)" in done.stderr, done.stderr


def test_what_misses_its_aim_is_told_in_inches(tmp_path):
    path = tmp_path / "strip.sockscript"
    path.write_text('''pattern "Strip"
yarn main "any yarn"
gauge plain 8 stitches, 11 rows per inch

section "Strip" in plain
    target girth 3 1/2 in
    bring centre 32 of front into work to cast on
    set front to knit
    thread main
    knit 11 rows
    bind off front
    cut
''', "utf-8")
    done = sockscript("check", str(path))

    # 32 stitches at 8 to the inch are 4 in: by hand.
    assert "comes to 4 in: ½ in more than the 3½ in aimed at" in " ".join(done.stdout.split())
