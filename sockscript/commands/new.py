"""``sockscript new``: a first script to start from."""

from __future__ import annotations

import math
import re
import sys
from fractions import Fraction
from pathlib import Path

from sockscript.commands.check import UNUSABLE
from sockscript.commands.output import deliver, may_begin
from sockscript.fit.yarn import loop_length
from sockscript.text.visible import visible

_HEADER = '''pattern "{title}"
author "{author}"
version 1
licence "all rights reserved"

machine
    beds 2
    needles {needles}
    needs circular, {needs}

# Metres as on its band; what stands here is only usual for the gauge.
yarn main "sock yarn" {metres} m per 100 g

# Count your own washed and rested swatch.
gauge plain {stitches} stitches, {rows} rows per 10 cm

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
    target girth {round_name} less 10% within {within} mm
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
    cut
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
    cut
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
        print(f"There is no kind '{kind}'. Choose from {', '.join(KINDS)}.", file=sys.stderr)
        return UNUSABLE
    counts = re.fullmatch(r"\s*(\d+(?:\.\d+)?)\s*[x×]\s*(\d+(?:\.\d+)?)\s*", gauge or "30x42")
    if counts is None or not all(10 <= float(count) <= 90 for count in counts.groups()):
        print(f"'{gauge}' is not a gauge. Write stitches and rows over 10 cm, for example 30x42.",
              file=sys.stderr)
        return UNUSABLE
    if not may_begin(out):
        return UNUSABLE
    return deliver(script_text(title or "My First Sock", author or "me", kind, *counts.groups()),
                   out)


def usual_metres(stitches: float, rows: float) -> int:
    """Metres of 100 g of a yarn that suits a gauge over 10 cm, in tens (tightness factor 12)."""
    loop_cm = loop_length(Fraction(stitches) / 100, Fraction(rows) / 100) / 10
    return round(100_000 / (12 * loop_cm) ** 2 / 10) * 10


def script_text(title: str, author: str, kind: str, stitches: str, rows: str) -> str:
    """The script; quotation marks and braces in names are left out, since they mean something."""
    clean = [re.sub(r'["“”{}\n\r]', "", visible(text)) for text in (title, author)]
    if kind == "sock":
        measures = ["foot-round   20     22      25 cm", "foot-length  23     25      28 cm",
                    "cuff-length  6      7       7 cm", "leg-length   10     11      12 cm"]
        name, needs = "foot-round", "hold"
    else:
        measures = ["leg-round    28     32      36 cm", "cuff-length  6      7       7 cm",
                    "leg-length   22     24      26 cm"]
        name, needs = "leg-round", "half pitch"
    widest = 25 if kind == "sock" else 36
    # As many needles as the largest size takes, in tens, with a few to spare.
    needles = max(100, math.ceil(widest * float(stitches) / 100) * 10)
    text = _HEADER.format(
        needles=needles, metres=usual_metres(float(stitches), float(rows)),
        title=clean[0], author=clean[1], stitches=stitches, rows=rows,
        measures="\n    ".join(measures), round_name=name, needs=needs)
    if kind == "sock":
        text += ("let narrow = half / 3 to nearest even\n"
                 "let toe = half * 2 / 5 to nearest even\n")
    cuff = _CUFF.format(round_name=name, within=math.ceil(200 / float(stitches)))
    return text + cuff + (_FOOT if kind == "sock" else _LEG_END)


def _ask() -> tuple[str, str, str, str]:
    def asked(question: str, otherwise: str) -> str:
        print(f"{question} [{otherwise}] ", end="", file=sys.stderr, flush=True)
        return sys.stdin.readline().strip() or otherwise

    return (asked("What is the pattern called?", "My First Sock"), asked("Who writes it?", "me"),
            asked("Is it a sock or a leg-warmer?", "sock"),
            asked("Stitches and rows over 10 cm?", "30x42"))
