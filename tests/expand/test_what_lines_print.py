"""What each line prints, and where stitches hang after it.

Behind the line (and what goes before it) stands its sentence and, if it moves, makes or takes
stitches, the needles with stitches on the front and on the back bed.  Before it stitches hang on L4
to R4 of both, and two empty needles stand in work at each end of both beds.
"""

from __future__ import annotations

import pytest
from support.scripts import HEADER, run

from sockscript.operations.beds import needle_ranges
from sockscript.sheet.sentences import sentence

NEEDLES = 20
SMALL = HEADER + f"machine\n    beds 2\n    needles {NEEDLES}\n    needs racking\n"
BEFORE = """bring centre 8 of both into work to cast on
set both to knit
thread main
knit 9 rows
bring L6 and L5 and R5 and R6 of both into work
"""
HUNG = "L4 to R4 / L4 to R4"

LINES = """
half pitch  # Set the beds to half pitch.
full pitch  # Set the beds to full pitch.
rack to 2 left  # Rack the back bed 2 to the left.
rack to 1 right  # Rack the back bed 1 to the right.
bring L6 of front into work  # Bring needle L6 of the front bed into work.
bring L6 of front into work to cast on  # Bring needle L6 of the front bed into work.
bring L6 to L7 of both into work to increase  # Bring needles L6 to L7 of each bed into work to increase.
take L4 of back out of work  # Take needle L4 of the back bed out of work.  # L4 to R4 / L3 to R4
hold left 2 of front  # Put the 2 outermost stitches at the left end of the front bed into hold.
hold centre 4 of both  # Put the 4 needles at the centre of each bed into hold.
return held of front to work  # Return all held needles of the front bed to work.
set front to knit  # Set the front bed to knit.
set both to circular  # Set both beds to circular.
set back to rest  # Set the back bed to rest.
set L2 and R2 of front to tuck  # Set needle L2 and needle R2 of the front bed to tuck: the yarn is laid over their stitches.
respect hold on front  # Set the front bed so that held needles do not knit.
cancel hold on both  # Cancel hold on both beds.
stitch size 5  # Stitch size 5.
stitch size 6 1/3 on back  # Stitch size 6⅓ on the back bed.
move carriage to right  # Move the carriage to the right without knitting.
knit 3 rows  # Knit 3 rows.  # L6 to R6 / L6 to R6
knit 1 round  # Knit 1 round.  # L6 to R6 / L6 to R6
knit 2 rows on front  # Knit 2 rows on the front bed.  # L6 to R6 / L4 to R4
knit 2 rows from left  # Knit 2 rows, starting from the left.  # L6 to R6 / L6 to R6
knit 2 rows from carriage side  # Knit 2 rows, starting from the left.  # L6 to R6 / L6 to R6
row counter 12  # Set the row counter to 12.
transfer L4 of back onto front  # Transfer needle L4 of the back bed onto the stitches that face them on the front bed.  # L4 to R4 / L3 to R4
transfer L4 of back to L5 of back  # Transfer needle L4 of the back bed to needle L5 of the back bed.  # L4 to R4 / L5 and L3 to R4
transfer all of back onto front  # Transfer all needles of the back bed onto the stitches that face them on the front bed.  # L4 to R4 / none
transfer L4 and L3 of back to L5 and L6 of front  # Transfer needle L4 and needle L3 of the back bed to needle L5 and needle L6 of the front bed.  # L6 to R4 / L2 to R4
fold left 2 of front onto back  # Lift the 2 outermost stitches at the left end of the front bed, turn them round and hang them on the back bed, each facing a stitch that stayed.  # L2 to R4 / L4 to R4
fold right 1 of back onto front  # Lift the outermost stitch at the right end of the back bed, turn them round and hang them on the front bed, each facing a stitch that stayed.  # L4 to R4 / L4 to R3
move 2 stitches at left of front in  # Move the 2 outer stitches at the left of the front bed in by one needle.  # L3 to R4 / L4 to R4
move 1 stitch at right of both in by 1  # Move the edge stitch at the right of each bed in by one needle.  # L4 to R3 / L4 to R3
move 3 stitches at right of back out by 2  # Move the 3 outer stitches at the right of the back bed out by 2 needles.  # L4 to R4 / L4 to R1 and R4 to R6
move 2 stitches at left of front out by 1  # Move the 2 outer stitches at the left of the front bed out by one needle.  # L5 to L4 and L2 to R4 / L4 to R4
move 2 stitches at right of front in by 2  # Move the 2 outer stitches at the right of the front bed in by 2 needles.  # L4 to R2 / L4 to R4
wrap L4 of front  # Lay the yarn round needle L4 of the front bed.
cast on L5 of front  # Cast on by hand over needle L5 of the front bed.  # L5 to R4 / L4 to R4
bind off front  # Bind off all stitches of the front bed loosely.  # none / L4 to R4
bind off left 3 of both  # Bind off the 3 outermost stitches at the left end of each bed loosely.  # L1 to R4 / L1 to R4
gather both  # Draw the yarn end through all stitches of both beds, pull up and fasten.  # none / none
drop left 1 of back  # Drop the outermost stitch at the left end of the back bed on purpose.  # L4 to R4 / L3 to R4
latch up L4 of front  # Latch up needle L4 of the front bed.
scrap off front as top  # Scrap all stitches of the front bed off onto waste yarn (the top).  # none / L4 to R4
scrap off left 2 of both as corner  # Scrap the 2 outermost stitches at the left end of each bed off onto waste yarn (the corner).  # L2 to R4 / L2 to R4
knit in waste over left 3 of front as gap  # Knit a length of smooth waste yarn over the 3 outermost stitches at the left end of the front bed by hand: the place of the gap. The yarn in the feeder goes on.
pick up along 2 rows at left of front onto L5 and L6 of front  # Pick up 2 loops along the left edge of the front bed, spread evenly over the last 2 rows there, and hang them onto needle L5 and needle L6 of the front bed.  # L6 to R4 / L4 to R4
graft front to back  # Graft the stitches of the front bed to those of the back bed.  # none / none
hang comb  # Hang the comb.
remove weights  # Remove the weights.
mark edge start on front  # On the front bed the next row begins with open loops: the start.
mark slit gap on back  # This row of waste yarn marks the place of the gap.
sew down brim over 4 rows  # Fold the first 4 rows to the inside and sew the open loops of the brim down there, one by one.
sew down last 6 rows  # Fold the last 6 rows to the inside and sew their stitches or edge down there, loosely.  # none / none
sew sides  # The two side edges are sewn together when the piece is finished.
fill L5 of front from right  # Fill needle L5 of the front bed: lift the loop below the neighbouring stitch on the right onto it.  # L5 to R4 / L4 to R4
scrap off left 2 of front as top; rehang top to L6 and L5 of front  # Hang the stitches of the top on needle L6 and needle L5 of the front bed.  # L6 to L5 and L2 to R4 / L4 to R4
scrap off left 2 of front as top; rehang top onto R3 and R4 of back  # Hang the stitches of the top onto needle R3 and needle R4 of the back bed.  # L2 to R4 / L4 to R4
scrap off right 1 of both as top; rehang top to R5 of front and R5 of back turned  # Hang the stitches of the top on needle R5 of the front bed and needle R5 of the back bed, turned round.  # L4 to R3 and R5 / L4 to R3 and R5
"""  # noqa: E501


@pytest.mark.parametrize("row", [row for row in LINES.splitlines() if row])
def test_what_a_line_prints_and_where_stitches_hang_after_it(row):
    line, words, *moved = row.split("  # ")
    *before, line = line.split("; ")
    done = run(BEFORE + "\n".join([*before, line]), SMALL)
    hung = " / ".join(needle_ranges(done.engine.bed(bed).loaded, NEEDLES) or "none"
                      for bed in (0, 1))
    told = done.sections[0].instructions

    assert "wrong-carriage-side" not in [one.fault.kind for one in done.mishaps]
    assert done.stopped is None and len(told) == 6 + len(before)
    assert sentence(told[-1].printed, done.engine.profile) == words
    assert told[-1].last == len(done.moments) and told[-1].first >= told[-2].last >= 6
    assert hung == (moved[0] if moved else HUNG)
