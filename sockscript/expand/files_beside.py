"""The files beside a script, or in its pack: nothing else is ever read for it."""

from __future__ import annotations

import os
from pathlib import Path, PurePosixPath

from sockscript.text.problem_names import ProblemName
from sockscript.text.source import Problem, Source, Span, read_source

HERE = PurePosixPath()
ENDING = ".sockscript"


class FilesBeside:
    """Finds and reads the files that a script names; what is wrong with them is in ``problems``."""

    def __init__(self, source: Source) -> None:
        self.problems: list[Problem] = []
        self._base = source.folder
        self._texts = source.beside

    def name(self, text: str, at: Span, folder: PurePosixPath = HERE) -> PurePosixPath | None:
        """The name of a file from the folder of the script; None, after saying why not.

        ``folder``: that of the file in which it is named, from the folder of the script.
        """
        if self._base is None and self._texts is None:
            self.problem("use-outside-folder", at, "A script that is not in a file cannot use "
                         "other files.")
            return None
        base = (self._base or Path("pack")).absolute()
        try:
            path = Path(os.path.normpath(base / folder / text)) if self._base is None \
                else (base / folder / text).resolve()
            base = base if self._base is None else base.resolve()
        except (OSError, RuntimeError, ValueError):
            # A link that leads to itself, or a name that no file can have.
            self.problem("unreadable-file", at, f"'{text}' cannot be the name of a file.",
                         "Look at the spelling.")
            return None
        if Path(text).is_absolute() or "\\" in text or not path.is_relative_to(base):
            self.problem("use-outside-folder", at,
                         f"'{text}' lies outside the folder of this script.",
                         "Copy the file next to the script and write just its name.")
            return None
        return PurePosixPath(path.relative_to(base).as_posix())

    def read(self, name: PurePosixPath, shown_as: str) -> Source | Problem:
        """The text of a file."""
        if self._base is not None:
            return read_source(self._base.resolve() / name, shown_as)
        found = (self._texts or {}).get(str(name))
        if found is None:
            return Problem("unreadable-file", Span(Source(shown_as, ""), 1, 1, 1),
                           "It is not in the pack.", "Ask for the pack again.")
        return Source(shown_as, found)

    def problem(self, kind: ProblemName, at: Span, message: str, hint: str = "") -> None:
        """Keep what is wrong with a line that names a file."""
        self.problems.append(Problem(kind, at, message, hint))
