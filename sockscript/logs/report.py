"""What the logs tell, as text, CSV and JSON."""

from __future__ import annotations

import csv
import io
from fractions import Fraction

from sockscript.logs.compare import Fitted, LogComparison, MeasuredInSocks, OfStep, who
from sockscript.numbers.quantity import Quantity, show, show_inches
from sockscript.sheet.facts import ounces
from sockscript.text.visible import cell, json_text
from sockscript.text.width import filled, page, wrapped

FORM = "sockscript-logs-1"
MOST_STEPS = 5
"""Steps that took longest are listed up to so many."""


def as_text(title: str, found: LogComparison) -> str:
    """A report to read."""
    socks = len(found.knitters)
    head = f"{title.upper()}: {socks} knitting log{'s' if socks > 1 else ''}"
    lines = [filled(head), "=" * min(len(head), page())]
    for of_size in found.sizes:
        socks = of_size.socks
        lines += ["", f"{of_size.size} ({socks} sock{'s' if socks > 1 else ''})"]
        lines += _table(of_size.measured, found.inches) or ["  Nothing was measured."]
    lines += _gauge_lines(found.gauges)
    lines += _strange_lines(found)
    lines += _time_lines(found)
    lines += _note_lines(found.steps)
    return "\n".join(lines) + "\n"


def _table(rows: tuple[MeasuredInSocks, ...], inches: bool) -> list[str]:
    if not rows:
        return []
    wide = max(len(row.words) for row in rows) + 2
    lines = [f"  {'':<{wide}}{'planned':>10}{'came out':>10}{'spread':>10}{'socks':>7}   off by"]
    for row in rows:
        spread = f"± {_amount(row.spread, row.what, inches)}" if row.spread is not None else "–"
        lines.append(f"  {row.words:<{wide}}{_amount(row.planned, row.what, inches):>10}"
                     f"{_amount(row.mean, row.what, inches):>10}{spread:>10}"
                     f"{len(row.values):>7}   {_off(row, inches)}")
    if max(map(len, lines)) <= page():
        return lines
    return [line for row in rows for line in wrapped(
        f"{row.words}: planned {_amount(row.planned, row.what, inches)}, came out "
        f"{_amount(row.mean, row.what, inches)}"
        + (f" ± {_amount(row.spread, row.what, inches)}" if row.spread is not None else "")
        + f" ({_count(len(row.values), 'sock')}), off by {_off(row, inches)}", "  ", "    ")]


def _amount(value: float, what: str, inches: bool) -> str:
    if what == "grams":
        return f"{ounces(value)} oz" if inches else f"{value:.0f} g"
    return f"{show_inches(Fraction(value))} in" if inches else f"{value / 10:.1f} cm"


def _off(row: MeasuredInSocks, inches: bool) -> str:
    more, less = {"grams": ("more", "less"), "stitches": ("wider", "narrower")}.get(
        row.what, ("longer", "shorter"))
    off = row.mean - row.planned
    if row.what == "grams":
        size = _amount(abs(off), row.what, inches)
    else:
        size = f"{show_inches(Fraction(abs(off)))} in" if inches else f"{abs(round(off))} mm"
    return size if size.startswith("0 ") else f"{size} {more if off > 0 else less}"


def _gauge_lines(gauges: tuple[Fitted, ...]) -> list[str]:
    if not gauges:
        return []
    lines = ["", *wrapped("The gauge that would have fitted (for the script, if the socks are "
                          "washed and rested)", "", "  ")]
    for one in gauges:
        stitches, rows = (
            _as_is(now) if fitted is None else f"{fitted:.1f}".removesuffix(".0")
            for now, fitted in ((one.gauge.stitches, one.stitches), (one.gauge.rows, one.rows)))
        lines += [*wrapped(f"gauge {one.gauge.fabric} {stitches} stitches, {rows} rows per "
                           f"{show(one.gauge.over)}", "  ", "      "),
                  *wrapped(f"in the script {_as_is(one.gauge.stitches)} stitches, "
                           f"{_as_is(one.gauge.rows)} rows; by {_count(one.of_stitches, 'width')} "
                           f"and {_count(one.of_rows, 'length')}", "      ")]
    return lines


def _as_is(value: object) -> str:
    return show(Quantity(value))  # type: ignore[arg-type]


def _count(n: int, word: str) -> str:
    return f"{n} {word}{'' if n == 1 else 's'}"


def _strange_lines(found: LogComparison) -> list[str]:
    if not found.strange:
        return []
    lines = ["", *wrapped("Left out, since it is too far from the plan to be true (look at the "
                          "unit)", "", "  ")]
    for one in found.strange:
        what = "grams" if one.words == "Weight" else "rows"
        lines += wrapped(f"{one.words}: {_amount(one.value, what, found.inches)}, planned "
                         f"{_amount(one.planned, what, found.inches)} ({who(one.log)})",
                         "  ", "    ")
    return lines


def _time_lines(found: LogComparison) -> list[str]:
    timed = [one for one in found.knitters if one.seconds]
    if not timed:
        return []
    lines = ["", "Time at the machine, without pauses"]
    for one in timed:
        row = f"; {one.row:.1f} seconds a row (--pace {one.row:.1f})" if one.row is not None else ""
        lines += wrapped(f"{who(one.log)}: {clock(one.seconds)}, reckoned {clock(one.reckoned)}"
                         f"{row}", "  ", "    ")
    slow = sorted((step for step in found.steps if step.seconds), key=lambda step: (
        -(step.seconds or 0), step.section, step.step))[:MOST_STEPS]
    if slow:
        lines += ["", "The steps that took longest"]
        for step in slow:
            lines += wrapped(f"{_place(step)}: {clock(step.seconds or 0)}, reckoned "
                             f"{clock(step.reckoned)}", "  ", "    ")
    return lines


def _note_lines(steps: tuple[OfStep, ...]) -> list[str]:
    noted = [step for step in steps if step.notes]
    if not noted:
        return []
    lines = ["", "Notes"]
    for step in noted:
        lines += wrapped(_place(step), "  ", "    ")
        for knitter, note in step.notes:
            words = " ".join(note.words.split())
            lines += wrapped(f"{words} (row counter {note.counter}; {knitter})", "    - ", "      ")
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


def as_csv(title: str, found: LogComparison) -> str:
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


def as_json(title: str, found: LogComparison) -> str:
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
