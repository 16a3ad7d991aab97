"""Yarn and gauge that do not belong together."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.fabric.amounts import loop_mm
from sockscript.findings.kind import Kind
from sockscript.fit.yarn import LOOSEST, TIGHTEST, tex, tightness
from sockscript.numbers.quantity import Quantity

YARN_AND_GAUGE_APART = Kind(
    "yarn-and-gauge-apart", "warning",
    "At the gauge for {fabric} the {yarns} would make a very {looks} fabric (tightness factor "
    "{factor}; plain knitting lies between 9 and 19).",
    "Look at the metres per 100 g and at the gauge; one of them belongs to another yarn.")


def yarn_and_gauge(run: Run) -> list[Mishap]:
    """Yarns that are knitted and would be very loose or very tight at the script's first gauge.

    What two yarns weigh a kilometre adds up where they are knitted together.
    """
    if not run.script.gauges:
        return []
    gauge = run.script.gauges[0]
    knitted = dict.fromkeys(change.before.yarns for change in run.passes())
    found = []
    for names in knitted:
        together = [run.yarns[name] for name in names]
        runs = [yarn.metres_per_gram for yarn in together if yarn.metres_per_gram is not None]
        if not runs or len(runs) < len(names) or any(yarn.role != "main" for yarn in together):
            continue
        loop = loop_mm(run.script, gauge, names[0])
        factor = tightness(sum(tex(metres) for metres in runs), loop)
        if not LOOSEST <= factor <= TIGHTEST:
            found.append(Mishap(
                YARN_AND_GAUGE_APART.fault(name=names[0]), (together[0].at,),
                detail={"factor": Quantity(round(factor)), "fabric": gauge.fabric,
                        "looks": "loose" if factor < LOOSEST else "tight",
                        "yarns": " and ".join(run.yarn_words[name] for name in names)}))
    return found
