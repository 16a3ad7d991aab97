"""Rows of a table set in columns."""

from __future__ import annotations

from sockscript.format.spelling import AMOUNTS, Read, spaced

GAP = "  "
"""Between two columns."""


def size_cells(read: Read) -> list[str]:
    """The cells of the first line of ``sizes`` and of a row under it."""
    kinds = [token.type for token in read.tokens]
    if kinds[0] in ("SIZES", "FEET"):
        begins = list(range(len(kinds)))
    else:
        begins = [0, *(n for n, kind in enumerate(kinds) if n and kind in AMOUNTS)]
    ends = [*begins[1:], len(kinds)]
    return [spaced(read, begin, end) for begin, end in zip(begins, ends, strict=True)]


def range_cells(read: Read) -> list[str]:
    """What a line under ``works for`` is about, and its range; a condition stays whole."""
    if read.tokens[0].type == "WHERE":
        return [spaced(read)]
    first = next(n for n, token in enumerate(read.tokens) if token.type in AMOUNTS)
    return [spaced(read, 0, first), spaced(read, first)]


def in_columns(rows: list[tuple[str, list[str]]]) -> list[str]:
    """The rows, each with its indentation, so that the cells of a column begin together."""
    widths: list[int] = []
    for indent, cells in rows:
        # The last cell of a row pushes nothing aside.
        for column, cell in enumerate(cells[:-1]):
            width = len(cell) + (len(indent) if column == 0 else 0)
            if column == len(widths):
                widths.append(0)
            widths[column] = max(widths[column], width)
    return [_row(indent, cells, widths) for indent, cells in rows]


def _row(indent: str, cells: list[str], widths: list[int]) -> str:
    *before, last = [indent + cells[0], *cells[1:]]
    padded = [cell.ljust(widths[column]) for column, cell in enumerate(before)]
    return GAP.join([*padded, last])
