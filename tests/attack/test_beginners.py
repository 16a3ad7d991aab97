"""Scripts as they are half way: no command trips over what is not there yet."""

from __future__ import annotations

import re

import pytest
from support.command import ROOT

from attack.corpus import HEADERS
from sockscript.cli import _dispatch
from sockscript.pictures.kinds import KINDS

HEAD = 'pattern "First"\nyarn main "wool"\ngauge plain 30 stitches, 42 rows per 10 cm\n'
NO_NEEDLES = HEAD + 'section "Leg"\n    knit 20 rows\n'
NO_THREAD = (HEAD + 'section "Leg"\n    bring centre 20 of front into work to cast on\n'
             "    set front to knit\n    knit 20 rows\n")
COUNTED = [line for line in HEADERS if line.startswith("yarn main")]


@pytest.mark.parametrize("text", [NO_NEEDLES, NO_THREAD], ids=["no-needles", "no-thread"])
@pytest.mark.parametrize("what", KINDS)
def test_every_picture_is_drawn_or_refused(text, what, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "a.sockscript").write_text(text, "utf-8")
    more = ["--step", "1"] if what == "beds" else []
    status = _dispatch(["picture", "a.sockscript", "--what", what, "-o", "a.svg", *more])

    assert status in (0, 2)
    assert (tmp_path / "a.svg").exists() == (status == 0)


@pytest.mark.parametrize("yarn", COUNTED)
def test_a_yarn_told_by_its_count_has_a_table_without_balls(yarn, tmp_path, capsys):
    text = HEAD.replace('yarn main "wool"', yarn) + NO_THREAD[len(HEAD):].replace(
        "    knit", "    thread main\n    knit") + "    cut\n    drop all of front\n"
    (tmp_path / "a.sockscript").write_text(text, "utf-8")

    if _dispatch(["sizes", str(tmp_path / "a.sockscript")]) == 0:
        told = capsys.readouterr().out
        assert "metres" in told and "balls" not in told
    else:
        assert "0" in yarn.split("per")[-1] or " 0 " in yarn


def test_a_tube_on_one_bed_is_told_of_whatever_follows(tmp_path, capsys):
    # No loop hangs where the tube would be.
    (tmp_path / "a.sockscript").write_text(
        HEAD + 'section "Toe" in plain\n    do tube-cast-on with half = 8, yarn = main\n'
        "    sew down last 1 rows\n", "utf-8")

    assert _dispatch(["check", str(tmp_path / "a.sockscript"), "--machine", "cottage-single"]) == 1
    assert "bed" in capsys.readouterr().out


@pytest.mark.parametrize("function", ["stitches", "rows", "whole", "smaller", "larger", "loops",
                                      "needles", "yarn-end", "length", "width"])
def test_brackets_with_nothing_in_them_are_told(function, tmp_path, capsys):
    for where in ("let half = {}()\n", 'section "Leg" in plain\n    knit {}() rows\n',
                  'section "Leg" in plain\n    when {}() is 2\n        knit 2 rows\n',
                  'section "Leg" in plain\n    target length {}()\n',
                  'technique never-called\n    knit {}() rows\n' + NO_THREAD[len(HEAD):]):
        (tmp_path / "a.sockscript").write_text(
            HEAD + "sizes S\n    foot-round 20 cm\n" + where.format(function), "utf-8")
        for command in ("check", "steps"):
            assert _dispatch([command, str(tmp_path / "a.sockscript")]) in (0, 1, 2)
    capsys.readouterr()


def test_a_foot_after_the_piece_was_taken_off_is_drawn_or_left_out(tmp_path, capsys):
    (tmp_path / "a.sockscript").write_text(
        HEAD + "gauge rib 34 stitches, 44 rows per 10 cm\n"
        "sizes S M\n    foot-round 13.5 24 cm\n    foot-length 13 26.5 cm\n"
        "let around = stitches(foot-round less 10%) to nearest multiple of 4\n"
        'section "Cuff" in rib\n'
        "    do tubular-cast-on with around = around, yarn = main, rib-size = 4\n"
        "    do rib-to-one-bed on back\n    knit 1 row on back\n"
        "    do turn-to-tube with bed = back\n    do heel on front with leave = 8\n"
        "    cut\n    gather front\n"
        'section "Foot" in plain\n    knit rounds for a foot length of foot-length\n', "utf-8")

    assert _dispatch(["steps", str(tmp_path / "a.sockscript")]) == 0
    assert "Foot" in capsys.readouterr().out


def test_a_turning_without_stitches_is_not_drawn_beside_its_step(tmp_path, capsys):
    (tmp_path / "a.sockscript").write_text(
        HEAD + 'section "Turn" in plain\n    stitch size 6\n    fold back onto front\n', "utf-8")

    assert _dispatch(["sheet", str(tmp_path / "a.sockscript"), "-o",
                      str(tmp_path / "a.html")]) == 0
    assert "The turning" not in (tmp_path / "a.html").read_text("utf-8")


def test_a_flap_on_one_bed_and_its_edges_looked_for_on_the_other(tmp_path, capsys):
    # A heel without a row that lies along the foot.
    text = (ROOT / "examples" / "gusset-sock.sockscript").read_text("utf-8")
    text = re.sub(r"(?m)^    expect .*\n", "", text)
    text = text.replace("    do heel-flap on front with long = flap\n",
                        "    set front to rest\n    set back to knit\n    knit flap rows on back\n")
    (tmp_path / "a.sockscript").write_text(text, "utf-8")

    assert _dispatch(["check", str(tmp_path / "a.sockscript")]) == 1
    assert "tube-split" in capsys.readouterr().out
    assert _dispatch(["sizes", str(tmp_path / "a.sockscript")]) == 0


def test_a_sock_that_hardly_has_a_row_is_drawn_from_some_side(tmp_path, capsys):
    # The turn of the heel stands in the cuff: the longest section has one row all round.
    turn = "    do square-turn on front with leave = under\n"
    text = (ROOT / "examples" / "gusset-sock.sockscript").read_text("utf-8").replace(turn, "")
    text = text.replace("rib-size = 4\n    row counter 0\n", f"rib-size = 4\n{turn}")
    text = text.replace("gauge plain 30 stitches, 42", "gauge plain 10 stitches, 14")
    text = text.replace("gauge rib 34 stitches, 44", "gauge rib 11 stitches, 14")
    (tmp_path / "a.sockscript").write_text(text, "utf-8")

    assert _dispatch(["picture", str(tmp_path / "a.sockscript"), "--what", "sock", "--size",
                      "Child", "-o", str(tmp_path / "a.svg")]) in (0, 2)
    capsys.readouterr()
