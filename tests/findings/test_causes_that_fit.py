"""The cause and the mend that are named are those of the slip that was made."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, findings, findings_of_text

from sockscript.findings.mends import mended
from sockscript.text.source import Source

RIB = """full pitch
bring every 2nd from 1 of centre 12 of front into work to cast on
bring every 2nd from 2 of centre 12 of back into work to cast on
set both to knit
stitch size 3
thread main
knit 1 row
hang comb
hang weights
{racked}
{rows}
remove weights
remove comb
transfer front to back
bind off back
cut"""


# ---- needles that meet

@pytest.mark.parametrize("rows", ["knit 6 rows", "repeat 6 times\n    knit 1 row", "do more"])
@pytest.mark.parametrize("racked", ["rack to 1 right", "rack to 1 left", "rack to 3 right"])
def test_needles_that_meet_because_the_beds_are_racked(racked, rows):
    header = HEADER + "technique more\n    knit 6 rows\n"
    found = findings(RIB.format(racked=racked, rows=rows), header)
    (collide,) = [one for one in found if one.kind == "beds-collide"]
    onto = next(one for one in found if one.kind == "transfer-onto-loop")

    assert "rack to 0" in collide.advice and "half pitch" not in collide.advice
    assert [one.label for one in collide.others][-1] == "the beds were racked here"
    assert "rack to 0" in onto.advice
    assert collide.mend is not None


def test_needles_that_meet_as_the_beds_stand():
    """An even number of steps leaves the needles of a 1x1 rib between each other."""
    (sound, *_) = [findings(RIB.format(racked="rack to 2 right", rows="knit 6 rows"))]
    all_needles = RIB.replace("every 2nd from 1 of ", "").replace("every 2nd from 2 of ", "")
    for racked in ("rack to 0", "rack to 1 right"):
        found = findings(all_needles.format(racked=racked, rows="knit 6 rows"))
        first = next(one for one in found if one.kind == "beds-collide")
        assert "half pitch" in first.advice and first.mend is None

    assert "beds-collide" not in [one.kind for one in sound]


def test_the_mend_of_racked_beds_takes_it_away():
    text = HEADER + 'section "Rib"\n' + "".join(
        f"    {line}\n" for line in RIB.format(racked="rack to 1 right",
                                               rows="knit 6 rows").splitlines())
    text = mended(Source("test.sockscript", text), findings_of_text(text))

    assert text is not None and "    rack to 0\n    knit 6 rows\n" in text
    assert "beds-collide" not in [one.kind for one in findings_of_text(text)]
