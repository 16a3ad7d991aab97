"""What a knitter asks of the catalogue, as conditions on its index."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from attrs import frozen

from sockscript.machine.profile import Profile

FOOT, ROUND, STITCHES, ROWS, YARN = 7.0, 10.0, 1.0, 2.0, 0.1
"""How far off something may be: mm of foot length and of foot round, stitches and rows in 10 cm,
and a tenth of the metres of a yarn (a house rule: what a swatch and washing settle)."""
_SLACK = 1e-6

_Add = Callable[..., None]


@frozen
class Query:
    """What is looked for; None or empty: all the same.  Lengths in mm, gauge over 10 cm, yarn in
    metres of 100 g."""

    words: str = ""
    foot: float | None = None
    round: float | None = None
    stitches: float | None = None
    rows: float | None = None
    yarn: float | None = None
    beds: int | None = None
    needles: int | None = None
    machine: Profile | None = None
    size: str = ""
    author: str = ""
    licence: str = ""
    techniques: Sequence[str] = ()
    mark: str = ""
    clean: bool = False
    trouble: bool = False


def words_wanted(text: str) -> str:
    """A full-text query for files that have all the words, each perhaps only begun."""
    words = [word for word in re.findall(r'[^\s"]+', text) if re.search(r"\w", word)]
    return " ".join(f'"{word}"*' for word in words)


def condition(wanted: Query) -> tuple[str, list[object]]:
    """The condition for ``Index.find``, without the words."""
    parts: list[str] = ["1"]
    values: list[object] = []

    def add(text: str, *more: object) -> None:
        parts.append(text)
        values.extend(more)

    _sizes(wanted, add)
    if wanted.stitches is not None or wanted.rows is not None:
        tests, limits = ["file = files.id"], []
        for column, value, off in (("stitches", wanted.stitches, STITCHES),
                                   ("rows", wanted.rows, ROWS)):
            if value is not None:
                tests.append(f"{column} BETWEEN ? AND ?")
                limits += [value - off - _SLACK, value + off + _SLACK]
        add(f"EXISTS (SELECT 1 FROM gauges WHERE {' AND '.join(tests)})", *limits)
    if wanted.yarn is not None:
        add("EXISTS (SELECT 1 FROM yarns WHERE file = files.id AND metres BETWEEN ? AND ?)",
            wanted.yarn * (1 - YARN) - _SLACK, wanted.yarn * (1 + YARN) + _SLACK)
    if wanted.beds is not None:
        add("beds <= ?", wanted.beds)
    if wanted.machine is not None:
        _machine(wanted.machine, add)
    for column, word in (("author", wanted.author), ("licence", wanted.licence)):
        if word:
            add(f"instr(lower({column}), ?)", word.lower())
    for name in wanted.techniques:
        add("EXISTS (SELECT 1 FROM techniques WHERE file = files.id AND name = ?)", name.lower())
    if wanted.mark:
        add("mark <> '' AND same_pattern(mark, ?)", wanted.mark)
    if wanted.clean:
        add("status = 'clean'")
    if wanted.trouble:
        add("status IN ('found', 'unusable')")
    return " AND ".join(parts), values


def _sizes(wanted: Query, add: _Add) -> None:
    """One size must fulfil all that is asked of a size; a length may also be among those for which
    the pattern is said to work."""
    tests = ["file = files.id"]
    values: list[object] = []
    ranges, ends = [], []
    for column, group, value, off in (("foot", "feet", wanted.foot, FOOT),
                                      ("round", "rounds", wanted.round, ROUND)):
        if value is not None:
            tests.append(f"{column} BETWEEN ? AND ?")
            values += [value - off - _SLACK, value + off + _SLACK]
            ranges.append(f"? BETWEEN {group}_low AND {group}_high")
            ends.append(value)
    if wanted.size:
        tests.append("lower(name) = ?")
        values.append(wanted.size.lower())
    needles = _least(wanted.needles, wanted.machine.needles if wanted.machine else None)
    if needles is not None:
        tests.append("needles <= ?")
        values.append(needles)
    if len(tests) == 1:
        return
    text = f"EXISTS (SELECT 1 FROM sizes WHERE {' AND '.join(tests)})"
    if ranges and not wanted.size and needles is None:
        add(f"({text} OR ({' AND '.join(ranges)}))", *values, *ends)
    else:
        add(text, *values)


def _least(*numbers: int | None) -> int | None:
    return min((number for number in numbers if number is not None), default=None)


def _machine(machine: Profile, add: _Add) -> None:
    """What the machine can do is all that is needed."""
    add("beds <= ?", machine.beds)
    add("racking <= ?", machine.racking)
    able = [*machine.settings, *(f"{pitch}-pitch" for pitch in machine.pitches)]
    marks = ", ".join("?" * len(able))
    add(f"NOT EXISTS (SELECT 1 FROM needs WHERE file = files.id AND what NOT IN ({marks}))", *able)
