"""Yarn and work in each section, counted from the loops and operations of the simulation."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import NamedTuple, assert_never

from sockscript.expand.run import Run, once
from sockscript.expand.sections import SectionRecord
from sockscript.fit.pace import Pace, minutes
from sockscript.fit.yarn import END_MM, loop_length, weighed_loop
from sockscript.operations import ops
from sockscript.tree.script import Gauge, Script, Yarn

SETTINGS = (ops.SetPitch, ops.Rack, ops.SetBed, ops.SetNeedles, ops.SetHold, ops.SetSize,
            ops.Thread, ops.Add, ops.Change, ops.Cut, ops.MoveCarriage, ops.ResetCounter,
            ops.Tackle)
"""What is set or hung: no needle moves, and every loop stays where it is."""


class SectionAmounts(NamedTuple):
    """What one section takes: stitches of each yarn, strands of it tucked or wrapped (yarn, but no
    stitches), passes, stitches and needles moved by hand."""

    title: str
    fabric: str | None
    loops: Mapping[str, int]
    strands: Mapping[str, int]
    passes: int
    moves: int
    settings: int


class YarnAmount(NamedTuple):
    """A yarn in one size: stitches, metres with its ends, and grams (None: not known)."""

    yarn: Yarn
    loops: int
    metres: float | None
    grams: float | None

    def balls(self, pieces: int) -> int | None:
        """Whole balls for so many pieces together, of the weight that the yarn line names."""
        if self.grams is None or self.yarn.ball_grams is None:
            return None
        return math.ceil(pieces * self.grams / float(self.yarn.ball_grams))


@once
def section_amounts(run: Run) -> list[SectionAmounts]:
    """Loops and work of each section."""
    found = []
    for section in run.sections:
        passes = moves = settings = 0
        for moment in run.moments[section.first:section.last]:
            if isinstance(moment.op, ops.Knit):
                passes += moment.op.passes
            else:
                by_hand = hand_moves(moment.op)
                moves += by_hand
                settings += by_hand == 0
        found.append(SectionAmounts(section.title, section.fabric, section.loops, section.strands,
                                    passes, moves, settings))
    return found


def hand_moves(op: ops.Op) -> int:
    """Stitches or needles that an operation moves by hand; 0 for a setting."""
    if isinstance(op, SETTINGS):
        return 0
    match op:
        case ops.Transfer() | ops.Fold() | ops.Fashion():
            return len(op.moves)
        case ops.CastOn() | ops.BindOff() | ops.Graft() | ops.Gather() | ops.Drop() | ops.LatchUp():
            return op.front.bit_count() + op.back.bit_count()
        case ops.ScrapOff() | ops.KnitIn():
            return op.needles.bit_count()
        case ops.Rehang() | ops.PickUp():
            return len(op.targets)
        case ops.Wrap() | ops.Fill():
            return 1
        case (ops.Knit() | ops.Place() | ops.Mark() | ops.GraftGroups() | ops.SewDown()
              | ops.SewSides()):
            return 0
        case _:
            assert_never(op)


def gauge_for(run: Run, section: SectionRecord | SectionAmounts) -> Gauge | None:
    """The gauge of a section's fabric; the script's first where it names none."""
    gauges = run.script.gauges
    return next((g for g in gauges if g.fabric == section.fabric), gauges[0] if gauges else None)


def loop_mm(script: Script, gauge: Gauge, yarn: str) -> float:
    """Millimetres of yarn in a stitch: from a weighed swatch of this yarn and fabric if there is
    one, else by the geometry of plain knit in the state in which the gauge was taken (in rib an
    estimate; see ``fit.yarn``)."""
    for swatch in script.swatches:
        if (swatch.yarn, swatch.fabric) == (yarn, gauge.fabric):
            per_gram = next(y.metres_per_gram for y in script.yarns if y.name == yarn)
            if per_gram is not None:
                return weighed_loop(swatch.grams, per_gram, swatch.stitches * swatch.rows)
    return loop_length(gauge.stitches_per_mm, gauge.rows_per_mm, gauge.state)


def section_metres(run: Run, section: SectionAmounts) -> dict[str, float]:
    """Metres of each yarn that a section takes, without ends; empty without a gauge.

    A strand that is tucked or wrapped is reckoned as long as a stitch: at most a little too much.
    """
    gauge = gauge_for(run, section)
    if gauge is None:
        return {}
    return {name: (section.loops.get(name, 0) + section.strands.get(name, 0))
            * loop_mm(run.script, gauge, name) / 1000
            for name in {**section.loops, **section.strands}}


def yarn_amounts(run: Run) -> list[YarnAmount]:
    """Every yarn that is used: metres by loop length, with 15 cm for each end."""
    loops: dict[str, int] = {}
    length: dict[str, float] = {}
    known = True
    for section in section_amounts(run):
        known = known and gauge_for(run, section) is not None
        for name in {**section.loops, **section.strands}:
            loops[name] = loops.get(name, 0) + section.loops.get(name, 0)
        for name, taken in section_metres(run, section).items():
            length[name] = length.get(name, 0.0) + taken
    found = []
    for yarn in run.script.yarns:
        if yarn.name not in loops:
            continue
        metres = grams = None
        if known:
            ends = run.engine.ends.get(yarn.name, 0)
            metres = length[yarn.name] + ends * END_MM / 1000
            if yarn.metres_per_gram is not None:
                grams = metres / float(yarn.metres_per_gram)
        found.append(YarnAmount(yarn, loops[yarn.name], metres, grams))
    return found


def section_minutes(section: SectionAmounts, pace: Pace) -> float:
    """Minutes for one section."""
    return minutes(section.passes, section.moves, section.settings, pace)


def minutes_for(run: Run, pace: Pace) -> float:
    """Minutes for the whole piece."""
    total = section_amounts(run)
    return minutes(sum(s.passes for s in total), sum(s.moves for s in total),
                   sum(s.settings for s in total), pace)
