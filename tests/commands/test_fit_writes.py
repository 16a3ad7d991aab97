"""``fit -o mine.sockscript``: the pattern with the member's size, gauge and yarn in it."""

from __future__ import annotations

from pathlib import Path

import pytest
from commands.test_cli import SOCK, sockscript

from sockscript.format.formatter import format_source
from sockscript.text.source import Source, read_source
from sockscript.tree.read import read_script

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.sockscript"))

PIECE = '''# Ours.
pattern "Band"
yarn main "wool" 400 m per 100 g # a good one
yarn waste "cotton" as waste
gauge plain 8 stitches per inch, 11 rows per inch, measured dry # mine
gauge rib 30 stitches, 40 rows per 10 cm, stretches to 190%
sizes Small "Extra large"
    around 7 1/2" 9" # of the wrist
    deep 2 3 in
    tip 8 10
option end graft, gather

section "Band" in plain
    when size is Small
        note "Small."
    otherwise
        note "Large."
    bring centre stitches(around) to nearest even of front into work
    set front to knit
    thread main
    cast on front
    knit rows(deep) to nearest rows
    when end is gather
        cut
        gather front
    otherwise
        bind off front
        cut
'''


@pytest.fixture
def band(tmp_path):
    """A piece in which every kind of line that fitting changes stands."""
    path = tmp_path / "band.sockscript"
    path.write_text(PIECE, "utf-8")
    return path


def fitted(path, *options, name="mine.sockscript"):
    """The script that ``fit`` writes beside ``path``."""
    out = path.parent / name
    done = sockscript("fit", str(path), *options, "-o", str(out))
    assert done.returncode == 0, done.stderr
    return out.read_text("utf-8")


def test_a_column_is_added_and_everything_else_stays(band):
    text = fitted(band, "--around", '7 3/4"')
    before, after = PIECE.splitlines(), text.splitlines()
    changed = {old: new for old, new in zip(before, after[-len(before):], strict=True)
               if old != new}

    assert changed == {
        'sizes Small "Extra large"': 'sizes Small "Extra large"  "Your size"',
        '    around 7 1/2" 9" # of the wrist': '    around 7 1/2" 9"  7.75" # of the wrist',
        "    deep 2 3 in": "    deep 2 3 2 in", "    tip 8 10": "    tip 8 10  8",
        "    when size is Small": '    when size is Small, "Your size"'}
    assert all(line.startswith("#") for line in after[:-len(before)])
    assert "#   around 7¾ in (yours)" in after


def test_gauge_yarn_and_choice_are_her_own(band):
    text = fitted(band, "--size", "Small", "--gauge", "7x10/1in", "--yarn", "410 yards per 100 g",
                  "--choose", "end=gather")

    assert "gauge plain 7 stitches, 10 rows per inch, measured dry # mine" in text
    # In proportion: 30 * 7 / 8 and 40 * 10 / 11 (by hand).
    assert "gauge rib 26.25 stitches, 36.364 rows per 10 cm, stretches to 190%" in text
    assert 'yarn main "wool" 410 yards per 100 g # a good one' in text
    assert 'yarn waste "cotton" as waste' in text
    assert "option end graft, gather default gather" in text


def test_a_row_of_feet_becomes_rows_of_measurements(tmp_path):
    path = tmp_path / "feet.sockscript"
    path.write_text(PIECE.replace("    tip 8 10", "    feet woman-36 woman-41"), "utf-8")
    text = fitted(path, "--foot-length", "24.1cm")
    sizes = read_script(Source("x", text)).sizes

    assert "    # feet woman-36 woman-41" in text
    assert [float(v.value) for v in sizes.measures["foot-length"]] == [225, 258, 241]
    assert not sizes.from_feet


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_can_be_fitted_and_all_else_made_of_it(path, tmp_path):
    script = read_script(read_source(path))
    name = next(n for n, values in script.sizes.measures.items() if values[0].unit == "mm")
    value = script.sizes.measures[name][-1]
    out = tmp_path / "mine.sockscript"
    done = sockscript("fit", str(path), f"--{name}", f"{float(value.value) / 10 + 0.3:.1f}cm",
                      "-o", str(out))

    assert done.returncode == 0, done.stderr
    text = out.read_text("utf-8")
    assert format_source(Source("x", text)) == text
    assert sockscript("check", str(out)).returncode == 0
    for command in (("sheet", "-o", "a.html"), ("needles", "--step", "2"),
                    ("picture", "--what", "fabric", "-o", "a.svg"), ("follow", "-o", "b.html")):
        made = sockscript(command[0], str(out), "--size", "Your size", *command[1:], cwd=tmp_path)
        assert made.returncode == 0, made.stderr


def test_a_second_fitting_gets_another_name(band):
    fitted(band, "--around", "8 in")
    text = fitted(band.parent / "mine.sockscript", "--around", "8 1/2 in", name="two.sockscript")

    assert '"Your size"  "Your size 2"' in text


def test_nothing_is_written_over(band):
    before = band.read_bytes()
    done = sockscript("fit", str(band), "--around", "8 in", "-o", str(band))

    assert done.returncode == 2 and band.read_bytes() == before


@pytest.mark.parametrize("options", [(), ("--gauge", "29x41"), ("--choose", "finish=gather")])
def test_without_a_measurement_nothing_is_fitted(options):
    done = sockscript("fit", SOCK, *options)

    assert done.returncode == 2 and done.stdout == ""
    assert "Say for which foot" in done.stderr


@pytest.mark.parametrize("band_words", ["400 m", "as waste", '400 m per 100 g # "', "lots"])
def test_words_that_are_on_no_band_are_refused(band_words):
    done = sockscript("fit", SOCK, "--size", "Man-M", "--yarn", band_words)

    assert done.returncode == 2 and "as on its band" in done.stderr


def test_a_size_that_does_not_knit_is_not_written(band):
    done = sockscript("fit", str(band), "--around", "11 in", "--machine", "harbour-45",
                      "-o", str(band.parent / "mine.sockscript"))
    assert done.returncode == 0
    text = PIECE.replace("    cut\n", "").replace('"Large."', '"Large."\n        cut')
    (band.parent / "bad.sockscript").write_text(text, "utf-8")
    done = sockscript("fit", str(band.parent / "bad.sockscript"), "--around", "9 in",
                      "-o", str(band.parent / "no.sockscript"))

    assert done.returncode == 1 and not (band.parent / "no.sockscript").exists()


def test_files_that_the_pattern_uses_must_be_beside_it(band, tmp_path):
    (band.parent / "toes.sockscript").write_text("technique our-toe\n    knit 1 row\n", "utf-8")
    band.write_text('use "toes.sockscript"\n' + PIECE, "utf-8")
    (tmp_path / "other").mkdir()
    done = sockscript("fit", str(band), "--around", "8 in",
                      "-o", str(tmp_path / "other" / "mine.sockscript"))

    assert done.returncode == 2 and "same folder" in done.stderr
