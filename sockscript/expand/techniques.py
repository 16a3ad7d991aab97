"""Where techniques come from: the script itself, files it uses, and those shipped."""

from __future__ import annotations

import re
from pathlib import Path
from typing import NamedTuple

from sockscript.expand.values import CannotDoError
from sockscript.text.source import Problem, Source, Span, read_source
from sockscript.tree import statements as st
from sockscript.tree.read import read_technique
from sockscript.tree.read_before import ReadBefore
from sockscript.tree.script import Script
from sockscript.tree.slips import nearest

SHIPPED = Path(__file__).parent.parent / "techniques"
MOST_FILES = 40
DEEPEST_CALL = 30
"""Techniques that call each other, one in the other."""


class Exchanged(NamedTuple):
    """A technique that stands in the place of another one, and where that is asked for."""

    now: st.Technique
    at: Span


class Library:
    """Finds a technique by name: the script's own first, then used files, then shipped ones."""

    def __init__(self, own: dict[str, st.Technique], used: dict[str, st.Technique],
                 files: dict[str, Script] | None = None,
                 sources: dict[str, Source] | None = None) -> None:
        self._own = own
        self._used = used
        self.files = sources or {}
        """The files beside the script that it is made of, by their names from its folder."""
        self.from_files = {name: file for name, file in (files or {}).items() if name not in own}
        """The file that a technique comes from, for those of files that the script uses."""
        self.exchanged: dict[str, Exchanged] = {}
        """Techniques that a member has put in the place of others, by the names of these."""
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

    def exchange(self, name: str, before: str, technique: st.Technique, file: Script | None,
                 at: Span) -> None:
        """Let a name stand for another technique (of a file), and ``before`` for what it was."""
        was = self.get(name)
        assert was is not None
        self._own[before], self._own[name] = was, technique
        self.exchanged[name] = Exchanged(technique, at)
        self.from_files.pop(name, None)
        if file is not None:
            self.from_files[name] = file
            # Its file may have other techniques that it calls.
            for other, one in file.techniques.items():
                if other != name and self._used.setdefault(other, one) is one:
                    self.from_files[other] = file

    def find(self, name: str, at: Span) -> st.Technique:
        """As ``get``; raises CannotDoError when there is none."""
        found = self.get(name)
        if found is None:
            raise CannotDoError(self.unknown(name, at))
        return found

    def unknown(self, name: str, at: Span) -> Problem:
        """What to say of a technique that nobody knows."""
        names = self.all_names()
        alike = sorted(one for one in names if name.lower() in one.split("-"))
        if len(alike) > 1:
            return Problem("unknown-technique", at, f"There is no technique called '{name}'.",
                           f"There are {', '.join(alike[:-1])} and {alike[-1]}.")
        meant = alike[0] if alike else nearest(name, names)
        return Problem("unknown-technique", at, f"There is no technique called '{name}'.",
                       f"Did you mean '{meant}'?" if meant else
                       "Define it with 'technique', or name the file it is in with 'use'.",
                       at.replaced_by(meant) if meant else None)

    def without_do(self, problem: Problem) -> Problem:
        """The same, unless the line begins with the name of a technique: then what to write."""
        line = problem.at.source.line(problem.at.line) if problem.kind == "unknown-word" else ""
        word = line[problem.at.start - 1:problem.at.end - 1]
        if not word or line.split()[0] != word or word.lower() not in self.all_names():
            return problem
        return problem._replace(
            message=f"'{word}' is a technique, and a technique is called with 'do'.",
            hint=f"Write:  do {line.strip()}", mend=problem.at.replaced_by(f"do {word}"))

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
