"""The measurements of a piece that a schematic letters: their names, and each size's lengths."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.finished import Parts, finished, parts_of
from sockscript.fabric.measures import SectionMeasure, measures, passes_of
from sockscript.numbers.quantity import show_inches
from sockscript.trace.state import Snapshot

FLAP = "Heel flap, high"


class Dimension(NamedTuple):
    """One lettered measurement: what it is, and its length in mm for every size."""

    letter: str
    name: str
    values: tuple[Fraction | None, ...]

    def in_centimetres(self) -> list[str]:
        """The values as they are printed."""
        return ["–" if value is None else f"{float(value) / 10:.1f}" for value in self.values]

    def in_both(self, inches: bool) -> list[tuple[str, str]]:
        """The values as they are printed: in the unit of the script, and with its unit in the
        other (nothing where a size has no such part).

        Inches are in eighths where the script has them, else in quarters.
        """
        found = []
        for value, cm in zip(self.values, self.in_centimetres(), strict=True):
            other = "" if value is None else show_inches(value, 8 if inches else 4)
            found.append(("–", "") if value is None else (other, f"{cm} cm") if inches
                         else (cm, f"{other} in"))
        return found


def dimensions(runs: Sequence[Run]) -> list[Dimension]:
    """The measurements of all sizes, from the simulated fabric; empty without a gauge.

    Sections and parts are those of the first run; where another lacks one, its value is None.
    """
    first = runs[0]
    found = [{m.title: m for m in measures(run)} for run in runs]
    rows: list[tuple[str, list[Fraction | None]]] = []
    for title in upright(first):
        here = [one.get(title) for one in found]
        rows.append((f"{title}, round", [m.girth if m else None for m in here]))
        narrow = [_narrowest(run, m) if m else None for run, m in zip(runs, here, strict=True)]
        if any(n is not None and m is not None and n != m.girth
               for n, m in zip(narrow, here, strict=True)):
            rows.append((f"{title}, round, narrow end", narrow))
        rows.append((f"{title}, length", [m.length if m else None for m in here]))
    parts = parts_of(first)
    if parts is not None:
        whole = [finished(run) for run in runs]
        foot = foot_title(first, parts)
        if foot is not None:
            rows.append((f"{foot}, round",
                         [one[foot].girth if foot in one else None for one in found]))
        rows.append((FLAP, [one.flap for one in whole]))
        rows.append(("Heel depth, along the foot", [one.heel for one in whole]))
        if whole[0].foot is not None:
            rows.append(("Foot length, heel to tip", [one.foot for one in whole]))
            if foot not in {parts.sections[n].title for n in parts.toe}:
                rows.append(("Toe depth", [one.toe for one in whole]))
    known = [row for row in rows if any(value is not None for value in row[1])]
    return [Dimension(_letter(n), name, tuple(values)) for n, (name, values) in enumerate(known)]


def _letter(number: int) -> str:
    """A, B … Z, AA, AB …"""
    before, here = divmod(number, 26)
    return (_letter(before - 1) if before else "") + chr(ord("A") + here)


def stitches_of(run: Run, title: str) -> list[tuple[int, int]]:
    """Stitches of a section and for how many passes, in knitting order."""
    section = next(section for section in run.sections if section.title == title)
    here = [(after, op.passes) for op, before, after
            in passes_of(run, section.first, section.last) if _is_of_piece(run, before)]
    # A tube is whole only when both beds have knitted.
    beds = max((beds_of(after) for after, _ in here), default=0)
    return [(after.stitches(), passes)
            for after, passes in here if beds_of(after) == beds]


def _is_of_piece(run: Run, state: Snapshot) -> bool:
    return state.feeder in run.main_yarns


def beds_of(state: Snapshot) -> int:
    """How many beds hold stitches."""
    return bool(state.front.loaded) + bool(state.back.loaded)


def _narrowest(run: Run, measure: SectionMeasure) -> Fraction | None:
    """The smaller of a section's girths at its two ends, in mm; None without a gauge."""
    counts = stitches_of(run, measure.title)
    if measure.girth is None or not counts:
        return None
    return measure.girth * min(counts[0][0], counts[-1][0]) / measure.around


def upright(run: Run) -> list[str]:
    """Sections above the heel (all where there is none), from the top of the piece down; those
    of a row or two, which no dimension line fits, are left out."""
    known = {m.title: m for m in measures(run)
             if m.girth is not None and m.around and m.deep > 3}
    parts = parts_of(run)
    if parts is None:
        return list(known)
    titles = [parts.sections[n].title for n in parts.leg if parts.sections[n].title in known]
    return titles[::-1] if parts.toe_first else titles


def foot_title(run: Run, parts: Parts) -> str | None:
    """The longest section between heel and toe; the last one, where the foot is knitted to its
    tip in one; None where there is no foot."""
    rows = {m.title: m.rows for m in measures(run)}
    between = [parts.sections[n].title for n in parts.foot or parts.toe]
    return max(between, key=lambda title: rows.get(title, 0), default=None)
