"""What every piece of a script is, for colours in an editor."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Literal, NamedTuple

from sockscript.expand.values import FUNCTIONS
from sockscript.service.document import Document
from sockscript.service.mentions import Role, mentions
from sockscript.service.reading import Lexeme, ReadLine, by_looks, language_words, reading
from sockscript.text.layout import without_comment

TokenKind = Literal[
    "word", "technique", "parameter", "value", "measurement", "option", "choice", "yarn", "fabric",
    "size", "group", "finding", "function", "needle", "number", "unit", "sign", "text", "comment"]
"""``word``: of the language; ``text``: between quotes, except for values between braces."""


class TokenAt(NamedTuple):
    """A piece of a line; columns count from 1, ``end`` is one past the last."""

    line: int
    start: int
    end: int
    kind: TokenKind
    defines: bool = False


_NUMBERS = frozenset({"NUMBER", "MIXED", "VULGAR", "ORDINAL"})
_UNITS = frozenset({"MM", "CM", "M", "INCH", "INCHES", "PERCENT", "G", "TEX"})
_BY_ROLE: dict[Role, TokenKind] = {
    "let": "value", "option": "option", "measurement": "measurement", "parameter": "parameter",
    "value": "value", "argument": "parameter", "yarn": "yarn", "fabric": "fabric",
    "technique": "technique", "size": "size", "choice": "choice", "group": "group",
    "word": "value", "finding": "finding", "foot": "size"}


class _Known(NamedTuple):
    """What a name stands for in this script, where its place alone does not tell."""

    kinds: dict[str, TokenKind]
    parameters: dict[int, frozenset[str]]
    """By the line at which a technique begins."""

    def of(self, name: str, top: int) -> TokenKind | None:
        if name in self.parameters.get(top, ()):
            return "parameter"
        return self.kinds.get(name)


def tokens_of(document: Document) -> tuple[TokenAt, ...]:
    """The pieces of the whole script, in order; they never overlap, and lie inside their lines.

    Never raises, whatever the text is.
    """
    read = reading(document)
    known = _known(read.lines)
    found: list[TokenAt] = []
    for number, raw in enumerate(document.source.lines, start=1):
        line = read.by_number.get(number)
        code = without_comment(raw)
        if line is not None:
            found.extend(_in_line(line, known))
        elif code.strip():
            # Nested too deep to be read.
            found.extend(_plain(number, piece) for piece in by_looks(code))
        comment = raw[len(code):]
        if comment.strip():
            start = len(code) + len(comment) - len(comment.lstrip()) + 1
            found.append(TokenAt(number, start, start + len(comment.strip()), "comment"))
    return tuple(found)


def _known(lines: tuple[ReadLine, ...]) -> _Known:
    kinds: dict[str, TokenKind] = {}
    parameters: dict[int, frozenset[str]] = {}
    for line in lines:
        found = [m for m in mentions(line.rule, line.text) if m.defines]
        if line.top_word == "technique" and line.number == line.top:
            parameters[line.top] = frozenset(m.name for m in found if m.role == "parameter")
            continue
        for mention in found:
            # A value stands before a word of the same name, as in the language.
            if mention.role in ("let", "option", "measurement"):
                kinds[mention.name] = _BY_ROLE[mention.role]
            elif mention.role in ("yarn", "choice", "group"):
                kinds.setdefault(mention.name, _BY_ROLE[mention.role])
    return _Known(kinds, parameters)


def _in_line(line: ReadLine, known: _Known) -> Iterator[TokenAt]:
    """The words of a line, each as what it names or what the grammar takes it for."""
    read = line.read
    named = {mention.start: mention for mention in mentions(line.rule, line.text)}

    def token(piece: Lexeme, shift: int, before: str) -> TokenAt:
        start = piece.start + shift
        mention = named.get(start)
        kind = _kind(piece, before)
        if mention is not None:
            kind = _BY_ROLE[mention.role]
            if mention.role in ("value", "word", "yarn", "group") and not mention.defines:
                kind = known.of(mention.name, line.top) or kind
        return TokenAt(line.number, start, piece.end + shift, kind,
                       mention is not None and mention.defines)

    before = ""
    for position, piece in enumerate(read.pieces):
        if piece.kind == "STRING" and piece.start not in named:
            yield from _words(line, piece, token)
        elif piece.kind == "NAME" and position >= read.whole and piece.start not in named:
            yield TokenAt(line.number, piece.start, piece.end, "word")
        else:
            yield token(piece, 0, before)
        before = piece.kind


def _words(line: ReadLine, piece: Lexeme,
           token: Callable[[Lexeme, int, str], TokenAt]) -> Iterator[TokenAt]:
    """Words in quotes, with the values between their braces in between."""
    start = piece.start
    for inner in line.read.inners:
        if piece.start < inner.shift + 1 <= piece.end and inner.pieces:
            yield TokenAt(line.number, start, inner.shift + 1, "text")
            before = ""
            for part in inner.pieces:
                yield token(part, inner.shift, before)
                before = part.kind
            start = inner.pieces[-1].end + inner.shift
    if start < piece.end:
        yield TokenAt(line.number, start, piece.end, "text")


def _kind(piece: Lexeme, before: str) -> TokenKind:
    """What a piece is by its terminal alone."""
    kind = piece.kind
    if kind in _NUMBERS:
        return "number"
    if kind in _UNITS or (kind == "IN" and before in _NUMBERS):
        return "unit"
    if kind in ("NEEDLE", "NEEDLE_SIDE"):
        return "needle"
    if kind == "STRING":
        return "text"
    if not piece.text[:1].isalpha():
        return "sign"
    if kind == "NAME":
        return "function" if piece.text.lower() in FUNCTIONS else "value"
    return "word"


def _plain(number: int, piece: Lexeme) -> TokenAt:
    kind = _kind(piece, "")
    if kind == "value" and piece.text.lower() in language_words():
        kind = "word"
    return TokenAt(number, piece.start, piece.end, kind)
