"""The blocks of the header: machine, sizes, works for."""

from __future__ import annotations

from functools import partial
from typing import Any

from sockscript.text.layout import Line
from sockscript.tree import header
from sockscript.tree.build_expressions import string_value
from sockscript.tree.line_reader import LineReader
from sockscript.tree.works_for import WorksForBlock


def machine(reader: LineReader, line: Line, fields: dict[str, Any]) -> None:
    """Read a machine block into ``fields``."""
    parse = reader.parse(line, "line")
    if parse is None:
        return
    name = parse.children[0]
    block = header.MachineBlock(line.span(reader.source),
                                string_value(name) if name is not None else None)
    for child in line.children:
        row = reader.parse(child, "machine_line")
        if row is None or row.data != "words":
            _alone(reader, child)
        if row is None:
            continue
        if row.data == "words":
            for words in child.children:
                pair = reader.parse(words, "word_line")
                _alone(reader, words)
                if pair is not None:
                    reader.guarded(partial(block.add_word, reader.builder(words), pair))
            continue
        reader.guarded(partial(block.add, reader.builder(child), row))
    _keep_first(reader, line, fields, "machine", block.build(),
                "There is a second 'machine' block.", "Put all its lines into the first one.")


def sizes(reader: LineReader, line: Line, fields: dict[str, Any]) -> None:
    """Read the table of sizes into ``fields``."""
    parse = reader.parse(line, "line")
    if parse is None:
        return
    table = reader.guarded(lambda: header.SizeTable(reader.builder(line), parse))
    for child in line.children:
        row = reader.parse(child, "size_row")
        _alone(reader, child)
        if row is not None and table is not None:
            reader.guarded(partial(table.add, reader.builder(child), row))
    if table is None:
        for child in line.children:
            reader.spoil(child)
        return
    _keep_first(reader, line, fields, "sizes", table.build(),
                "There is a second table of sizes.", "Put all sizes into one table.")
    for name, at in table.places.items():
        reader.fresh_name(name, at)


def works_for(reader: LineReader, line: Line, fields: dict[str, Any]) -> None:
    """Read a block of ranges into ``fields``."""
    if reader.parse(line, "line") is None:
        return
    block = WorksForBlock(line.span(reader.source))
    for child in line.children:
        row = reader.parse(child, "range_row")
        _alone(reader, child)
        if row is not None:
            reader.guarded(partial(block.add, reader.builder(child), row))
    _keep_first(reader, line, fields, "works_for", block.build(),
                "There is a second 'works for' block.", "Put all ranges into one block.")


def _alone(reader: LineReader, row: Line) -> None:
    """Nothing stands under a row; a line that slipped in there would be lost."""
    if row.children:
        reader.nothing_under(row, row.children)


def _keep_first(reader: LineReader, line: Line, fields: dict[str, Any], name: str, built: Any,
                message: str, hint: str) -> None:
    """Keep a block, or tell that there is one already."""
    if name in fields:
        reader.problem(line, "named-twice", message, hint)
    else:
        fields[name] = built
