"""Slips that any knitter puts right on the spot: told once, and what follows is as it was meant."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, run

TWO = 'yarn waste "smooth waste yarn" as waste\n' + HEADER + 'yarn fine "thin cotton"\n'
BED = "bring centre 8 of front into work to cast on\nset front to knit\n"
TUBE = """bring centre 8 of both into work to cast on
set both to knit
thread main
knit 3 rows
"""


def done_by(lines, before=BED, header=TWO):
    """What the machine did in the lines, and what was told."""
    done = run(before + lines, header)
    first = len(run(before + 'note "waste, main, fine"', header).moments)
    ops = [f"{type(one.op).__name__} {getattr(one.op, 'yarn', None) or ''}".strip()
           for one in done.moments[first:]]
    return ops, [one.fault.kind for one in done.mishaps]


@pytest.mark.parametrize("line, op, kind", [
    ("cast on front", "CastOn", "cast-on-without-yarn"),
    ("bind off front", "BindOff", "bind-off-without-yarn"),
    ("thread fine along", "Add fine", "added-to-nothing")])
def test_a_yarn_that_nobody_threaded_is_threaded(line, op, kind):
    """The main yarn, whichever is named first; it is in the feeder until the script threads one."""
    ops, told = done_by(line)
    assert ops == ["Thread main", op] and kind in told

    ops, told = done_by(f"{line}\nthread main\nthread fine")
    assert ops == ["Thread main", op, "Cut", "Thread main", "Thread fine"]
    assert told.count("yarn-not-cut") == 1

    ops, told = done_by(f"{line}\ncut\nthread main\nthread fine")
    assert ops == ["Thread main", op, "Cut", "Thread main", "Thread fine"]
    assert told.count("yarn-not-cut") == 1


def test_the_yarn_threaded_last_is_threaded_again():
    ops, told = done_by("thread fine\ncast on front\nknit 1 row\ncut\nknit 1 row")

    assert ops[-3:] == ["Cut", "Thread fine", "Knit"] and told == ["pass-without-yarn"]


@pytest.mark.parametrize("action, lost", [("knit", 8), ("tuck", 0)])
def test_without_yarn_what_is_knitted_off_is_lost_and_not_what_tucks(action, lost):
    done = run(f"{BED}thread main\ncast on front\nset front to {action}\ncut\nknit 1 row", TWO)

    assert [(one.fault.kind, one.fault.needles.bit_count()) for one in done.mishaps
            if one.fault.kind == "pass-without-yarn"] == [("pass-without-yarn", lost)]


@pytest.mark.parametrize("after, ops", [
    ("cut", []), ("cut\ncut", ["Cut"]), ("cut\nthread main\ncut", ["Thread main", "Cut"]),
    ("thread main\ncut", ["Thread main", "Cut"])])
def test_yarn_that_is_cut_before_a_fold_is_not_cut_again(after, ops):
    found, kinds = done_by(f"fold left 2 of front onto back\n{after}", TUBE)

    assert found == ["Cut", "Fold", *ops] and kinds.count("fold-with-yarn") == 1


@pytest.mark.parametrize("after, ops, told", [
    ("remove comb", [], []), ("remove comb\nremove comb", ["Tackle"], ["not-hung"]),
    ("hang comb", ["Tackle"], []), ("remove weights", ["Tackle"], ["not-hung"]),
    ("hang comb\nremove comb", ["Tackle", "Tackle"], [])])
def test_a_comb_that_is_taken_off_before_a_fold_is_not_taken_off_again(after, ops, told):
    found, kinds = done_by(f"fold right 2 of front onto back\n{after}", TUBE + "hang comb\n")

    assert found == ["Tackle", "Fold", *ops]
    assert [kind for kind in kinds if "loop" not in kind] == ["fold-with-comb", *told]
