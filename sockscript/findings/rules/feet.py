"""Measurements of feet that cannot be, and openings that do not go over the heel."""

from __future__ import annotations

from fractions import Fraction

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.expand.values import CannotDoError, no_counts
from sockscript.fabric.finished import openings
from sockscript.findings.kind import Kind
from sockscript.fit.feet import LARGEST, SMALLEST
from sockscript.fit.foot_table import ROWS
from sockscript.numbers.quantity import Quantity, length
from sockscript.text.source import Span

LARGER = (("heel-round", "foot-round"), ("heel-round", "ankle-round"),
          ("calf-round", "ankle-round"))
"""The first is larger than the second on every foot."""
ROUNDEST, SLIMMEST = Fraction(13, 10), Fraction(7, 10)
"""Girth of the ball divided by the length of the foot; the mean is 0.93 (ANSUR II, 2012,
second-hand), a child's 0.97 (see ``fit.foot_table``); the limits are common practice, no source."""


CUFF_TOO_TIGHT = Kind(
    "cuff-too-tight", "warning",
    "'{section}' is {girth} round and pulls out to about {reach} in {fabric}, but it has to go "
    "over a heel of {heel}.",
    "Knit it on more stitches or more loosely, or in rib; if your own fabric stretches further, "
    "say so on its gauge line: stretches to 190%. A cuff must never cut in: with poor circulation, "
    "diabetes or swelling, ask a clinician.")

UNLIKELY_FOOT = Kind(
    "unlikely-foot", "warning",
    "'{name}' is {value}; on people it lies between {low} and {high}.",
    "Look at the number and at its unit.")

MEASUREMENTS_CONTRADICT = Kind(
    "measurements-contradict", "warning",
    "'{name}' is {value} and {second} is {other}, but {fact}.",
    "Measure again, or look whether two columns or rows are exchanged.")


def measured(run: Run) -> dict[str, tuple[Quantity, Span]]:
    """The measurements of the foot that the script gives for this size, with their places."""
    found = {}
    sizes = run.script.sizes
    lets = {let.name: let.at for let in run.script.lets}
    for name in ROWS:
        at = sizes.places.get(name) if sizes is not None else None
        at = lets.get(name, at)
        if at is None:
            continue
        try:
            value = run.names.get(name, at, no_counts)
        except CannotDoError:
            continue
        if isinstance(value, Quantity) and value.unit == "mm":
            found[name] = (value, at)
    return found


def unlikely_feet(run: Run) -> list[Mishap]:
    """Feet of three metres, and measurements that do not belong to one foot."""
    given = measured(run)
    found = []
    for name, (value, at) in given.items():
        low, high = (SMALLEST, LARGEST) if name == "foot-length" else (SMALLEST // 2, LARGEST * 2)
        if not low <= value.value <= high:
            found.append(_told(UNLIKELY_FOOT, at, name, value=value,
                               low=value._replace(value=low), high=value._replace(value=high)))
    if found:
        return found
    for larger, smaller in LARGER:
        if larger in given and smaller in given \
                and given[larger][0].value <= given[smaller][0].value:
            found.append(_told(MEASUREMENTS_CONTRADICT, given[larger][1], larger,
                               value=given[larger][0], other=given[smaller][0],
                               fact=f"{_words(larger)} is larger than {_words(smaller)} on every "
                               "foot", second=_words(smaller)))
    if "foot-round" in given and "foot-length" in given:
        around, along = given["foot-round"], given["foot-length"]
        ratio = Fraction(around[0].value) / along[0].value
        if not SLIMMEST <= ratio <= ROUNDEST:
            found.append(_told(MEASUREMENTS_CONTRADICT, around[1], "foot-round",
                               value=around[0], other=along[0],
                               fact="a foot is about as round as it is long, a grown one a little "
                               "less", second="the foot length"))
    return found


def cuff_too_tight(run: Run) -> list[Mishap]:
    """Sections that have to go over the heel and do not pull out so far."""
    heel = measured(run).get("heel-round")
    if heel is None or run.stopped is not None:
        return []
    return [
        Mishap(CUFF_TOO_TIGHT.fault(), run.moments[opening.section.first].places[:1],
               detail={"section": opening.section.title, "heel": heel[0],
                       "girth": length(round(opening.girth), run.script.inches),
                       "reach": length(round(opening.reach), run.script.inches),
                       "fabric": "rib" if opening.rib else "plain knit"})
        for opening in openings(run) if opening.reach < heel[0].value]


def _words(name: str) -> str:
    return {"heel-round": "the girth round the heel", "foot-round": "the girth of the ball",
            "ankle-round": "the girth of the ankle", "calf-round": "the girth of the calf",
            "foot-length": "the foot length"}[name]


def _told(kind: Kind, at: Span, name: str, **detail: Quantity | str) -> Mishap:
    return Mishap(kind.fault(name=name), (at,), detail=detail)
