"""A script with what a member asked for written into it: lines that exchange techniques, and the
header of scripts that it builds on, where that is to be changed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sockscript.findings.checked import Checked
from sockscript.text.layout import Line, lay_out
from sockscript.text.source import Source
from sockscript.tree.script import Script


def exchanging(checked: Checked, instead: Sequence[str]) -> tuple[list[str], list[Source]]:
    """Lines that exchange what ``--with`` asked for, and the files that these need besides."""
    lines: list[str] = []
    files: list[Source] = []
    library = checked.library
    for name in dict.fromkeys(words.partition("=")[0].strip().lower() for words in instead):
        exchanged, file = library.exchanged.get(name), library.from_files.get(name)
        if exchanged is None:
            continue
        if file is not None and all(file.source is not one for one in library.files.values()):
            files.append(file.source)
            lines.append(f'use "{file.source.name.replace(chr(92), "/").rpartition("/")[2]}"')
        lines.append(f"exchange {name} for {exchanged.now.name}")
    return lines, files


def header_below(script: Script) -> list[str]:
    """The lines of scripts that one builds on with sizes, gauges, yarns and options."""
    nodes: list[Any] = [*script.yarns, *script.gauges, script.sizes, *script.options]
    lets = {let.name for let in script.lets}
    # A row of the table that a value stands for is none.
    return [text for node in nodes if node is not None and node.at.source is not script.source
            for text in _block(node.at.source, node.at.line)
            if node is not script.sizes or not text.split()
            or text.split()[0].lower() not in lets]


def _block(source: Source, number: int) -> list[str]:
    """A line at the left margin with all that stands under it."""
    block = next(line for line in lay_out(source)[0] if line.number == number)
    return source.raw[number - 1:_last(block)]


def _last(line: Line) -> int:
    return _last(line.children[-1]) if line.children else line.number


def with_lines(source: Source, lines: Sequence[str]) -> str:
    """The text of a script with more lines at the end of its header."""
    first = next((line.number for line in lay_out(source)[0]
                  if line.text.split()[0].lower() in ("section", "technique")),
                 len(source.raw) + 1) - 1
    while first and source.raw[first - 1].lstrip().startswith("#"):
        first -= 1
    gap = [""] if first < len(source.raw) else []
    return "".join(f"{line}\n" for line in (
        *source.raw[:first], *lines, *gap, *source.raw[first:]))
