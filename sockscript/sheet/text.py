"""The sheet as plain text, as wide as the page."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from typing import assert_never

from sockscript.numbers.figures import BySize, PrintedWords
from sockscript.sheet.letters import MOST_IN_BRACKETS
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
from sockscript.text.width import filled, page, parts_of_table

_HARD = "\u00a0"
"""A blank at which no line is broken."""


def render(outline: Outline) -> str:
    """The whole sheet.  The reader's own size stands between stars."""
    lines = [outline.title.upper(), "=" * len(outline.title)]
    for _, words in outline.about():
        lines.append(_filled(words))
    if outline.mine is not None and len(outline.sizes) > 1:
        lines.append(f"Your size, {outline.sizes[outline.mine]}, stands between *stars*.")
    for block in outline.blocks:
        lines += _block(block, outline)
    return "\n".join(lines) + "\n"


def _block(block: PrintedBlock, outline: Outline) -> Iterator[str]:
    mine = outline.mine
    match block:
        case Prose():
            for words in block.paragraphs:
                yield from ("", _filled(_read(words, mine)))
        case Blanks():
            blanks = "   ".join(f"{name}{_HARD}{'_' * 12}" for name in block.names)
            yield from ("", _filled(blanks))
        case Listing():
            yield from _heading(block.title)
            yield from _letters(block.letters, outline)
            for item in block.items:
                yield _filled(_read(item, mine), "  ", 2)
        case Table():
            yield from _heading(block.title)
            yield from _filled(f"{block.note}.", "  ").splitlines()
            yield from _columns([(f"{row.letter}  {row.name}" if row.letter else row.name,
                                  [f"{cell.words} ({cell.below})" if cell.below else cell.words
                                   for cell in row.cells]) for row in block.rows], outline)
        case Steps():
            yield from _heading(block.title, loud=True)
            yield from _letters(block.letters, outline)
            for line in block.lines:
                yield from _line(line, mine)
        case ScriptText():
            yield from _heading(block.title)
            for coloured in block.lines:
                yield "".join(run.letters for run in coloured)
        case _:
            assert_never(block)


def _heading(title: str, loud: bool = False) -> list[str]:
    return ["", title.upper() if loud else title, "-" * len(title)]


def _read(words: PrintedWords, mine: int | None) -> str:
    return "".join(part if isinstance(part, str) else _sizes(part, mine) for part in words)


def _sizes(part: BySize, mine: int | None) -> str:
    """``48 (52, *56*)``, or ``56 [b]`` where they stand under a letter; no line is broken in
    it."""
    if part.letter:
        return f"{part.texts[mine]}{_HARD}{part}" if mine is not None else str(part)
    first, *rest = [f"*{text}*" if n == mine else text for n, text in enumerate(part.texts)]
    text = f"{first} ({', '.join(rest)})"
    may_break = len(part.texts) > MOST_IN_BRACKETS or len(text) > page() // 2
    return text if may_break else text.replace(" ", _HARD)


def _filled(text: str, lead: str = "", hang: int = 0) -> str:
    return filled(text, lead, " " * (len(lead) + hang))


def _letters(letters: Sequence[LetterRow], outline: Outline) -> Iterator[str]:
    if letters:
        yield from _columns([(f"[{row.letter}]", row.values) for row in letters], outline)


def _columns(rows: Sequence[tuple[str, Sequence[str]]], outline: Outline) -> Iterator[str]:
    """A table of sizes; a wide one is cut into parts that fit the page."""
    sizes = [f"*{size}*" if n == outline.mine else size for n, size in enumerate(outline.sizes)]
    names = min(max(len(name) for name, _ in rows), page() // 2)
    columns = [max(len(size), *(len(cells[n]) for _, cells in rows))
               for n, size in enumerate(sizes)]
    for part in parts_of_table(names + 2, [width + 2 for width in columns]):
        if part.start:
            yield ""
        yield "  " + " " * names + "".join(f"  {sizes[n]:>{columns[n]}}" for n in part)
        for name, cells in rows:
            # A name that leaves no room for the numbers goes on over several lines.
            *above, name = textwrap.wrap(name, names) or [""]
            yield from (f"  {line}" for line in above)
            yield f"  {name:<{names}}" + "".join(f"  {cells[n]:>{columns[n]}}" for n in part)


def _line(line: StepLine, mine: int | None) -> Iterator[str]:
    mind = "Mind: " if line.number is None and line.kind == "caution" else ""
    text = only_words(line.only) + mind + _read(line.words, mine)
    yield ""
    if line.number is None:
        yield _filled(text, "     ")
        return
    yield _filled(text, f"{line.number:>3}. ")
    if line.shows:
        shows = " · ".join(_read(words, mine) for words in line.shows)
        yield _filled(f"[{shows}]", "       ")


def only_words(only: Sequence[str]) -> str:
    """What stands before a step that not all sizes have."""
    return f"Only size{'s' if len(only) > 1 else ''} {', '.join(only)}: " if only else ""
