"""The sheet as plain text, 88 columns wide."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from sockscript.sheet.choices import SheetStep
from sockscript.sheet.sheet import Sheet

WIDTH = 88


def render(sheet: Sheet) -> str:
    """The whole sheet."""
    lines = [sheet.title.upper(), "=" * len(sheet.title)]
    lines += [line for line in (
        f"by {sheet.author}" if sheet.author else "",
        ", ".join(part for part in (f"version {sheet.version}" if sheet.version else "",
                                    sheet.licence) if part),
        f"for the {sheet.machine}" if sheet.machine else "",
        f"with {sheet.choices}" if sheet.choices else "") if line]
    if len(sheet.sizes) > 1:
        lines += ["", _filled(f"Sizes: {sheet.sizes[0]} ({', '.join(sheet.sizes[1:])})")]
    elif sheet.sizes != ("one size",):
        lines += ["", f"Size: {sheet.sizes[0]}"]
    for note in sheet.notes:
        lines += ["", _filled(note)]
    lines += _list("Materials", sheet.materials)
    lines += _list("Gauge", sheet.gauges)
    lines += _list("Tools", sheet.tools)
    lines += _list("The machine needs", sheet.needs)
    lines += _list("On this machine", sheet.machine_words)
    lines += _table(sheet)
    if sheet.finished:
        lines += _list("Finished measurements, from the simulated knitting",
                       [f"{title}: {text}" for title, text in sheet.finished])
    lines += _list("Abbreviations", [f"{short}  {text}" for short, text in sheet.abbreviations])
    lines += _list("Cautions", sheet.cautions)
    for section in sheet.sections:
        lines += ["", section.title.upper(), "-" * len(section.title)]
        for step in section.steps:
            lines += _step(step)
    lines += _list("Finishing", sheet.finishing)
    lines += ["", "The bank book of stitches", "-" * 25]
    for line in sheet.ledger:
        entries = ", ".join(f"{name} {value}" for name, value in line.entries)
        lines.append(_filled(f"{line.title}: {entries}", hang=2))
    return "\n".join(lines) + "\n"


def _filled(text: str, lead: str = "", hang: int = 0) -> str:
    return textwrap.fill(text, WIDTH, initial_indent=lead,
                         subsequent_indent=" " * (len(lead) + hang), break_long_words=False,
                         break_on_hyphens=False)


def _list(title: str, items: Sequence[str]) -> list[str]:
    if not items:
        return []
    return ["", title, "-" * len(title), *(_filled(item, "  ", 2) for item in items)]


def _table(sheet: Sheet) -> list[str]:
    if not sheet.table:
        return []
    names = max(len(row.name) for row in sheet.table)
    columns = [max(len(size), *(len(row.values[n]) for row in sheet.table))
               for n, size in enumerate(sheet.sizes)]
    lines = ["", "Sizes and measurements", "-" * 22]
    # A wide table is cut into parts that fit the page.
    start = 0
    while start < len(columns):
        end, width = start, names + 2
        while end < len(columns) and (end == start or width + columns[end] + 2 <= WIDTH):
            width += columns[end] + 2
            end += 1
        part = range(start, end)
        lines.append("  " + " " * names + "".join(f"  {sheet.sizes[n]:>{columns[n]}}"
                                                  for n in part))
        for row in sheet.table:
            lines.append(f"  {row.name:<{names}}"
                         + "".join(f"  {row.values[n]:>{columns[n]}}" for n in part))
        start = end
    return lines


def _step(step: SheetStep) -> list[str]:
    only = f"(Only size{'s' if len(step.only) > 1 else ''} {', '.join(step.only)}:) " \
        if step.only else ""
    if step.number is None:
        word = "Mind: " if step.kind == "caution" else ""
        return ["", _filled(f"{only}{word}{step.text}", "     ")]
    lines = ["", _filled(f"{only}{step.text}", f"{step.number:>3}. ")]
    if step.shows:
        lines.append(_filled(step.shows, "       [", 0) + "]")
    return lines
