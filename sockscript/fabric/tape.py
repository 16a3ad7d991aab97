"""What a tape measure and a scale can tell of a finished piece, and what they should show."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal, NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.amounts import gauge_for, yarn_amounts
from sockscript.fabric.finished import finished, parts_of
from sockscript.fabric.measures import measures

SHORTEST = Fraction(25)
"""Millimetres: a section with fewer is not measured by itself: common practice, no source."""


class OnTheTape(NamedTuple):
    """One thing to measure.

    ``what``: it goes by ``stitches``, by ``rows`` or is weighed (``grams``); ``value`` in
    millimetres or grams, by the gauge of ``fabric`` ("" where several fabrics meet).
    """

    key: str
    words: str
    what: Literal["stitches", "rows", "grams"]
    value: float
    fabric: str


def tape(run: Run) -> tuple[OnTheTape, ...]:
    """What a knitter can measure of one size: the tubes of it all round and lengthwise, the foot
    of a sock from heel to toe, and the weight."""
    found: list[OnTheTape] = []
    parts = parts_of(run)
    sock = finished(run)
    named = {section.title: section for section in run.sections}
    foot = [parts.sections[n] for n in (*parts.heel, *parts.foot, *parts.toe)] if parts else []
    shaped = {parts.sections[n].title for n in (*parts.heel, *parts.toe)} if parts else set()
    whole = {section.title for section in foot} if sock.foot is not None else set()
    for one in measures(run):
        if one.girth is None or one.length is None:
            continue
        if one.title in shaped or one.length < SHORTEST:
            continue
        gauge = gauge_for(run, named[one.title])
        fabric = gauge.fabric if gauge is not None else ""
        found.append(OnTheTape(f"girth/{one.title}", f"{one.title}, all round", "stitches",
                               float(one.girth), fabric))
        if one.title not in whole:
            found.append(OnTheTape(f"length/{one.title}", f"{one.title}, length", "rows",
                                   float(one.length), fabric))
    if sock.foot is not None:
        gauges = [gauge_for(run, section) for section in foot]
        fabrics = {gauge.fabric for gauge in gauges if gauge is not None}
        found.append(OnTheTape("foot", "Foot, from heel to toe", "rows", float(sock.foot),
                               fabrics.pop() if len(fabrics) == 1 else ""))
    grams = [amount.grams for amount in yarn_amounts(run) if amount.yarn.role == "main"]
    if grams and all(one is not None for one in grams):
        found.append(OnTheTape("weight", "Weight", "grams", sum(one or 0.0 for one in grams), ""))
    return tuple(found)
