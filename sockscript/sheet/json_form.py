"""The sheet as JSON, for other tools; ``steps.schema.json`` tells its layout.

``form`` names the layout and changes when a key changes its meaning.  Every text is there twice:
as it is read, and in pieces, of which those that differ from size to size are lists.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, assert_never

from sockscript.numbers.figures import PrintedWords, shown
from sockscript.sheet.outline import (
    Blanks,
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
from sockscript.text.visible import json_text

FORM = "sockscript-steps-2"


def render(outline: Outline) -> str:
    """The whole sheet as one JSON object."""
    data: dict[str, Any] = {
        "form": FORM, "title": outline.title, "author": outline.author,
        "version": outline.version, "licence": outline.licence, "machine": outline.machine,
        "sizes": list(outline.sizes), "choices": outline.choices,
        "other-choices": outline.other_choices,
        "my-size": None if outline.mine is None else outline.sizes[outline.mine],
        "blocks": [_block(block) for block in outline.blocks]}
    return json_text(data, indent=2) + "\n"


def _block(block: PrintedBlock) -> dict[str, Any]:
    match block:
        case Prose():
            return {"block": "prose", "name": block.name,
                    "paragraphs": [_words(words) for words in block.paragraphs]}
        case Blanks():
            return {"block": "blanks", "names": list(block.names)}
        case Listing():
            return {"block": "list", "name": block.name, "title": block.title,
                    "items": [_words(item) for item in block.items],
                    "letters": _letters(block.letters)}
        case Table():
            return {"block": "table", "name": block.name, "title": block.title,
                    "note": block.note, "rows": [
                        {"name": row.name, "letter": row.letter,
                         "values": [cell.words for cell in row.cells],
                         "below": [cell.below for cell in row.cells]} for row in block.rows]}
        case Steps():
            return {"block": "steps", "title": block.title,
                    "steps": [_line(line) for line in block.lines],
                    "letters": _letters(block.letters)}
        case ScriptText():
            return {"block": "script", "title": block.title,
                    "lines": ["".join(run.letters for run in line) for line in block.lines]}
        case _:
            assert_never(block)


def _words(words: PrintedWords) -> dict[str, Any]:
    return {"text": shown(words),
            "pieces": [part if isinstance(part, str) else list(part.texts) for part in words]}


def _letters(letters: Sequence[LetterRow]) -> list[dict[str, Any]]:
    return [{"letter": row.letter, "values": list(row.values)} for row in letters]


def _line(line: StepLine) -> dict[str, Any]:
    return {"number": line.number, "kind": line.kind, "only": list(line.only),
            **_words(line.words), "shows": list(map(shown, line.shows))}
