"""Finished measurements that miss what the author aims at."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run, SectionTarget
from sockscript.fabric.finished import finished
from sockscript.fabric.measures import measures
from sockscript.findings.kind import Kind
from sockscript.numbers.quantity import Quantity

WHOLE = {"foot length": "foot", "heel depth": "heel", "toe depth": "toe"}
"""Targets for the whole piece, and the part of ``Finished`` that they aim at."""


OFF_TARGET = Kind(
    "off-target", "warning",
    "The {name}{where} comes to {comes}: {off} mm {way} than the {aim} aimed at.",
    "Look at the count it is knitted on, at how it is rounded, and at the gauge; or allow more "
    "with 'within'.")


class Deviation(NamedTuple):
    """A target with the section it stands in and what was knitted, in mm."""

    section: str
    target: SectionTarget
    value: Fraction

    @property
    def off(self) -> Fraction:
        """Millimetres more (negative: less) than aimed at."""
        return self.value - self.target.value


def deviations(run: Run) -> list[Deviation]:
    """Every target that can be measured; none of a run that was stopped."""
    if run.stopped is not None or not any(section.targets for section in run.sections):
        return []
    by_title = {measure.title: measure for measure in measures(run)}
    found = []
    for section in run.sections:
        measure = by_title.get(section.title)
        for target in section.targets:
            if target.what == "heel width":
                continue  # a share, not a length: see heel_and_toe
            if target.what in WHOLE:
                value = getattr(finished(run), WHOLE[target.what])
            else:
                value = None if measure is None else (
                    measure.girth if target.what == "girth" else measure.length)
            if value is not None:
                found.append(Deviation(section.title, target, value))
    return found


def off_target(run: Run) -> list[Mishap]:
    """What is further off, read off the fabric, than the author allows."""
    return [
        Mishap(OFF_TARGET.fault(name=d.target.what), d.target.places, -1, -1,
               {"aim": Quantity(d.target.value, "mm"), "comes": Quantity(d.value, "mm"),
                "off": Quantity(round(abs(d.off))), "way": "more" if d.off > 0 else "less",
                "where": "" if d.target.what in WHOLE else f" of '{d.section}'"})
        for d in deviations(run) if abs(d.off) > d.target.within]
