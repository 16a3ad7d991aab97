"""The table of a range: what was tried, what knits, what fails and why."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence

from sockscript.findings.finding import Finding
from sockscript.findings.ranges import BareFinding, Combination, RangeAxis, Survey, combination
from sockscript.findings.survey import CountedFinding, Summary, knits
from sockscript.numbers.quantity import Quantity, show
from sockscript.text.visible import cell, json_text
from sockscript.text.width import filled

FORM = "sockscript-range-1"
MOST_TOLD = 12
"""Findings told in full; the rest are counted."""

Examples = Mapping[BareFinding, Finding]


def as_text(title: str, summary: Summary, survey: Survey, examples: Examples) -> str:
    """For reading."""
    lines = [filled(title.upper()), ""]
    lines += _tried(summary)
    lines.append(filled(_verdict(summary)))
    if summary.occurrences:
        lines += ["", "WHAT GOES WRONG"]
        for number, one in enumerate(summary.occurrences[:MOST_TOLD], 1):
            lines += _occurrence(number, one, summary, examples.get(one.finding))
        more = len(summary.occurrences) - MOST_TOLD
        if more > 0:
            lines.append(f"{more} more; mend these first and look again.")
    if 0 < summary.knit < summary.tried:
        lines += ["", "HOW MANY CHECK CLEAN", *_shares(summary)]
    return "\n".join(lines) + "\n"


def _tried(summary: Summary) -> list[str]:
    names = [dim.label for dim in summary.dims]
    wide = max(map(len, names), default=0)
    lines = ["TRIED"]
    for dim in summary.dims:
        count = len(dim.values)
        values = f"{_span(dim)}   ({count} value{'s' if count != 1 else ''})"
        lines.append(filled(values, f"  {dim.label:{wide}}  ", " " * (wide + 4)))
    if summary.left_out:
        lines.append(f"  {_count(summary.left_out)} of these left out by the 'where' lines")
    return [*lines, ""]


def _count(number: int) -> str:
    """``12 000``: a gap that no reader takes for a decimal sign."""
    return f"{number:,}".replace(",", " ")


def _combinations(number: int) -> str:
    return f"{_count(number)} combination{'s' if number != 1 else ''}"


def _verdict(summary: Summary) -> str:
    if not summary.tried:
        return "The 'where' lines leave nothing to try."
    if summary.knit == summary.tried:
        return f"It knits with all {_combinations(summary.tried)}: no stitch is lost in any."
    return (f"{_count(summary.knit)} of {_combinations(summary.tried)} check without fault or "
            "warning.")


def _value(dim: RangeAxis, index: int) -> str:
    value = dim.values[index]
    return show(value) if isinstance(value, Quantity) else value


def _span(dim: RangeAxis) -> str:
    """``13 cm to 27 cm by 1 cm``, or the values one by one."""
    first, last = dim.values[0], dim.values[-1]
    if isinstance(first, str) or isinstance(last, str) or len(dim.values) < 3 \
            or dim.what == "option":
        return ", ".join(_value(dim, n) for n in range(len(dim.values)))
    second = dim.values[1]
    assert isinstance(second, Quantity)
    step = Quantity(second.value - first.value, first.unit)
    return f"{show(first)} to {show(last)} by {show(step)}"


def with_values(dim: RangeAxis, chosen: frozenset[int]) -> str:
    """Some values of a dimension: neighbours of a range as 'from … to …'."""
    numbers = sorted(chosen)
    if dim.what in ("option", "size"):
        return ", ".join(_value(dim, n) for n in numbers)
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    parts = [_value(dim, run[0]) if len(run) == 1 else
             f"{_value(dim, run[0])} to {_value(dim, run[-1])}" for run in runs]
    return ", ".join(parts)


def in_words(dims: Sequence[RangeAxis], chosen: Combination) -> str:
    """One combination: ``foot-round 13 cm, foot-length 15 cm, finish graft``."""
    return ", ".join(f"{dim.label} {_value(dim, index)}"
                     for dim, index in zip(dims, chosen, strict=True))


def _occurrence(number: int, one: CountedFinding, summary: Summary,
                example: Finding | None) -> list[str]:
    finding = one.finding
    share = "all of them" if one.times == summary.tried else _combinations(one.times)
    lines = [f"{number}. {finding.severity.upper()}  {finding.kind}, {finding.where}, "
             f"in {share}"]
    all_values = zip(summary.dims, one.values, summary.tried_values, strict=True)
    only = [f"{dim.label} {with_values(dim, values)}"
            for dim, values, tried in all_values if values < tried]
    if only:
        lines.append(_wrapped("only with " + "; ".join(only)))
    lines.append(_wrapped("for example with " + in_words(summary.dims, one.example)))
    if example is not None:
        lines.append(_wrapped(example.message))
        if example.advice:
            lines.append(_wrapped("What to do: " + example.advice))
    return lines


def _wrapped(text: str) -> str:
    return filled(text, "   ")


def _shares(summary: Summary) -> list[str]:
    """For each dimension that makes a difference, how many knit with each value."""
    lines = []
    for dim, values in zip(summary.dims, summary.shares, strict=True):
        tried = [(index, good, all_) for index, (good, all_) in enumerate(values) if all_]
        if len({good * 1000 // all_ for _, good, all_ in tried}) < 2:
            continue
        lines.append(f"  {dim.label}")
        for index, good, all_ in tried:
            filled = round(20 * good / all_)
            if 0 < good < all_:
                filled = min(max(filled, 1), 19)
            bar = "#" * filled + "·" * (20 - filled)
            lines.append(f"    {_value(dim, index):>12}  {bar}  {_count(good)} of {_count(all_)}")
    return lines


def as_csv(title: str, summary: Summary, survey: Survey, examples: Examples) -> str:
    """One line for each combination that was tried."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([*(cell(dim.label) for dim in summary.dims), "knits", "found"])
    for index, number in enumerate(survey.which):
        verdict = survey.verdicts[number]
        if verdict is None:
            continue
        chosen = combination(summary.dims, index)
        writer.writerow([
            *(cell(_value(dim, n)) for dim, n in zip(summary.dims, chosen, strict=True)),
            "yes" if knits(verdict) else "no",
            "; ".join(f"{t.kind} {t.where}" for t in sorted(
                verdict, key=lambda t: (t.file, t.line, t.kind, t.name)))])
    return out.getvalue()


def as_json(title: str, summary: Summary, survey: Survey, examples: Examples) -> str:
    """For other programs."""
    told = []
    for one in summary.occurrences:
        example = examples.get(one.finding)
        told.append({
            "finding": one.finding.kind, "severity": one.finding.severity,
            "line": one.finding.line, "file": one.finding.file or None, "combinations": one.times,
            "with": {dim.label: [_value(dim, n) for n in sorted(values)]
                     for dim, values in zip(summary.dims, one.values, strict=True)},
            "example": {dim.label: _value(dim, n)
                        for dim, n in zip(summary.dims, one.example, strict=True)},
            "message": example.message if example is not None else None,
            "advice": example.advice if example is not None else None})
    return json_text({
        "form": FORM, "pattern": title,
        "tried": {dim.label: [_value(dim, n) for n in range(len(dim.values))]
                  for dim in summary.dims},
        "combinations": summary.tried, "left-out": summary.left_out, "knit": summary.knit,
        "goes-wrong": told}, indent=2) + "\n"
