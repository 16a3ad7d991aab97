"""Each option changes what a command prints or writes, also beside all the others.

For each command some sets of options that go together are said at once, and then once without
each of them: what comes out must be another thing every time.  So no option is ignored beside any
other of its set.  Options that do not go together are refused (``test_no_option_is_ignored``).
"""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest
import typer.main
from support.command import sockscript

from sockscript.commands.app import app

BAG = '''pattern "Little Bag"
author "Quayside Knitting Circle"
yarn main "four-ply sock wool" 400 m per 100 g
gauge plain 30 stitches, 40 rows per 10 cm
sizes            Small  Large
    foot-round   9      11 cm
    foot-length  9      10 cm
option tie drawn "a drawn end", grafted "a grafted end"
works for
    foot-length 9 to 10 cm by 1 cm
let around = stitches(foot-round) to nearest multiple of 4

section "Foot" in plain
    target girth foot-round within 2 cm
    target length foot-length / 2 within 2 cm
    do tube-cast-on with half = around / 2, yarn = main
    remove comb
    stitch size 6
    knit rows(foot-length) / 2 to nearest rounds
    when tie is drawn
        knit 2 rounds

section "Toe" in plain
    do wedge-toe with leave = 10
    remove weights
    when tie is drawn
        do gathered-end
    otherwise
        do graft-end
'''
WITH = ("--with", "wedge-toe=round-toe")
MACHINE = ("--machine", "cottage-single")  # one bed only, which every command has to say
CHOOSE = ("--choose", "tie=grafted")
LARGE = ("--size", "Large")
OUT = ("-o", "out.txt")
JSON = ("--format", "json")
SETS = {
    "check": [[MACHINE, WITH, JSON], [MACHINE, ("--mend",)]],
    "steps": [[LARGE, CHOOSE, MACHINE, WITH, ("--with-bank-book",), ("--format", "markdown")],
              [LARGE, ("--my-size", "Large"), ("--all-choices",), WITH, OUT],
              [LARGE, ("--every-row",), CHOOSE, MACHINE, WITH]],
    "needles": [[CHOOSE, MACHINE], [WITH, MACHINE]],
    "sheet": [[LARGE, CHOOSE, MACHINE, WITH, ("--with-bank-book",), ("--paper", "letter"),
               ("--large-print",), ("--sans-serif",), ("--every-row",), ("--with-script",)],
              [("--my-size", "Large"), ("--all-choices",), WITH]],
    "picture": [[CHOOSE, MACHINE], [WITH, MACHINE]],
    "follow": [[LARGE, CHOOSE, MACHINE, WITH, ("--pace", "2,5")]],
    "sizes": [[LARGE, CHOOSE, WITH, ("--format", "csv"), ("--pace", "2½")], [LARGE, OUT]],
    "numbers": [[LARGE, CHOOSE, OUT], [LARGE, WITH]],
    "range": [[MACHINE, WITH, JSON], [WITH, OUT]],
    "fit": [[("--gauge", "29x41/10cm"), ("--size", "Large"), ("--yarn", "500 m per 100 g"),
             ("--foot-round", "9.6cm"), CHOOSE, WITH, ("-o", "out.sockscript")],
            [("--foot-round", "9.6cm"), MACHINE], [("--shoe", "eu 16")]],
    "swatch": [[("--washed", "60x84/19x19cm"), ("--fabric", "rib")]],
    "new": [[("--title", "A"), ("--author", "B"), ("--kind", "leg-warmer"),
             ("--gauge", "28x40/10cm"), ("-o", "out.sockscript")],
            [("--from", "flat-sock"), ("-o", "out.sockscript")]],
    "compare": [[MACHINE, ("--every-step",), OUT], [MACHINE, JSON]],
    "format": [[("--check",)], [("--diff",)]],
    "pack": [[MACHINE, WITH]],
}
SAID = {"needles": (*LARGE, "--step", "7"), "picture": (*LARGE, "--what", "beds", "--step", "7",
                                                       "-o", "out.svg"),
        "sheet": ("-o", "out.html"), "follow": ("-o", "out.html"), "pack": ("-o", "out.sockpack")}
"""What a command has to be told in any case."""
FILES = {"compare": ("bag.sockscript", "other.sockscript"), "format": ("loose.sockscript",),
         "swatch": ("60x84/20x20cm",), "new": ()}

ELSEWHERE = {
    ("check", "--watch"): "tests/commands/test_cli: it goes on until it is ended",
    ("check", "--yes"): "tests/findings/test_mends: it answers --mend",
    ("needles", "--size"): "said always", ("needles", "--step"): "said always",
    ("needles", "--row"): "tests/commands/test_cli: instead of --step",
    ("picture", "--what"): "said always", ("picture", "--size"): "said always",
    ("picture", "--step"): "said always", ("picture", "--out"): "said always",
    ("sheet", "--out"): "said always", ("follow", "--out"): "said always",
    ("pack", "--out"): "said always", ("pack", "--sign"): "tests/sharing: it makes a key",
    ("language-server", "--stdio"): "it says what is so in any case, for editors that add it",
    **{("logs", name): "tests/logs: it wants logs"
       for name in ("--machine", "--with", "--format", "--out")},
    **{("open", name): "tests/sharing: it wants a pack" for name in ("--know", "--out")},
}
"""Options that are looked at in other places, and why."""


def outcome(folder: Path, command: str, options) -> tuple[object, ...]:
    """All that a command does: its status, what it prints, what it writes."""
    folder.mkdir()
    (folder / "bag.sockscript").write_text(BAG, "utf-8")
    (folder / "other.sockscript").write_text(BAG.replace("knit 2 rounds", "knit 6 rounds"), "utf-8")
    (folder / "loose.sockscript").write_text('pattern   "x"\n', "utf-8")
    before = set(folder.iterdir())
    files = FILES.get(command, ("bag.sockscript",))
    done = sockscript(command, *files, *SAID.get(command, ()), *itertools.chain(*options),
                      cwd=folder, stdin="n\n")
    written = {path.name: path.read_bytes() for path in folder.iterdir() if path not in before
               or path.name == "loose.sockscript"}
    return (done.returncode, done.stdout, done.stderr, written)


@pytest.mark.parametrize("command, options", [
    (command, options) for command, sets in SETS.items() for options in sets])
def test_every_option_counts_beside_the_others(command, options, tmp_path):
    whole = outcome(tmp_path / "whole", command, options)

    assert whole[0] in (0, 1), whole
    for number, option in enumerate(options):
        rest = [one for one in options if one is not option]
        assert outcome(tmp_path / str(number), command, rest) != whole, option


def test_every_option_is_looked_at():
    """A new option goes into a set above, or beside those that are looked at elsewhere."""
    known = {(command, one[0]) for command, sets in SETS.items() for one in
             itertools.chain(*sets)} | set(ELSEWHERE)
    found = {(name, option.opts[-1])
             for name, command in typer.main.get_command(app).commands.items()  # type: ignore[attr-defined]
             for option in command.params if option.param_type_name == "option"
             and name != "catalogue"}  # its conditions: tests/catalogue

    assert {(name, option.replace("--out", "-o")) for name, option in found} <= {
        (name, option.replace("--out", "-o")) for name, option in known}
