"""A slip of the pen that has a plain sentence of its own."""

from __future__ import annotations

from typing import NamedTuple


class PlainSlip(NamedTuple):
    """A slip that a pattern tells; ``here`` is the place marked.

    ``instead``: what is written in that place if that surely mends it; empty: nothing.  Like the
    sentences it may name groups of the pattern.
    """

    pattern: str
    message: str
    hint: str
    instead: str | None = None
