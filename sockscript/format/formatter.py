"""A script in the one layout, its comments and its meaning kept."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from lark import Lark

from sockscript.format.comments import Comments
from sockscript.format.same import same_meaning
from sockscript.format.spelling import Read, read_line, spaced
from sockscript.format.tables import in_columns, range_cells, size_cells
from sockscript.text.layout import Line, lay_out, without_comment
from sockscript.text.parser import load_parser
from sockscript.text.source import Problem, Source
from sockscript.tree.read import read_script
from sockscript.tree.read_before import ReadBefore

INDENT = "    "
QUOTES = ('"', "“")

NOT_SAFE = ("laid out it would not mean the same. This is a mistake in sockscript itself: please "
            "report it, with the script.")

_ROWS = {"machine": "machine_line", "sizes": "size_row", "works": "range_row",
         "words": "word_line"}
"""How the lines under such a line are parsed."""

_CELLS: dict[str, Callable[[Read], list[str]]] = {"sizes": size_cells, "works": range_cells}


class CannotFormatError(Exception):
    """A script that stays as it is.  ``problems`` have to be mended first; there are none when the
    layout itself went wrong."""

    def __init__(self, message: str, problems: tuple[Problem, ...] = ()) -> None:
        super().__init__(message)
        self.problems = problems


class Laid(NamedTuple):
    """A line of code in its new form, and how deep it stands."""

    text: str
    depth: int


def format_source(source: Source) -> str:
    """The text of a script or machine profile in the one layout; it ends in a line end.

    Raises CannotFormatError for a script with slips, and if ever the new text should not mean
    the same as the old one.
    """
    source = source.as_written()
    read, read_again = ReadBefore(), ReadBefore()
    script = read_script(source, read)
    if script.problems:
        raise CannotFormatError("mend it first.", script.problems)
    text = _Formatter(source, load_parser()).text()
    # Lines that stay as they are have been parsed.
    read_again.parses = read.parses
    again = read_script(Source(source.name, text, source.folder).as_written(), read_again)
    if again.problems or not same_meaning(script, again):
        raise CannotFormatError(NOT_SAFE)
    return text


class _Formatter:
    def __init__(self, source: Source, parser: Lark) -> None:
        self.source = source
        self.parser = parser
        self.laid: dict[int, Laid] = {}

    def text(self) -> str:
        """The whole script."""
        top, _ = lay_out(self.source)
        for line in top:
            self.line(line, 0, "line")
        comments = Comments(self.source, {n: laid.depth for n, laid in self.laid.items()})
        out: list[str] = []
        for number in range(1, len(self.source.lines) + 1):
            comment = comments.at(number)
            laid = self.laid.get(number)
            if laid is not None:
                out.append(laid.text + (f"  {comment}" if comment else ""))
            elif comment:
                out.append(INDENT * comments.depth(number) + comment)
            elif without_comment(self.source.line(number)).strip():
                raise CannotFormatError(NOT_SAFE)
            elif out and out[-1]:
                out.append("")
        while out and not out[-1]:
            out.pop()
        return "".join(f"{line}\n" for line in out)

    def line(self, line: Line, depth: int, start: str) -> None:
        """One line and all that stands under it."""
        read = read_line(self.parser, line, start)
        indent = INDENT * depth
        first = str(read.tokens[0]).lower()
        cells = _CELLS.get(first) if depth == 0 else None
        if cells is not None:
            self.table(line, read, cells, _ROWS[first])
            return
        text = indent + spaced(read)
        self.laid[line.number] = Laid(text, depth)
        block = start == "machine_line" or depth == 0
        inner = _ROWS.get(first, "line") if block else "line"
        for child in line.children:
            if child.text.lstrip().startswith(QUOTES):
                # Words that go on stand under the opening quote of those before them.
                quote = min(at for at in map(text.find, QUOTES) if at >= 0)
                words = " " * quote + spaced(read_line(self.parser, child, "line"))
                self.laid[child.number] = Laid(words, depth + 1)
            else:
                self.line(child, depth + 1, inner)

    def table(self, line: Line, read: Read, cells: Callable[[Read], list[str]],
              start: str) -> None:
        """A block whose rows are set in columns."""
        heading = cells(read) if start == "size_row" else [spaced(read)]
        rows = [("", heading)]
        rows += [(INDENT, cells(read_line(self.parser, child, start)))
                 for child in line.children]
        for row, text in zip((line, *line.children), in_columns(rows), strict=True):
            self.laid[row.number] = Laid(text, 0 if row is line else 1)
