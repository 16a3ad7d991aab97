"""The finished piece as it is worn: leg, heel, foot and toe, from the simulated fabric."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from sockscript.expand.run import Run, SectionRecord
from sockscript.fabric.amounts import gauge_for
from sockscript.fabric.measures import held_stitches, is_rib, measures, passes_of
from sockscript.operations import ops


class Finished(NamedTuple):
    """Lengths in millimetres; None where the piece has no such part or no gauge.

    ``leg`` from the edge to the heel, ``heel`` how deep the heel is, ``foot`` from the back of
    the heel to the tip of the toe, ``toe`` the section that closes it.
    """

    leg: Fraction | None = None
    heel: Fraction | None = None
    foot: Fraction | None = None
    toe: Fraction | None = None


RIB_STRETCH, PLAIN_STRETCH = Fraction(18, 10), Fraction(16, 10)
"""How wide rib and plain knit can be pulled without strain, as multiples of their width, where
the gauge does not say: common practice, no source (1.5 to 2 for rib)."""

_CLOSING = (ops.Graft, ops.GraftGroups, ops.Gather)


class Parts(NamedTuple):
    """The sections with rows, and which of them are heel, foot, toe and leg (in knitting order).

    ``foot`` includes heel and toe; ``toe`` equals ``heel`` where the piece has no toe.
    """

    sections: list[SectionRecord]
    heel: int
    foot: range
    toe: int

    @property
    def leg(self) -> list[int]:
        """Sections above the heel."""
        return [n for n in range(len(self.sections)) if n not in self.foot]


def parts_of(run: Run) -> Parts | None:
    """A sock with a short-row heel, knitted from either end.

    A piece that ends by grafting or gathering has its toe last, and its first short-row section
    is the heel; one that ends otherwise has its toe first, and its last short-row section is the
    heel.
    """
    if "parts" not in run.worked_out:
        run.worked_out["parts"] = _find_parts(run)
    found: Parts | None = run.worked_out["parts"]
    return found


def _find_parts(run: Run) -> Parts | None:
    titles = {measure.title for measure in measures(run)}
    sections = [section for section in run.sections if section.title in titles]
    cups = [n for n, section in enumerate(sections) if _short_rows(run, section)]
    if not cups:
        return None
    if _closes(run, sections[-1]):
        return Parts(sections, cups[0], range(cups[0], len(sections)), len(sections) - 1)
    return Parts(sections, cups[-1], range(cups[-1] + 1), 0)


def _closes(run: Run, section: SectionRecord) -> bool:
    """Whether stitches are grafted or gathered in this section or after it."""
    return any(isinstance(moment.op, _CLOSING) for moment in run.moments[section.first:])


def finished(run: Run) -> Finished:
    """How long the parts of a sock with a short-row heel are.

    A short-row section is a cup folded in half: half of its rows lie along the foot (the trade's
    own reckoning; common practice, no source).
    """
    known: Finished | None = run.worked_out.get("finished")
    if known is None:
        known = run.worked_out["finished"] = _finished(run)
    return known


def _finished(run: Run) -> Finished:
    lengths = {measure.title: measure for measure in measures(run)}
    parts = parts_of(run) if run.stopped is None else None
    if parts is None:
        return Finished()
    depth: list[Fraction] = []
    for section in parts.sections:
        gauge = gauge_for(run, section)
        if gauge is None:
            return Finished()
        rows = lengths[section.title].deep - Fraction(_short_rows(run, section), 2)
        depth.append(rows / gauge.rows_per_mm)
    has_toe = parts.toe != parts.heel
    halves = [n for n in parts.foot if _beside(run, parts.sections[parts.heel], parts.sections[n])]
    foot = sum((depth[n] for n in parts.foot if n == parts.heel or n not in halves), Fraction(0))
    return Finished(
        sum((depth[n] for n in parts.leg), Fraction(0)) if parts.leg else None,
        depth[parts.heel],
        foot if has_toe else None,
        depth[parts.toe] if has_toe else None)


class Opening(NamedTuple):
    """A section that has to go over the heel: its narrowest girth, and how far that pulls out.

    Both in millimetres.  ``rib``: knitted on both beds at once.
    """

    section: SectionRecord
    girth: Fraction
    reach: Fraction
    rib: bool


def openings(run: Run) -> list[Opening]:
    """The sections between an open edge and the heel; without a heel, those of an open tube.

    How far a fabric pulls out is what its gauge says, or else common practice.
    """
    titles = {measure.title for measure in measures(run)}
    parts = parts_of(run)
    if parts is not None:
        sections = [parts.sections[n] for n in parts.leg]
    else:
        sections = [section for section in run.sections if section.title in titles]
        if not sections or _closes(run, run.sections[0]):
            return []
    found = []
    for section in sections:
        gauge = gauge_for(run, section)
        counts = []
        rib = False
        for _, before, after in passes_of(run, section.first, section.last):
            if not (before.front.loaded or before.back.loaded):
                continue
            counts.append(after.front.loaded.bit_count() + after.back.loaded.bit_count())
            rib = rib or is_rib(before)
        if gauge is None or not counts:
            continue
        girth = Fraction(min(counts)) / gauge.stitches_per_mm
        stretch = gauge.stretch or (RIB_STRETCH if rib else PLAIN_STRETCH)
        found.append(Opening(section, girth, girth * stretch, rib))
    return found


def _beside(run: Run, heel: SectionRecord, other: SectionRecord) -> bool:
    """Whether two short-row sections lie side by side: no needle knits the narrow rows of both.

    A heel made in two halves, one at each edge of a flat piece, is as deep as one of them.
    """
    cores = [_core(run, heel), _core(run, other)]
    return all(map(any, cores)) and not any(a & b for a, b in zip(*cores, strict=True))


def _core(run: Run, section: SectionRecord) -> tuple[int, int]:
    """The needles of each bed that knit in the narrowest short row of a section."""
    found = [0, 0]
    for _, before, _ in passes_of(run, section.first, section.last):
        for bed, state in enumerate((before.front, before.back)):
            working = (state.work | state.upper) & state.loaded
            if state.action != "rest" and working and held_stitches(state) and (
                    not found[bed] or working.bit_count() < found[bed].bit_count()):
                found[bed] = working
    return found[0], found[1]


def _short_rows(run: Run, section: SectionRecord) -> int:
    """Rows that a section knits while stitches of the same bed are held."""
    count = 0
    for op, before, _ in passes_of(run, section.first, section.last):
        for state in (before.front, before.back):
            working = (state.work | state.upper) & state.loaded
            if state.action != "rest" and working and held_stitches(state):
                count += op.passes
    return count
