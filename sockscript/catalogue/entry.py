"""What the catalogue tells of one file."""

from __future__ import annotations

import json
from typing import Any, Literal

from attrs import asdict, evolve, field, frozen

from sockscript.expand.called import called
from sockscript.expand.explore import all_choices
from sockscript.expand.run import Run
from sockscript.fabric.finished import finished
from sockscript.findings.checked import Checked
from sockscript.numbers.quantity import Exact, Quantity
from sockscript.sharing.fingerprint import fingerprint
from sockscript.sharing.stamp import verdict
from sockscript.sheet import facts
from sockscript.sheet.numbering import run_with
from sockscript.text.visible import in_one_line
from sockscript.tree.script import Script

Status = Literal["clean", "found", "techniques", "unusable"]
"""What the check says: no stitch is lost; something was found; a file of techniques only; it
cannot be read or understood."""


@frozen
class Size:
    """A size: its foot length and foot round in mm, and how many needles of a bed it takes (None:
    not known)."""

    name: str
    foot: float | None
    round: float | None
    needles: int | None


@frozen
class EntryGauge:
    """Stitches and rows of a fabric over 10 cm."""

    fabric: str
    stitches: float
    rows: float


@frozen
class EntryYarn:
    """A yarn that is knitted, and its metres in 100 g (None: not said)."""

    text: str
    metres: float | None


@frozen
class Entry:
    """A file of the folder: ``path`` from there, what stands at its head, and what was found.

    ``said``: the check in words, or why it cannot be read.  ``feet`` and ``rounds``: lengths in
    mm for which it is said to work in any combination (None: it does not say).  ``needs``: what
    else the machine must be able to do, as ``facts.Needed`` names it; ``racking``: how far.
    """

    path: str
    status: Status
    said: str
    title: str = ""
    author: str = ""
    version: str = ""
    licence: str = ""
    mark: str = ""
    sizes: tuple[Size, ...] = ()
    feet: tuple[float, float] | None = None
    rounds: tuple[float, float] | None = None
    gauges: tuple[EntryGauge, ...] = ()
    yarns: tuple[EntryYarn, ...] = ()
    beds: int | None = None
    needs: tuple[str, ...] = ()
    racking: int = 0
    techniques: tuple[str, ...] = ()
    pack: bool = False
    text: str = field(default="", repr=False)

    @property
    def name(self) -> str:
        """What to call it: the title, or else the name of its file."""
        return self.title or self.path

    def as_data(self) -> dict[str, Any]:
        """For JSON, without the words that are only searched."""
        data = asdict(self)
        del data["text"]
        return data


def from_json(text: str) -> Entry:
    """An entry that was kept as JSON of ``as_data``.  Raises ValueError, TypeError or KeyError
    for anything else."""
    data = json.loads(text)
    for name, kind in (("sizes", Size), ("gauges", EntryGauge), ("yarns", EntryYarn)):
        data[name] = tuple(kind(**one) for one in data[name])
    for name in ("needs", "techniques"):
        data[name] = tuple(data[name])
    for name in ("feet", "rounds"):
        data[name] = data[name] and tuple(data[name])
    return Entry(**data)


def entry_of(path: str, checked: Checked) -> Entry:
    """What a checked script is, with the usual choices."""
    path = in_one_line(path)
    if checked.prepared is None:
        return Entry(path, "unusable", _first_problem(checked), pack=_is_pack(path))
    script = checked.script
    entry = _head(path, checked)
    if checked.proof is None:
        return entry
    usual = all_choices(script)[0]
    runs = [run_with(outcomes, usual) for outcomes in checked.proof.outcomes]
    needed = facts.needed(runs)
    return evolve(entry, status="clean" if checked.knits else "found", said=verdict(checked),
                  sizes=tuple(_size(script, n, run) for n, run in enumerate(runs)),
                  beds=needed.beds, needs=needed.abilities, racking=needed.racking)


def _is_pack(path: str) -> bool:
    return path.lower().endswith(".sockpack")


def _first_problem(checked: Checked) -> str:
    first = checked.problems[0]
    return f"line {first.at.line}: {first.message}" if first.at.source.lines else first.message


def _head(path: str, checked: Checked) -> Entry:
    """What the tree of a script tells, even where it cannot be knitted."""
    script = checked.script
    status: Status = "unusable" if checked.problems else "techniques"
    said = _first_problem(checked) if checked.problems else \
        f"techniques only: {', '.join(script.techniques)}"
    ranges = {one.name: (_mm(one.values[0]), _mm(one.values[-1]))
              for one in script.works_for.ranges if one.what == "value" and one.values
              } if script.works_for is not None else {}
    names = script.sizes.names if script.sizes is not None else ()
    return Entry(
        path, status, said, script.title, script.author, script.version, script.licence,
        "" if checked.problems else str(fingerprint(script, checked.library)),
        sizes=tuple(_size(script, n, None) for n in range(len(names))),
        feet=_both(ranges.get("foot-length")), rounds=_both(ranges.get("foot-round")),
        gauges=tuple(EntryGauge(one.fabric, _rounded(one.stitches_per_mm * 100),
                                _rounded(one.rows_per_mm * 100)) for one in script.gauges),
        yarns=tuple(EntryYarn(one.text, None if one.metres_per_gram is None
                              else _rounded(one.metres_per_gram * 100))
                    for one in script.yarns if one.role == "main"),
        techniques=tuple(script.techniques) if not script.sections else
        tuple(dict.fromkeys(one.name for one in called(script, checked.library).values())),
        pack=_is_pack(path), text="\n".join(line for source in (
            script.source, *(one.script.source for one in script.based_on))
            for line in source.lines))


def _both(ends: tuple[float | None, float | None] | None) -> tuple[float, float] | None:
    if ends is None or ends[0] is None or ends[1] is None:
        return None
    return min(ends[0], ends[1]), max(ends[0], ends[1])


def _size(script: Script, index: int, run: Run | None) -> Size:
    """A size; its foot is as long as the simulated one, or else as the table says."""
    sizes = script.sizes
    table = {name: _mm(values[index]) for name, values in sizes.measures.items()
             } if sizes is not None else {}
    foot = needles = None
    if run is not None:
        foot = finished(run).foot
        needles = max((max(moment.state.front.in_use.bit_count(),
                           moment.state.back.in_use.bit_count()) for moment in run.moments),
                      default=0)
    return Size(sizes.names[index] if sizes is not None else "one size",
                table.get("foot-length") if foot is None else _rounded(foot),
                table.get("foot-round"), needles)


def _mm(value: Quantity) -> float | None:
    return _rounded(value.value) if value.unit == "mm" else None


def _rounded(value: Exact) -> float:
    return round(float(value), 2)
