"""Grafting and drawing together are sewn with an end of the yarn, which is cut before.

Binding off is done with the yarn in the feeder, which is cut after.  Common practice, no source.
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, TUBE, findings, flat, kinds

FLAT = flat(20) + "knit 20 rows\n"
TUBE_OFF = TUBE + "\nremove weights\n"
TECHNIQUE = "technique close\n    gather both\n"
closings = pytest.mark.parametrize("piece, close", [
    (TUBE_OFF, "graft front to back"), (TUBE_OFF, "gather both"), (TUBE_OFF, "do close"),
    (FLAT, "gather front"), (FLAT, "do close"),
    (FLAT.replace("knit 20 rows", "repeat 20 times\n    knit 1 row"), "gather front")])


def told(body: str) -> list[str]:
    return kinds(body, HEADER + (TECHNIQUE if "do close" in body else ""))


@closings
def test_the_end_to_sew_with_is_cut_before(piece, close):
    assert told(f"{piece}{close}\ncut") == ["yarn-cut-late"]
    assert told(f"{piece}{close}\nnote \"Pull up.\"\ncut main") == ["yarn-cut-late"]
    assert told(f"{piece}cut\n{close}") == []


@closings
def test_a_yarn_that_hangs_from_none_of_the_stitches_is_another_matter(piece, close):
    """A new end: it may be threaded before it is cut to length."""
    assert told(f"{piece}cut\nthread main\n{close}\ncut") == []


@pytest.mark.parametrize("rest", ["bind off both\ncut", "bind off front\nbind off back\ncut"])
def test_binding_off_is_done_with_the_yarn_in_the_feeder(rest):
    assert "yarn-cut-late" not in told(TUBE + "\nremove weights\n" + rest)


def test_where_the_yarn_goes_on_a_part_is_closed_with_another_end():
    part = "gather left 3 of front\n{}knit 4 rows\n"
    body = FLAT + "knit 1 row\n" + part
    assert "yarn-cut-late" not in told(body.format("") + "cut\ngather front")
    # Not where it is cut, and threaded anew for the rest.
    assert "yarn-cut-late" in told(body.format("cut\nthread main\n") + "cut\ngather front")


def test_the_stitches_that_the_yarn_does_not_hang_from_may_be_closed_before():
    body = FLAT + "gather right 3 of front\ncut\ngather front"
    far, near = body, body.replace("gather right", "gather left")
    assert sorted(["yarn-cut-late" in told(far), "yarn-cut-late" in told(near)]) == [False, True]


def test_it_is_told_where_the_stitches_are_closed():
    found, = findings(FLAT + "gather front\ncut")

    assert found.severity == "advice"
    assert found.at.source.line(found.at.line).strip() == "gather front"
