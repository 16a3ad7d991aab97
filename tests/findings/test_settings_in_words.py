"""What the words of a step say of carriage, yarn, pitch, racking, comb, weights, closing and row
counter is held against what its lines do.

Common practice, no source: the reader does what the words say.
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, findings

RED = HEADER + 'yarn red "red wool"\nyarn grey "grey wool"\n'
FLAT = """bring centre 20 of front into work
set front to knit
stitch size 6
thread main
cast on front
knit 4 rows
"""
TUBE = """do tube-cast-on with half = 10, yarn = main
stitch size 6
knit 6 rounds
"""
WAYS = {
    "rows": "{}",
    "in a repeat": "repeat 1 times\n    {}",
    "in a technique": "do worded",
}


def told(start: str, words: str, lines: str, way: str = "rows") -> list[str]:
    """What is said of a step with these words over these lines."""
    block = f'step "{words}"\n    ' + lines.replace("\n", "\n    ")
    header = RED
    if way == "in a technique":
        header += "technique worded\n    " + block.replace("\n", "\n    ") + "\n"
    body = start + WAYS[way].format(block.replace("\n", "\n    ") if "repeat" in way else block)
    return [one.message for one in findings(body, header) if one.kind == "words-say-otherwise"]


@pytest.mark.parametrize(("start", "words", "lines", "otherwise"), [
    (FLAT, "With the carriage at the left knit 4 rows.", "knit 4 rows",
     "the carriage is at the left, but it is at the right"),
    (FLAT, "With the carriage at the right knit 4 rows.", "knit 4 rows", None),
    (FLAT, "Knit 3 rows from the left.", "knit 3 rows", None),
    (FLAT, "Knit 4 rows, beginning from the left.", "knit 4 rows",
     "the carriage is at the left, but it is at the right"),
    (FLAT, "Knit 4 rows. Count 3 needles from the left.", "knit 4 rows", None),
    (FLAT, "The carriage stands at the left at the end: knit 5 rows.", "knit 5 rows", None),
    (FLAT, "Cut the yarn, thread the grey wool.", "cut\nthread red",
     "grey wool, but the lines thread red wool"),
    (FLAT, "Cut the yarn, thread the red wool.", "cut\nthread red", None),
    (FLAT, "Change to grey wool and knit 2 rows.",
     "change to red\nknit 2 rows\nchange to main\nknit 2 rows",
     "grey wool, but the lines thread red wool"),
    (FLAT, "Change from grey wool to the other.", "change to red\nknit 2 rows", None),
    (FLAT, "Cut the yarn. Knit 2 rows.", "knit 2 rows",
     "that yarn is cut, but the lines do not cut it"),
    (FLAT, "Do not cut the yarn. Knit 2 rows.", "knit 2 rows", None),
    (FLAT, "Cut the yarn.", "cut", None),
    (FLAT, "At half pitch knit 2 rows.", "full pitch\nknit 2 rows",
     "half pitch, but the lines set full pitch"),
    (FLAT, "At full pitch knit 2 rows.", "full pitch\nknit 2 rows", None),
    (FLAT, "Rack the bed 1 to the left.", "rack to 1 right",
     "racked to the left, but the lines rack to the right"),
    (FLAT, "Rack the bed 1 to the right.", "rack to 1 right", None),
    (FLAT, "Rack the bed back to the left.", "rack to 2 right\nrack to 1 right", None),
    (FLAT, "Bind off.", "cut\ngather front",
     "bind off, but the lines draw the stitches together"),
    (FLAT, "Draw the yarn through the stitches.", "bind off front\ncut",
     "draw together, but the lines bind off"),
    (FLAT, "Cast off loosely.", "bind off front\ncut", None),
    (FLAT, "Bind off: draw each loop through the next.", "bind off front\ncut", None),
    (FLAT, "Loop over loop; draw the end through the last loop.", "bind off front\ncut", None),
    (TUBE, "Graft the stitches.", "cut\ngather both",
     "graft, but the lines draw the stitches together"),
    (TUBE, "Graft the stitches.", "cut\ngraft front to back", None),
    (TUBE, "Remove the weights and the comb, knit 1 round.", "knit 1 round",
     "the comb is removed, but the lines do not remove it"),
    (TUBE, "Remove the weights and the comb.", "remove weights\nremove comb", None),
    (TUBE, "Remove the comb.", "remove comb", None),
    (TUBE, "Lay all stitches of the back bed onto the front bed.", "transfer front onto back",
     "to the front bed, but the lines move stitches to the back bed"),
    (TUBE, "Transfer the stitches of the front bed, one by one, to the back bed.",
     "transfer front onto back", None),
    (TUBE, "Lay L4 of the front bed onto L3. Hang a weight on the back bed.",
     "transfer L4 of front onto L3 of front", None),
    (TUBE, "Lay L4 on the back bed and R4 on the front bed.",
     "transfer L4 of front onto L4 of back\ntransfer R4 of back onto R4 of front", None),
    (TUBE, "Move the 2 outermost stitches at each end in by one.",
     "move 3 stitches at left of both in by 1\nmove 3 stitches at right of both in by 1",
     "2 stitches move, but the lines move 3"),
    (TUBE, "Move the 3 outer stitches at each end in by one.",
     "move 3 stitches at left of both in by 1\nmove 3 stitches at right of both in by 1", None),
    (TUBE, "Move the 3 outer stitches at the left in, the 2 outermost stitches at the right.",
     "move 3 stitches at left of both in by 1\nmove 3 stitches at right of both in by 1", None),
    (FLAT, "Hang the weights, knit 2 rows.", "knit 2 rows",
     "the weights are hung, but the lines do not hang them"),
    (TUBE, "Hang the weights lower, knit 2 rounds.", "knit 2 rounds", None),
    (TUBE, "Do not hang the comb, knit 2 rounds.", "remove comb\nknit 2 rounds", None)])
@pytest.mark.parametrize("way", WAYS)
def test_words_are_held_against_the_lines(start, words, lines, otherwise, way):
    said = told(start, words, lines, way)
    if otherwise is None:
        assert said == []
    else:
        assert f"The words say {otherwise}." in said


@pytest.mark.parametrize(("words", "end"), [
    ("Knit 20 rounds. The row counter shows 20.", 40),
    ("Knit 20 rounds (row counter 20).", 40), ("Knit 20 rounds. The row counter now shows 20.", 40),
    ("Knit 20 rounds. The row counter stands at 20.", 40),
    ("After the heel knit 20 rounds. The row counter shows 20.", 40),
    ("Knit 20 rounds until the row counter shows 20", 40),
    ("Knit 20 rounds. The row counter shows 39.", 40),
    ("Knit 20 rounds. The row counter shows 40.", None),
    ("Knit 20 rounds. When the row counter shows 20, move the weights.", None),
    ("Knit 20 rounds; move the weights when the row counter shows 20.", None),
    ("Set the row counter to 0.", None)])
def test_the_row_counter_at_the_end_counts_passes(words, end):
    """A round is two passes of the carriage, and the counter counts passes (design: binding)."""
    said = told(TUBE, words, "row counter 0\nknit 20 rounds")
    assert len(said) == (end is not None)
    assert all(f"it shows {end} there" in one for one in said)
    assert ("two rows of the carriage" in "".join(said)) is ("20" in words[15:] and bool(end))


@pytest.mark.parametrize(("lines", "otherwise"), [
    ("knit 6 rounds\nknit 6 rounds\nknit 8 rounds",
     "it shows 40 there (a round is two rows of the carriage)."),
    ("knit 6 rounds\nknit 6 rounds\nknit 9 rounds", "it shows 42 there."),
    ("knit 10 rounds\nknit 10 rounds", None),
    # Where it never comes to, or no row is knitted, is not told as what it shows at the end.
    ("knit 6 rounds", None), ("cut", None)])
def test_the_row_counter_shows_what_the_last_of_some_lines_has_come_to(lines, otherwise):
    counter = "row counter 0\n"
    start = TUBE + (f"{counter}knit 12 rounds\n" if lines == "cut" else "")
    said = told(start, "The row counter shows 20.", lines if lines == "cut" else counter + lines)

    assert [one.partition(" at the end, but ")[2] for one in said if " at the end" in one] == [
        otherwise] * (otherwise is not None)


def test_where_the_carriage_stands_is_no_end_of_the_needles():
    """The side of the carriage is not that of the needles that are put into hold."""
    start = FLAT + "respect hold on front\n"
    words = "Carriage at the right: put 3 needles into hold."
    assert told(start, words, "hold left 3 of front") == []
    assert told(start, "Put 3 needles at the right into hold.", "hold left 3 of front")


@pytest.mark.parametrize(("lines", "fits"), [
    ("stitch size 8\nknit 2 rows", "the lines set 8"), ("knit 2 rows", "the dial stands at 6")])
def test_only_stitch_sizes_under_the_words_are_named(lines, fits):
    assert told(FLAT, "With stitch size 7 knit 2 rows.", lines) == [
        f"The words say stitch size 7, but {fits}."]
