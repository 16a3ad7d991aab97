"""The files that a script uses, and the techniques that it can call."""

from __future__ import annotations

from pathlib import Path, PurePosixPath

from sockscript.expand.files_beside import ENDING, HERE, FilesBeside
from sockscript.expand.instead import exchange
from sockscript.expand.techniques import MOST_FILES, Library
from sockscript.text.source import Problem, Source, Span
from sockscript.tree import statements as st
from sockscript.tree.read import read_script
from sockscript.tree.script import Script


def load_library(script: Script) -> tuple[Library, list[Problem]]:
    """The library for a script, with what is wrong with the files it uses.

    Only files in the script's own folder (or below it), or in its pack, are ever read.
    """
    used = UsedFiles(script)
    library = Library(dict(script.techniques), used.techniques, used.files,
                      {**used.texts, **{one.name: one.script.source for one in script.based_on}})
    return library, used.problems + [
        problem for one in script.exchanges for problem in exchange(library, script, one)]


class UsedFiles:
    """The files that a script uses, and those that they use.

    ``texts``: their sources, by the name that they have from the folder of the script.
    """

    def __init__(self, script: Script) -> None:
        self.techniques: dict[str, st.Technique] = {}
        self.files: dict[str, Script] = {}
        self.texts: dict[str, Source] = {}
        self._beside = FilesBeside(script.source)
        self.problems = self._beside.problems
        # What a script names that this one builds on lies beside that one.
        folders = {id(one.script.source): PurePosixPath(one.name).parent
                   for one in script.based_on}
        chain = [PurePosixPath(Path(script.source.name).name)]
        for text, at in script.uses:
            self._use(text, at, chain, folders.get(id(at.source), HERE))

    def _use(self, text: str, at: Span, chain: list[PurePosixPath], folder: PurePosixPath) -> None:
        """Take in a file and those that it uses; ``chain``: the files by which it was reached."""
        problem = self._beside.problem
        name = self._beside.name(text, at, folder)
        if name is None:
            return
        if name.suffix != ENDING:
            problem("use-not-a-script", at, f"'{text}' is not a .sockscript file.",
                    "Techniques are kept in files that end in .sockscript.")
            return
        if name in chain:
            problem("circular-use", at, f"'{text}' and this file use each other.",
                    "Put the techniques that both need into a third file.")
            return
        if str(name) in self.texts:
            return
        if len(self.texts) >= MOST_FILES:
            problem("use-too-many", at, f"More than {MOST_FILES} files are used.",
                    "Put the techniques into fewer files.")
            return
        source = self._beside.read(name, text)
        if isinstance(source, Problem):
            self.texts[str(name)] = Source(text, "")
            problem(source.kind, at, f"'{text}': {source.message}", source.hint)
            return
        self.texts[str(name)] = source
        other = read_script(source)
        self.problems.extend(other.problems)
        for inner, inner_at in other.uses:
            self._use(inner, inner_at, [*chain, name], folder)
        for called, technique in other.techniques.items():
            if self.techniques.setdefault(called, technique) is technique:
                self.files[called] = other
