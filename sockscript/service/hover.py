"""What a word or name of a script means, for whoever points at it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from sockscript.findings.page import load_page
from sockscript.service.document import Document
from sockscript.service.files import File, file_of, together, used_by
from sockscript.service.meanings import FUNCTION_HELP, WORDS
from sockscript.service.mentions import fallback_of
from sockscript.service.names import is_shipped, occurrence_at, shipped, shipped_name
from sockscript.service.reading import Lexeme, ReadLine, piece_at
from sockscript.service.symbols import Occurrence, Symbol
from sockscript.service.technique_help import meanings
from sockscript.service.values import foot_measures, measures_of, values_of
from sockscript.text.layout import without_comment
from sockscript.tree.line_kinds import LINE_KINDS


class Hover(NamedTuple):
    """What is told of a piece of a line; columns count from 1.

    ``title`` is a line of the language or a name with its value, ``text`` whole sentences,
    ``code`` the line that gives the name, ``table`` rows of two cells (or none).
    """

    line: int
    start: int
    end: int
    title: str
    text: str
    code: str = ""
    table: tuple[tuple[str, str], ...] = ()


_SEVERITIES = {"fault": "A fault: the sock cannot be knitted so.",
               "warning": "A warning: something is probably wrong.",
               "advice": "Advice: it can be knitted so, but it may come out better.",
               "cannot read": "A line that cannot be understood."}
_ROLES = {
    "yarn": "A yarn of this script.", "fabric": "A fabric, with its gauge.",
    "option": "A choice left to the knitter.", "choice": "One of the choices of an option.",
    "measurement": "A measurement from the table of sizes.", "let": "A value of this script.",
    "group": "Stitches that were put aside under this name.", "size": "A size of this pattern.",
    "foot": "A foot of the built-in table: person and shoe size."}


def hover(document: Document, line: int, column: int,
          others: Sequence[Document] = ()) -> Hover | None:
    """What to tell of the word or name at a place; None where there is nothing to tell."""
    there = file_of(document).names.reading.by_number.get(line)
    if there is None:
        return None
    one = occurrence_at(document, line, column)
    if one is not None and one.mention.start <= column <= one.mention.end:
        told = _name(document, one, others)
        if told is not None:
            return told
    piece = piece_at(there.read.pieces, column)
    if piece is None:
        return None
    if piece.kind == "STRING":
        for inner in there.read.inners:
            part = piece_at(inner.pieces, column - inner.shift)
            if part is not None:
                return _word(there, part, inner.shift, False)
        return None
    return _word(there, piece, 0, True)


# ---- words of the language


def _word(line: ReadLine, piece: Lexeme, shift: int, outer: bool) -> Hover | None:
    """What is said of a word, needle or function; ``outer``: it stands in no printed words."""
    word = piece.text.lower()
    start, end = piece.start + shift, piece.end + shift
    if piece.kind in ("NEEDLE", "NEEDLE_SIDE"):
        side = "left" if word[0] == "l" else "right"
        number = f"number {word[1:]} " if piece.kind == "NEEDLE" else ""
        return Hover(line.number, start, end, piece.text.upper(),
                     f"Needle {number}counted to the {side} from the centre of the bed.")
    if not word[:1].isalpha():
        return None
    behind = line.text[end - 1:end]
    if word in FUNCTION_HELP and behind == "(":
        told = FUNCTION_HELP[word]
        return Hover(line.number, start, end, told.words, told.meaning)
    rule = statement_of(line)
    line_kind = LINE_KINDS.get(rule)
    if outer and line_kind is not None and _begins(line, piece, line_kind.words):
        return Hover(line.number, start, end, line_kind.words, line_kind.meaning)
    meaning = _in_context(line, piece) if outer else WORDS.get(word)
    if meaning is not None:
        return Hover(line.number, start, end, word, meaning)
    if outer and line_kind is not None and line_kind.words and piece.kind != "NAME":
        return Hover(line.number, start, end, line_kind.words, line_kind.meaning)
    return None


def _in_context(line: ReadLine, piece: Lexeme) -> str | None:
    """What a word means where its neighbours say more than the word."""
    pieces = line.read.pieces
    here = pieces.index(piece)
    word = piece.text.lower()
    before = pieces[here - 1].kind if here else ""
    follows = pieces[here + 1].text.lower() if here + 1 < len(pieces) else ""
    if word == "in" and before in ("NUMBER", "MIXED", "VULGAR"):
        return WORDS["inch"]
    if word == "in" and line.top == line.number and line.top_word == "section":
        return LINE_KINDS["section"].meaning
    if (word == "in" and follows in ("work", "hold")) or \
            (word == "at" and follows in ("least", "most")):
        return WORDS[follows]
    return WORDS.get(word)


def statement_of(line: ReadLine) -> str:
    """Which kind of line it is: its rule in the grammar (empty if that cannot be told)."""
    if line.read.parse is not None:
        return str(line.read.parse.data)
    words = [piece.text.lower() for piece in line.read.pieces]
    best, length = "", 0
    for rule, kind in LINE_KINDS.items():
        for form in kind.words.split(", "):
            first, _, later = form.partition(" … ")
            begin = first.split()
            fits = begin and words[:len(begin)] == begin and (not later or later in words)
            if fits and len(form) > length:
                best, length = rule, len(form)
    if not best and words:
        best = next((rule for rule, kind in LINE_KINDS.items()
                     if kind.words.split(" ")[0] == words[0]), "")
    return best


def _begins(line: ReadLine, piece: Lexeme, words: str) -> bool:
    """Whether a piece is one of the words by which its kind of line is known."""
    known = set(re.findall(r"[a-z]+", words))
    for other in line.read.pieces:
        if other.text.lower() not in known:
            return False
        if other is piece:
            return True
    return False


# ---- names


def _name(document: Document, one: Occurrence, others: Sequence[Document]) -> Hover | None:
    """What is said of a name: what it is, its values, where it is given."""
    mention, symbol = one.mention, one.symbol
    written = document.source.line(one.line)[mention.start - 1:mention.end - 1]
    at = (one.line, mention.start, mention.end)
    if symbol.space == "finding":
        page = load_page(symbol.name)
        return None if page is None else Hover(
            *at, symbol.name, f"{_SEVERITIES[page.severity]} {page.means} {page.why}")
    file, given = _given(document, symbol, one, others)
    called = shipped_name(symbol)
    if called:
        return _of_technique(symbol, called, at, written, file, given, document)
    if given is None or file is None:
        # A measurement of the table of feet, or a name that a line with a slip should give.
        values = values_of(document, symbol.name) if symbol.space == "value" else None
        if values is not None:
            return Hover(*at, f"{written}: {values.short}", "A value of this script.", "",
                         tuple(values.each) if len(values.each) > 1 else ())
        if mention.role == "foot":
            return Hover(*at, written, _ROLES["foot"], "", foot_measures(symbol.name))
        return None
    code = without_comment(file.source.line(given.line)).strip()
    inside = given.mention.role == "let" and given.line != given.top
    what = "A value of this section." if inside else _ROLES.get(given.mention.role, "")
    text = f"{what} {comment_about(file, given.line)}".strip()
    if symbol.space == "size":
        return Hover(*at, written, text, "", measures_of(document.examined.script, symbol.name))
    if symbol.space == "value" and given.mention.role != "option":
        values = values_of(document, symbol.name, one.top, one.line)
        if values is not None:
            if values.choices:
                text += " Worked out with " + " and ".join(
                    f"{option} {choice}" for option, choice in values.choices) + "."
            return Hover(*at, f"{written}: {values.short}", text, code,
                         tuple(values.each) if len(values.each) > 1 else ())
        if inside:
            text += " It is worked out as the section is knitted."
    return Hover(*at, written, text, code)


def _of_technique(symbol: Symbol, called: str, at: tuple[int, int, int], written: str,
                  file: File | None, given: Occurrence | None,
                  document: Document) -> Hover | None:
    if file is None or given is None:
        return None
    technique = next((other for other in file.names.by_symbol.get(
        Symbol("technique", "", called), ()) if other.mention.defines), given)
    code = without_comment(file.source.line(technique.line)).strip()
    comment = comment_about(file, technique.line)
    if symbol.space == "technique":
        origin = " It came with Sockscript." if is_shipped(file) else ""
        return Hover(*at, called, f"A technique.{origin} {comment}".strip(), code)
    if given.mention.role == "parameter":
        line = without_comment(file.source.line(given.line))
        fallback = fallback_of(line, given.mention)
        must = f"Where it is not given it is {fallback}." if fallback else "It must be given."
        values = [other.symbol.name for other in file.names.by_line[technique.line]
                  if other.mention.role == "parameter"]
        told = meanings(comment, values).get(symbol.name)
        about = f"{told[0].upper()}{told[1:]}" if told else comment
        return Hover(*at, written, f"A value that '{called}' takes. {must} {about}".strip(), code)
    return Hover(*at, written, f"A value worked out in '{called}'.",
                 without_comment(file.source.line(given.line)).strip())


def _given(document: Document, symbol: Symbol, one: Occurrence,
           others: Sequence[Document]) -> tuple[File | None, Occurrence | None]:
    """The file and line that give a name; of several in this file the last one before it."""
    own = file_of(document)
    here = [other for other in own.names.by_symbol.get(symbol, ()) if other.mention.defines]
    if here:
        before = [other for other in here if other.line <= one.line and other.top == one.top]
        return own, (before[-1] if before else here[0])
    files = together(document, others)
    opened = {file.path: file for file in files if file.path is not None}
    for file in [*used_by(own, opened), *shipped(document, symbol)]:
        for other in file.names.by_symbol.get(symbol, ()):
            if other.mention.defines:
                return file, other
    return None, None


def comment_about(file: File, line: int) -> str:
    """The comment that goes with a line: behind it, above it, or first in its block."""
    lines = file.source.lines

    def comment(number: int) -> str | None:
        if not 1 <= number <= len(lines):
            return None
        raw = lines[number - 1]
        return raw.strip().lstrip("# ") if raw.strip().startswith("#") else None

    raw = file.source.line(line)
    behind = raw[len(without_comment(raw)):].strip().lstrip("# ")
    if behind:
        return behind
    for step in (-1, 1):
        if step == 1 and file.names.reading.by_number[line].last == line:
            continue
        found: list[str] = []
        number = line + step
        while (text := comment(number)) is not None:
            found.append(text)
            number += step
        if found:
            return " ".join(found if step == 1 else reversed(found))
    return ""
