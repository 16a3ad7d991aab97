"""What a survey of all combinations comes to: how many knit, what goes wrong, and where."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from sockscript.findings.ranges import (
    BareFinding,
    BareFindings,
    Combination,
    RangeAxis,
    Survey,
    combination,
    combinations,
)


class CountedFinding(NamedTuple):
    """A finding: how often, with which values of each axis, and its first combination."""

    finding: BareFinding
    times: int
    values: tuple[frozenset[int], ...]
    example: Combination


class Summary(NamedTuple):
    """The answer to 'for which values does it knit'.

    ``shares``: for each dimension and value, how many combinations knit and how many were
    tried.  ``tried_values``: the values of each dimension that occur in what was tried.
    """

    dims: tuple[RangeAxis, ...]
    tried: int
    left_out: int
    knit: int
    occurrences: tuple[CountedFinding, ...]
    shares: tuple[tuple[tuple[int, int], ...], ...]

    @property
    def tried_values(self) -> tuple[frozenset[int], ...]:
        """The indices of the values that occur in some combination that was tried."""
        return tuple(frozenset(n for n, (_, tried) in enumerate(values) if tried)
                     for values in self.shares)


def knits(verdict: BareFindings) -> bool:
    """Whether a combination knits: advice does not stand in the way."""
    return all(finding.severity == "advice" for finding in verdict)


def joined(surveys: Iterable[Survey]) -> Survey:
    """Surveys of consecutive combinations as one."""
    numbers: dict[BareFindings | None, int] = {None: 0}
    which: list[int] = []
    for survey in surveys:
        own = [numbers.setdefault(verdict, len(numbers)) for verdict in survey.verdicts]
        which.extend(own[number] for number in survey.which)
        if survey.cut_short:
            return Survey(tuple(numbers), tuple(which), True)
    return Survey(tuple(numbers), tuple(which))


def summarise(dims: Sequence[RangeAxis], survey: Survey) -> Summary:
    """Count what knits and what goes wrong."""
    assert len(survey.which) == combinations(dims)
    shares = [[[0, 0] for _ in dim.values] for dim in dims]
    found: dict[BareFinding, tuple[list[set[int]], Combination]] = {}
    counts: dict[BareFinding, int] = {}
    tried = knit = 0
    for index, number in enumerate(survey.which):
        verdict = survey.verdicts[number]
        if verdict is None:
            continue
        tried += 1
        good = knits(verdict)
        knit += good
        chosen = combination(dims, index)
        for share, value in zip(shares, chosen, strict=True):
            share[value][0] += good
            share[value][1] += 1
        for finding in verdict:
            counts[finding] = counts.get(finding, 0) + 1
            values, _ = found.setdefault(finding, ([set() for _ in dims], chosen))
            for seen, value in zip(values, chosen, strict=True):
                seen.add(value)
    order = {"fault": 0, "warning": 1, "advice": 2}
    occurrences = sorted(
        (CountedFinding(finding, counts[finding], tuple(map(frozenset, values)), example)
         for finding, (values, example) in found.items()),
        key=lambda o: (order[o.finding.severity], -o.times, o.finding.file, o.finding.line,
                       o.finding.kind, o.finding.name))
    return Summary(tuple(dims), tried, len(survey.which) - tried, knit, tuple(occurrences),
                   tuple(tuple((a, b) for a, b in share) for share in shares))
