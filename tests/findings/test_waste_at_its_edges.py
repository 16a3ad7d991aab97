"""Waste yarn that comes out again: what it leaves, on both sides of each limit.

That fewer than four rows of it keep nothing is common practice, no source; the rest is a fact of
the cloth: loops that nothing holds run."""

from __future__ import annotations

import pytest
from support.scripts import findings

START = """bring centre 8 of front into work to cast on
set front to knit
"""
TUBE = """half pitch
bring centre 8 of both into work to cast on
set both to circular
"""
OWN = "thread main\n{}cut\n"
WASTE = "thread waste\n{}cut\n"
MARK = "mark edge start on front\n"
KINDS = ("waste-knitted-in", "edge-will-run", "waste-too-short", "waste-knitted-along")


def told(body):
    return [(one.kind, one.message) for one in findings(body) if one.kind in KINDS]


def names(body):
    return [kind for kind, _ in told(body)]


def own(rows=4):
    return OWN.format(f"knit {rows} rows\n")


def waste(rows, how="knit {} rows\n"):
    return WASTE.format(how.format(rows))


HOW = ["knit {} rows\n", "repeat {} times\n    knit 1 row\n"]


@pytest.mark.parametrize("how", HOW)
@pytest.mark.parametrize("rows, short", [(1, True), (3, True), (4, False), (9, False)])
def test_a_piece_begun_with_waste_yarn(rows, short, how):
    """Unmarked its edge runs; marked, four rows keep the loops."""
    body = START + waste(rows, how) + "{}" + own()
    many = "1 row" if rows == 1 else f"{rows} rows"

    assert names(body.format(MARK)) == ["waste-too-short"] * short
    assert all(f"only {many} of waste" in said for _, said in told(body.format(MARK)))
    ((kind, said),) = told(body.format(""))
    assert kind == "edge-will-run" and f"begun with {many} of waste" in said
    advice = [one.advice for one in findings(body.format(MARK)) if one.kind in KINDS]
    assert advice == ["Knit 4 rows or more, better 8, before the first row that stays."] * short
    assert names(body.format("mark edge other on back\n")) == ["edge-will-run"]
    (shown,) = [one.others[-1].at for one in findings(body.format("")) if one.kind in KINDS]
    assert shown.source.line(shown.line).strip() == "thread waste"


@pytest.mark.parametrize("rounds, short", [(3, True), (4, False)])
def test_each_bed_of_a_tube_has_its_own_rows(rounds, short):
    body = TUBE + WASTE.format(f"knit {rounds} rounds\n") + "{}" + OWN.format("knit 4 rounds\n")
    both = MARK + "mark edge other on back\n"

    assert set(names(body.format(both))) == ({"waste-too-short"} if short else set())
    assert {(kind, "on the back bed" in said) for kind, said in told(body.format(MARK))} == {
        ("edge-will-run", True), *[("waste-too-short", False)] * short}


@pytest.mark.parametrize("how", HOW)
@pytest.mark.parametrize("rows", [1, 2, 4, 6])
def test_waste_yarn_between_rows_that_stay(rows, how):
    """Marked as a slit few rows will do: what is below is knitted."""
    body = START + own() + waste(rows, how) + "{}" + own()
    ((kind, said),) = told(body.format(""))

    assert kind == "waste-knitted-in"
    assert said.startswith("1 row of" if rows == 1 else f"{rows} rows of")
    assert names(body.format("mark slit gap on front\n")) == []
    assert names(START + own() + waste(rows) + "mark slit gap on front\n" + own()
                 + waste(rows) + own()) == ["waste-knitted-in"]
    # A mark that was set before the waste yarn is no mark of it.
    assert names(START + own() + MARK + waste(rows, how) + own()) == ["waste-knitted-in"]


@pytest.mark.parametrize("close", ["bind off front\n", "gather front\n",
                                   "bind off left 4 of front\n"])
def test_waste_yarn_right_before_the_stitches_are_closed(close):
    body = START + own() + waste(5)

    assert names(body + close) == ["waste-knitted-in"]
    assert names(body + "mark slit gap on front\n" + close) == ["waste-knitted-in"]
    assert names(body + close + "thread main\nknit 2 rows\n") == ["waste-knitted-in"]
    assert names(body + own() + close) == ["waste-knitted-in"]
    assert names(body + "scrap off front as later\n") == []
    assert names(START + own() + close) == []


def test_only_the_bed_that_is_closed_is_told():
    body = TUBE + OWN.format("knit 4 rounds\n") + "set back to rest\nset front to knit\n" + waste(4)

    assert names(body + "bind off back\n") == []
    assert names(body + "bind off front\n") == ["waste-knitted-in"]
    assert names(body + "graft front to back\n") == ["waste-knitted-in"]


def test_what_is_taken_off_begins_anew():
    body = START + own() + waste(4) + "scrap off front as later\n"

    assert names(body + START + own()) == []
    assert names(body + START + waste(4) + own()) == ["edge-will-run"]
    # A second piece has rows of its own below it only when they are knitted.
    assert names(START + waste(2) + MARK + own() + "scrap off front as later\n" + START
                 + waste(2) + MARK + own()) == ["waste-too-short"] * 2


def test_a_yarn_that_comes_out_along_with_one_that_stays():
    along = START + "thread main\nknit 4 rows\nthread waste along\n{}"
    apart = START + own() + "thread waste\n{}"

    assert names(along.format("knit 2 rows\nknit 2 rows\n")) == ["waste-knitted-along"]
    for body in (along, START + "thread waste\nthread main along\n{}"):
        ((_, message),) = told(body.format("knit 2 rows\n"))
        assert message.startswith("Smooth waste yarn is knitted together with a yarn that stays")
    assert names(along.format("repeat 4 times\n    knit 1 row\n")) == ["waste-knitted-along"]
    assert "waste-knitted-along" not in names(apart.format("knit 2 rows\n"))
    assert "waste-knitted-along" not in names(
        START + "thread waste\nthread cord along\nknit 6 rows\n")
    assert "waste-knitted-along" not in names(along.format(""))
