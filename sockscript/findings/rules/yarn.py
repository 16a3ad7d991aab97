"""Yarn and gauge that do not belong together."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.fabric.amounts import loop_mm
from sockscript.findings.kind import Kind
from sockscript.fit.yarn import LOOSEST, TIGHTEST, tex, tightness
from sockscript.numbers.quantity import Quantity
from sockscript.operations.ops import Thread

YARN_AND_GAUGE_APART = Kind(
    "yarn-and-gauge-apart", "warning",
    "At the gauge for {fabric} the {name} would make a very {looks} fabric (tightness factor "
    "{factor}; plain knitting lies between 9 and 19).",
    "Look at the metres per 100 g and at the gauge; one of them belongs to another yarn.")


def yarn_and_gauge(run: Run) -> list[Mishap]:
    """Yarns that are knitted and would be very loose or very tight at the script's first gauge."""
    if not run.script.gauges:
        return []
    gauge = run.script.gauges[0]
    threaded = {change.op.yarn for change in run.changes_by(Thread)
                if isinstance(change.op, Thread)}
    found = []
    for yarn in run.script.yarns:
        if yarn.role != "main" or yarn.metres_per_gram is None or yarn.name not in threaded:
            continue
        loop = loop_mm(run.script, gauge, yarn.name)
        factor = tightness(tex(yarn.metres_per_gram), loop)
        if not LOOSEST <= factor <= TIGHTEST:
            found.append(Mishap(
                YARN_AND_GAUGE_APART.fault(name=yarn.name), (yarn.at,), -1, -1,
                {"factor": Quantity(round(factor)), "looks": "loose" if factor < LOOSEST
                 else "tight", "fabric": gauge.fabric}))
    return found
