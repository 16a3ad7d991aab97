"""A script as text: its name, its lines, and places in it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from sockscript.text.mend import Mend, Replace
from sockscript.text.problem_names import ProblemName
from sockscript.text.visible import CONTROL, in_one_line, visible

if TYPE_CHECKING:
    from sockscript.text.packed import Pack

LARGEST_FILE = 600_000
"""Bytes.  The largest pattern we know of has a fiftieth of this."""
PACK = ".sockpack"
"""How the name of a pack ends."""
MOST_LINES = 25_000
LONGEST_LINE = 2_000
"""Characters: some 25 lines on paper."""
MOST_CONTROLS = 10
"""Lines with control characters that are told."""


RESERVED = "\ufdd0\ufdd1\ufdd2"
"""Noncharacters that this program uses inside itself (see ``numbers.figures``); Unicode has no
letters there, and none comes in with a text."""

_LINE_END = re.compile(r"\r\n|\r|\n")


def lines_of(text: str) -> list[str]:
    """The lines of a text as editors count them, without their ends."""
    for mark in RESERVED:
        text = text.replace(mark, "\ufffd")
    lines = _LINE_END.split(text)
    if not lines[-1]:
        lines.pop()
    return lines


class Source:
    """One file of text.  ``name`` is what messages call it; ``beside``: the texts that lie beside
    it in a pack, by name (None: it is in no pack); ``pack``: that pack."""

    __slots__ = ("beside", "controls", "folder", "lines", "name", "pack", "raw")

    def __init__(self, name: str, text: str, folder: Path | None = None,
                 beside: Mapping[str, str] | None = None, pack: Pack | None = None) -> None:
        self.pack = pack
        self.name = in_one_line(name)
        self.folder = folder
        self.beside = beside
        self.take(text)

    def take(self, text: str) -> None:
        """Take a text, or its next version.

        ``lines`` shows marks for what is not seen, letter for letter; ``raw`` has the lines as
        they are in the file, for whoever writes them back; ``controls`` are the first places (line
        and column) of control characters.
        """
        self.raw = lines_of(text)
        shown = visible(text)
        self.lines = self.raw if shown == text else lines_of(shown)
        self.controls: list[tuple[int, int]] = []
        if shown != text:
            for number, line in enumerate(self.raw, start=1):
                found = CONTROL.search(line)
                if found is not None and len(self.controls) < MOST_CONTROLS:
                    self.controls.append((number, found.start() + 1))

    def as_written(self) -> Source:
        """The same source with the lines of the file, for whoever writes them back."""
        twin = Source(self.name, "", self.folder, self.beside)
        twin.raw = twin.lines = self.raw
        twin.controls = self.controls
        return twin

    def line(self, number: int) -> str:
        """The text of a line counted from 1 (empty when there is none)."""
        return self.lines[number - 1] if 0 < number <= len(self.lines) else ""


class Span(NamedTuple):
    """A place in a source: line and columns count from 1; ``end`` is one past the last."""

    source: Source
    line: int
    start: int
    end: int

    def word(self, word: str) -> Span | None:
        """The one place of a word in this place; None if it stands there twice or not at all."""
        text = self.source.line(self.line)[:self.end - 1]
        found = [match.start() + 1
                 for match in re.finditer(rf"(?<![\w-]){re.escape(word)}(?![\w-])", text, re.I)
                 if match.start() + 1 >= self.start]
        return self._replace(start=found[0], end=found[0] + len(word)) if len(found) == 1 else None

    def replaced_by(self, text: str) -> Replace:
        """The mend that puts other text in this place."""
        return Replace(self.line, self.start, self.end, text)


class Problem(NamedTuple):
    """A script that cannot be read or worked out: where, what is wrong, what to do.

    ``mend``: a change that surely takes it away.  ``amount``: the number that makes no sense.
    """

    kind: ProblemName
    at: Span
    message: str
    hint: str = ""
    mend: Mend | None = None
    amount: Fraction | None = None

    def moved_to(self, at: Span) -> Problem:
        """The same in another line; its mend goes with it."""
        by = at.line - self.at.line
        mend = self.mend and self.mend._replace(line=self.mend.line + by)
        return self._replace(at=at, mend=mend)


def read_source(path: Path, shown_as: str | None = None) -> Source | Problem:
    """Read a script, or that of a pack, or say in plain words why it cannot be used.  Never
    raises for bad files."""
    name = shown_as or str(path)
    nowhere = Span(Source(name, ""), 1, 1, 1)
    packed = path.suffix.lower() == PACK
    try:
        if path.is_dir():
            return Problem("unreadable-file", nowhere, "This is a folder, not a script.",
                           "Name a file that ends in .sockscript.")
        if not path.is_file():
            return Problem("unreadable-file", nowhere, "There is no such file.",
                           "Look at the spelling and at the folder you are in.")
        if path.stat().st_size > LARGEST_FILE and not packed:
            return Problem("file-too-large", nowhere,
                           f"This file is larger than {LARGEST_FILE / 1_000_000} MB: no pattern "
                           "is that long.", "Is it really a script?")
        if packed:
            return _packed(path, name, nowhere)
        data = path.read_bytes()
    except OSError as error:
        return Problem("unreadable-file", nowhere,
                       f"The file cannot be read: {error.strerror or error}.",
                       "Look at who may read it.")
    if b"\0" in data[:100_000]:
        return Problem("not-text", nowhere, "This is not a text file.",
                       "A script is plain text. In a word processor, save it as 'plain text, "
                       "UTF-8'.")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        return Problem("not-utf-8", Span(Source(name, ""), line, 1, 1),
                       f"Line {line} has a letter in a coding that is not UTF-8.",
                       "Save the file again with the coding 'UTF-8' and look at the accents "
                       "and fractions.")
    return Source(name, text, path.resolve().parent)


def _packed(path: Path, name: str, nowhere: Span) -> Source | Problem:
    """The script of a pack.  Raises OSError."""
    from sockscript.text.packed import LARGEST_PACK, NotAPackError, open_pack

    with path.open("rb") as stream:
        data = stream.read(LARGEST_PACK + 1)
    try:
        pack = open_pack(data)
    except NotAPackError as error:
        return Problem("not-a-pack", nowhere, str(error), error.hint)
    texts = pack.texts()
    return Source(f"{name}/{pack.script}", texts.pop(pack.script), beside=texts, pack=pack)
