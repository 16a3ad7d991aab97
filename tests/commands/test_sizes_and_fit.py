"""The grading table and the one-off size."""

from __future__ import annotations

import csv
import io
import json
from fractions import Fraction
from pathlib import Path

import jsonschema
import pytest
from support.command import sockscript
from support.scripts import prepared

from sockscript.commands import fit, sizes
from sockscript.commands import range as range_command
from sockscript.commands.fitting import fitting_asked
from sockscript.sheet import grading

ROOT = Path(__file__).resolve().parents[2]
SCHEMA = json.loads(Path(grading.__file__).with_name("sizes.schema.json").read_text("utf-8"))
SOCK = ROOT / "examples" / "family-sock.sockscript"


def table(capsys, **options):
    given = {"file": SOCK, "sizes": [], "choose": [], "format": "text", "pace": 2.0, "out": None,
             **options}
    status = sizes.run(**given)
    out, err = capsys.readouterr()
    return status, out, err


def fitted(capsys, measures=None, **options):
    given = {"shoe": None, "gauge": None, "choose": [], "machine": None, "out": None, **options}
    status = fit.run(file=SOCK, measures=measures or {}, **given)
    out, err = capsys.readouterr()
    return status, out, err


def test_all_formats_say_the_same(capsys):
    data = json.loads(table(capsys, format="json")[1])
    jsonschema.validate(data, SCHEMA)
    rows = list(csv.reader(io.StringIO(table(capsys, format="csv")[1])))
    text = table(capsys)[1]
    markdown = table(capsys, format="markdown")[1]

    assert rows[0][2:] == data["sizes"] and len(data["sizes"]) == 9
    assert [row[2:] for row in rows[1:]] == [row["values"] for row in data["rows"]]
    for row in data["rows"]:
        assert row["name"] in text
        assert " | ".join(row["values"]) in markdown


def test_larger_sizes_take_more_yarn(capsys):
    data = json.loads(table(capsys, format="json")[1])
    jsonschema.validate(data, SCHEMA)
    metres = next([int(v) for v in r["values"]] for r in data["rows"] if r["name"] == "metres")

    assert metres == sorted(metres)
    assert 30 < metres[0] < metres[-1] < 250


def test_a_hem_is_as_deep_as_it_lies(capsys):
    """By hand from the script: 12, 12 and 14 rows a side and one that closes the hem; 4.2 rows a cm
    make 3.1 and 3.6 cm.  A section without a hem has no row for it."""
    data = json.loads(table(capsys, file=SOCK.with_stem("flat-sock"), format="json")[1])
    hem = {r["name"]: r["values"] for r in data["rows"] if r["part"] == "Hemmed top"}

    assert hem["rows"] == ["25", "25", "29"]
    assert hem["rows turned in"] == ["12", "12", "14"]
    assert hem["length"] == ["3.1 cm", "3.1 cm", "3.6 cm"]
    assert [r["part"] for r in data["rows"] if r["name"] == "rows turned in"] == ["Hemmed top"]


@pytest.mark.parametrize("options, says", [({"format": "xls"}, "no format"),
                                           ({"pace": 0}, "pace"),
                                           ({"sizes": ["Huge"]}, "no size")])
def test_what_cannot_be_made_is_told(options, says, capsys):
    status, _, err = table(capsys, **options)

    assert status == 2 and says in err


def test_a_foot_and_a_gauge_of_ones_own(capsys):
    status, out, err = fitted(capsys, {"foot-length": "24cm", "foot-round": "8 1/2 in"},
                              gauge="29x41/10cm")

    assert status == 0
    assert "Size: Your size" in out and "29 stitches, 41 rows over 10 cm" in out
    assert "foot length 24 cm (yours)" in err and "leg length 10 cm (as in size Woman-M)" in err


def test_a_shoe_size_gives_the_length_of_the_foot(capsys):
    status, out, err = fitted(capsys, shoe="eu 39")

    # 39 * 20/3 mm - 15 mm = 245 mm, computed by hand.
    assert status == 0 and "foot length 24.5 cm (yours)" in err
    assert "foot length" in out


@pytest.mark.parametrize("shoe, mm", [
    ("woman-39", 245), ("man-39", 245), ("child 35", 218 + Fraction(1, 3)), ("EU 39", 245),
    # British: a foot of so many thirds of an inch less 23 (children's: less 10).
    ("man-uk-9", (9 + 23) * Fraction(254, 30)), ("uk 9", (9 + 23) * Fraction(254, 30)),
    ("child-uk-10", (10 + 10) * Fraction(254, 30)),
    ("woman-us-8½", (8.5 + 21) * Fraction(254, 30)), ("man-us-8.5", (8.5 + 22) * Fraction(254, 30)),
])
def test_a_shoe_is_named_as_in_the_table_of_sizes_too(shoe, mm):
    script = prepared('pattern "x"\nyarn main "x"\nsizes A B\n    foot-length 17 28 cm\n').script
    fitting, _ = fitting_asked(script, {}, shoe, None, None, None, [])

    assert float(fitting.measures["foot-length"].value) == pytest.approx(float(mm), abs=0.5)


@pytest.mark.parametrize("measures, options, says", [
    ({"foot-length": "3m"}, {}, "far outside"), ({"foot-length": "-24cm"}, {}, "a length"),
    ({"foot-lenth": "24cm"}, {}, "Did you mean --foot-length"),
    ({"foot-length": "24"}, {}, "unit"),
    ({"foot-length": "long"}, {}, "a length should stand here"),
    ({"foot-length": ""}, {}, "a length should stand here"), ({}, {}, "Say for which foot"),
    ({}, {"gauge": "-29x41"}, "Write stitches and rows"), ({}, {"gauge": "0x0"}, "not a gauge"),
    ({}, {"gauge": "29x41/0cm"}, "Write stitches and rows"),
    ({}, {"gauge": "290x41"}, "not a gauge"), ({}, {"gauge": "95x125"}, "not near"),
    ({}, {"shoe": "eu"}, "not a shoe size"), ({}, {"shoe": "eu 400"}, "not one to knit for"),
    ({}, {"shoe": "moon 4"}, "no scale"), ({}, {"shoe": "39"}, "The scale of the shoe is missing"),
    ({"foot-length": "24cm"}, {"choose": ["finish=knot"]}, "not a choice"),
])
def test_nonsense_gets_a_sentence_and_no_numbers(measures, options, says, capsys):
    status, out, err = fitted(capsys, measures, **options)

    assert status == 2 and says in err and out == ""


def test_a_size_that_does_not_knit_is_not_printed(capsys, tmp_path):
    path = tmp_path / "a.sockscript"
    path.write_text('pattern "x"\nyarn main "x"\nsizes A B\n    wide 20 30\nsection "x"\n'
                    "    bring centre wide of front into work\n    set front to knit\n"
                    "    thread main\n    cast on front\n"
                    "    knit 2 rows\n    when wide is 22\n        cut\n"
                    "        knit 1 row\n    bind off front\n    cut\n")
    given = {"shoe": None, "gauge": None, "choose": [], "machine": None, "out": None}

    assert fit.run(file=path, measures={"wide": "24"}, **given) == 0
    capsys.readouterr()
    assert fit.run(file=path, measures={"wide": "22"}, **given) == 1
    out, err = capsys.readouterr()
    assert out == "" and "pass-without-yarn" in err


def test_girths_not_measured_go_with_the_ball_of_the_foot(capsys, tmp_path):
    path = tmp_path / "sock.sockscript"
    row = "    foot-length  13 "
    text = SOCK.read_text("utf-8").replace(
        row, f"    heel-round 18 20 22 24 27 30 32 34 36 cm\n{row}", 1)
    path.write_text(text.replace("let heel-round = foot-round * 1.36", "let unused = 1"), "utf-8")

    fit.run(file=path, measures={"foot-round": "22.2cm"}, shoe=None, gauge=None, choose=[],
            machine=None, out=None)
    said = capsys.readouterr().err

    # The nearest size has 22 and 30 cm: 30 * 22.2 / 22 = 30.3 (by hand).
    assert "heel round 30.3 cm (in proportion to yours)" in said


@pytest.mark.parametrize(("row", "lets", "girth"), [
    ("wrist 16 18 cm", "let n = stitches(wrist less 5%, plain) to nearest even\n", "wrist"),
    ("wrist 16 18 cm", "let n = 20.5 to nearest even\n", "foot-round less 10%")])
def test_numbers_names_a_girth_of_the_script(row, lets, girth, tmp_path):
    (tmp_path / "a.sockscript").write_text(
        'pattern "x"\nyarn main "x"\ngauge plain 30 stitches, 42 rows per 10 cm\n'
        f'sizes A B\n    {row}\n{lets}section "x" in plain\n'
        "    bring centre n of front into work\n")
    done = sockscript("numbers", "a.sockscript", cwd=tmp_path)

    assert done.returncode == 2 and done.stderr.strip().endswith(f"target girth {girth}")


@pytest.mark.parametrize(("row", "own"), [
    ("    hand-round 15 20.5 cm\n", "hand-round 15 to 21 cm by 1 cm"),
    ("    long 12 14 cm\n", "long 12 to 14 cm by 1 cm"),
    ("    deep 12 14\n", "foot-round 18 to 27")])
def test_a_range_is_shown_with_a_row_of_the_script(row, own, tmp_path, capsys):
    script = tmp_path / "mitten.sockscript"
    script.write_text(f'pattern "M"\nsizes A B\n{row}section "S"\n    note "n"\n', "utf-8")
    assert range_command.run(file=script, machine=None, format=None, out=None) == 2
    assert own in capsys.readouterr().err
