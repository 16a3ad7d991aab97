"""Whether a call fits the technique that it reaches."""

from __future__ import annotations

from sockscript.expand.techniques import Library
from sockscript.text.source import Problem
from sockscript.tree import statements as st


def exchange_misfit(line: st.Do, library: Library) -> Problem | None:
    """What a call gives that the technique in the place of the one called does not take, and what
    that one needs besides; told where the two are exchanged.  None if all fits."""
    if line.name not in library.exchanged:
        return None
    now, at = library.exchanged[line.name]
    takes = {parameter.name: parameter.default is None for parameter in now.parameters}
    given = {name for name, _, _ in line.arguments}
    if line.bed is not None:
        given.add("bed")
    odd = sorted(given - takes.keys())
    lacks = [name for name, needed in takes.items() if needed and name not in given]
    if not (odd or lacks):
        return None
    why = [f"the pattern gives it {_named(odd)}, which it does not take"] if odd else []
    if lacks:
        why.append(f"it needs {_named(lacks)}, which the pattern does not give")
    return Problem(
        "exchange-does-not-fit", at,
        f"'{now.name}' cannot stand in the place of '{line.name}': {', and '.join(why)}.",
        f"Take one that is called as '{line.name}' is, or write one that takes its values and "
        f"does '{now.name}' with what that needs.")


def _named(names: list[str]) -> str:
    words = [f"'{name}'" for name in names]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
