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

    def __str__(self) -> str:
        whose = ", ".join(part for part in (
            f"from {self.file}" if self.file else "from this script",
            f"version {self.version}" if self.version else "",
            f"by {self.author}" if self.author else "") if part)
        return f"{self.name} {whose}" + (
            " (not the one that comes with Sockscript)" if self.hides else "")


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
    if not library.from_files and not script.techniques:
        return []
    found = []
    for name, technique in called(script, library).items():
        file = library.from_files.get(name)
        hides = name in library.shipped_files()
        if file is not None:
            found.append(Borrowed(name, file.source.name, file.version, file.author, hides))
        elif hides and technique.at.source is script.source:
            found.append(Borrowed(name, "", "", "", True))
    return found
