"""How wide what is printed may be."""

from __future__ import annotations

import os
import re
import textwrap
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

NARROWEST, WIDEST = 50, 88
"""Columns that what is printed needs, and more than which it does not take."""
PIPED = 80
"""Columns where no terminal is there to ask, as for whatever reads what is printed."""

_HARD = "\N{NO-BREAK SPACE}"
_UNPARTED = re.compile(r"(?<=[\d½¼¾⅓⅔⅛⅜⅝⅞]) (?=(?:[cm]?m|in|inch(?:es)?|yards?|g|oz)\b|%)"
                       r"|(?<=\bline) (?=\d)", re.I)

_COMMAND = re.compile(r"\s*sockscript (?!\w+ wants )")

_page = _screen = WIDEST


def page() -> int:
    """Columns of the page."""
    return _page


def settle(columns: int | None, into_a_file: bool = False) -> None:
    """Take a page of so many columns, within reason; None: the widest.  What goes into a file
    has the widest page, whatever terminal it is written from; what is said beside it has not."""
    global _page, _screen
    _screen = WIDEST if columns is None else max(NARROWEST, min(columns, WIDEST))
    _page = WIDEST if into_a_file else _screen


def columns_of(stream: Any) -> int:
    """Columns of a terminal: what ``COLUMNS`` says, else what it has; else 80."""
    said = os.environ.get("COLUMNS", "")
    if said.isdecimal() and int(said[:6]) > 0:
        return int(said[:6])
    try:
        return os.get_terminal_size(stream.fileno()).columns or PIPED
    except (OSError, ValueError, AttributeError):
        return PIPED


def wrapped(text: str, lead: str = "", below: str | None = None, less: int = 0) -> list[str]:
    """Text as lines of the page (``less`` some columns): no word is broken, and no number parted
    from its unit, nor from the line that it is of."""
    lines = textwrap.wrap(_UNPARTED.sub(_HARD, text), page() - less, initial_indent=lead,
                          subsequent_indent=lead if below is None else below,
                          break_long_words=False, break_on_hyphens=False)
    return [line.replace(_HARD, " ") for line in lines]


def filled(text: str, lead: str = "", below: str | None = None, less: int = 0) -> str:
    """The same as one text."""
    return "\n".join(wrapped(text, lead, below, less))


def set_in(text: str) -> str:
    """Text in which lines that are wider than the screen go on in the next, as deep as they begin.
    For sentences: not for lines of a script, nor for tables.  A command to copy stays whole."""
    return "\n".join(line if len(line) <= _screen or _COMMAND.match(line) else
                     filled(line.strip(), " " * (len(line) - len(line.lstrip())),
                            less=_page - _screen)
                     for line in text.split("\n"))


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
