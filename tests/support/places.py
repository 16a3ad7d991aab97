"""Scripts open in an editor, with the place of the cursor marked in them."""

from __future__ import annotations

from pathlib import Path

from sockscript.service.document import Document

CURSOR = "¦"

START = '''pattern "Lantern Sock"
author "Quayside Knitting Circle"
yarn main "four-ply sock wool" 400 m per 100 g
yarn waste "smooth waste yarn" as waste
gauge plain 30 stitches, 42 rows per 10 cm
sizes           Small  Large
    foot-round  20     24 cm
    leg-length  10     12 cm
option finish graft, gather
# The stitches of the leg.
let around = stitches(foot-round less 10%) to nearest multiple of 4
let half = around / 2
'''


def opened(text: str, folder: Path | None = None, name: str = "test.sockscript") -> Document:
    """A document that holds a text."""
    document = Document(name, folder)
    document.examine(text.replace(CURSOR, ""))
    return document


def place(text: str) -> tuple[int, int]:
    """Line and column of the cursor's mark, counted from 1."""
    before = text[:text.index(CURSOR)]
    return before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1
