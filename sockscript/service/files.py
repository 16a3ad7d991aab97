"""The files that belong together with a script: those it uses, and others that are open."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple
from weakref import WeakKeyDictionary

from sockscript.expand.techniques import MOST_FILES
from sockscript.service.document import Document
from sockscript.service.reading import LinesRead, read_source_lines, reading
from sockscript.service.symbols import FileNames, file_names
from sockscript.text.source import Source, read_source

_open: WeakKeyDictionary[Document, tuple[LinesRead, FileNames]] = WeakKeyDictionary()


class File(NamedTuple):
    """A file with its names.  ``path`` is None for a script that was never saved."""

    path: Path | None
    names: FileNames
    uses: tuple[Path, ...]
    """The files named in its ``use`` lines, as far as they may be read."""

    @property
    def source(self) -> Source:
        """The text of the file."""
        return self.names.reading.source


def path_of(document: Document) -> Path | None:
    """Where a document is kept."""
    source = document.source
    return None if source.folder is None else (source.folder / Path(source.name).name).resolve()


def file_of(document: Document) -> File:
    """The file that a document is, in the version that it holds."""
    read = reading(document)
    kept = _open.get(document)
    if kept is None or kept[0] is not read:
        kept = (read, file_names(read, str(path_of(document) or document.source.name)))
        _open[document] = kept
    return File(path_of(document), kept[1], _uses(read, document.source.folder))


def file_at(path: Path) -> File | None:
    """A file that is not open, or None if it cannot be read."""
    try:
        stat = path.stat()
    except (OSError, ValueError):
        return None
    return _file_at(path, stat.st_mtime_ns, stat.st_size)


@lru_cache(maxsize=2 * MOST_FILES)
def _file_at(path: Path, changed: int, size: int) -> File | None:
    source = read_source(path)
    if not isinstance(source, Source):
        return None
    read = read_source_lines(source)
    return File(path, file_names(read, str(path)), _uses(read, source.folder))


def _uses(read: LinesRead, folder: Path | None) -> tuple[Path, ...]:
    """Only files in the folder of the script or below it are ever read."""
    return tuple(path for path, _ in use_lines(read, folder))


def use_lines(read: LinesRead, folder: Path | None) -> Iterator[tuple[Path, int]]:
    """The files named in lines ``use`` and ``builds on``, and the numbers of those lines."""
    if folder is None:
        return
    base = folder.resolve()
    for line in read.lines:
        if line.top_word not in ("use", "builds") or line.number != line.top \
                or line.read.parse is None:
            continue
        named = line.read.pieces[-1].text[1:-1]
        if not named or "\\" in named or "\0" in named or Path(named).is_absolute():
            continue
        try:
            path = (base / named).resolve()
        except (OSError, RuntimeError, ValueError):
            continue
        if path.is_relative_to(base) and path.suffix == ".sockscript":
            yield path, line.number


def used_by(file: File, opened: dict[Path, File]) -> Iterator[File]:
    """All files that a file uses, directly or through others, in the order they are found."""
    seen = {file.path}
    waiting = list(file.uses)
    while waiting and len(seen) <= MOST_FILES:
        path = waiting.pop(0)
        if path in seen:
            continue
        seen.add(path)
        found = opened.get(path) or file_at(path)
        if found is not None:
            yield found
            # A used file may name others beside the script that is being written.
            waiting.extend(found.uses)


def together(document: Document, others: Sequence[Document]) -> list[File]:
    """The document, the other open files, and every file that one of them uses."""
    first = file_of(document)
    found: dict[Path | None, File] = {first.path: first}
    opened: dict[Path, File] = {} if first.path is None else {first.path: first}
    for other in others:
        file = file_of(other)
        if file.path is not None and file.path not in opened:
            opened[file.path] = file
            found[file.path] = file
    for file in list(found.values()):
        for used in used_by(file, opened):
            found.setdefault(used.path, used)
    return list(found.values())
