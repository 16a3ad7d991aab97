"""Finished measurements that miss what the author aims at."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.fabric.measures import measures
from sockscript.numbers.quantity import Quantity
from sockscript.trace.faults import Fault


def off_target(run: Run) -> list[Mishap]:
    """Sections whose girth or length, read off the fabric, is further off than allowed."""
    if run.stopped is not None or not any(section.targets for section in run.sections):
        return []
    by_title = {measure.title: measure for measure in measures(run)}
    found = []
    for section in run.sections:
        measure = by_title.get(section.title)
        for target in section.targets:
            value = None if measure is None else (
                measure.girth if target.what == "girth" else measure.length)
            if value is None or abs(value - target.value) <= target.within:
                continue
            found.append(Mishap(
                Fault("off-target", name=target.what), target.places, -1, -1,
                {"aim": Quantity(target.value, "mm"), "comes": Quantity(value, "mm"),
                 "off": Quantity(round(abs(value - target.value))),
                 "way": "more" if value > target.value else "less", "section": section.title}))
    return found
