"""The leaflet: the sheet with its schematic, lettered measurements and yarn, ready for a page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple, TypeVar

from sockscript.expand import run as performed
from sockscript.fabric.amounts import yarn_amounts
from sockscript.highlight.runs import Run, runs_of
from sockscript.machine.profile import Profile
from sockscript.pictures.schematic import dimensions, schematic_picture, to_scale
from sockscript.pictures.svg import Picture
from sockscript.sheet.facts import inches
from sockscript.sheet.numbering import Plan
from sockscript.sheet.sheet import Sheet, TableRow, make_sheet
from sockscript.tree.script import Script

T = TypeVar("T")


class LetteredRow(NamedTuple):
    """A finished measurement: its letter on the schematic, and for each size cm and inches."""

    letter: str
    name: str
    centimetres: tuple[str, ...]
    inches: tuple[str, ...]


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
    choices = f", with {plans[0][0]}" if len(plans) > 1 else ""
    return Leaflet(sheet, schematic, to_scale(runs[middle].size_name) if schematic else "",
                   f"In cm, and below in inches; measured on the simulated fabric{choices}",
                   tuple(LetteredRow(row.letter, row.name, tuple(row.in_centimetres()),
                                     tuple(map(_inches, row.values)))
                         for row in dimensions(runs)),
                   tuple(_yarn([plan.runs for _, plan in plans])),
                   tuple(map(tuple, runs_of(script.source.lines))) if with_script else ())


def _inches(value: Fraction | None) -> str:
    return "–" if value is None else inches([value]).removesuffix(" in")


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
        for what, values in (("m", [[a.metres for a in size] for size in here]),
                             ("g", [[a.grams for a in size] for size in here])):
            most = [max((v for v in size if v is not None), default=None) for size in values]
            if any(value is not None for value in most):
                yield TableRow(f"{text}, {what}", tuple(
                    "–" if value is None else str(-int(-2 * value // 1)) for value in most))


def in_parts(items: Sequence[T], most: int) -> Iterator[Sequence[T]]:
    """Columns of a wide table in parts of at most ``most``, as even as can be."""
    count = -(-len(items) // most)
    size = -(-len(items) // count) if count else 1
    for start in range(0, len(items), size):
        yield items[start:start + size]
