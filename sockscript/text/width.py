"""How wide what is printed may be."""

from __future__ import annotations

import os
import textwrap
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

NARROWEST, WIDEST = 50, 88
"""Columns that what is printed needs, and more than which it does not take."""
PIPED = WIDEST
"""Columns where no terminal is there to ask."""

_page = WIDEST


def page() -> int:
    """Columns of the page."""
    return _page


def settle(columns: int | None) -> None:
    """Take a page of so many columns, within reason; None: the widest."""
    global _page
    _page = WIDEST if columns is None else max(NARROWEST, min(columns, WIDEST))


def columns_of(stream: Any) -> int:
    """Columns of a terminal: what ``COLUMNS`` says, else what it has; else the widest."""
    said = os.environ.get("COLUMNS", "")
    if said.isdecimal() and int(said[:6]) > 0:
        return int(said[:6])
    try:
        return os.get_terminal_size(stream.fileno()).columns or PIPED
    except (OSError, ValueError, AttributeError):
        return PIPED


def filled(text: str, lead: str = "", below: str | None = None, less: int = 0) -> str:
    """Text in lines of the page (``less`` some columns); no word is broken."""
    return textwrap.fill(text, page() - less, initial_indent=lead,
                         subsequent_indent=lead if below is None else below,
                         break_long_words=False, break_on_hyphens=False)


def parts_of_table(first: int, widths: Sequence[int]) -> list[range]:
    """Which columns of a table stand side by side: in as few parts as fit the page, and these
    as even as can be.  ``first``: the width of the names, which stand in every part."""
    room = max(page() - first, 1)
    for parts in range(1, len(widths) + 1):
        each, more = divmod(len(widths), parts)
        starts = [n * each + min(n, more) for n in range(parts + 1)]
        found = [range(a, b) for a, b in pairwise(starts)]
        if all(sum(widths[n] for n in part) <= room for part in found):
            return found
    return [range(n, n + 1) for n in range(len(widths))]
