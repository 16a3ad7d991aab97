"""Setting up the beds: pitch, racking, needle positions, settings, stitch size."""

from __future__ import annotations

from fractions import Fraction

from sockscript.expand import printed as pr
from sockscript.expand.needles import choose
from sockscript.expand.run import Run
from sockscript.numbers.quantity import Quantity
from sockscript.operations import ops
from sockscript.operations.beds import BEDS
from sockscript.tree import instructions as ins


def set_pitch(run: Run, line: ins.PitchIs) -> None:
    """Half or full pitch."""
    run.say(pr.Pitching(line.pitch))
    run.do(ops.SetPitch(line.pitch))


def rack(run: Run, line: ins.RackTo) -> None:
    """Racking to the left or right of the middle."""
    steps = run.count(line.steps, "stitches")
    run.say(pr.Racking(Quantity(steps), line.side))
    run.do(ops.Rack(steps if line.side == "right" else -steps))


def place(run: Run, line: ins.PlaceNeedles) -> None:
    """Needles to a position."""
    chosen = choose(run, line.needles, "in-use")
    run.say(pr.Placing(line.position, chosen.words, line.purpose, line.returning))
    run.do(ops.Place(line.position, *chosen.masks, line.purpose))


def set_bed(run: Run, line: ins.SetBedTo) -> None:
    """One or both beds to a setting."""
    beds, word = run.beds(line.bed)
    run.say(pr.BedSetting(word, line.action))
    for bed in beds:
        run.do(ops.SetBed(bed, line.action))


def set_needles(run: Run, line: ins.SetNeedlesTo) -> None:
    """Some needles to knit, tuck or slip where their bed knits."""
    chosen = choose(run, line.needles, "in-use")
    run.say(pr.NeedleSetting(chosen.words, line.action))
    run.do(ops.SetNeedles(line.action, *chosen.masks))


def switch_hold(run: Run, line: ins.HoldSwitch) -> None:
    """Hold respected or cancelled."""
    beds, word = run.beds(line.bed)
    run.say(pr.HoldSetting(word, line.respected))
    for bed in beds:
        run.do(ops.SetHold(bed, line.respected))


def stitch_size(run: Run, line: ins.StitchSize) -> None:
    """A number of the dial."""
    value = run.value(line.size)
    if isinstance(value, str) or value.unit:
        raise run.cannot("not-a-number", line.size.at, "A number of the dial should stand here.",
                         "For example: stitch size 5")
    beds, word = run.beds(line.bed) if line.bed is not None else (
        BEDS if run.engine.profile.beds == 2 else BEDS[:1], "")
    run.say(pr.Dialling(value, word))
    run.do(ops.SetSize(beds, Fraction(value.value)))
