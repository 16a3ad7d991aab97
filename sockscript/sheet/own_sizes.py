"""The reader's own stitch sizes for another's pattern: from her own swatches, or a box for each.

No two dials agree, so that no number is converted.  What the pattern says of a stitch size is the
gauge of the fabric that is knitted with it; a swatch of the reader's own with that gauge, in her
profile, tells her number.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from sockscript.expand.run import Run
from sockscript.findings.other_machine import sizes_used
from sockscript.machine.profile import Profile
from sockscript.numbers.quantity import Quantity, show
from sockscript.operations import ops
from sockscript.tree.script import Gauge, OwnSwatch, Script

NEAR_STITCHES, NEAR_ROWS = Fraction(1, 2), Fraction(1)
"""Over 10 cm; common practice, no source."""
_TEN_CM = 100


class OwnSizes(NamedTuple):
    """``told``: stitch sizes that a swatch answers, in words; ``asked``: the others."""

    told: tuple[str, ...]
    asked: tuple[Fraction, ...]


def own_sizes(script: Script, runs: Sequence[Run], profile: Profile) -> OwnSizes:
    """What a reader's swatches say for the stitch sizes of a pattern."""
    told: list[str] = []
    asked: list[Fraction] = []
    fabrics = dict(_fabrics(script, runs))
    for size in sizes_used(runs):
        gauges = fabrics.get(size, ())
        swatches = [(gauge, _swatch(script, gauge, profile)) for gauge in gauges]
        found = [(gauge, swatch) for gauge, swatch in swatches if swatch is not None]
        if not found or len(found) < len(fabrics[size]):
            asked.append(size)
        told += [f"size {show(Quantity(size))} ({gauge.fabric}): {show(Quantity(swatch.size))} by "
                 f"your swatch of {swatch.yarn}, {show(Quantity(swatch.stitches))} stitches and "
                 f"{show(Quantity(swatch.rows))} rows over {show(swatch.over)}"
                 for gauge, swatch in found]
    return OwnSizes(tuple(told), tuple(asked))


def _fabrics(script: Script, runs: Sequence[Run]) -> Iterator[tuple[Fraction, list[Gauge]]]:
    """By stitch size: the fabrics of which most rows are knitted with it.  Others, such as an edge
    or a row before a fold, have no gauge."""
    rows: dict[str, Counter[Fraction]] = {gauge.fabric: Counter() for gauge in script.gauges}
    for run in runs:
        size: Fraction | None = None
        for section in run.sections:
            fabric = section.fabric or next(iter(rows), "")
            for moment in run.moments[section.first:section.last]:
                if isinstance(moment.op, ops.SetSize):
                    size = Fraction(moment.op.size)
                elif isinstance(moment.op, ops.Knit) and size is not None and fabric in rows:
                    rows[fabric][size] += moment.op.passes
    usual: dict[Fraction, list[Gauge]] = {}
    for gauge in script.gauges:
        for size, _ in rows[gauge.fabric].most_common(1):
            usual.setdefault(size, []).append(gauge)
    yield from usual.items()


def _swatch(script: Script, gauge: Gauge, profile: Profile) -> OwnSwatch | None:
    """The swatch of the reader's own that has a gauge; one of the pattern's yarn comes first."""
    yarns = {yarn.text.lower() for yarn in script.yarns}

    def off(one: OwnSwatch) -> tuple[Fraction, Fraction]:
        ten = Fraction(_TEN_CM) / one.over.value
        return (abs(one.stitches * ten - gauge.stitches_per_mm * _TEN_CM),
                abs(one.rows * ten - gauge.rows_per_mm * _TEN_CM))

    near = [one for one in profile.swatches if one.fabric == gauge.fabric
            and off(one)[0] <= NEAR_STITCHES and off(one)[1] <= NEAR_ROWS]
    return min(near, key=lambda one: (one.yarn.lower() not in yarns, *off(one)), default=None)
