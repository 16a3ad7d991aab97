"""Finished measurements that miss what the author aims at."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.expand.sections import SectionTarget
from sockscript.fabric.finished import finished
from sockscript.fabric.measures import measures
from sockscript.findings.kind import Kind
from sockscript.findings.origins import measured
from sockscript.findings.rules.lengths import NOT_MEASURED, missing_part
from sockscript.findings.rules.size_table import so_far_off
from sockscript.findings.rules.why_missed import parts_in_words
from sockscript.numbers.quantity import length

WHOLE = {"foot length": "foot", "leg length": "leg", "heel depth": "heel", "toe depth": "toe"}
"""Targets for the whole piece, and the part of ``Finished`` that they aim at."""


OFF_TARGET = Kind(
    "off-target", "warning",
    "The {name}{where} comes to {comes}: {off} {way} than the {aim} aimed at{parts}.",
    "Look at the count it is knitted on, at how it is rounded, and at the gauge; or allow more "
    "with 'within'.",
    follows_anywhere=("waste-knitted-in",),
    led=measured)


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
    """What is further off, read off the fabric, than the author allows, or cannot be measured."""
    seen = {id(d.target) for d in deviations(run)}
    unmeasured = [
        Mishap(NOT_MEASURED.fault(name=target.what), target.places,
               detail={"missing": missing_part(run, target.what)})
        for section in run.sections for target in section.targets
        if run.stopped is None and target.what != "heel width" and id(target) not in seen]
    return unmeasured + [
        Mishap(OFF_TARGET.fault(name=d.target.what), d.target.places, detail={
                "aim": length(d.target.value, run.script.inches),
                "comes": length(d.value, run.script.inches),
                "off": so_far_off(d.off, run.script.inches), "way": "more" if d.off > 0 else "less",
                "where": "" if d.target.what in WHOLE else f" of '{d.section}'",
                "parts": parts_in_words(run, d.off) if d.target.what == "foot length" else ""})
        for d in deviations(run) if abs(d.off) > d.target.within]
