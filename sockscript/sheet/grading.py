"""The grading table: every size with its measurements, stitches, finished values, yarn and time."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.amounts import (
    SectionAmounts,
    minutes_for,
    section_amounts,
    section_metres,
    section_minutes,
    yarn_amounts,
)
from sockscript.fabric.finished import finished
from sockscript.fabric.measures import measures
from sockscript.fit.pace import Pace
from sockscript.fit.yarn import YARD_METRES
from sockscript.numbers.quantity import Quantity, show, show_inches
from sockscript.sheet.facts import ounces
from sockscript.sheet.markdown import escaped
from sockscript.text.visible import cell, json_text
from sockscript.text.width import filled, parts_of_table

FORM = "sockscript-sizes-1"


class GradingRow(NamedTuple):
    """One line of the table: which part it belongs to, what it is, and a text for each size."""

    part: str
    name: str
    values: tuple[str, ...]


def grading(runs: Sequence[Run], pace: Pace) -> list[GradingRow]:
    """The rows of the table, from the script and from the simulated fabric."""
    rows = []
    sizes = runs[0].script.sizes
    if sizes is not None:
        rows += [GradingRow("measurements", name.replace("-", " "),
                            tuple(show(values[run.size]) for run in runs))
                 for name, values in sizes.measures.items()]
    rows += _knitted(runs, pace)
    rows += _whole_piece(runs)
    rows += _yarn(runs)
    rows.append(GradingRow("time", "about, at your pace",
                           tuple(_hours(minutes_for(run, pace)) for run in runs)))
    return rows


WHOLE_PIECE = (("leg", "leg with its edge"), ("heel", "heel depth"), ("foot", "foot length"),
               ("toe", "toe depth"))


def _whole_piece(runs: Sequence[Run]) -> list[GradingRow]:
    found = [finished(run) for run in runs]
    own = runs[0].script.inches
    return [GradingRow("as worn", name, tuple(_length(getattr(one, part), own) for one in found))
            for part, name in WHOLE_PIECE if any(getattr(one, part) is not None for one in found)]


def _knitted(runs: Sequence[Run], pace: Pace) -> list[GradingRow]:
    """Rows, stitches, measurements and work of each section that every size has."""
    by_size = [{m.title: m for m in measures(run)} for run in runs]
    work = [{s.title: s for s in section_amounts(run)} for run in runs]
    own = runs[0].script.inches
    rows = []
    for title in by_size[0]:
        if not all(title in found for found in by_size):
            continue
        here = [found[title] for found in by_size]
        rows.append(GradingRow(title, "stitches", tuple(str(m.around) for m in here)))
        rows.append(GradingRow(title, "rows", tuple(str(m.rows) for m in here)))
        if any(m.inside for m in here):
            rows.append(GradingRow(title, "rows turned in",
                                   tuple(show(Quantity(m.inside)) for m in here)))
        if here[0].girth is not None:
            for what, found in (("girth", [m.girth for m in here]),
                                ("length", [m.length for m in here])):
                rows.append(GradingRow(title, what, tuple(_length(value, own) for value in found)))
                aims = [_aim(run, title, what) for run in runs]
                if all(aim is not None for aim in aims):
                    rows.append(GradingRow(title, f"{what} aimed at",
                                           tuple(_length(aim, own) for aim in aims)))
                    rows.append(GradingRow(title, "off by", tuple(
                        _off(value, aim, own) for value, aim in zip(found, aims, strict=True))))
        rows += _section_work(runs, [found[title] for found in work], title, pace)
    return rows


def _section_work(runs: Sequence[Run], here: Sequence[SectionAmounts], title: str,
                  pace: Pace) -> list[GradingRow]:
    """The yarn and the time of one section."""
    metres = [section_metres(run, section) for run, section in zip(runs, here, strict=True)]
    own = runs[0].script.inches
    rows = [GradingRow(title, f"{name} yarn", tuple(
        _run(found[name], own) if name in found else "–" for found in metres))
        for name in dict.fromkeys(name for found in metres for name in found)]
    rows.append(GradingRow(title, "time", tuple(
        _hours(section_minutes(section, pace)) for section in here)))
    return rows


def _aim(run: Run, title: str, what: str) -> Fraction | None:
    """What a section should measure, if the author says."""
    for section in run.sections:
        for target in section.targets:
            if section.title == title and target.what == what:
                return Fraction(target.value)
    return None


def _off(value: Fraction | None, aim: Fraction | None, inches: bool) -> str:
    if value is None or aim is None:
        return "–"
    mm = round(value - aim)
    if inches:
        return f"{show_inches(abs(mm))} in {'more' if mm > 0 else 'less'}" if mm else "0 in"
    return f"{abs(mm)} mm {'more' if mm > 0 else 'less'}" if mm else "0 mm"


def _yarn(runs: Sequence[Run]) -> list[GradingRow]:
    """What each yarn comes to: stitches, metres, grams, balls."""
    by_size = [{a.yarn.name: a for a in yarn_amounts(run)} for run in runs]
    names = dict.fromkeys(name for found in by_size for name in found)
    rows = []
    for name in names:
        here = [found.get(name) for found in by_size]
        yarn = next(a.yarn for a in here if a is not None)
        words = runs[0].yarn_words[name]
        rows.append(GradingRow(words, "stitches knitted",
                               tuple(str(a.loops) if a else "–" for a in here)))
        if any(a is not None and a.metres is not None for a in here):
            metres = [a.metres if a else None for a in here]
            if runs[0].script.inches:
                rows.append(GradingRow(words, "yards", tuple(
                    _whole(None if m is None else m / float(YARD_METRES)) for m in metres)))
            rows.append(GradingRow(words, "metres", tuple(map(_whole, metres))))
        if any(a is not None and a.grams is not None for a in here):
            grams = [a.grams if a else None for a in here]
            if runs[0].script.inches:
                rows.append(GradingRow(words, "ounces", tuple(
                    "–" if g is None else ounces(g) for g in grams)))
            rows.append(GradingRow(words, "grams", tuple(map(_whole, grams))))
            # A yarn that is told by its count comes in no ball that we know of.
            if yarn.ball_grams is not None:
                rows.append(GradingRow(
                    words, f"balls of {show_grams(yarn.ball_grams)} g for a pair",
                    tuple(str(a.balls(2) or "–") if a else "–" for a in here)))
    return rows


def show_grams(grams: object) -> str:
    """The weight of a ball without needless decimals."""
    return f"{float(str(grams) if not isinstance(grams, Fraction) else grams):g}"


def _length(length: Fraction | None, inches: bool) -> str:
    if length is None:
        return "–"
    return f"{show_inches(length)} in" if inches else f"{float(length) / 10:.1f} cm"


def _run(metres: float, yards: bool) -> str:
    return f"{metres / float(YARD_METRES):.1f} yards" if yards else f"{metres:.1f} m"


def _whole(value: float | None) -> str:
    return "–" if value is None else f"{value:.0f}"


def _hours(minutes: float) -> str:
    whole = max(1, round(minutes))
    return f"{whole // 60} h {whole % 60:02} min" if whole >= 60 else f"{whole} min"


# ---- renderers


def as_text(title: str, sizes: Sequence[str], rows: Sequence[GradingRow]) -> str:
    """A table in plain characters; a wide one is cut into even parts that fit the page."""
    names = max(len(row.name) for row in rows) + 2
    widths = [max(len(size), *(len(row.values[n]) for row in rows)) + 2
              for n, size in enumerate(sizes)]
    lines = [title, "=" * len(title)]
    for columns in parts_of_table(names, widths):
        lines += ["", " " * names + "".join(f"{sizes[n]:>{widths[n]}}" for n in columns)]
        part = ""
        for row in rows:
            if row.part != part:
                lines.append(f"{row.part}:")
                part = row.part
            lines.append(f"  {row.name:<{names - 2}}"
                         + "".join(f"{row.values[n]:>{widths[n]}}" for n in columns))
    return "\n".join([*lines, "", *map(filled, NOTES)]) + "\n"


NOTES = (
    "All figures are for one piece: a pair takes twice the yarn and time.",
    "Finished values are read off the simulated fabric by the gauge of each section.",
    "Yarn is reckoned for plain knit in the state in which the gauge was taken, or from your own "
    "weighed swatch, with 15 cm for each end; in rib it may differ by a tenth or so. Buy with "
    "something to spare.",
)


def as_markdown(title: str, sizes: Sequence[str], rows: Sequence[GradingRow]) -> str:
    """A Markdown table."""
    lines = [f"# {escaped(title)}", "", "| | | " + " | ".join(map(escaped, sizes)) + " |",
             "|---|---|" + "---:|" * len(sizes)]
    lines += [f"| {escaped(row.part)} | {escaped(row.name)} | "
              + " | ".join(map(escaped, row.values)) + " |" for row in rows]
    return "\n".join([*lines, "", " ".join(NOTES)]) + "\n"


def as_csv(title: str, sizes: Sequence[str], rows: Sequence[GradingRow]) -> str:
    """Comma-separated values (RFC 4180); no cell can be taken for a formula."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(["part", "what", *map(cell, sizes)])
    for row in rows:
        writer.writerow([cell(text) for text in (row.part, row.name, *row.values)])
    return out.getvalue()


def as_json(title: str, sizes: Sequence[str], rows: Sequence[GradingRow]) -> str:
    """One JSON object; ``form`` names the layout."""
    return json_text({"form": FORM, "title": title, "sizes": list(sizes),
                       "rows": [row._asdict() for row in rows]},
                      indent=2) + "\n"
