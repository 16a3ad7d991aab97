"""Every pass of a run by itself: which needles it works, with what yarn, and what lies on them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from sockscript.expand.run import Run, once
from sockscript.operations import ops
from sockscript.operations.beds import BACK, BEDS, FRONT, Side
from sockscript.trace.engine import Engine
from sockscript.trace.passes import acting
from sockscript.trace.state import Snapshot

MOST_COURSES = 20_000
"""Passes told of one by one; nobody looks at a picture of more."""


class Course(NamedTuple):
    """One pass of the carriage.

    ``worked``, ``joins``, ``laid``: needles of the front and the back bed (bit masks) that the
    pass works, those on which it knits several loops together, and those where a wrap or a tuck
    lay before it.  ``state``: the machine after it.  ``moment``: index of its operation.
    """

    section: int
    moment: int
    yarn: str | None
    direction: Side
    worked: tuple[int, int]
    joins: tuple[int, int]
    laid: tuple[int, int]
    state: Snapshot
    tucked: tuple[int, int]
    """Needles over whose stitches the pass lays the yarn."""
    slipped: tuple[int, int]
    """Needles of a bed that knits behind whose stitches the yarn passes."""


@once
def courses(run: Run) -> list[Course]:
    """All passes of a run in order, at most ``MOST_COURSES``."""
    return list(_courses(run))


def _courses(run: Run) -> Iterator[Course]:
    """Every pass by itself, by knitting the run once more."""
    engine = Engine(run.engine.profile)
    count = section = 0
    for index, moment in enumerate(run.moments):
        while index >= run.sections[section].last:
            section += 1
        if not isinstance(moment.op, ops.Knit):
            engine.apply(moment.op)
            continue
        for _ in range(moment.op.passes):
            if count == MOST_COURSES:
                return
            count += 1
            worked = acting(engine)
            before = engine.snapshot()
            engine.apply(ops.Knit(1, moment.op.intent))
            after = engine.snapshot()
            states = before.front, before.back
            tucked = [worked[bed] & state.loaded & (-1 if state.action == "tuck" else state.tuck)
                      for bed, state in zip(BEDS, states, strict=True)]
            joins = [state.double & worked[bed] & ~tucked[bed]
                     for bed, state in zip(BEDS, states, strict=True)]
            slipped = [state.active & state.slip & state.loaded if worked[bed] else 0
                       for bed, state in zip(BEDS, states, strict=True)]
            laid = (before.front.laid & worked[FRONT], before.back.laid & worked[BACK])
            yield Course(section, index, before.feeder, after.carriage, worked,
                         (joins[FRONT], joins[BACK]), laid, after,
                         (tucked[FRONT], tucked[BACK]), (slipped[FRONT], slipped[BACK]))
