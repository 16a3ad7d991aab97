"""Where techniques come from: the script itself, files it uses, and those shipped."""

from __future__ import annotations

import os
import re
from pathlib import Path, PurePosixPath

from sockscript.expand.values import CannotDoError
from sockscript.text.problem_names import ProblemName
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

    def __init__(self, own: dict[str, st.Technique], used: dict[str, st.Technique],
                 files: dict[str, Script] | None = None) -> None:
        self._own = own
        self._used = used
        self.from_files = {name: file for name, file in (files or {}).items() if name not in own}
        """The file that a technique comes from, for those of files that the script uses."""
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

    Only files in the script's own folder (or below it), or in its pack, are ever read.
    """
    used = Used(script)
    return Library(dict(script.techniques), used.techniques, used.files), used.problems


class Used:
    """The files that a script uses, and those that they use.

    ``texts``: their sources, by the name that they have from the folder of the script.
    """

    def __init__(self, script: Script) -> None:
        self.techniques: dict[str, st.Technique] = {}
        self.files: dict[str, Script] = {}
        self.texts: dict[str, Source] = {}
        self.problems: list[Problem] = []
        self._script = script
        self._base = script.source.folder
        self._beside = script.source.beside
        for text, at in script.uses:
            self._use(text, at, [PurePosixPath(Path(script.source.name).name)])

    def _use(self, text: str, at: Span, chain: list[PurePosixPath]) -> None:
        name = self._name(text, at)
        if name is None:
            return
        if name.suffix != ".sockscript":
            self._problem("use-not-a-script", at, f"'{text}' is not a .sockscript file.",
                          "Techniques are kept in files that end in .sockscript.")
            return
        if name in chain:
            self._problem("circular-use", at, f"'{text}' and this file use each other.",
                          "Put the techniques that both need into a third file.")
            return
        if str(name) in self.texts:
            return
        if len(self.texts) >= MOST_FILES:
            self._problem("use-too-many", at, f"More than {MOST_FILES} files are used.",
                          "Put the techniques into fewer files.")
            return
        source = self._read(name, text)
        if isinstance(source, Problem):
            self.texts[str(name)] = Source(text, "")
            self._problem(source.kind, at, f"'{text}': {source.message}", source.hint)
            return
        self.texts[str(name)] = source
        other = read_script(source)
        self.problems.extend(other.problems)
        for inner, inner_at in other.uses:
            self._use(inner, inner_at, [*chain, name])
        for called, technique in other.techniques.items():
            if self.techniques.setdefault(called, technique) is technique:
                self.files[called] = other

    def _name(self, text: str, at: Span) -> PurePosixPath | None:
        """The name of a file from the folder of the script; None, after saying why not."""
        if self._base is None and self._beside is None:
            self._problem("use-outside-folder", at, "A script that is not in a file cannot use "
                          "other files.")
            return None
        base = (self._base or Path("pack")).absolute()
        try:
            path = Path(os.path.normpath(base / text)) if self._base is None \
                else (base / text).resolve()
            base = base if self._base is None else base.resolve()
        except (OSError, RuntimeError, ValueError):
            # A link that leads to itself, or a name that no file can have.
            self._problem("unreadable-file", at, f"'{text}' cannot be the name of a file.",
                          "Look at the spelling.")
            return None
        if Path(text).is_absolute() or "\\" in text or not path.is_relative_to(base):
            self._problem("use-outside-folder", at,
                          f"'{text}' lies outside the folder of this script.",
                          "Copy the file next to the script and write just its name.")
            return None
        return PurePosixPath(path.relative_to(base).as_posix())

    def _read(self, name: PurePosixPath, text: str) -> Source | Problem:
        if self._base is not None:
            return read_source(self._base.resolve() / name, text)
        found = (self._beside or {}).get(str(name))
        if found is None:
            return Problem("unreadable-file", Span(Source(text, ""), 1, 1, 1),
                           "It is not in the pack.", "Ask for the pack again.")
        return Source(text, found)

    def _problem(self, kind: ProblemName, at: Span, message: str, hint: str = "") -> None:
        self.problems.append(Problem(kind, at, message, hint))
