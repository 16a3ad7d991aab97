"""Which techniques a script really calls, and where each comes from."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from sockscript.expand.techniques import Library
from sockscript.tree import statements as st
from sockscript.tree.script import Script


class Borrowed(NamedTuple):
    """A technique that is called and does not come with the program, or hides one that does.

    ``file`` is empty for one of the script itself.
    """

    name: str
    file: str
    version: str
    author: str
    hides: bool
    instead: str = ""
    """The technique that a member has put in its place."""

    def __str__(self) -> str:
        parts = []
        if self.file:
            parts.append(f"from {self.file}")
        elif not self.instead:
            parts.append("from this script")
        if self.version:
            parts.append(f"version {self.version}")
        if self.author:
            parts.append(f"by {self.author}")
        whose = ", ".join(parts)
        if self.instead:
            return f"{self.instead} in the place of {self.name}" + (f", {whose}" if whose else "")
        return f"{self.name} {whose}" + (
            " (not the one that comes with Sockscript)" if self.hides else "")


def built_on(script: Script) -> list[str]:
    """The scripts that a script builds on, the nearest first, each with who wrote it."""
    found = []
    for one in script.based_on:
        said = one.script
        whose = [said.title, f"version {said.version}" if said.version else "",
                 f"by {said.author}" if said.author else "", said.licence]
        found.append(": ".join(part for part in (
            one.name, ", ".join(word for word in whose if word)) if part))
    return found


def exchanged_words(library: Library) -> str:
    """``round-toe in the place of wedge-toe``; empty where nothing is exchanged."""
    return ", ".join(f"{one.now.name} in the place of {name}"
                     for name, one in library.exchanged.items())


def called(script: Script, library: Library) -> dict[str, st.Technique]:
    """The techniques that are performed, directly or by others, by name in the order of the
    first call."""
    found: dict[str, st.Technique] = {}
    waiting = [name for section in script.sections for name in _calls(section.body)]
    while waiting:
        name = waiting.pop(0)
        technique = library.get(name) if name not in found else None
        if technique is not None:
            found[name] = technique
            waiting[:0] = _calls(technique.body)
    return found


def _calls(body: st.Block) -> Iterator[str]:
    for line in body:
        if isinstance(line, st.Do):
            yield line.name
        for block in ("body", "otherwise"):
            yield from _calls(getattr(line, block, ()))


def borrowed(script: Script, library: Library) -> list[Borrowed]:
    """The techniques that a reader should know the origin of."""
    if not (library.from_files or script.techniques or library.exchanged):
        return []
    found = []
    for name, technique in called(script, library).items():
        file = library.from_files.get(name)
        hides = name in library.shipped_files()
        exchanged = library.exchanged.get(name)
        if exchanged is not None:
            found.append(Borrowed(name, file.source.name if file is not None else "",
                                  file.version if file is not None else "",
                                  file.author if file is not None else "", hides,
                                  exchanged.now.name))
            continue
        if file is not None:
            found.append(Borrowed(name, file.source.name, file.version, file.author, hides))
        elif hides and script.wrote(technique.at):
            found.append(Borrowed(name, "", "", "", True))
    return found
