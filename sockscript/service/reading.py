"""A script line by line as an editor needs it: the words of every line, even of one with a slip."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple
from weakref import WeakKeyDictionary

from lark import Token
from lark.exceptions import LarkError

from sockscript.service.document import Document
from sockscript.text.layout import Line, lay_out
from sockscript.text.parser import load_parser
from sockscript.text.quotes import INCH_MARK
from sockscript.text.source import Source
from sockscript.tree.build_expressions import Parse

MOST_KEPT = 20_000
"""Lines that were read and are kept for the next version."""

BLOCK_RULES = {"machine": "machine_line", "sizes": "size_row", "works": "range_row"}
"""First words of blocks of the header, and the rule that reads the lines under them."""

_WITH_VALUES = frozenset({"step", "note", "caution"})
"""First words of lines whose printed words may have values between braces."""

_PIECES = re.compile(
    rf"""(?P<INCH_MARK>{INCH_MARK})
    |(?P<STRING>"[^"]*"?|“[^”]*”?)
    |(?P<NEEDLE>(?<![\w-])[lr][0-9]+(?![\w-]))
    |(?P<ORDINAL>[0-9]+(?:st|nd|rd|th)(?!\w))
    |(?P<MIXED>[0-9]+(?:[ ]+|-)[0-9]+[/⁄][0-9]+(?!\w))
    |(?P<VULGAR>(?:[0-9]+[ ]*)?[¼½¾⅓⅔⅛⅜⅝⅞])
    |(?P<NUMBER>[0-9]+(?:[.,][0-9]+)?|\.[0-9]+)
    |(?P<NAME>[^\W\d_][^\W_]*(?:-[^\W_]+)*)
    |(?P<SIGN>[-+*/×÷=%(),])
    |(?P<OTHER>\S)""", re.I | re.X)
_BRACES = re.compile(r"\{([^}]*)(\}|$)")


class Lexeme(NamedTuple):
    """A word, number or sign of a line; ``kind`` is its terminal in the grammar.

    What a line has after a slip is told by its looks alone: words of the language are ``NAME``
    there like others, and what fits nothing is ``OTHER``.  Columns count from 1.
    """

    kind: str
    text: str
    start: int
    end: int


class Inner(NamedTuple):
    """A value between braces in printed words; ``shift`` is where its text starts, from 0."""

    shift: int
    pieces: tuple[Lexeme, ...]
    parse: Parse | None


class ReadText(NamedTuple):
    """The text of a line, read by one rule of the grammar.

    ``parse`` is None for a line with a slip; ``whole`` pieces at its beginning were understood.
    """

    pieces: tuple[Lexeme, ...]
    whole: int
    parse: Parse | None
    inners: tuple[Inner, ...]


class ReadLine(NamedTuple):
    """A line of a script: where it stands, in which block, and what is in it.

    ``top`` and ``top_word``: number and first word of the line at the left margin that it
    belongs to.  ``last``: the last line indented under it.  ``text`` is without the comment.
    """

    number: int
    indent: int
    rule: str
    text: str
    top: int
    top_word: str
    last: int
    read: ReadText


class LinesRead(NamedTuple):
    """All lines that are not empty, in order, and by their numbers."""

    source: Source
    lines: tuple[ReadLine, ...]
    by_number: dict[int, ReadLine]


@lru_cache(maxsize=1)
def language_words() -> frozenset[str]:
    """Every word that stands in the grammar, in lower case."""
    words = (str(terminal.pattern.value) for terminal in load_parser().terminals)
    return frozenset(word.lower() for word in words if word.isalpha())


@lru_cache(maxsize=MOST_KEPT)
def read_text(rule: str, text: str) -> ReadText:
    """Read the text of a line by a rule of the grammar.  Never raises."""
    interactive = load_parser().parse_interactive(text, start=rule)
    found: list[Lexeme] = []
    parse: Parse | None = None
    try:
        found.extend(map(_piece, interactive.iter_parse()))
        whole = len(found)
        parse = interactive.feed_eof()  # type: ignore[no-untyped-call]
    except LarkError:
        # The word that did not fit is not among those the parser gave out.
        whole = len(found)
        found.extend(by_looks(text, found[-1].end - 1 if found else 0))
    pieces = tuple(found)
    first = text.lstrip()[:1]
    inners: tuple[Inner, ...] = ()
    if "{" in text and (first in '"“' or pieces[0].text.lower() in _WITH_VALUES):
        inners = tuple(_inners(pieces))
    return ReadText(pieces, whole, parse, inners)


def _piece(token: Token) -> Lexeme:
    start = token.column or 1
    return Lexeme(token.type, str(token), start, start + len(token))


def by_looks(text: str, begin: int = 0) -> Iterator[Lexeme]:
    """The pieces of a text from ``begin`` (counted from 0) on, told by their looks alone."""
    for match in _PIECES.finditer(text, begin):
        yield Lexeme(str(match.lastgroup), match.group(), match.start() + 1, match.end() + 1)


def _inners(pieces: tuple[Lexeme, ...]) -> Iterator[Inner]:
    for piece in pieces:
        if piece.kind == "STRING":
            for match in _BRACES.finditer(piece.text[:-1] if piece.text[-1] in '"”'
                                          else piece.text, 1):
                read = read_text("expr", match.group(1))
                yield Inner(piece.start + match.start(), read.pieces, read.parse)


_readings: WeakKeyDictionary[Document, tuple[list[str], LinesRead]] = WeakKeyDictionary()


def reading(document: Document) -> LinesRead:
    """The lines of the version that the document holds."""
    kept = _readings.get(document)
    # Every version has a list of its own.
    if kept is None or kept[0] is not document.source.lines:
        kept = (document.source.lines, read_source_lines(document.source))
        _readings[document] = kept
    return kept[1]


def read_source_lines(source: Source) -> LinesRead:
    """The lines of a file."""
    tops, _ = lay_out(source)
    found: list[ReadLine] = []
    for top in tops:
        word = _first_word(top)
        found.append(_read_line(top, "line", top.number, word))
        _read_under(top, BLOCK_RULES.get(word, "line"), top.number, word, found)
    found.sort(key=lambda line: line.number)
    return LinesRead(source, tuple(found), {line.number: line for line in found})


def _read_under(line: Line, rule: str, top: int, word: str, found: list[ReadLine]) -> None:
    for child in line.children:
        found.append(_read_line(child, rule, top, word))
        if child.children:
            words = rule == "machine_line" and _first_word(child) == "words"
            inner = "word_line" if words else rule
            _read_under(child, inner, top, word, found)


def _first_word(line: Line) -> str:
    match = re.match(r"\W*([^\W\d_]+)", line.text)
    return match.group(1).lower() if match else ""


def _read_line(line: Line, rule: str, top: int, word: str) -> ReadLine:
    last = line
    while last.children:
        last = last.children[-1]
    return ReadLine(line.number, line.indent, rule, line.text, top, word, last.number,
                    read_text(rule, line.text))


def piece_at(pieces: tuple[Lexeme, ...], column: int) -> Lexeme | None:
    """The piece under a column, or else the one that ends just before it."""
    before = None
    for piece in pieces:
        if piece.start <= column < piece.end:
            return piece
        if piece.end == column and piece.kind not in ("SIGN", "OTHER"):
            before = piece
    return before
