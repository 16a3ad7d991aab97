"""Another name for a thing, everywhere it stands, so that the script means the same as before."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from sockscript.fit.foot_table import ROWS
from sockscript.service.document import Document
from sockscript.service.files import File, file_at, together
from sockscript.service.names import (
    is_shipped,
    occurrence_at,
    sharing,
    shipped_name,
    shipped_techniques,
)
from sockscript.service.reading import LinesRead, read_source_lines
from sockscript.service.symbols import FileNames, Occurrence, Symbol, file_names
from sockscript.text.source import Source, Span
from sockscript.tree.line_reader import RESERVED

_NAME = re.compile(r"[^\W\d_][^\W_]*(-[^\W_]+)*")


class Edit(NamedTuple):
    """Text in place of other text in one line of a file; columns count from 1."""

    path: Path | None
    line: int
    start: int
    end: int
    text: str


class Refused(NamedTuple):
    """Why a name stays as it is, for the reader."""

    sentence: str


def rename_place(document: Document, line: int, column: int,
                 others: Sequence[Document] = ()) -> Span | Refused:
    """The name at a place, if it may be changed."""
    one = occurrence_at(document, line, column)
    if one is None:
        return Refused("There is no name here that could be changed.")
    files = together(document, others)
    why = _stays(document, one, sharing(files, one.symbol), files)
    if why:
        return Refused(why)
    return Span(document.source, one.line, one.mention.start, one.mention.end)


def rename(document: Document, line: int, column: int, new: str,
           others: Sequence[Document] = ()) -> tuple[Edit, ...] | Refused:
    """What to change so that the thing at a place is called ``new``, in all files that name it.

    Refuses names that would change what the script means.
    """
    one = occurrence_at(document, line, column)
    if one is None:
        return Refused("There is no name here that could be changed.")
    files = together(document, others)
    named = sharing(files, one.symbol)
    new = new.strip()
    why = _stays(document, one, named, files) or _unfit(one.symbol, new)
    if why:
        return Refused(why)
    symbol = one.symbol
    edits = {file.path: tuple(_edits(file, symbol, new)) for file in named}
    if new.lower() != symbol.name:
        why = _clash(symbol, new.lower(), files, edits)
        if why:
            return Refused(why)
    return tuple(edit for some in edits.values() for edit in some)


def _edits(file: File, symbol: Symbol, new: str) -> Iterator[Edit]:
    for one in file.names.by_symbol[symbol]:
        text = new
        if symbol.space == "size" and (not _NAME.fullmatch(new) or
                                       file.source.line(one.line)[one.mention.start - 1] in '"“'):
            text = f'"{new}"'
        yield Edit(file.path, one.line, one.mention.start, one.mention.end, text)


# ---- names that stay


def _stays(document: Document, one: Occurrence, named: list[File], files: list[File]) -> str:
    """Why the name cannot be changed at all (empty: it can)."""
    symbol = one.symbol
    name = symbol.name
    if symbol.space == "finding":
        return f"'{name}' is what the check calls a finding; it is called so everywhere."
    if symbol.space == "foot":
        return f"'{name}' is a foot of the built-in table of feet and keeps its name."
    if is_shipped(files[0]):
        return "This file came with Sockscript. Copy what you need of it into your own script."
    called = shipped_name(symbol)
    if called in shipped_techniques():
        if any(_gives(file, Symbol("technique", "", called)) for file in named):
            return (f"'{called}' stands in for the technique of that name that came with "
                    "Sockscript, and others that came with it may call it.")
        return (f"'{called}' came with Sockscript and keeps its name. Copy it into your script "
                "under a name of your own if you want to change it.")
    if symbol.space == "value":
        if symbol.scope == files[0].names.label and name in ROWS:
            return (f"The check knows '{name}' by this name: it compares it with other "
                    "measurements of the foot.")
        if not any(_gives(file, symbol) for file in named):
            return f"Nothing gives '{name}' a value, so there is nothing to rename."
        if name == "bed" and any(_told_a_bed(file, called) for file in files):
            return ("'bed' is the value that 'do … on front' gives to a technique; it keeps its "
                    "name.")
    if symbol.space == "fabric" and name == "plain" and any(map(_unnamed_fabric, files)):
        return ("A gauge, swatch or range without a name is called plain. Write 'plain' there "
                "first, then it can be renamed.")
    if symbol.space in ("word", "fabric", "size"):
        using = _shipped_with(document, files, symbol)
        if using:
            return f"'{using}', which came with Sockscript, knows '{name}' by this name."
    return ""


def _gives(file: File, symbol: Symbol) -> bool:
    return any(one.mention.defines for one in file.names.by_symbol.get(symbol, ()))


def _told_a_bed(file: File, technique: str) -> bool:
    """Whether a technique is called with ``on front`` or the like."""
    lines = file.names.reading.by_number
    for one in file.names.by_symbol.get(Symbol("technique", "", technique), ()):
        behind = [piece for piece in lines[one.line].read.pieces
                  if piece.start >= one.mention.end][:1]
        if behind and behind[0].kind == "ON":
            return True
    return False


def _unnamed_fabric(file: File) -> bool:
    return any(line.read.parse is not None
               and line.read.parse.data in ("gauge", "swatch", "range_of_gauge")
               and line.read.parse.children[0] is None
               for line in file.names.reading.lines)


def _shipped_with(document: Document, files: list[File], symbol: Symbol) -> str:
    """The shipped technique that is called and has a word, fabric or size in it."""
    paths = document.examined.library.shipped_files()
    waiting = [one.symbol.name for file in files for one in file.names.occurrences
               if one.symbol.space == "technique"]
    seen: set[str] = set()
    while waiting:
        name = waiting.pop()
        path = paths.get(name)
        if name in seen or path is None:
            continue
        seen.add(name)
        file = file_at(path)
        if file is None:
            continue
        tops = {one.line for one in file.names.by_symbol.get(Symbol("technique", "", name), ())
                if one.mention.defines}
        for one in file.names.occurrences:
            if one.top in tops:
                if one.symbol == symbol:
                    return name
                if one.symbol.space == "technique":
                    waiting.append(one.symbol.name)
    return ""


# ---- names that do not fit


def _unfit(symbol: Symbol, new: str) -> str:
    """Why nothing can have the new name (empty: something can)."""
    if symbol.space == "size":
        if not new or re.search(r'["“”{}\n\r]', new):
            return "The name of a size is a word or a few words, without quotation marks."
        return ""
    if not _NAME.fullmatch(new):
        return ("A name is one word, or words joined by hyphens, and begins with a letter: for "
                "example leg-length.")
    if new.lower() in RESERVED:
        return f"'{new}' is a word of the language. Choose another name, for example {new}-count."
    if symbol.space == "value" and ":" not in symbol.scope and new.lower() in ROWS:
        return (f"The check takes '{new}' to be a measurement of the foot. Choose another name.")
    return ""


def _clash(symbol: Symbol, new: str, files: list[File],
           edits: dict[Path | None, tuple[Edit, ...]]) -> str:
    """Why the script would mean something else (empty: it would not)."""
    if symbol.space == "technique" and new in shipped_techniques():
        return f"A technique called '{new}' came with Sockscript. Choose another name."
    renamed = symbol._replace(name=new)
    for file in files:
        taken = [renamed]
        # Where a value may stand a word may stand too.
        if symbol.space == "word":
            taken.append(Symbol("value", file.names.label, new))
        elif symbol.scope == file.names.label:
            taken.append(Symbol("word", "", new))
        for one in taken:
            if one in file.names.by_symbol:
                return _taken(new, file, files[0], file.names.by_symbol[one][0].line)
    for file in files:
        if edits.get(file.path):
            after = _after(file, edits[file.path])
            if not _same_lines(file.names.reading, after.reading, edits[file.path]):
                return (f"'{new}' is a word of the language in some of the lines where the name "
                        "stands. Choose another name.")
            line = _resolved_otherwise(file.names, after, symbol, new)
            if line:
                return _taken(new, file, files[0], line)
    return ""


def _taken(new: str, file: File, first: File, line: int) -> str:
    where = f"line {line}" if file is first else f"line {line} of {file.source.name}"
    return (f"'{new}' is a name already (see {where}), and the two could not be told apart. "
            "Choose another name.")


def _after(file: File, edits: tuple[Edit, ...]) -> FileNames:
    """The names of a file with the edits made."""
    lines = list(file.source.lines)
    for edit in sorted(edits, key=lambda edit: (edit.line, edit.start), reverse=True):
        line = lines[edit.line - 1]
        lines[edit.line - 1] = line[:edit.start - 1] + edit.text + line[edit.end - 1:]
    source = Source(file.source.name, "\n".join(lines), file.source.folder)
    return file_names(read_source_lines(source), file.names.label)


def _same_lines(before: LinesRead, after: LinesRead, edits: tuple[Edit, ...]) -> bool:
    """Whether all edited lines are read as they were."""
    for number in {edit.line for edit in edits}:
        old, new = before.by_number[number].read, after.by_number[number].read
        if (old.parse is None) != (new.parse is None) or _kinds(old.pieces) != _kinds(new.pieces):
            return False
        if [_kinds(inner.pieces) for inner in old.inners] != \
                [_kinds(inner.pieces) for inner in new.inners]:
            return False
    return True


def _kinds(pieces: Sequence[object]) -> list[str]:
    # The name of a size may be put into quotation marks.
    kinds = [getattr(piece, "kind", "") for piece in pieces]
    return ["NAME" if kind == "STRING" else kind for kind in kinds]


def _resolved_otherwise(before: FileNames, after: FileNames, symbol: Symbol, new: str) -> int:
    """The first line in which a name would be that of another thing (0: none)."""
    scope = f"technique {symbol.name}"
    for old, now in zip(before.occurrences, after.occurrences, strict=False):
        wanted = old.symbol
        if wanted == symbol:
            wanted = symbol._replace(name=new)
        elif symbol.space == "technique" and wanted.scope == scope:
            wanted = wanted._replace(scope=f"technique {new}")
        if now.symbol != wanted:
            return old.line
    return 0
