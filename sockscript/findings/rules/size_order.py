"""Sizes whose finished measurements do not run as those of the table do."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.expand.values import no_counts
from sockscript.fabric.worn import MEASURES, measured_as
from sockscript.findings.kind import Kind
from sockscript.findings.rules.size_table import asked
from sockscript.numbers.quantity import Exact, Quantity, length
from sockscript.tree.script import Script

WORDS = {"-round": "wider", "-length": "longer"}

SIZES_CROSSED = Kind(
    "sizes-crossed", "warning",
    "Size {smaller} comes out {more} than {larger}: {much} beside {less}, though '{name}' is "
    "{smaller_aim} for {smaller} and {larger_aim} for {larger}.",
    "Look at the numbers of the two sizes: perhaps two were exchanged in a row of the table.",
    follows_anywhere=("size-missed", "grading-uneven", "unlikely-foot"))


def sizes_crossed(by_size: Sequence[Sequence[Run]]) -> list[Mishap]:
    """Two sizes of which the one with the smaller measurement comes out larger; the first of each
    measurement."""
    runs = [size[0] for size in by_size]
    sizes = runs[0].script.sizes
    found = []
    for name in MEASURES if sizes is not None else ():
        if sizes is None or name not in sizes.measures or not _aimed_at(runs[0].script, name):
            continue
        known = sorted((one for run in runs if (one := _aim(run, name)) is not None),
                       key=lambda one: one[0])
        for (aim, comes, small), (next_aim, next_comes, large) in pairwise(known):
            if aim < next_aim and comes > next_comes + _stitch(small, name):
                inches = small.script.inches
                found.append(Mishap(
                    SIZES_CROSSED.fault(name=name), (sizes.places[name],), detail={
                        "smaller": small.size_name, "larger": large.size_name,
                        "more": next(word for end, word in WORDS.items() if name.endswith(end)),
                        "much": length(round(comes), inches),
                        "less": length(round(next_comes), inches),
                        "smaller_aim": length(aim, inches),
                        "larger_aim": length(next_aim, inches)}))
                break
    return found


def _aimed_at(script: Script, name: str) -> bool:
    """Whether the piece is worked out from a row of the table; a line that says what is meant, or
    finds its rows, is looked at by other rules."""
    said = asked(script, name)
    return not said.settled and (said.used or name == "foot-round")


def _aim(run: Run, name: str) -> tuple[Exact, Fraction, Run] | None:
    """What stands in the table and what the finished piece measures there."""
    assert run.script.sizes is not None
    value = run.names.get(name, run.script.sizes.places[name], no_counts)
    if run.stopped is not None or not isinstance(value, Quantity) \
            or value.unit != "mm" or value.value <= 0:
        return None
    comes = measured_as(run, name)
    return (value.value, min(comes), run) if comes else None


def _stitch(run: Run, name: str) -> Fraction:
    """One stitch or row: what rounding may do to two sizes that lie close to each other."""
    gauge = run.script.gauges[0]
    return Fraction(1) / Fraction(gauge.stitches_per_mm if name.endswith("-round")
                                  else gauge.rows_per_mm)
