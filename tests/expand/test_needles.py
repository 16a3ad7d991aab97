"""Which needles words mean: on a bed of 20 needles, L10 … L1 and R1 … R10."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, findings, run

from sockscript.operations.beds import indices, needle_name

NEEDLES = 20
SMALL = HEADER + f"machine\n    beds 2\n    needles {NEEDLES}\n"


def names(mask):
    """The needles of a mask as a knitter numbers them."""
    return " ".join(needle_name(n, NEEDLES) for n in indices(mask))


def put(words, before="", header=SMALL):
    """The front needles that a line puts out of work, after lines that hang stitches."""
    done = run(f"{before}bring {words} into work to cast on", header)
    return names(done.engine.bed(0).in_use)


@pytest.mark.parametrize("words, meant", [
    ("L3 of front", "L3"), ("R1 of front", "R1"), ("L10 of front", "L10"), ("R10 of front", "R10"),
    ("L2 to R2 of front", "L2 L1 R1 R2"), ("R2 to L2 of front", "L2 L1 R1 R2"),
    ("L10 to L9 of front", "L10 L9"), ("R9 to R10 of front", "R9 R10"),
    ("centre 4 of front", "L2 L1 R1 R2"), ("centre 1 of front", "R1"),
    ("centre 3 of front", "L1 R1 R2"), ("centre 5 of front", "L2 L1 R1 R2 R3"),
    ("L3 and R3 of front", "L3 R3"), ("L3 and centre 2 and R3 of front", "L3 L1 R1 R3"),
    ("every other of centre 6 of front", "L3 L1 R2"),
    ("every 2nd from 2 of centre 6 of front", "L2 R1 R3"),
    ("every 3rd from 1 of centre 7 of front", "L3 R1 R4"),
    ("every 3rd from 3 of centre 7 of front", "L1 R3"),
    ("every 3rd from 8 of centre 7 of front", "")])
def test_the_needles_that_words_mean(words, meant):
    assert put(words) == meant


def test_the_whole_bed_and_not_a_needle_more():
    assert put("centre 20 of front").split() == [needle_name(n, NEEDLES) for n in range(NEEDLES)]


@pytest.mark.parametrize("words, told", [
    ("centre 20", False), ("centre 21", True), ("centre 22", True), ("R10", False), ("R11", True),
    ("L10", False), ("L11", True), ("L10 to R10", False), ("L11 to R10", True)])
def test_what_reaches_past_the_end_of_the_bed_is_told(words, told):
    body = f"bring {words} of front into work to cast on"

    assert ("needle-off-bed" in [f.kind for f in findings(body, SMALL)]) == told
    assert run(body, SMALL).engine.bed(0).in_use < 1 << NEEDLES


@pytest.mark.parametrize("words, taken", [
    ("L11", "L10"), ("R11", "R10"), ("L99", "L10"), ("R99", "R10"), ("R9 to R11", "R9 R10"),
    ("L12 to L9", "L10 L9")])
def test_a_needle_past_the_end_is_taken_for_the_last(words, taken):
    assert put(f"{words} of front") == taken


def test_there_is_no_needle_nought_and_counting_starts_with_one():
    for words, kind in (("L0", "no-needle-0"), ("every 2nd from 0 of centre 4", "bad-number")):
        stopped = run(f"bring {words} of front into work to cast on", SMALL).stopped
        assert stopped is not None and stopped.kind == kind


HUNG = """bring centre 6 of front into work
set front to knit
thread main
cast on front
"""


@pytest.mark.parametrize("more, words, left", [
    ("", "left 2 of front", "L1 R1 R2 R3"), ("", "right 1 of front", "L3 L2 L1 R1 R2"),
    ("", "left 6 of front", ""), ("", "all of front", ""), ("", "front", ""),
    ("", "L3 and R3 of front", "L2 L1 R1 R2"),
    ("hold left 2 of front\n", "left 1 working of front", "L3 L2 R1 R2 R3"),
    ("hold left 2 of front\n", "held of front", "L1 R1 R2 R3"),
    ("hold left 1 and right 1 of front\n", "right 1 held of front", "L3 L2 L1 R1 R2"),
    ("hold left 2 and right 2 of front\n", "left 1 held of front", "L3 L1 R1 R2 R3"),
    ("hold left 2 and right 2 of front\n", "right 1 held of front", "L3 L2 L1 R1 R3"),
    ("bring L4 of front into work to cast on\n", "empty of front", "L3 L2 L1 R1 R2 R3"),
    ("bring L4 of front into work to cast on\n", "left 1 of front", "L4 L2 L1 R1 R2 R3"),
    ("bring L4 of front into work to cast on\n", "left 1 needles of front",
     "L3 L2 L1 R1 R2 R3")])
def test_the_ends_of_what_hangs(more, words, left):
    done = run(f"{HUNG}{more}take {words} out of work", SMALL)

    assert names(done.engine.bed(0).in_use) == left


@pytest.mark.parametrize("count, told", [(6, False), (7, True)])
def test_more_than_hang_there_are_told(count, told):
    body = f"{HUNG}hold left {count} of front"

    assert ("too-few-needles" in [f.kind for f in findings(body, SMALL)]) == told
