"""Where techniques come from: the script itself, files it uses, and those shipped."""

from __future__ import annotations

import re
from pathlib import Path

from sockscript.expand.values import CannotDoError
from sockscript.text.source import Problem, Source, Span, read_source
from sockscript.tree import statements as st
from sockscript.tree.read import read_script, read_technique
from sockscript.tree.read_before import ReadBefore
from sockscript.tree.script import Script
from sockscript.tree.slips import nearest

SHIPPED = Path(__file__).parent.parent / "techniques"
MOST_FILES = 40


class Library:
    """Finds a technique by name: the script's own first, then used files, then shipped ones."""

    def __init__(self, own: dict[str, st.Technique], used: dict[str, st.Technique]) -> None:
        self._own = own
        self._used = used
        self._shipped: dict[str, st.Technique] = {}
        self._index: dict[str, Path] | None = None
        self._sources: dict[Path, Source] = {}
        self._before = ReadBefore()

    def get(self, name: str) -> st.Technique | None:
        """The technique of that name, or None."""
        found = self._own.get(name) or self._used.get(name) or self._shipped.get(name)
        if found is None and name in self.shipped_files():
            found = self._read_shipped(name)
        return found

    def find(self, name: str, at: Span) -> st.Technique:
        """As ``get``; raises CannotDoError when there is none."""
        found = self.get(name)
        if found is None:
            raise CannotDoError(self.unknown(name, at))
        return found

    def unknown(self, name: str, at: Span) -> Problem:
        """What to say of a technique that nobody knows."""
        meant = nearest(name, self.all_names())
        return Problem("unknown-technique", at, f"There is no technique called '{name}'.",
                       f"Did you mean '{meant}'?" if meant else
                       "Define it with 'technique', or name the file it is in with 'use'.",
                       at.replaced_by(meant) if meant else None)

    def all_names(self) -> set[str]:
        """Every technique that can be called."""
        return {*self._own, *self._used, *self.shipped_files()}

    def shipped_files(self) -> dict[str, Path]:
        """Which shipped file defines which technique (found without parsing them)."""
        if self._index is None:
            self._index = {}
            for path in sorted(SHIPPED.glob("*.sockscript")):
                for name in re.findall(r"^technique ([\w-]+)", path.read_text("utf-8"), re.M):
                    self._index[name] = path
        return self._index

    def _read_shipped(self, name: str) -> st.Technique | None:
        path = self.shipped_files()[name]
        source = self._sources.get(path) or read_source(path, f"techniques/{path.name}")
        if isinstance(source, Problem):
            return None
        self._sources[path] = source
        found = read_technique(source, name, self._before)
        if found is not None:
            self._shipped[name] = found
        return found


def load_library(script: Script) -> tuple[Library, list[Problem]]:
    """The library for a script, with what is wrong with the files it uses.

    Only files in the script's own folder (or below it) are ever read.
    """
    problems: list[Problem] = []
    used: dict[str, st.Technique] = {}
    if script.uses:
        base = script.source.folder
        seen: list[Path] = []
        for text, at in script.uses:
            _use(script, text, at, base, seen, [], used, problems)
    return Library(dict(script.techniques), used), problems


def _use(script: Script, text: str, at: Span, base: Path | None, seen: list[Path],
         chain: list[Path], used: dict[str, st.Technique], problems: list[Problem]) -> None:
    if base is None:
        problems.append(Problem("use-outside-folder", at, "A script that is not in a file cannot "
                                "use other files."))
        return
    named = Path(text)
    try:
        path = (base / named).resolve()
    except (OSError, RuntimeError, ValueError):
        # A link that leads to itself, or a name that no file can have.
        problems.append(Problem("unreadable-file", at, f"'{text}' cannot be the name of a file.",
                                "Look at the spelling."))
        return
    if named.is_absolute() or "\\" in text or not path.is_relative_to(base.resolve()):
        problems.append(Problem(
            "use-outside-folder", at, f"'{text}' lies outside the folder of this script.",
            "Copy the file next to the script and write just its name."))
        return
    if path.suffix != ".sockscript":
        problems.append(Problem("use-not-a-script", at, f"'{text}' is not a .sockscript file.",
                                "Techniques are kept in files that end in .sockscript."))
        return
    if path in chain or path == (base / Path(script.source.name).name).resolve():
        problems.append(Problem("circular-use", at, f"'{text}' and this file use each other.",
                                "Put the techniques that both need into a third file."))
        return
    if path in seen:
        return
    if len(seen) >= MOST_FILES:
        problems.append(Problem("use-too-many", at, f"More than {MOST_FILES} files are used.",
                                "Put the techniques into fewer files."))
        return
    seen.append(path)
    source = read_source(path, text)
    if isinstance(source, Problem):
        problems.append(Problem(source.kind, at, f"'{text}': {source.message}", source.hint))
        return
    other = read_script(source)
    problems.extend(other.problems)
    for inner, inner_at in other.uses:
        _use(script, inner, inner_at, base, seen, [*chain, path], used, problems)
    for name, technique in other.techniques.items():
        used.setdefault(name, technique)
