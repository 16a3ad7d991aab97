"""Which techniques two patterns use, and from where."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from sockscript.compare.model import Difference
from sockscript.compare.rules import listed
from sockscript.expand.called import called
from sockscript.expand.techniques import SHIPPED, Library
from sockscript.format.same import same_tree
from sockscript.tree.script import Script
from sockscript.tree.statements import Technique


class UsedTechnique(NamedTuple):
    """A technique that a pattern uses, and the file that it comes from (empty: the pattern)."""

    technique: Technique
    file: str


def techniques_used(script: Script, library: Library) -> dict[str, UsedTechnique]:
    """By name, in the order in which they are first called, with those that they call."""
    used = {}
    for name, technique in called(script, library).items():
        at = technique.at
        used[name] = UsedTechnique(technique, "" if script.wrote(at) else at.source.name)
    return used


def technique_changes(was: tuple[Script, Library], now: tuple[Script, Library]
                      ) -> Iterator[Difference]:
    """Techniques that are used no longer, used now, or that are done otherwise."""
    old, new = techniques_used(*was), techniques_used(*now)
    for what, word, names in (("technique-added", "now", _named(new, old)),
                              ("technique-gone", "no longer", _named(old, new))):
        if names:
            yield Difference(what, f"Used {word}: {listed(names)}.", ())
    for name, used in new.items():
        before = old.get(name)
        if before is None:
            continue
        if before.technique.name != used.technique.name:
            yield Difference("technique", f"{used.technique.name}{_from(used)} is done where "
                             f"{before.technique.name} was.", ())
        elif not same_tree(before.technique, used.technique):
            moved = "" if before.file == used.file else f" (was{_from(before) or ' in the script'})"
            yield Difference("technique", f"{name}{_from(used)} is written otherwise{moved}.", ())


def _named(ours: Mapping[str, UsedTechnique], theirs: Mapping[str, UsedTechnique]) -> list[str]:
    return [f"{name}{_from(used)}" for name, used in ours.items() if name not in theirs]


def _from(used: UsedTechnique) -> str:
    """Where a technique is from, unless it is the script's own or a shipped one."""
    source = used.technique.at.source
    return f" (from {used.file})" if used.file and source.folder != SHIPPED else ""
