"""The leaflet as one HTML file: nothing is fetched, nothing runs, all words stay words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape
from importlib import resources
from itertools import groupby
from typing import TypeVar, assert_never

from sockscript.numbers.figures import BySize, PrintedWords
from sockscript.sheet.letters import MOST_IN_BRACKETS
from sockscript.sheet.outline import (
    Blanks,
    Cell,
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

COLUMNS = {False: 9, True: 4}
"""Sizes side by side in a table, in common and in large print."""

FEW_SIZES = 4
"""Tables of fewer sizes stand side by side."""

FEW = 12
"""A list or table with no more items or rows stays on one page."""

PAPERS = {"a4": "A4", "letter": "letter"}

ASIDE = ("materials", "gauge", "tools", "needs", "machine-words", "abbreviations")
"""Short lists that stand beside each other at the head of a leaflet."""

_POLICY = "default-src 'none'; style-src 'unsafe-inline'"

T = TypeVar("T")


def render(outline: Outline, *, paper: str = "a4", large: bool = False, sans: bool = False) -> str:
    """The whole leaflet.  ``paper`` a key of ``PAPERS``; ``large``: large print; ``sans``: letters
    without serifs."""
    style = resources.files("sockscript.sheet").joinpath("leaflet.css").read_text("utf-8")
    lines = [
        "<!DOCTYPE html>", f'<html lang="{outline.language}">', "<head>",
        '<meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        f'<meta name="author" content="{escape(outline.author)}">',
        f"<title>{escape(outline.title)}</title>",
        f"<style>\n{style}{_marking(outline)}{_page(outline, paper, large)}</style>", "</head>",
        f'<body class="{"large" if large else "common"}{" sans" if sans else ""}">', "<header>",
        f"<h1>{escape(outline.title)}</h1>",
        *(f'<p class="{kind}">{escape(words)}</p>' for kind, words in outline.about()),
        *_own_size(outline), "</header>", "<main>"]
    layout = _Layout(outline, COLUMNS[large])
    few = len(outline.sizes) < FEW_SIZES
    for kind, blocks in groupby(outline.blocks, lambda block: _together(block, few)):
        if kind:
            lines.append(f'<div class="{kind}">')
        for block in blocks:
            lines += layout.block(block)
        if kind:
            lines.append("</div>")
    lines += ["</main>", f"<footer><p>{escape(outline.footer())}</p></footer>", "</body>",
              "</html>"]
    return "\n".join(lines) + "\n"


def _together(block: PrintedBlock, few: bool) -> str:
    """Blocks that stand side by side where the page has room for it."""
    if isinstance(block, Listing) and block.name in ASIDE:
        return "lists"
    return "tables" if few and isinstance(block, Table) else ""


def css_string(words: str) -> str:
    """Words as a CSS string in which nothing can end the string or the style sheet."""
    # The blank after an escape belongs to it (CSS Syntax, "consume an escaped code point").
    return '"' + "".join(c if c.isascii() and (c.isalnum() or c in " .,-") else f"\\{ord(c):06x} "
                         for c in words) + '"'


def in_parts(items: Sequence[T], most: int) -> Iterator[Sequence[T]]:
    """Columns of a wide table in parts of at most ``most``, as even as can be."""
    count = -(-len(items) // most)
    size = -(-len(items) // count) if count else 1
    for start in range(0, len(items), size):
        yield items[start:start + size]


def _page(outline: Outline, paper: str, large: bool) -> str:
    font = f"font-size: {16 if large else 8}pt;"
    return (f"@page {{ size: {PAPERS[paper]}; @bottom-left {{ {font} content: "
            f"{css_string(outline.footer())}; }} @bottom-right {{ {font} }} }}\n")


def _own_size(outline: Outline) -> Iterator[str]:
    """Which size shall stand out: works without a script, by the style sheet alone."""
    if len(outline.sizes) < 2:
        return
    yield '<fieldset class="own"><legend>My size stands out</legend>'
    for value, label in [("none", "none"), *((str(n), size)
                                             for n, size in enumerate(outline.sizes))]:
        chosen = value == ("none" if outline.mine is None else str(outline.mine))
        yield (f'<label><input type="radio" name="own" id="own-{value}"'
               f'{" checked" if chosen else ""}> {escape(label)}</label>')
    yield "</fieldset>"


def _marking(outline: Outline) -> str:
    if len(outline.sizes) < 2:
        return ""
    return "".join(f":root:has(#own-{n}:checked) .s{n}{',' if n < len(outline.sizes) - 1 else ' '}"
                   for n in range(len(outline.sizes))) + \
        "{ font-weight: bold; background: #e4e4e4; text-decoration: underline; }\n" + "".join(
            f":root:has(#own-{n}:checked) .own-{n} {{ display: inline; }}\n"
            for n in range(len(outline.sizes)))


class _Layout:
    """Lays out the blocks of one outline."""

    def __init__(self, outline: Outline, most: int) -> None:
        self.sizes = outline.sizes
        self.most = most
        self.tables = 0

    def block(self, block: PrintedBlock) -> Iterator[str]:
        """One block as HTML."""
        match block:
            case Prose():
                yield from (f"<p>{self.words(words)}</p>" for words in block.paragraphs)
            case Blanks():
                yield '<p class="blanks">' + " ".join(
                    f"<span>{escape(name)} <i></i></span>" for name in block.names) + "</p>"
            case Listing():
                kinds = [kind for kind, fits in (
                    ("boxed", block.boxed), ("small", block.name == "bank-book"),
                    ("together", len(block.items) <= FEW)) if fits]
                yield f'<section class="{" ".join(kinds)}">' if kinds else "<section>"
                yield f"<h2>{escape(block.title)}</h2>"
                yield from self.letters(block.letters, block.title)
                yield "<ul>"
                yield from (f"<li>{self.words(item)}</li>" for item in block.items)
                yield "</ul></section>"
            case Table():
                # A drawing stays with the table that its letters point to.
                yield '<section class="together">' if len(block.rows) <= FEW else "<section>"
                yield f"<h2>{escape(block.title)}</h2>"
                yield from self.figure(block.picture)
                yield from self.table(block.note, [
                    (f"{row.letter}  {row.name}" if row.letter else row.name, row.cells)
                    for row in block.rows])
                yield "</section>"
            case Steps():
                yield f"<section><h2>{escape(block.title)}</h2>"
                yield from self.letters(block.letters, block.title)
                alone = block.alone()
                if block.pictures:
                    yield from self.steps(block.lines[:alone])
                    yield '<div class="beside"><div>'
                    for picture in block.pictures:
                        yield from self.figure(picture, "steps-picture")
                    yield "</div><div>"
                yield from self.steps(block.lines[alone:])
                yield "</div></div></section>" if block.pictures else "</section>"
            case ScriptText():
                lines = "\n".join("".join(
                    f'<span class="{run.kind}">{escape(run.letters)}</span>' if run.kind
                    else escape(run.letters) for run in line) for line in block.lines)
                yield (f'<section class="appendix"><h2>{escape(block.title)}</h2>'
                       f'<pre tabindex="0">{lines}</pre></section>')
            case _:
                assert_never(block)

    def words(self, words: PrintedWords) -> str:
        """A text; numbers that differ from size to size can stand out."""
        return "".join(escape(part) if isinstance(part, str) else self.numbers(part)
                       for part in words)

    def numbers(self, part: BySize) -> str:
        """``48 (52, 56)``, each with the class of its size; or its letter, before which the style
        sheet shows the number of the size that was chosen."""
        if part.letter:
            own = "".join(f'<span class="own-{n}">{escape(text)} </span>'
                          for n, text in enumerate(part.texts))
            return f'<b class="letter">{own}[{part.letter}]</b>'
        first, *rest = [f'<span class="s{n}">{escape(text)}</span>'
                        for n, text in enumerate(part.texts)]
        kind = "figures" if len(part.texts) <= MOST_IN_BRACKETS else "many"
        return f'<span class="{kind}">{first} ({", ".join(rest)})</span>'

    def figure(self, picture: Figured | None, kind: str = "measured") -> Iterator[str]:
        """A picture with its caption."""
        if picture is not None:
            caption = f"<figcaption>{escape(picture.caption)}</figcaption>"
            yield f'<figure class="{kind}">{picture.drawing.svg}{caption}</figure>'

    def letters(self, letters: Sequence[LetterRow], title: str) -> Iterator[str]:
        """What the letters of a block stand for."""
        if letters:
            yield from self.table(f"What the letters stand for: {title}", [
                (f"[{row.letter}]", [Cell(value) for value in row.values]) for row in letters],
                "letters")

    def table(self, caption: str, rows: Sequence[tuple[str, Sequence[Cell]]],
              kind: str = "") -> Iterator[str]:
        """A table of sizes in parts that fit the page.  On a narrow screen it can be moved
        sideways, also from the keyboard."""
        parts = list(in_parts(range(len(self.sizes)), self.most))
        kind = " ".join(filter(None, [kind, "together" if len(rows) <= FEW else "long"]))
        for number, part in enumerate(parts, start=1):
            self.tables += 1
            name = caption if len(parts) == 1 else f"{caption}, part {number} of {len(parts)}"
            yield (f'<div class="table {kind}" role="region" tabindex="0" '
                   f'aria-label="{escape(name)}"><table aria-label="{escape(name)}">')
            yield ("<thead><tr><td></td>" + "".join(
                f'<th scope="col" class="s{n}">{escape(self.sizes[n])}</th>' for n in part)
                   + "</tr></thead><tbody>")
            for row, cells in rows:
                yield (f'<tr><th scope="row">{escape(row)}</th>' + "".join(
                    f'<td class="s{n}">{_cell(cells[n])}</td>' for n in part) + "</tr>")
            yield "</tbody></table></div>"
        if "letters" not in kind:
            yield f'<p class="caption">{escape(caption)}</p>'

    def steps(self, lines: Sequence[StepLine]) -> Iterator[str]:
        """Steps in order; a list is broken off for remarks and goes on after them."""
        listing = False
        for line in lines:
            only = f"<b>{escape(only_words(line.only))}</b>" if line.only else ""
            if line.number is None:
                if listing:
                    yield "</ol>"
                    listing = False
                mind = "<b>Mind:</b> " if line.kind == "caution" else ""
                yield f'<p class="remark">{only}{mind}{self.words(line.words)}</p>'
                continue
            if not listing:
                yield '<ol class="steps">'
                listing = True
            shows = "".join(f"<span>{self.words(part)}</span>" for part in line.shows)
            yield (f'<li value="{line.number}"><span class="tick" aria-hidden="true"></span>'
                   f'<span class="number">{line.number}.</span>'
                   f"<p>{only}{self.words(line.words)}</p>{_boxes(line.boxes)}"
                   + (f'<p class="shows">{shows}</p>' if shows else "") + "</li>")
        if listing:
            yield "</ol>"


def _boxes(count: int) -> str:
    """A small box for each time, in fives."""
    fives = [f"<span>{'<i></i>' * min(5, count - first)}</span>" for first in range(0, count, 5)]
    return f'<p class="boxes" aria-hidden="true">{" ".join(fives)}</p>' if fives else ""


def _cell(cell: Cell) -> str:
    below = f"<small>{escape(cell.below)}</small>" if cell.below else ""
    return escape(cell.words) + below
