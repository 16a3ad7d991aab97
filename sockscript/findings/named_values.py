"""The lines where the values were worked out that a line speaks of."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from sockscript.findings.finding import SecondPlace
from sockscript.text.source import Span
from sockscript.tree.script import Script

MOST_SHOWN = 3
"""So many lines with values are shown with a finding, the nearest first."""

_WORD = re.compile(r"[^\W\d_][^\W_]*(?:-[^\W_]+)*")
_QUOTED = re.compile(r'"[^"]*"|#.*')


def values_behind(script: Script, lines: Iterable[Span]) -> tuple[SecondPlace, ...]:
    """The ``let`` lines whose names a line of the script speaks of, and those behind them; or the
    rows of the table that it speaks of, if it speaks of no such line.

    ``lines``: the line concerned, then the calls by which it was reached; the first that speaks
    of any value counts.
    """
    rows = script.sizes.places if script.sizes is not None else {}
    lets = {let.name: let.at for let in script.lets}
    found: dict[str, Span] = {}
    for line in lines:
        waiting = [line] if script.wrote(line) else []
        while waiting and len(found) < MOST_SHOWN:
            here = waiting.pop(0)
            new = {name: lets[name] for name in _names(here)
                   if name in lets and name not in found and lets[name].line != here.line}
            found.update(new)
            waiting.extend(new.values())
        if found:
            break
        named = [name for name in (_names(line) if script.wrote(line) else ()) if name in rows]
        if named:
            return tuple(SecondPlace(rows[name], f"'{name}' stands in the table here")
                         for name in named[:MOST_SHOWN])
    return tuple(SecondPlace(at, f"'{name}' is worked out here")
                 for name, at in [*found.items()][:MOST_SHOWN])


def is_a_name(at: Span) -> bool:
    """Whether a place in a script is just a name (not a sum of numbers, say)."""
    return _WORD.fullmatch(at.source.line(at.line)[at.start - 1:at.end - 1]) is not None


def _names(at: Span) -> Iterator[str]:
    text = at.source.line(at.line)
    # What a let line gives its name to is no value behind it.
    if text.lstrip().startswith("let "):
        text = text.partition("=")[2]
    yield from dict.fromkeys(_WORD.findall(_QUOTED.sub(" ", text)))
