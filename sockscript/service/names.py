"""Where a name is given, and everywhere that it is used."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from sockscript.expand.techniques import SHIPPED, Library
from sockscript.fit.foot_table import ROWS
from sockscript.service.document import Document
from sockscript.service.files import File, file_at, file_of, together, use_lines, used_by
from sockscript.service.symbols import SHARED, Occurrence, Symbol
from sockscript.text.source import Span


class Location(NamedTuple):
    """A place in a file.  ``path`` is None for a script that was never saved."""

    path: Path | None
    span: Span


def occurrence_at(document: Document, line: int, column: int) -> Occurrence | None:
    """The name at a place, or the one that ends there."""
    before = None
    for one in file_of(document).names.by_line.get(line, ()):
        if one.mention.start <= column < one.mention.end:
            return one
        if one.mention.end == column:
            before = one
    return before


def place_of(file: File, one: Occurrence) -> Location:
    """The place of a name."""
    return Location(file.path, Span(file.source, one.line, one.mention.start, one.mention.end))


def definition(document: Document, line: int, column: int,
               others: Sequence[Document] = ()) -> tuple[Location, ...]:
    """Where the name at a place is given; a ``use`` line leads to the file.

    Empty if there is no name, or nothing gives it.  ``others``: open files beside this one.
    """
    one = occurrence_at(document, line, column)
    if one is None:
        return tuple(_used_file(document, line, column))
    files = together(document, others)
    own = files[0]
    here = [other for other in own.names.by_symbol.get(one.symbol, ())
            if other.mention.defines]
    if here:
        return tuple(place_of(own, other) for other in _that_hold(here, one))
    opened = {file.path: file for file in files if file.path is not None}
    for file in [*used_by(own, opened), *shipped(document, one.symbol), *files[1:]]:
        found = [place_of(file, other) for other in file.names.by_symbol.get(one.symbol, ())
                 if other.mention.defines]
        if found and (one.symbol.space in SHARED or one.symbol.scope.startswith("technique ")):
            return tuple(found)
    return _table_of_feet(own, one.symbol)


def references(document: Document, line: int, column: int, others: Sequence[Document] = (),
               with_definition: bool = True) -> tuple[Location, ...]:
    """Every place where the name at a place stands, in all files that share it."""
    one = occurrence_at(document, line, column)
    if one is None:
        return ()
    return tuple(place_of(file, other)
                 for file in sharing(together(document, others), one.symbol)
                 for other in file.names.by_symbol[one.symbol]
                 if with_definition or not other.mention.defines)


def _that_hold(given: list[Occurrence], one: Occurrence) -> list[Occurrence]:
    """Of several lines that give a name, those that matter at a place."""
    if one.mention.defines:
        return [one]
    near = [other for other in given if other.top == one.top and other.line < one.line
            and other.line != other.top]
    if near:
        return near[-1:]
    at_margin = [other for other in given if other.line == other.top or other.mention.role
                 in ("measurement", "group")]
    return at_margin or given


def sharing(files: Sequence[File], symbol: Symbol) -> list[File]:
    """The files in which a symbol stands and is the same thing as in the first of them.

    A script and a file that it uses share a name if a technique of the used file has it.
    """
    first = files[0]
    if symbol.space not in SHARED and not symbol.scope.startswith("technique "):
        return [file for file in files if symbol in file.names.by_symbol]
    opened = {file.path: file for file in files if file.path is not None}
    links: list[tuple[File, File]] = []
    for file in files:
        for used in used_by(file, opened):
            if any(one.in_technique or symbol.space == "technique"
                   for one in used.names.by_symbol.get(symbol, ())):
                links.append((file, used))
    found = {first.path: first}
    grown = True
    while grown:
        grown = False
        for pair in links:
            here = [file for file in pair if file.path in found]
            if len(here) == 1:
                found.update((file.path, file) for file in pair)
                grown = True
    return [file for file in found.values() if symbol in file.names.by_symbol]


def shipped_name(symbol: Symbol) -> str:
    """The technique that a symbol is, or is a value of (empty: neither)."""
    if symbol.space == "technique":
        return symbol.name
    kind, _, name = symbol.scope.partition(" ")
    return name if kind == "technique" else ""


def shipped(document: Document, symbol: Symbol) -> Iterator[File]:
    """The shipped file that a technique, or a value of it, comes from."""
    path = document.examined.library.shipped_files().get(shipped_name(symbol))
    file = file_at(path) if path is not None else None
    if file is not None:
        yield file


@lru_cache(maxsize=1)
def shipped_techniques() -> frozenset[str]:
    """The names of all shipped techniques."""
    return frozenset(Library({}, {}).shipped_files())


def is_shipped(file: File) -> bool:
    """Whether a file came with Sockscript."""
    return file.path is not None and file.path.is_relative_to(SHIPPED)


def _used_file(document: Document, line: int, column: int) -> Iterator[Location]:
    file = file_of(document)
    read = file.names.reading
    there = read.by_number.get(line)
    for path, number in use_lines(read, document.source.folder):
        if number == line and there is not None and column >= there.read.pieces[-1].start:
            used = file_at(path)
            if used is not None:
                yield Location(path, Span(used.source, 1, 1, 1))


def _table_of_feet(own: File, symbol: Symbol) -> tuple[Location, ...]:
    """Measurements that a row of feet gives."""
    if symbol.name not in ROWS or symbol.scope != own.names.label:
        return ()
    return tuple(Location(own.path, Span(own.source, one.line, one.mention.start, one.mention.end))
                 for one in own.names.occurrences if one.mention.role == "foot")[:1]
