"""The sheet as Markdown.  What the author wrote is escaped: it stays text."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import assert_never

from sockscript.numbers.figures import BySize, PrintedWords
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
from sockscript.sheet.text import only_words

BLANK = "…" * 8
_SPECIAL = re.compile(r"([\\`*_{}\[\]<>#|~!])")


def escaped(text: str) -> str:
    """Text in which nothing is taken for a mark of Markdown or HTML."""
    text = _SPECIAL.sub(r"\\\1", text)
    return re.sub(r"^(\s*)([-+]|\d+\.)(?=\s)", r"\1\\\2", text)


def render(outline: Outline) -> str:
    """The whole sheet.  The reader's own size stands in bold letters."""
    lines = [f"# {escaped(outline.title)}", ""]
    lines += [line for _, words in outline.about() for line in (escaped(words), "")]
    for block in outline.blocks:
        lines += _block(block, outline)
    return "\n".join(lines).rstrip() + "\n"


def _block(block: PrintedBlock, outline: Outline) -> Iterator[str]:
    mine = outline.mine
    match block:
        case Prose():
            for words in block.paragraphs:
                yield from (_read(words, mine), "")
        case Blanks():
            yield from (" ".join(f"{name}: {BLANK}" for name in block.names), "")
        case Listing():
            yield from (f"## {escaped(block.title)}", "")
            yield from _letters(block.letters, outline)
            yield from (f"- {_read(item, mine)}" for item in block.items)
            yield ""
        case Table():
            yield from (f"## {escaped(block.title)}", "", f"{escaped(block.note)}.", "")
            yield from _columns([(f"{row.letter} {row.name}" if row.letter else row.name,
                                  [f"{cell.words} ({cell.below})" if cell.below else cell.words
                                   for cell in row.cells]) for row in block.rows], outline)
        case Steps():
            yield from (f"## {escaped(block.title)}", "")
            yield from _letters(block.letters, outline)
            for line in block.lines:
                yield from (_line(line, mine), "")
        case ScriptText():
            yield from (f"## {escaped(block.title)}", "")
            yield from ("    " + "".join(run.letters for run in line) for line in block.lines)
            yield ""
        case _:
            assert_never(block)


def _read(words: PrintedWords, mine: int | None) -> str:
    text = "".join(part if isinstance(part, str) else "\0" for part in words)
    pieces = escaped(text).split("\0")
    sizes = [_sizes(part, mine) for part in words if isinstance(part, BySize)]
    return pieces[0] + "".join(one + piece for one, piece in zip(sizes, pieces[1:], strict=True))


def _sizes(part: BySize, mine: int | None) -> str:
    if part.letter:
        own = f"{escaped(part.texts[mine])} " if mine is not None else ""
        return f"{own}**\\[{part.letter}\\]**"
    first, *rest = [f"**{escaped(text)}**" if n == mine else escaped(text)
                    for n, text in enumerate(part.texts)]
    return f"{first} ({', '.join(rest)})"


def _letters(letters: Sequence[LetterRow], outline: Outline) -> Iterator[str]:
    if letters:
        yield from _columns([(f"[{row.letter}]", row.values) for row in letters], outline)


def _columns(rows: Sequence[tuple[str, Sequence[str]]], outline: Outline) -> Iterator[str]:
    def cells(texts: Sequence[str]) -> str:
        return " | ".join(f"**{escaped(text)}**" if n == outline.mine else escaped(text)
                          for n, text in enumerate(texts))

    yield f"| | {cells(outline.sizes)} |"
    yield "|---|" + "---:|" * len(outline.sizes)
    for name, texts in rows:
        yield f"| {escaped(name)} | {cells(texts)} |"
    yield ""


def _line(line: StepLine, mine: int | None) -> str:
    only = f"**{escaped(only_words(line.only).strip())}** " if line.only else ""
    mind = "**Mind:** " if line.number is None and line.kind == "caution" else ""
    text = only + mind + _read(line.words, mine)
    if line.number is None:
        return f"> {text}"
    shows = " · ".join(_read(words, mine) for words in line.shows)
    return f"{line.number}. {text}" + (f"  \n   *{shows}*" if shows else "")
