"""The machine told in words and in signs."""

from __future__ import annotations

import pytest

from sockscript.machine.profile import ANY_DOUBLE_BED
from sockscript.operations import ops
from sockscript.operations.beds import BACK, FRONT
from sockscript.trace.in_words import whole_machine
from sockscript.trace.replay import replay
from sockscript.trace.symbols import legend, sign, stitch_sign, symbol

SIX = 0b111111
ROW = (ops.Place("work", SIX, SIX, "cast-on"), ops.SetBed(FRONT, "knit"),
       ops.SetBed(BACK, "knit"), ops.Thread("main"), ops.Knit(1))


def told(*operations, beds=2, yarn="four-ply wool"):
    return whole_machine(replay(operations, ANY_DOUBLE_BED).snapshot(), beds, yarn)


def test_a_machine_at_the_start_and_after_a_row():
    assert told(yarn="") == [
        "Carriage COR, at the right · RC 0 · half pitch",
        "Back bed: 0 stitches, set to rest", "Front bed: 0 stitches, set to rest",
        "Yarn in the feeder: none"]
    assert told(*ROW, beds=1) == [
        "Carriage COL, at the left · RC 1", "Front bed: 6 stitches, set to knit",
        "Yarn in the feeder: four-ply wool"]


@pytest.mark.parametrize("operations, words", [
    ((ops.Rack(1),), "half pitch, racked 1 to the right"),
    ((ops.Rack(-2),), "half pitch, racked 2 to the left"),
    ((ops.SetPitch("full"),), "full pitch"),
    ((ops.Tackle("comb", "hang"),), "half pitch · comb hung"),
    ((ops.Tackle("comb", "hang"), ops.Tackle("weights", "hang")),
     "half pitch · comb and weights hung")])
def test_what_is_set_and_hung(operations, words):
    assert told(*ROW, *operations)[0] == f"Carriage COL, at the left · RC 1 · {words}"


@pytest.mark.parametrize("operations, words", [
    ((ops.Drop(0b11111, 0),), "Front bed: 1 stitch, set to knit"),
    ((ops.Place("hold", 0b11, 0),),
     "Front bed: 6 stitches, set to knit, 2 of them in hold (hold is cancelled)"),
    ((ops.Place("hold", 0b11, 0), ops.SetHold(FRONT, True)),
     "Front bed: 6 stitches, set to knit, 2 of them in hold (held needles do not knit)"),
    ((ops.SetNeedles("tuck", 0b111, 0), ops.SetNeedles("slip", 0b1000, 0)),
     "Front bed: 6 stitches, set to knit, 3 of its needles set to tuck, "
     "1 of its needles set to slip"),
    # What is set of needles out of work does nothing.
    ((ops.SetNeedles("tuck", SIX << 6, 0),), "Front bed: 6 stitches, set to knit")])
def test_a_bed(operations, words):
    assert told(*ROW, *operations)[2] == words


def test_the_one_sign_of_a_needle():
    """Empty, one stitch, two, in hold, two in hold, in upper working position, with yarn laid over;
    and out of work."""
    engine = replay((*ROW, ops.Drop(0b1, 0), ops.Transfer(
        ((BACK, 2, FRONT, 2), (BACK, 4, FRONT, 4)), True), ops.Place("hold", 0b11000, 0),
        ops.Place("upper", 0b100000, 0), ops.Wrap(BACK, 0)), ANY_DOUBLE_BED)
    state = engine.snapshot()

    assert [symbol(state.front, n) for n in range(7)] == ["-", "o", "8", "^", "%", "u", " "]
    assert symbol(state.back, 0) == "&" and stitch_sign(state.back, 0).name == "one"
    assert sign(state.front, 5).name == "upper" and stitch_sign(state.front, 5).name == "one"
    assert legend({"o", "-", " "}) == "- in work, empty; o one stitch"
