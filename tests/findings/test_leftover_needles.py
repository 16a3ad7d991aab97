"""Needles of an earlier piece that get a stitch when the next one is begun."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, findings

ONE = """bring {first}
set front to knit
thread main
{cast_on}
{rows}
cut
{end}
{between}
thread main
{cast_on}
{rows}
cut
gather front"""
MORE = HEADER + 'yarn waste "cotton" as waste\ntechnique rows\n    knit 4 rows\n'
BY_HAND, BY_ROW = "cast on front", "knit 1 row"


def told(cast_on: str = BY_HAND, rows: str = "knit 4 rows", end: str = "scrap off front as rest",
         between: str = "bring centre 16 of front into work",
         first: str = "centre 20 of front into work") -> list[str]:
    body = ONE.format(cast_on=cast_on, rows=rows, end=end, between=between, first=first)
    return [one.message for one in findings(body, MORE) if one.kind == "leftover-needles"]


@pytest.mark.parametrize("rows", ["knit 4 rows", "repeat 4 times\n    knit 1 row", "do rows"])
@pytest.mark.parametrize("cast_on", [BY_HAND, BY_ROW])
@pytest.mark.parametrize("end", ["scrap off front as rest", "drop all of front"])
def test_needles_that_stay_in_work_get_a_stitch_too(cast_on, end, rows):
    (message,) = told(cast_on, rows, end)

    assert message.startswith("Needles L10 to L9 and R9 to R10 of the front bed are still in work")


def test_one_needle_more_or_none():
    assert told(between="bring centre 20 of front into work") == []
    (message,) = told(between="bring L9 to R10 of front into work")
    assert message.startswith("Needle L10 of the front bed is still in work from before: it gets a")


@pytest.mark.parametrize("between", [
    "take empty of front out of work\nbring centre 16 of front into work",
    # The same needles are meant again where none are brought in, and those named one by one.
    "", "take R10 of front out of work",
    "bring centre 16 of front into work\nbring L10 to L9 of front into work\n"
    "bring R9 to R10 of front into work"])
def test_needles_that_are_meant(between):
    assert told(between=between) == []
    assert told(end="gather front") == [], "these are out of work when their stitches are gone"


@pytest.mark.parametrize("back", ["bring centre 16 of back into work",
                                  "take empty of back out of work\n"
                                  "bring centre 16 of back into work"])
def test_both_beds_are_looked_at(back):
    body = ONE.format(cast_on="cast on both", rows="knit 4 rounds",
                      first="centre 20 of both into work",
                      end="scrap off front as one\nscrap off back as two",
                      between="take empty of front out of work\n"
                              "bring centre 16 of front into work\n"
                              f"{back}")
    body = body.replace("set front to knit", "set both to circular").replace("gather front",
                                                                             "gather both")
    found = [one.message for one in findings(body, MORE) if one.kind == "leftover-needles"]

    assert len(found) == ("take" not in back)
    assert all(" of the back bed are still" in message for message in found)
