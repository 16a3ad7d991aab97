"""The sheet as Markdown.  What the author wrote is escaped: it stays text."""

from __future__ import annotations

import re
from collections.abc import Sequence

from sockscript.sheet.choices import SheetStep
from sockscript.sheet.sheet import Sheet

_SPECIAL = re.compile(r"([\\`*_{}\[\]<>#|~!])")


def escaped(text: str) -> str:
    """Text in which nothing is taken for a mark of Markdown or HTML."""
    text = _SPECIAL.sub(r"\\\1", text)
    return re.sub(r"^(\s*)([-+]|\d+\.)(?=\s)", r"\1\\\2", text)


def render(sheet: Sheet) -> str:
    """The whole sheet."""
    e = escaped
    lines = [f"# {e(sheet.title)}", ""]
    about = [f"by {sheet.author}" if sheet.author else "",
             f"version {sheet.version}" if sheet.version else "", sheet.licence,
             f"for the {sheet.machine}" if sheet.machine else "",
             f"with {sheet.choices}" if sheet.choices else ""]
    lines += [e(", ".join(part for part in about if part)), ""]
    for note in sheet.notes:
        lines += [e(note), ""]
    lines += _list("Materials", sheet.materials)
    lines += _list("Gauge", sheet.gauges)
    lines += _list("Tools", sheet.tools)
    lines += _list("The machine needs", sheet.needs)
    lines += _list("On this machine", sheet.machine_words)
    if sheet.table:
        lines += ["## Sizes and measurements", "",
                  "| | " + " | ".join(map(e, sheet.sizes)) + " |",
                  "|---|" + "---:|" * len(sheet.sizes)]
        lines += [f"| {e(row.name)} | " + " | ".join(map(e, row.values)) + " |"
                  for row in sheet.table]
        lines.append("")
    lines += _list("Finished measurements, from the simulated knitting",
                   [f"{title}: {text}" for title, text in sheet.finished])
    lines += _list("Abbreviations", [f"{short}: {text}" for short, text in sheet.abbreviations])
    lines += _list("Cautions", sheet.cautions)
    for section in sheet.sections:
        lines += [f"## {e(section.title)}", ""]
        for step in section.steps:
            lines += [_step(step), ""]
    lines += _list("Finishing", sheet.finishing)
    lines += _list("The bank book of stitches", [
        f"{line.title}: " + ", ".join(f"{name} {value}" for name, value in line.entries)
        for line in sheet.ledger])
    return "\n".join(lines).rstrip() + "\n"


def _list(title: str, items: Sequence[str]) -> list[str]:
    if not items:
        return []
    return [f"## {title}", "", *(f"- {escaped(item)}" for item in items), ""]


def _step(step: SheetStep) -> str:
    only = f"(Only {', '.join(step.only)}:) " if step.only else ""
    text = escaped(only + step.text)
    if step.number is None:
        return f"> {'**Mind:** ' if step.kind == 'caution' else ''}{text}"
    shows = f"  \n   *{escaped(step.shows)}*" if step.shows else ""
    return f"{step.number}. {text}{shows}"
