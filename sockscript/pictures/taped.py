"""What the relaxed shape measures, taken as with a tape: girths, the foot and the leg."""

from __future__ import annotations

import math
from collections.abc import Iterable
from fractions import Fraction
from typing import TYPE_CHECKING, Any, NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.finished import finished, parts_of
from sockscript.numbers.quantity import show_inches
from sockscript.pictures.shape import Shape

if TYPE_CHECKING:
    from sockscript.pictures.shape import Floats

CLOSE = 0.04
"""A foot that is shorter on the shape by no more than this share needs no word about it."""


class TapedLength(NamedTuple):
    """A length or girth taken from the relaxed shape, in mm; ``counted``: what stitches and rows
    say."""

    name: str
    value: float
    counted: float | None = None


class SockSections(NamedTuple):
    """The numbers of the sections of a sock in its run; ``foot`` lies between heel and toe."""

    leg: tuple[int, ...]
    heel: tuple[int, ...]
    foot: tuple[int, ...]
    toe: tuple[int, ...]
    toe_first: bool


def sections_of(run: Run) -> SockSections | None:
    """Where a sock with a toe has its parts; None for any other piece."""
    parts = parts_of(run)
    if parts is None or not parts.toe:
        return None

    def numbers(of: tuple[int, ...]) -> tuple[int, ...]:
        return tuple(run.sections.index(parts.sections[n]) for n in of)

    return SockSections(numbers(parts.leg), numbers(parts.heel), numbers(parts.foot),
                        numbers(parts.toe), parts.toe_first)


def girth(shape: Shape, ring: tuple[int, ...]) -> float:
    """How long the way round a course is, in mm."""
    points = shape.points
    return sum(_distance(points[a], points[b])
               for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))


def measured(run: Run, shape: Shape) -> list[TapedLength]:
    """Girth of each section at its middle; foot (heel to tip) and leg (edge to the start of the
    heel, along the wales) of a sock."""
    found = []
    for section, record in enumerate(run.sections):
        rings = rings_in(shape, section)
        if len(rings) > 3:
            found.append(TapedLength(f"{record.title}, round",
                                     girth(shape, rings[len(rings) // 2])))
    parts = sections_of(run)
    if parts is not None:
        whole = finished(run)
        low, high = _ends(shape, (*parts.heel, *parts.foot, *parts.toe), foot_axis(shape, parts))
        found.append(TapedLength("Foot, heel to tip", high - low,
                                 None if whole.foot is None else float(whole.foot)))
        if parts.leg:
            found.append(TapedLength("Leg, to the heel", sum(_deep(shape, n) for n in parts.leg)))
    return found


def why_shorter(run: Run, shape: Shape) -> str:
    """Why the foot of the shape is more than 4 % shorter than its rows; nothing where it is not.

    Heel and toe are told if each takes half of that.
    """
    parts = sections_of(run)
    foot = next((one for one in measured(run, shape) if one.counted is not None), None)
    if parts is None or foot is None or foot.counted is None or not parts.foot \
            or foot.value >= (1 - CLOSE) * foot.counted:
        return ""
    axis = foot_axis(shape, parts)
    along = {part: _ends(shape, sections, axis)
             for part, sections in (("heel", parts.heel), ("foot", parts.foot), ("toe", parts.toe))
             if sections}
    whole = finished(run)
    reach = {"heel": along["foot"][0] - along["heel"][0] if "heel" in along else 0.0,
             "toe": along["toe"][1] - along["foot"][1] if "toe" in along else 0.0}
    lost = {"heel": float(whole.heel or 0) - reach["heel"],
            "toe": float(whole.toe or 0) - reach["toe"]}
    toe = "its gathered end turns inwards" if shape.graph.gathered else \
        "the toe is round, not folded flat"
    reasons = {"heel": "the heel is round, not folded flat", "toe": toe}
    parts_told = [part for part in reasons if lost[part] > CLOSE / 2 * foot.counted]
    told = [reasons[part] for part in parts_told]
    rest = foot.counted - foot.value - sum(lost[part] for part in parts_told)
    if not told or rest > CLOSE * foot.counted:
        told.append("it bends where it meets the heel")
    return f"The foot is shorter here than its rows: {'; '.join(told)}."


def _distance(a: Any, b: Any) -> float:
    return math.dist(a.tolist(), b.tolist())


def rings_in(shape: Shape, section: int) -> list[tuple[int, ...]]:
    """The rows of a section that go all round, without those inside a hem."""
    return [ring for at, ring in enumerate(shape.rings)
            if shape.graph.loops[ring[0]].section == section and at not in shape.inside]


def _deep(shape: Shape, section: int) -> float:
    """The length of a section along its wales: row by row, the mean over the stitches."""
    total = 0.0
    for ring in rings_in(shape, section):
        steps = [_distance(shape.points[n], shape.points[p]) for n in ring
                 for p in shape.graph.loops[n].parents if shape.real[p]]
        total += sum(steps) / len(steps) if steps else 0.0
    return total


def middle_of(shape: Shape, ring: tuple[int, ...]) -> Floats:
    """The middle of a ring."""
    import numpy as np

    return np.asarray(shape.points[list(ring)].mean(axis=0))


def foot_axis(shape: Shape, parts: SockSections) -> Floats:
    """The way from heel to toe, of length 1."""
    import numpy as np

    rings = [ring for section in parts.foot for ring in rings_in(shape, section)]
    if len(rings) < 2:
        rings = list(shape.rings)
    way = middle_of(shape, rings[-1]) - middle_of(shape, rings[0])
    if parts.toe_first:
        way = -way
    return np.asarray(way / np.linalg.norm(way))


def _ends(shape: Shape, sections: Iterable[int], axis: Floats) -> tuple[float, float]:
    """How far the loops of some sections reach along an axis, in mm."""
    wanted = set(sections)
    along = shape.points @ axis
    inside = [float(along[n]) for n, loop in enumerate(shape.graph.loops)
              if shape.real[n] and loop.section in wanted]
    return min(inside), max(inside)


def length(mm: float, inches: bool) -> str:
    """A length as the script measures."""
    return f"{show_inches(Fraction(mm))} in" if inches else f"{mm / 10:.1f} cm"
