"""Sentences that count: of one thing, of none and of several they are sentences all the same."""

from __future__ import annotations

import pytest
from support.scripts import FLAT, findings

WASTE = FLAT + """
cut
thread waste
knit {} row
cut
thread main
knit 4 rows
bind off front
cut
"""


@pytest.mark.parametrize("body, kind, words", [
    (FLAT + "\ncut\nscrap off left 1 of front as one\ngather front", "group-left",
     "not taken up: 1 stitch stays open."),
    (FLAT + "\ncut\nscrap off left 2 of front as two\ngather front", "group-left",
     "not taken up: 2 stitches stay open."),
    (FLAT + "\nhold left 1 held of front", "too-few-needles",
     "1 held needle of the front bed is meant here, but there is none."),
    (FLAT + "\nhold left 1 of front\nreturn left 2 held of front to work", "too-few-needles",
     "2 held needles of the front bed are meant here, but there is only 1."),
    (FLAT + "\nhold left 25 of front", "too-few-needles",
     "25 needles of the front bed are meant here, but there are only 20."),
    (FLAT + "\nhold left 1 of front\nrespect hold on front\nknit 1 row", "held-never-returned",
     "Needle L10 of the front bed is still in hold with 1 stitch."),
    (FLAT + "\nhold left 2 of front\nrespect hold on front\nknit 1 row", "held-never-returned",
     "Needles L10 to L9 of the front bed are still in hold with 2 stitches."),
    (FLAT + "\nhold left 2 of front\nrespect hold on front\nknit 1 row", "live-stitches-left",
     "The pattern ends with 18 stitches still on needles L8 to R10 of the front bed."),
    (FLAT + "\ncut\nsew down last 2 rows", "hem-too-deep",
     "2 rows should be folded to the inside, but the piece has only 1 row: "),
    (WASTE.format(1), "waste-knitted-in", "1 row of waste yarn on the front bed stays in the "
     "knitting: when it is drawn out, it comes apart there."),
    (WASTE.format(2), "waste-knitted-in", "2 rows of waste yarn on the front bed stay in the "
     "knitting: when they are drawn out, it comes apart there."),
])
def test_a_sentence_of_one_or_none(body, kind, words):
    assert words in next(one.message for one in findings(body) if one.kind == kind)
