"""What the logs tell, as text, CSV and JSON."""

from __future__ import annotations

import csv
import io
import textwrap

from sockscript.logs.compare import Comparison, Fitted, Measured, OfStep, who
from sockscript.numbers.quantity import Quantity, show
from sockscript.text.visible import cell, json_text
from sockscript.text.width import page

FORM = "sockscript-logs-1"
MOST_STEPS = 5
"""Steps that took longest are listed up to so many."""


def as_text(title: str, found: Comparison) -> str:
    """A report to read."""
    socks = len(found.knitters)
    head = f"{title.upper()}: {socks} knitting log{'s' if socks > 1 else ''}"
    lines = [head, "=" * len(head)]
    for of_size in found.sizes:
        socks = of_size.socks
        lines += ["", f"{of_size.size} ({socks} sock{'s' if socks > 1 else ''})"]
        lines += _table(of_size.measured) or ["  Nothing was measured."]
    lines += _gauge_lines(found.gauges)
    lines += _strange_lines(found)
    lines += _time_lines(found)
    lines += _note_lines(found.steps)
    return "\n".join(lines) + "\n"


def _table(rows: tuple[Measured, ...]) -> list[str]:
    if not rows:
        return []
    wide = max(len(row.words) for row in rows) + 2
    lines = [f"  {'':<{wide}}{'planned':>10}{'came out':>10}{'spread':>10}{'socks':>7}   off by"]
    for row in rows:
        spread = f"± {_amount(row.spread, row.what)}" if row.spread is not None else "–"
        lines.append(f"  {row.words:<{wide}}{_amount(row.planned, row.what):>10}"
                     f"{_amount(row.mean, row.what):>10}{spread:>10}{len(row.values):>7}   "
                     f"{_off(row)}")
    return lines


def _amount(value: float, what: str) -> str:
    return f"{value:.0f} g" if what == "grams" else f"{value / 10:.1f} cm"


def _off(row: Measured) -> str:
    unit, more, less = ("g", "more", "less") if row.what == "grams" else (
        ("mm", "wider", "narrower") if row.what == "stitches" else ("mm", "longer", "shorter"))
    off = round(row.mean - row.planned)
    return f"{abs(off)} {unit} {more if off > 0 else less}" if off else f"0 {unit}"


def _gauge_lines(gauges: tuple[Fitted, ...]) -> list[str]:
    if not gauges:
        return []
    lines = ["", "The gauge that would have fitted (for the script, if the socks are washed and "
                 "rested)"]
    for one in gauges:
        stitches, rows = (
            _as_is(now) if fitted is None else f"{fitted:.1f}".removesuffix(".0")
            for now, fitted in ((one.gauge.stitches, one.stitches), (one.gauge.rows, one.rows)))
        lines += [f"  gauge {one.gauge.fabric} {stitches} stitches, {rows} rows per "
                  f"{show(one.gauge.over)}",
                  f"      in the script {_as_is(one.gauge.stitches)} stitches, "
                  f"{_as_is(one.gauge.rows)} rows; by {_count(one.of_stitches, 'width')} and "
                  f"{_count(one.of_rows, 'length')}"]
    return lines


def _as_is(value: object) -> str:
    return show(Quantity(value))  # type: ignore[arg-type]


def _count(n: int, word: str) -> str:
    return f"{n} {word}{'' if n == 1 else 's'}"


def _strange_lines(found: Comparison) -> list[str]:
    if not found.strange:
        return []
    lines = ["", "Left out, since it is too far from the plan to be true (look at the unit)"]
    return lines + [f"  {one.words}: {one.value / 10:.1f} cm, planned {one.planned / 10:.1f} cm "
                    f"({who(one.log)})" if one.words != "Weight" else
                    f"  {one.words}: {one.value:.0f} g, planned {one.planned:.0f} g "
                    f"({who(one.log)})" for one in found.strange]


def _time_lines(found: Comparison) -> list[str]:
    timed = [one for one in found.knitters if one.seconds]
    if not timed:
        return []
    lines = ["", "Time at the machine, without pauses"]
    for one in timed:
        row = f"; {one.row:.1f} seconds a row (--pace {one.row:.1f})" if one.row is not None else ""
        lines.append(f"  {who(one.log)}: {clock(one.seconds)}, reckoned {clock(one.reckoned)}{row}")
    slow = sorted((step for step in found.steps if step.seconds), key=lambda step: (
        -(step.seconds or 0), step.section, step.step))[:MOST_STEPS]
    if slow:
        lines += ["", "The steps that took longest"]
        lines += [f"  {_place(step)}: {clock(step.seconds or 0)}, reckoned {clock(step.reckoned)}"
                  for step in slow]
    return lines


def _note_lines(steps: tuple[OfStep, ...]) -> list[str]:
    noted = [step for step in steps if step.notes]
    if not noted:
        return []
    lines = ["", "Notes"]
    for step in noted:
        lines.append(f"  {_place(step)}")
        for knitter, note in step.notes:
            words = " ".join(note.words.split())
            lines += textwrap.wrap(f"{words} (row counter {note.counter}; {knitter})", page(),
                                   initial_indent="    - ", subsequent_indent="      ")
    return lines


def _place(step: OfStep) -> str:
    return f"{step.section}, step {step.step}" if step.step else step.section


def clock(seconds: float) -> str:
    """Hours, minutes and seconds, as far as they matter."""
    whole = round(seconds)
    if whole < 60:
        return f"{whole} s"
    minutes = round(seconds / 60)
    return f"{minutes // 60} h {minutes % 60:02} min" if minutes >= 60 else f"{minutes} min"


def as_csv(title: str, found: Comparison) -> str:
    """What was measured as comma-separated values (RFC 4180), a line for each thing of a size;
    lengths in millimetres.  No cell can be taken for a formula."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(["size", "what", "unit", "planned", "mean", "spread", "socks"])
    for of_size in found.sizes:
        for row in of_size.measured:
            writer.writerow([cell(of_size.size), cell(row.words),
                             "g" if row.what == "grams" else "mm", f"{row.planned:.1f}",
                             f"{row.mean:.1f}", "" if row.spread is None else f"{row.spread:.2f}",
                             len(row.values)])
    return out.getvalue()


def as_json(title: str, found: Comparison) -> str:
    """One object; ``form`` names the layout.  Lengths in millimetres, times in seconds."""
    return json_text({
        "form": FORM, "title": title,
        "sizes": [{"size": one.size, "socks": one.socks, "measured": [
            {"what": row.words, "unit": "g" if row.what == "grams" else "mm",
             "planned": round(row.planned, 2), "mean": round(row.mean, 2),
             "spread": None if row.spread is None else round(row.spread, 3),
             "values": list(row.values)} for row in one.measured]} for one in found.sizes],
        "gauges": [{"fabric": one.gauge.fabric, "stitches": _rounded(one.stitches),
                    "rows": _rounded(one.rows), "over": show(one.gauge.over),
                    "widths": one.of_stitches, "lengths": one.of_rows} for one in found.gauges],
        "steps": [{"section": one.section, "step": one.step, "seconds": _rounded(one.seconds),
                   "reckoned": round(one.reckoned, 2),
                   "notes": [{"knitter": knitter, "counter": note.counter, "words": note.words}
                             for knitter, note in one.notes]} for one in found.steps],
        "knitters": [{"file": one.log.file, "knitter": one.log.knitter, "size": one.log.size,
                      "sock": one.log.sock, "seconds": round(one.seconds, 1),
                      "reckoned": round(one.reckoned, 1), "seconds-a-row": _rounded(one.row)}
                     for one in found.knitters],
        "left-out": [{"file": one.log.file, "what": one.words, "value": one.value,
                      "planned": round(one.planned, 2)} for one in found.strange],
    }, indent=2) + "\n"


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 3)
