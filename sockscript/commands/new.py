"""``sockscript new``: a first script to start from."""

from __future__ import annotations

import math
import re
import sys
from fractions import Fraction
from pathlib import Path

from sockscript.commands.check import UNUSABLE
from sockscript.commands.counted import FORMS, CountedSwatch, read_counted, shown
from sockscript.commands.output import deliver, may_begin
from sockscript.fit.yarn import YARD_METRES, loop_length
from sockscript.numbers.quantity import InchLength, with_fraction
from sockscript.text.visible import visible

_HEADER = '''pattern "{title}"
author "{author}"
version 1
licence "all rights reserved"

machine
    beds 2
    needles {needles}
    needs circular, {needs}

# {unit} as on its band; what stands here is only usual for the gauge.
yarn main "sock yarn" {run} per 100 g

# Count your own washed and rested swatch.
gauge plain {stitches} stitches, {rows} rows per {over}

sizes            Small  Medium  Large
    {measures}

# 10 % narrower than the leg or foot, and a number that four quarters divide.
let around = stitches({round_name} less 10%) to nearest multiple of 4
let half = around / 2
'''

_CUFF = '''
section "Cuff"
    target length cuff-length
    do tubular-cast-on with around = around, yarn = main, rib-size = 4
    row counter 0
    # The cast-on has given two rows already.
    knit rows(cuff-length) - 2 to nearest even rows
    expect around stitches

section "Turn to a tube"
    do rib-to-one-bed on back
    set back to knit
    stitch size 6
    knit 1 row on back
    do turn-to-tube with bed = back
    expect tube of half stitches a bed

section "Leg"
    # Rounding to a multiple of 4 may make it two stitches wider or narrower.
    target girth {round_name} less 10% within {within}
    target length leg-length
    set both to circular
    thread main
    hang weights
    row counter 0
    knit rows(leg-length) to nearest rounds
'''

_FOOT = '''
section "Heel"
    row counter 0
    do heel on front with leave = narrow
    expect tube of half stitches a bed

section "Foot"
    set both to circular
    row counter 0
    # As many as are still missing, with the heel and the toe as they come out.
    knit rounds for a foot length of foot-length

section "Toe"
    target foot length foot-length
    row counter 0
    do wedge-toe with leave = toe
    knit 1 round
    remove weights
    do graft-end
    expect 0 stitches
'''

_LEG_END = '''
section "Edge"
    stitch size 8
    knit 1 round
    do transfer-bind-off with bed = front
    do transfer-bind-off with bed = back
    remove weights
    expect 0 stitches
'''

KINDS = ("sock", "leg-warmer")


def run(*, title: str | None, author: str | None, kind: str | None, gauge: str | None,
        out: Path | None) -> int:
    """Write a script that checks clean; asks what is not said if someone is there to answer."""
    if title is author is kind is gauge is None and sys.stdin.isatty() and sys.stderr.isatty():
        title, author, kind, gauge = _ask()
    kind = kind or "sock"
    if kind not in KINDS:
        print(f"There is no kind '{kind}'. Choose from {', '.join(KINDS)}, machine.",
              file=sys.stderr)
        return UNUSABLE
    counted = read_counted(gauge or "30x42")
    if counted is None or not all(10 <= count <= 90 for count in (
            counted.swatch.stitches_per_10_cm, counted.swatch.rows_per_10_cm)):
        print(f"'{gauge}' is not a gauge. {FORMS}", file=sys.stderr)
        return UNUSABLE
    if not may_begin(out):
        return UNUSABLE
    return deliver(script_text(title or "My First Sock", author or "me", kind, counted), out)


def usual_metres(stitches: Fraction, rows: Fraction) -> int:
    """Metres of 100 g of a yarn that suits a gauge over 10 cm, in tens (tightness factor 12)."""
    loop_cm = loop_length(stitches / 100, rows / 100) / 10
    return round(100_000 / (12 * loop_cm) ** 2 / 10) * 10


_MEASURES = {
    ("sock", False): ("foot-round   20     22      25 cm", "foot-length  23     25      28 cm",
                      "cuff-length  6      7       7 cm", "leg-length   10     11      12 cm"),
    ("sock", True): ("foot-round   8      8¾      9¾ in", "foot-length  9      9¾      11 in",
                     "cuff-length  2½     2¾      2¾ in", "leg-length   4      4¼      4¾ in"),
    ("leg-warmer", False): ("leg-round    28     32      36 cm", "cuff-length  6      7       7 cm",
                            "leg-length   22     24      26 cm"),
    ("leg-warmer", True): ("leg-round    11     12½     14 in", "cuff-length  2½     2¾      2¾ in",
                           "leg-length   8¾     9½      10¼ in"),
}
"""The table of sizes for a kind, in centimetres or in inches."""


def script_text(title: str, author: str, kind: str, counted: CountedSwatch) -> str:
    """The script, in the unit of the gauge; quotation marks and braces in names are left out,
    since they mean something."""
    clean = [re.sub(r'["“”{}\n\r]', "", visible(text)) for text in (title, author)]
    inches = isinstance(counted.over, InchLength)
    name, needs = ("foot-round", "hold") if kind == "sock" else ("leg-round", "half pitch")
    widest = 25 if kind == "sock" else 36
    wide, tall = counted.swatch.stitches_per_10_cm, counted.swatch.rows_per_10_cm
    # As many needles as the largest size takes, in tens, with a few to spare.
    needles = max(100, math.ceil(widest * wide / 100) * 10)
    metres = usual_metres(wide, tall)
    text = _HEADER.format(
        needles=needles, unit="Yards" if inches else "Metres",
        run=f"{round(metres / YARD_METRES / 10) * 10} yards" if inches else f"{metres} m",
        over="inch" if inches else "10 cm", title=clean[0], author=clean[1],
        stitches=shown(counted.stitches), rows=shown(counted.rows),
        measures="\n    ".join(_MEASURES[kind, inches]), round_name=name, needs=needs)
    if kind == "sock":
        text += ("let narrow = half / 3 to nearest even\n"
                 "let toe = larger(half * 2 / 5, 6) to nearest even\n")
    cuff = _CUFF.format(round_name=name, within=_two_stitches(counted, inches))
    return text + cuff + (_FOOT if kind == "sock" else _LEG_END)


def _two_stitches(counted: CountedSwatch, inches: bool) -> str:
    """The width of two stitches, rounded up to a millimetre or an eighth of an inch."""
    if inches:
        return f"{with_fraction(Fraction(math.ceil(8 * 2 / counted.stitches), 8))} in"
    return f"{math.ceil(200 / counted.stitches)} mm"


def _ask() -> tuple[str, str, str, str]:
    def asked(question: str, otherwise: str) -> str:
        print(f"{question} [{otherwise}] ", end="", file=sys.stderr, flush=True)
        return sys.stdin.readline().strip() or otherwise

    return (asked("What is the pattern called?", "My First Sock"), asked("Who writes it?", "me"),
            asked("Is it a sock or a leg-warmer?", "sock"),
            asked("Stitches and rows, and over which length?", "30x42/10cm"))
