"""Every pass of the carriage by itself: where it goes, what it works and what it finds there."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, proof, run

from sockscript.fabric.courses import courses
from sockscript.operations.beds import indices

TWO_SECTIONS = HEADER + '''section "Edge"
    bring centre 6 of both into work to cast on
    set both to knit
    thread main
    knit 1 row
section "Nothing is knitted"
    set front to tuck
section "Ridges"
    knit 2 rows
    set both to knit
    transfer L3 of front onto L2 of front
    knit 1 row
    set R1 of back to slip
    transfer R1 of front onto R2 of front
    set R2 of front to tuck
    knit 1 row
'''


def told(needles):
    """Needles of front and back, counted from the left of the six."""
    first = 97
    return tuple([n - first for n in indices(mask)] for mask in needles)


def test_each_pass_tells_what_it_works_joins_and_finds_laid_over():
    done = proof(TWO_SECTIONS).outcomes[0][0].run
    found = courses(done)
    six = [0, 1, 2, 3, 4, 5]

    assert [(one.section, one.direction, one.yarn) for one in found] == [
        (0, "left", "main"), (2, "right", "main"), (2, "left", "main"), (2, "right", "main"),
        (2, "left", "main")]
    assert [told(one.worked) for one in found] == [(six, six)] * 4 + [(six, [0, 1, 2, 4, 5])]
    # A row of tuck on the front bed lies there in the second row of it and when it is knitted off.
    assert [told(one.tucked) for one in found] == [
        ([], []), (six, []), (six, []), ([], []), ([4], [])]
    assert [told(one.laid) for one in found] == [
        ([], []), ([], []), (six, []), ([1, 2, 3, 4, 5], []), ([], [])]
    # Two loops are knitted together where one was moved, but not while their needle tucks.
    assert [told(one.joins) for one in found] == [([], [])] * 3 + [([1], []), ([], [])]
    assert [told(one.slipped) for one in found] == [([], [])] * 4 + [([], [3])]
    assert [one.state.counter for one in found] == [1, 2, 3, 4, 5]


def test_a_resting_bed_slips_nothing():
    (row,) = courses(run("""bring centre 6 of both into work
set R1 of back to slip
set front to knit
thread main
knit 1 row"""))

    assert told(row.worked) == ([0, 1, 2, 3, 4, 5], []) and row.slipped == (0, 0)


@pytest.mark.parametrize("rows", [20_000, 20_001])
def test_nobody_is_shown_more_than_20_000_passes(rows):
    done = run(f"bring centre 1 of front into work to cast on\nset front to knit\nthread main\n"
               f"knit {rows} rows")

    assert len(courses(done)) == 20_000
