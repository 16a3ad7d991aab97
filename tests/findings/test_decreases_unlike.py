"""Decreases of one round that are not made alike at both ends and on both beds."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, TUBE, findings, kinds

END = "\nremove weights\ncut\ngraft front to back"
BEGUN = f"{TUBE}\nset both to circular\nknit 4 rounds\n"
LEFT = "let edge = count-on(front) / 2\ntransfer L(edge) of front onto L(edge - 1) of front\n" \
    "transfer L(edge) of back onto L(edge - 1) of back\n"


def told(body: str, header: str = "") -> set[str]:
    return set(kinds(BEGUN + body + END, HEADER + header))


def rounds(body: str) -> str:
    return "repeat 3 times\n" + "".join(f"    {line}\n" for line in body.strip().split("\n"))


@pytest.mark.parametrize("knitted", [
    "knit 2 rounds", "knit 4 rows", "repeat 4 times\n    knit 1 row"])
@pytest.mark.parametrize(("onto", "found"), [(1, set()), (2, {"decreases-unlike"})])
def test_a_single_stitch_is_laid_onto_its_neighbour_at_all_ends_or_at_none(onto, found, knitted):
    body = (f"{LEFT}transfer R(edge) of front onto R(edge - 1) of front\n"
            f"transfer R(edge) of back onto R(edge - {onto}) of back\n"
            f"take empty of both out of work\n{knitted}")

    assert told(rounds(body)) == found


def test_from_a_technique_it_is_the_same():
    technique = ("technique narrower with inner\n    move 3 stitches at left of both in by 1\n"
                 "    move 3 stitches at right of front in by 1\n"
                 "    move inner stitches at right of back in by 1\n    knit 2 rounds\n")

    assert told("repeat 3 times\n    do narrower with inner = 3", technique) == set()
    (once,) = findings(f"{BEGUN}repeat 3 times\n    do narrower with inner = 2{END}",
                       HEADER + technique)
    assert (once.kind, once.times) == ("decreases-unlike", 1)


def test_all_stitches_laid_over_their_neighbours_are_alike():
    body = "".join(f"transfer {side}(edge) of {bed} onto {side}(edge - 2) of {bed}\n"
                   for bed in ("front", "back") for side in "LR")

    assert told(rounds(f"let edge = count-on(front) / 2\n{body}take empty of both out of work\n"
                       "knit 2 rounds")) == set()


def test_one_round_may_be_made_otherwise_than_the_next():
    assert told("move 3 stitches at left of both in by 1\n"
                "move 3 stitches at right of both in by 1\n"
                "knit 2 rounds\nmove 1 stitch at left of both in by 1\n"
                "move 1 stitch at right of both in by 1\nknit 2 rounds") == set()


def test_where_more_are_taken_in_at_one_end_only_that_is_told():
    assert told(rounds("move 4 stitches at left of both in by 1\n"
                       "move 4 stitches at right of back in by 1\n"
                       "move 4 stitches at right of front in by 2\nknit 2 rounds")) \
        == {"decreases-not-mirrored", "unequal-graft"}
