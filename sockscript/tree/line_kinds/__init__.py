"""All that is told of the kinds of lines: what each means, and lines of it to fill in.

One entry a kind, by the name of its rule in the grammar.  The words that may begin a line, the
samples shown with a slip, what an editor says of a word and what it offers all come from here.
Nothing of it is needed to read a line that is in order, so whoever needs it loads it late.
"""

from __future__ import annotations

import re
from functools import cache

from sockscript.tree.line_kinds.header import HEADER, MACHINE, RANGES, SIZE_ROWS
from sockscript.tree.line_kinds.instructions import INSTRUCTIONS
from sockscript.tree.line_kinds.kind import LineKind

LINE_KINDS: dict[str, LineKind] = {**HEADER, **INSTRUCTIONS, **MACHINE, **SIZE_ROWS, **RANGES}

BLANK = re.compile(r"<(?:(\w+):)?([^<>]*)>")
"""A place to fill in, ``<yarn:main>``: of what kind its name is (optional), and what stands there
until then."""


def filled_in(template: str) -> str:
    """A line as it stands before anything is filled in."""
    return BLANK.sub(r"\2", template)


@cache
def samples(of_machine: bool = False) -> dict[str, tuple[str, ...]]:
    """Lines of the header and instructions, or those of a machine, by the words that begin them."""
    found: dict[str, list[str]] = {}
    for kind in MACHINE.values() if of_machine else (*HEADER.values(), *INSTRUCTIONS.values()):
        for template in (*kind.at_margin, *kind.inside):
            words = filled_in(template).partition("\n")[0].split()
            found.setdefault(words[0], []).append(" ".join(words))
    return {word: tuple(lines) for word, lines in found.items()}


def sample_like(text: str, first: str, of_machine: bool = False) -> str:
    """The line beginning with a word that has most words of a text (empty: there is none, or
    the word stands alone in it)."""
    words = set(text.lower().split())
    known = samples(of_machine).get(first, ("",))
    best = max(known, key=lambda line: len(words & set(line.split())))
    return best if best != first else ""
