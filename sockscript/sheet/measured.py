"""The tables of a sheet: what a size is made for, what it measures, and its yarn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sockscript.expand.run import Run
from sockscript.fabric.amounts import yarn_amounts
from sockscript.fit.yarn import GRAMS_PER_UNIT, YARD_METRES
from sockscript.numbers.figures import NONE
from sockscript.numbers.quantity import Quantity, show
from sockscript.pictures.dimensions import dimensions
from sockscript.pictures.schematic import schematic_picture, to_scale
from sockscript.sheet.outline import Cell, Figured, Table, TableRow
from sockscript.tree.script import Script


def size_table(script: Script, runs: Sequence[Run]) -> Table | None:
    """The author's table of sizes."""
    if script.sizes is None:
        return None
    return Table("sizes", "Sizes and measurements", "What each size is made for", tuple(
        TableRow(name.replace("-", " "), tuple(Cell(show(values[run.size])) for run in runs))
        for name, values in script.sizes.measures.items()))


def finished_table(runs: Sequence[Run], choice: str) -> Table | None:
    """Finished measurements with the letters of the schematic; None without a gauge.

    ``choice``: the choices that they are of, in words, where others are printed too.
    """
    rows = dimensions(runs)
    if not rows:
        return None
    middle = len(runs) // 2
    drawn = schematic_picture(runs, middle, heading="Finished measurements", table=False)
    picture = None if drawn is None else Figured(drawn, to_scale(runs, middle))
    own = runs[0].script.inches
    units = "inches, then in cm" if own else "cm, then in inches"
    note = f"In {units}; measured on the simulated fabric"
    return Table("finished", "Finished measurements", note + (f", with {choice}" if choice else ""),
                 tuple(TableRow(row.name, tuple(Cell(*both) for both in row.in_both(own)),
                                row.letter) for row in rows), picture)


def yarn_table(every: Sequence[Sequence[Run]]) -> Table | None:
    """Metres and grams of each yarn for a pair (yards and ounces first in a script in inches),
    rounded up to whole ones; of several choices the one that takes most."""
    rows = tuple(_yarn(every))
    if not rows:
        return None
    return Table("yarn", "Yarn for a pair",
                 "Reckoned from the stitches of the simulation; buy some to spare", rows)


def _yarn(every: Sequence[Sequence[Run]]) -> Iterator[TableRow]:
    """A row for each yarn, its metres and grams for a pair in every size."""
    by_size = [[{amount.yarn.name: amount for amount in yarn_amounts(run)} for run in runs]
               for runs in zip(*every, strict=True)]
    yarns = {name: amount.yarn for size in by_size for found in size
             for name, amount in found.items()}
    for name, yarn in yarns.items():
        text = every[0][0].yarn_words[name]
        here = [[found[name] for found in size if name in found] for size in by_size]
        metres = [max((a.metres for a in size if a.metres is not None), default=None)
                  for size in here]
        grams = [max((a.grams for a in size if a.grams is not None), default=None)
                 for size in here]
        both = [("m", metres, 1.0), ("g", grams, 1.0)]
        if every[0][0].script.inches:
            both = [("yards", metres, float(YARD_METRES)), both[0],
                    ("oz", grams, float(GRAMS_PER_UNIT["oz"])), both[1]]
        balls = [max((a.balls(2) or 0 for a in size), default=0) for size in here]
        for what, most, unit in both:
            if any(value is not None for value in most):
                cells = [NONE if value is None else str(-int(-2 * value / unit // 1))
                         for value in most]
                # The balls stand behind the last weight, so that they take no line of their own.
                if what == "g" and any(balls):
                    what += f" (balls of {show(Quantity(yarn.ball_grams or 0))} g)"
                    cells = [f"{cell} ({n})" if n else cell
                             for cell, n in zip(cells, balls, strict=True)]
                yield TableRow(f"{text}, {what}", tuple(map(Cell, cells)))
