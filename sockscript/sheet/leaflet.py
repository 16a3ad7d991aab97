"""The leaflet: the sheet with its schematic, lettered measurements and yarn, ready for a page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple, TypeVar

from sockscript.expand import run as performed
from sockscript.fabric.amounts import yarn_amounts
from sockscript.fit.yarn import GRAMS_PER_UNIT, YARD_METRES
from sockscript.highlight.runs import Run, runs_of
from sockscript.machine.profile import Profile
from sockscript.numbers.quantity import show_inches
from sockscript.pictures.schematic import Dimension, dimensions, schematic_picture, to_scale
from sockscript.pictures.svg import Picture
from sockscript.sheet.numbering import Plan
from sockscript.sheet.sheet import Sheet, TableRow, make_sheet
from sockscript.tree.script import Script

T = TypeVar("T")


class LetteredRow(NamedTuple):
    """A finished measurement: its letter on the schematic, and for each size the value in the
    script's own unit, and with its unit in the other."""

    letter: str
    name: str
    values: tuple[str, ...]
    below: tuple[str, ...]


class Leaflet(NamedTuple):
    """Everything that a leaflet shows.  There is a ``schematic`` with its ``caption`` only with
    a gauge.  ``measured``: how the finished measurements were found."""

    sheet: Sheet
    schematic: Picture | None
    caption: str
    measured: str
    finished: tuple[LetteredRow, ...]
    yarn: tuple[TableRow, ...]
    script: tuple[tuple[Run, ...], ...] = ()
    """The lines of the script, for an appendix; empty: without one."""
    language: str = "en"


def make_leaflet(script: Script, plans: Sequence[tuple[str, Plan]], profile: Profile,
                 named_machine: bool, with_script: bool = False) -> Leaflet:
    """Put the leaflet together; ``plans`` as for ``make_sheet``.

    ``with_script``: whether the script itself stands in an appendix.
    """
    sheet = make_sheet(script, plans, profile, named_machine)
    runs = plans[0][1].runs
    middle = len(runs) // 2
    schematic = schematic_picture(runs, middle, heading=f"{sheet.title}: measurements",
                                  table=False)
    own = script.inches
    choices = f", with {plans[0][0]}" if len(plans) > 1 else ""
    return Leaflet(sheet, schematic, to_scale(runs[middle].size_name) if schematic else "",
                   f"In {'inches, and below in cm' if own else 'cm, and below in inches'}; "
                   f"measured on the simulated fabric{choices}",
                   tuple(_lettered(row, own) for row in dimensions(runs)),
                   tuple(_yarn([plan.runs for _, plan in plans])),
                   tuple(map(tuple, runs_of(script.source.lines))) if with_script else ())


def _lettered(row: Dimension, own_inches: bool) -> LetteredRow:
    cm = [f"{value} cm" if value != "–" else "" for value in row.in_centimetres()]
    inches = [f"{show_inches(value, 8 if own_inches else 4)} in" if value is not None else ""
              for value in row.values]
    values, below = (inches, cm) if own_inches else (cm, inches)
    return LetteredRow(row.letter, row.name,
                       tuple(value.rpartition(" ")[0] or "–" for value in values), tuple(below))


def _yarn(plans: Sequence[Sequence[performed.Run]]) -> Iterator[TableRow]:
    """Metres and grams of each yarn for a pair, rounded up to whole ones; of several choices the
    one that takes most."""
    by_size = [[{amount.yarn.name: amount for amount in yarn_amounts(run)} for run in runs]
               for runs in zip(*plans, strict=True)]
    yarns = {name: amount.yarn for size in by_size for found in size
             for name, amount in found.items()}
    texts = [yarn.text for yarn in yarns.values()]
    for name, yarn in yarns.items():
        text = yarn.text + (f" ({name})" if texts.count(yarn.text) > 1 else "")
        here = [[found[name] for found in size if name in found] for size in by_size]
        metres = [max((a.metres for a in size if a.metres is not None), default=None)
                  for size in here]
        grams = [max((a.grams for a in size if a.grams is not None), default=None)
                 for size in here]
        both = [("m", metres, 1.0), ("g", grams, 1.0)]
        if plans[0][0].script.inches:
            both = [("yards", metres, float(YARD_METRES)), both[0],
                    ("oz", grams, float(GRAMS_PER_UNIT["oz"])), both[1]]
        for what, most, unit in both:
            if any(value is not None for value in most):
                yield TableRow(f"{text}, {what}", tuple(
                    "–" if value is None else str(-int(-2 * value / unit // 1))
                    for value in most))


def in_parts(items: Sequence[T], most: int) -> Iterator[Sequence[T]]:
    """Columns of a wide table in parts of at most ``most``, as even as can be."""
    count = -(-len(items) // most)
    size = -(-len(items) // count) if count else 1
    for start in range(0, len(items), size):
        yield items[start:start + size]
