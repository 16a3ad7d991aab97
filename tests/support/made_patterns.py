"""Folders full of patterns that nobody wrote: the examples with other names, gauges and feet."""

from __future__ import annotations

import random
import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
BASES = ("flat-sock", "leg-warmer", "toe-up-sock", "afterthought-sock")
FIRST = ("Lantern", "Harbour", "Tide", "Ferry", "Dune", "Heron", "Anchor", "Willow", "Pebble",
         "Skipper", "Bramble", "Marsh", "Beacon", "Cobble", "Drift", "Gannet")
SECOND = ("Sock", "Stocking", "Slipper", "Bootee", "Walker", "Warmer")
AUTHORS = ("Ada Quill", "Ben Mooring", "Cato Weir", "Dora Sandbar", "Evi Ketch", "Finn Groyne")


def made_pattern(number: int) -> str:
    """The text of one pattern; the same number gives the same text."""
    chance = random.Random(number)
    text = (ROOT / "examples" / f"{BASES[number % len(BASES)]}.sockscript").read_text("utf-8")
    title = f"{chance.choice(FIRST)} {chance.choice(SECOND)} {number}"
    text = re.sub(r'^pattern ".*"', f'pattern "{title}"', text, count=1, flags=re.M)
    text = re.sub(r'^author ".*"', f'author "{chance.choice(AUTHORS)}"', text, count=1, flags=re.M)
    text = re.sub(r"^version \S+", f"version {chance.randint(1, 9)}", text, count=1, flags=re.M)
    stitches = chance.choice((28, 29, 30, 31, 32))
    text = re.sub(r"^(gauge \w+) 30 stitches", rf"\1 {stitches} stitches", text, flags=re.M)
    return re.sub(r"(\d+) m per 100 g", f"{chance.choice((380, 400, 420))} m per 100 g", text)


def make_patterns(folder: Path, count: int) -> None:
    """Write so many patterns, a hundred in a folder."""
    for number in range(count):
        here = folder / f"shelf-{number // 100}"
        here.mkdir(parents=True, exist_ok=True)
        (here / f"pattern-{number}.sockscript").write_text(made_pattern(number), "utf-8")


def small_pattern(number: int) -> str:
    """A square with a title, a gauge and a note of its own: little to knit."""
    chance = random.Random(number)
    return (f'pattern "{chance.choice(FIRST)} {chance.choice(SECOND)} {number}"\n'
            f'author "{chance.choice(AUTHORS)}"\nversion {chance.randint(1, 9)}\n'
            f'yarn main "four-ply sock wool" {chance.choice((380, 400, 420))} m per 100 g\n'
            f"gauge plain {chance.randint(26, 34)} stitches, {chance.randint(38, 46)} rows "
            f'per 10 cm\nnote "A square of {number} kinds."\nsection "Square"\n'
            f"    bring centre {chance.randint(10, 60)} of front into work to cast on\n"
            f"    set front to knit\n    thread main\n    knit {chance.randint(20, 90)} rows\n"
            "    cut\n    bind off front\n")


def make_small_patterns(folder: Path, count: int) -> None:
    """As above, with small patterns."""
    for number in range(count):
        here = folder / f"shelf-{number // 100}"
        here.mkdir(parents=True, exist_ok=True)
        (here / f"pattern-{number}.sockscript").write_text(small_pattern(number), "utf-8")
