"""What is told of a kind of line."""

from __future__ import annotations

from typing import NamedTuple


class LineKind(NamedTuple):
    """How a kind of line begins (empty: with a name or with printed words), and what it means.

    ``inside`` and ``at_margin``: lines of it to fill in, in a block and at the left margin, the
    most usual first.  ``<…>`` is a place to fill in (see ``BLANK``); the first line, as it stands,
    is shown with a slip.
    """

    words: str
    meaning: str
    inside: tuple[str, ...] = ()
    at_margin: tuple[str, ...] = ()
