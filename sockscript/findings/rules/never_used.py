"""What a script defines and no line of it asks for: choices, counts of the table, techniques."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind
from sockscript.tree.script import Script
from sockscript.tree.walk import MOST_PARTS, nodes

OPTION_WITHOUT_EFFECT = Kind(
    "option-without-effect", "warning",
    "The reader is offered a choice of {name}, but no line asks for it: whatever she chooses, the "
    "same is knitted.",
    "Ask for it where the work differs (when {name} is {value}), or leave the option out.")

ROW_NEVER_USED = Kind(
    "row-never-used", "advice",
    "No line uses '{name}', a row of numbers in the table of sizes.",
    "Look whether its name is written otherwise where it is meant, or leave the row out.")


TECHNIQUE_NEVER_CALLED = Kind(
    "technique-never-called", "advice",
    "No line of this pattern does the technique '{name}', which stands in it.",
    "Look whether another is done where it is meant (do {name} …); for other patterns it may stand "
    "in a file of its own.")


def option_without_effect(by_size: Sequence[Sequence[Run]]) -> list[Mishap]:
    """Options that no line asks for."""
    script = _finished(by_size)
    if script is None or not script.options:
        return []
    named = _named(script)
    return [Mishap(OPTION_WITHOUT_EFFECT.fault(name=option.name), (option.at,), detail={
                "value": option.values[-1]})
            for option in script.options if option.name not in named]


def row_never_used(by_size: Sequence[Sequence[Run]]) -> list[Mishap]:
    """Rows of plain numbers that no line names.  Lengths may be there for the reader."""
    script = _finished(by_size)
    if script is None or script.sizes is None:
        return []
    counts = [name for name, values in script.sizes.measures.items()
              if not any(value.unit for value in values)]
    if not counts:
        return []
    named = _named(script)
    return [Mishap(ROW_NEVER_USED.fault(name=name), (script.sizes.places[name],))
            for name in counts if name not in named]


def technique_never_called(by_size: Sequence[Sequence[Run]]) -> list[Mishap]:
    """Techniques in the file of a pattern that it never does."""
    script = _finished(by_size)
    if script is None or not script.techniques:
        return []
    named = _named(script)
    return [Mishap(TECHNIQUE_NEVER_CALLED.fault(name=name), (technique.at,))
            for name, technique in script.techniques.items()
            if technique.at.source is script.source and name not in named]


def _finished(by_size: Sequence[Sequence[Run]]) -> Script | None:
    """The script, where all of it was performed."""
    runs = [run for runs in by_size for run in runs]
    return None if any(run.stopped is not None for run in runs) else runs[0].script


def _named(script: Script) -> frozenset[str]:
    """Every word that stands in a line of a script, beside those that its lines define."""
    exchanged = {name for one in script.exchanges for name in (one.name, one.other)}
    return frozenset(exchanged).union(*map(_words, (
        *script.lets, *script.remarks, *script.sections, script.works_for, script.allows,
        *((technique.parameters, technique.body) for technique in script.techniques.values()))))


@lru_cache(maxsize=MOST_PARTS)
def _words(root: Any) -> frozenset[str]:
    return frozenset(value for node, _ in nodes(root) for attribute in type(node).__attrs_attrs__
                     if isinstance(value := getattr(node, attribute.name), str))
