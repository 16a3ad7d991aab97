"""Yarn and gauge that do not belong together; the end of the yarn that closes stitches."""

from __future__ import annotations

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.fabric.amounts import loop_mm
from sockscript.findings.filled_in import plural
from sockscript.findings.kind import Kind
from sockscript.findings.origins import GOES_ON_ALONE
from sockscript.fit.yarn import LOOSEST, TIGHTEST, tex, tightness
from sockscript.numbers.quantity import Quantity
from sockscript.operations import ops

YARN_AND_GAUGE_APART = Kind(
    "yarn-and-gauge-apart", "warning",
    "At the gauge for {fabric} the {yarns} would make a very {looks} fabric (tightness factor "
    "{factor}; plain knitting lies between 9 and 19).",
    "Look at the metres per 100 g and at the gauge; one of them belongs to another yarn.",
    led=GOES_ON_ALONE)

YARN_LEFT_ALONE = Kind(
    "yarn-left-alone", "advice",
    "The {name} is cut here, and the {alone} that went along with it knits on alone.",
    "If the {alone} should end here, write  cut {alone_as_written}  instead. If it is as thick as "
    "the other, give its metres and a gauge.")

FINEST = 2
"""Stitches for each needle in the same width: relaxed plain knit has up to 1.6, fine yarn knitted
tightly some more; common practice, no source."""

GAUGE_TOO_FINE = Kind(
    "gauge-too-fine", "advice",
    "The gauge for {fabric} has {stitches} in 10 cm, but the machine has {needles} there: no yarn "
    "makes so small stitches on it.",
    "Knit it on a machine whose needles stand closer; or swatch a thicker yarn, and let "
    "'sockscript fit' reckon with its gauge.")

YARN_CUT_LATE = Kind(
    "yarn-cut-late", "advice",
    "The stitches are closed while the yarn still runs from them to the feeder: grafting and "
    "drawing together are sewn with its end.",
    "Write  cut  before this line, not after it.")


def yarn_cut_late(run: Run) -> list[Mishap]:
    """Stitches grafted or drawn together before the yarn is cut that hangs from one of them.

    Where the yarn knits on, a part is closed with another end.
    """
    found = []
    closed: Transition | None = None
    if not run.changes_by(ops.Graft, ops.Gather):
        return []
    for change in run.changes_by(ops.Graft, ops.Gather, ops.Cut, ops.Knit, ops.BindOff, ops.CastOn,
                                 ops.Wrap):
        op, before = change.op, change.before
        if isinstance(op, (ops.Graft, ops.Gather)):
            if before.attached is not None and op.on(before.attached[0]) >> before.attached[1] & 1:
                closed = closed or change
        elif closed is not None:
            if isinstance(op, ops.Cut) and before.feeder is not None:
                found.append(closed.mishap(YARN_CUT_LATE.fault()))
            closed = None
    return found


def yarn_left_alone(run: Run) -> list[Mishap]:
    """A second end that knits on alone, the yarn that it was threaded along with being cut.

    Where its metres and a gauge are known, these tell whether it is a yarn by itself.
    """
    found: list[Mishap] = []
    cut: Transition | None = None
    if not run.changes_by(ops.Add):
        return found
    by_itself = {change.op.yarn for change in run.changes_by(ops.Thread, ops.Change)
                 if isinstance(change.op, (ops.Thread, ops.Change))}
    for change in run.changes_by(ops.Cut, ops.Add, ops.Knit, ops.BindOff):
        op, before = change.op, change.before
        if isinstance(op, ops.Cut):
            alone = before.along if op.yarn == before.feeder else None
            cut = change if alone is not None and alone not in by_itself else None
        elif cut is not None:
            name, alone = cut.before.feeder, cut.before.along
            if not isinstance(op, ops.Add) and alone is not None and not _judged(run, alone):
                found.append(cut.mishap(
                    YARN_LEFT_ALONE.fault(name=name or ""),
                    {"alone": run.yarn_words[alone], "alone_as_written": alone}))
            cut = None
    return found


def _judged(run: Run, name: str) -> bool:
    """Whether a gauge tells if a yarn by itself makes a fabric."""
    return bool(run.script.gauges) and run.yarns[name].metres_per_gram is not None


def gauge_too_fine(run: Run) -> list[Mishap]:
    """A first gauge with far more stitches than the bed has needles in the same width."""
    spacing = run.engine.profile.spacing
    if spacing is None or not run.script.gauges:
        return []
    gauge = run.script.gauges[0]
    if gauge.stitches_per_mm * spacing <= FINEST:
        return []
    return [Mishap(GAUGE_TOO_FINE.fault(), (gauge.at,), detail={
        "fabric": gauge.fabric,
        "stitches": plural(round(gauge.stitches_per_mm * 100), "stitch"),
        "needles": plural(round(100 / spacing), "needle")})]


def yarn_and_gauge(run: Run) -> list[Mishap]:
    """Yarns that are knitted and would be very loose or very tight at the script's first gauge.

    What two yarns weigh a kilometre adds up where they are knitted together.
    """
    if not run.script.gauges or all(
            yarn.metres_per_gram is None for yarn in run.script.yarns):
        return []
    gauge = run.script.gauges[0]
    knitted = [*dict.fromkeys(change.before.yarns for change in run.passes())]
    found = []
    for number, names in enumerate(knitted):
        together = [run.yarns[name] for name in names]
        runs = [yarn.metres_per_gram for yarn in together if yarn.metres_per_gram is not None]
        if not runs or len(runs) < len(names) or any(name in run.waste for name in names):
            continue
        loop = loop_mm(run.script, gauge, names[0])
        factor = tightness(sum(tex(metres) for metres in runs), loop)
        if not LOOSEST <= factor <= TIGHTEST:
            found.append(Mishap(
                YARN_AND_GAUGE_APART.fault(name=names[0]), (together[0].at,),
                # Whether it knits by itself only since another was cut.
                detail={"left": "alone" if len(names) == 1 and any(
                            names[0] in earlier for earlier in knitted[:number]) else "",
                        "factor": Quantity(round(factor)),
                        "fabric": gauge.fabric,
                        "looks": "loose" if factor < LOOSEST else "tight",
                        "yarns": " and ".join(run.yarn_words[name] for name in names)}))
    return found
