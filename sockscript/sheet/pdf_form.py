"""The leaflet as a PDF for everyone (ISO 14289-1, PDF/UA), laid out by typst."""

from __future__ import annotations

import re
from collections.abc import Sequence
from importlib import resources
from typing import Any, assert_never

from sockscript.numbers.figures import PrintedWords
from sockscript.pictures.svg import FONT
from sockscript.pictures.typeset import compiled
from sockscript.sheet.html_form import ASIDE, COLUMNS, FEW
from sockscript.sheet.outline import (
    Blanks,
    Figured,
    LetterRow,
    Listing,
    Outline,
    PrintedBlock,
    Prose,
    ScriptText,
    StepLine,
    Steps,
    Table,
)
from sockscript.sheet.text import only_words
from sockscript.text.visible import json_text

PAPERS = {"a4": "a4", "letter": "us-letter"}


CLOSER = ("1", "0.97", "0.94", "0.91", "0.89")
"""How much closer a leaflet may be set, so that no page holds but a few lines."""

_SANS = "fontpkg_atkinson_hyperlegible"
"""The package with the letters without serifs, drawn for people who see little."""


def render(outline: Outline, *, paper: str = "a4", large: bool = False, sans: bool = False
           ) -> bytes:
    """The whole leaflet.  Raises ImportError where typst (or the letters that ``sans`` asks for)
    is not installed, NoLetterError where no font has a letter of its words.

    It is set a little closer where that saves a page.  No date goes in: the same leaflet gives
    the same bytes.
    """
    template = resources.files("sockscript.sheet").joinpath("leaflet.typ").read_bytes()
    data = json_text(_data(outline, large))
    if sans:
        data = data.replace(FONT, "'Atkinson Hyperlegible'")
    fonts = [str(resources.files(_SANS).joinpath("files"))] if sans else []

    def made(closer: str) -> tuple[int, bytes]:
        pdf = compiled(template, format="pdf", letters=data, pdf_standards="ua-1",
                       font_paths=fonts, inputs={
            "leaflet": data, "paper": PAPERS[paper], "large": "yes" if large else "no",
            "sans": "yes" if sans else "no", "closer": closer,
            "columns": str(COLUMNS[large]), "few": str(FEW)})
        return len(_PAGE.findall(pdf)), pdf

    loose, *between, closest = CLOSER
    found = made(loose)
    if found[0] > 1:
        least = made(closest)
        if least[0] < found[0]:
            # The loosest that saves the page.
            found = next((one for one in map(made, between) if one[0] == least[0]), least)
    return _with_row_labels(found[1])


_PAGE = re.compile(rb"/Type/Page[^s]")
_FIRST_CELL = re.compile(rb"/S/TD(/P \d+ 0 R/A\[<</O/Table)(/Headers\[\(U\d+x0y0\)\])")


def _with_row_labels(pdf: bytes) -> bytes:
    """The first cell of every row of a table made its header (ISO 32000-1, 14.8.5.7).

    typst has no such cell yet.  Its structure stands in the file in plain letters, and each
    change is as long as what it replaces, so that no place in the file moves.
    """
    return _FIRST_CELL.sub(
        lambda found: b"/S/TH" + found[1] + b"/Scope/Row".ljust(len(found[2])), pdf)


def _data(outline: Outline, large: bool) -> dict[str, Any]:
    aside = [block for block in outline.blocks
             if isinstance(block, Listing) and block.name in ASIDE]
    return {
        "title": outline.title, "author": outline.author, "sizes": list(outline.sizes),
        "mine": outline.mine, "language": outline.language, "footer": outline.footer(),
        "about": [words for _, words in outline.about()] if large else
        _run_on([words for _, words in outline.about()]),
        "aside": list(map(_block, aside)),
        "blocks": [_block(block) for block in outline.blocks if block not in aside]}


def _run_on(lines: Sequence[str]) -> list[str]:
    """Short lines put together, as many as fit the width of the page."""
    found: list[str] = []
    for words in lines:
        if found and len(found[-1]) + len(words) < LINE:
            found[-1] += f" · {words}"
        else:
            found.append(words)
    return found


def _block(block: PrintedBlock) -> dict[str, Any]:
    match block:
        case Prose():
            return {"block": "prose", "paragraphs": list(map(_words, block.paragraphs))}
        case Blanks():
            return {"block": "blanks", "names": list(block.names)}
        case Listing():
            return {"block": "list", "name": block.name, "title": block.title,
                    "boxed": block.boxed, "items": list(map(_words, block.items)),
                    "letters": _letters(block.letters)}
        case Table():
            return {"block": "table", "title": block.title, "note": f"{block.note}.",
                    "picture": _picture(block.picture),
                    "rows": [{"name": f"{row.letter}  {row.name}" if row.letter else row.name,
                              "cells": [{"words": cell.words, "below": cell.below}
                                        for cell in row.cells]} for row in block.rows]}
        case Steps():
            return {"block": "steps", "title": block.title, "letters": _letters(block.letters),
                    "pictures": list(map(_picture, block.pictures)), "alone": block.alone(),
                    "lines": list(map(_line, block.lines))}
        case ScriptText():
            return {"block": "script", "title": block.title,
                    "lines": [[[run.kind, run.letters] for run in line] for line in block.lines]}
        case _:
            assert_never(block)


def _letters_in(texts: Sequence[PrintedWords]) -> int:
    return sum(len(str(part)) for words in texts for part in words)


def _words(words: PrintedWords) -> list[Any]:
    """Text as it is; numbers of all sizes as a list, or as their letter."""
    return [part if isinstance(part, str) else {"letter": part.letter, "texts": list(part.texts)}
            for part in words]


def _letters(letters: Sequence[LetterRow]) -> list[dict[str, Any]]:
    return [{"name": f"[{row.letter}]",
             "cells": [{"words": value, "below": ""} for value in row.values]} for row in letters]


def _picture(picture: Figured | None) -> dict[str, str] | None:
    return None if picture is None else {
        "svg": picture.drawing.svg, "caption": picture.caption,
        "description": picture.drawing.description}


def _line(line: StepLine) -> dict[str, Any]:
    return {"number": line.number, "kind": line.kind, "only": only_words(line.only),
            "words": _words(line.words), "shows": list(map(_words, line.shows)),
            "boxes": line.boxes, "brief": _letters_in(line.shows) < BRIEF,
            "long": sum(len(str(part)) for part in line.words) > LONG}


LINE = 84
"""Letters on a line that surely fit on the page, with room to spare."""
BRIEF = 29
"""Letters that fit on one line of what the machine shows."""
LONG = 1500
"""Letters of a step that may be broken over pages."""
