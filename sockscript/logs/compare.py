"""What several knitters measured beside the plan, and the gauge that would have fitted."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from statistics import fmean, stdev
from typing import NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.tape import OnTheTape, tape
from sockscript.fit.pace import Pace
from sockscript.follow.walk import Stop, Walk
from sockscript.logs.log_file import Log, Note
from sockscript.sheet.numbering import Plan
from sockscript.tree.script import Gauge

NEAR = (0.5, 2.0)
"""How far a measurement may be from what is planned, as multiples, to be believed: beyond, a
number or its unit was mistyped (common practice, no source)."""


class Knitted(NamedTuple):
    """A log with the size that was knitted, simulated: ``plan`` has all sizes."""

    log: Log
    plan: Plan
    size: int

    @property
    def run(self) -> Run:
        """The simulated sock."""
        return self.plan.runs[self.size]


class MeasuredInSocks(NamedTuple):
    """One thing measured in several socks of a size; millimetres or grams."""

    words: str
    what: str
    planned: float
    values: tuple[float, ...]

    @property
    def mean(self) -> float:
        """The arithmetic mean."""
        return fmean(self.values)

    @property
    def spread(self) -> float | None:
        """The sample standard deviation; None for a single sock."""
        return stdev(self.values) if len(self.values) > 1 else None


class OfSize(NamedTuple):
    """All socks of one size."""

    size: str
    socks: int
    measured: tuple[MeasuredInSocks, ...]


class Fitted(NamedTuple):
    """A gauge that would have given what was measured; counts over the gauge's own length.

    None where nothing was measured; ``of_stitches``, ``of_rows``: how many measurements speak.
    """

    gauge: Gauge
    stitches: float | None
    rows: float | None
    of_stitches: int
    of_rows: int


class OfStep(NamedTuple):
    """One step in all logs: seconds that it took on average and those reckoned, and the notes."""

    section: str
    step: int
    seconds: float | None
    reckoned: float
    notes: tuple[tuple[str, Note], ...]


class OfKnitter(NamedTuple):
    """How long one sock took; ``row``: seconds for a row without work by hand (or None)."""

    log: Log
    seconds: float
    reckoned: float
    row: float | None


class Strange(NamedTuple):
    """A measurement too far from the plan to be one, which is left out."""

    log: Log
    words: str
    value: float
    planned: float


class LogComparison(NamedTuple):
    """All that the logs tell; ``inches``: the script measures in inches."""

    sizes: tuple[OfSize, ...]
    gauges: tuple[Fitted, ...]
    steps: tuple[OfStep, ...]
    knitters: tuple[OfKnitter, ...]
    strange: tuple[Strange, ...]
    inches: bool = False


def compare(knitted: Sequence[Knitted], pace: Pace) -> LogComparison:
    """Put the logs of one pattern together; ``pace`` is that by which time is reckoned."""
    pairs: list[tuple[Knitted, OnTheTape, float]] = []
    strange = []
    for one in knitted:
        for planned in tape(one.run):
            value = one.log.measured.get(planned.key)
            if value is None or planned.value <= 0:
                continue
            if NEAR[0] <= value / planned.value <= NEAR[1]:
                pairs.append((one, planned, value))
            else:
                strange.append(Strange(one.log, planned.words, value, planned.value))
    return LogComparison(_by_size(knitted, pairs), _fitted(knitted, pairs), _by_step(knitted, pace),
                         tuple(_knitter(one, pace) for one in knitted), tuple(strange),
                         any(one.run.script.inches for one in knitted))


def _by_size(knitted: Sequence[Knitted],
             pairs: Sequence[tuple[Knitted, OnTheTape, float]]) -> tuple[OfSize, ...]:
    """For each size, what was planned and measured of the same thing."""
    found = []
    for size in sorted({one.size for one in knitted}):
        here = [(planned, value) for one, planned, value in pairs if one.size == size]
        rows = []
        for key in dict.fromkeys(planned.key for planned, _ in here):
            same = [(planned, value) for planned, value in here if planned.key == key]
            rows.append(MeasuredInSocks(same[0][0].words, same[0][0].what,
                                        fmean(planned.value for planned, _ in same),
                                        tuple(value for _, value in same)))
        of_size = [one for one in knitted if one.size == size]
        found.append(OfSize(of_size[0].plan.names[size], len(of_size), tuple(rows)))
    return tuple(found)


def _fitted(knitted: Sequence[Knitted],
            pairs: Sequence[tuple[Knitted, OnTheTape, float]]) -> tuple[Fitted, ...]:
    """As many stitches (rows) as are planned over a length give the length that was measured:
    the gauge is that of the pattern times what was planned over what was measured, summed."""
    found = []
    for gauge in knitted[0].run.script.gauges:
        ratios: dict[str, tuple[float | None, int]] = {}
        for what in ("stitches", "rows"):
            here = [(planned.value, value) for _, planned, value in pairs
                    if planned.fabric == gauge.fabric and planned.what == what]
            ratios[what] = (sum(planned for planned, _ in here) / sum(value for _, value in here)
                            if here else None, len(here))
        (across, wide), (along, tall) = ratios["stitches"], ratios["rows"]
        if wide or tall:
            found.append(Fitted(gauge,
                                float(gauge.stitches) * across if across is not None else None,
                                float(gauge.rows) * along if along is not None else None,
                                wide, tall))
    return tuple(found)


# ---- time

StepPlace = tuple[str, int]
"""The title of a section and the number of a step (0: none)."""


def _stops_of(one: Knitted) -> Mapping[StepPlace, list[Stop]]:
    found: dict[StepPlace, list[Stop]] = {}
    for stop in Walk(one.plan, one.size).stops:
        found.setdefault((one.run.sections[stop.section].title, stop.step or 0), []).append(stop)
    return found


def _seconds(stops: Sequence[Stop], pace: Pace) -> float:
    return sum(stop.passes * pace.carriage + stop.moves * pace.hand
               + stop.settings * pace.setting for stop in stops)


def _by_step(knitted: Sequence[Knitted], pace: Pace) -> tuple[OfStep, ...]:
    """Every step with a time or a note, in the order of the first log that has it."""
    took: dict[StepPlace, list[float]] = {}
    reckoned: dict[StepPlace, list[float]] = {}
    notes: dict[StepPlace, list[tuple[str, Note]]] = {}
    for one in knitted:
        stops = _stops_of(one)
        for time in one.log.times:
            place = (time.section, time.step)
            if place in stops and not time.pauses:
                took.setdefault(place, []).append(time.seconds)
                reckoned.setdefault(place, []).append(_seconds(stops[place], pace))
        for note in one.log.notes:
            place = (note.section, note.step)
            notes.setdefault(place, []).append((who(one.log), note))
    places = dict.fromkeys([*took, *notes])
    return tuple(OfStep(*place, fmean(took[place]) if place in took else None,
                        fmean(reckoned[place]) if place in reckoned else 0.0,
                        tuple(notes.get(place, ()))) for place in places)


def _knitter(one: Knitted, pace: Pace) -> OfKnitter:
    stops = _stops_of(one)
    rows = sum(time.rows for time in one.log.times)
    timed = {(time.section, time.step) for time in one.log.times}
    return OfKnitter(one.log, sum(time.seconds for time in one.log.times),
                     sum(_seconds(here, pace) for place, here in stops.items() if place in timed),
                     sum(time.row_seconds for time in one.log.times) / rows if rows else None)


def who(log: Log) -> str:
    """How a log is called in a report."""
    return ", ".join(filter(None, (log.knitter or "no name", log.size, log.sock)))
