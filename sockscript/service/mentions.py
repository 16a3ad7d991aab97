"""The names in one line: what each is the name of, and whether the line gives the name."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Literal, NamedTuple

from lark import Token, Tree

from sockscript.service.reading import MOST_KEPT, Lexeme, ReadText, language_words, read_text
from sockscript.tree.build_expressions import Parse, string_value
from sockscript.tree.line_reader import RESERVED

Role = Literal[
    "let", "option", "measurement", "parameter", "value", "argument", "yarn", "fabric",
    "technique", "size", "choice", "group", "word", "finding", "foot"]
"""What a name stands for.  ``word`` may be the name of a value or stand for itself: a yarn, a
choice, a group of stitches; ``value`` is any of the first four, where it is used."""

_MEASURED = frozenset({"stitches", "rows", "width", "height"})
"""Functions whose second value is a fabric."""


class Mention(NamedTuple):
    """A name in a line.  ``of``: the technique that an argument belongs to.

    ``name`` is in lower case (names are read in any case); columns count from 1.
    """

    role: Role
    name: str
    start: int
    end: int
    defines: bool = False
    of: str = ""


@lru_cache(maxsize=MOST_KEPT)
def mentions(rule: str, text: str) -> tuple[Mention, ...]:
    """All names in a line, from left to right."""
    read = read_text(rule, text)
    found = list(_in_parse(read.parse)) if read.parse is not None else list(
        _by_looks(rule, read))
    for inner in read.inners:
        if inner.parse is not None:
            found.extend(mention._replace(start=mention.start + inner.shift,
                                          end=mention.end + inner.shift)
                         for mention in _in_value(inner.parse))
        else:
            found.extend(Mention("value", piece.text.lower(), piece.start + inner.shift,
                                 piece.end + inner.shift)
                         for piece in inner.pieces if piece.kind == "NAME")
    return tuple(sorted(found, key=lambda mention: mention.start))


def fallback_of(line: str, parameter: Mention) -> str:
    """The value behind a parameter where its technique begins; empty if it must be given."""
    text = line[parameter.end - 1:].lstrip()
    if not text.startswith("="):
        return ""
    open_brackets = 0
    for end, letter in enumerate(text):
        open_brackets += (letter == "(") - (letter == ")")
        if letter == "," and not open_brackets:
            return text[1:end].strip()
    return text[1:].strip()


def _mention(role: Role, token: Token, defines: bool = False, of: str = "") -> Mention:
    start = token.column or 1
    text = string_value(token) if token.type == "STRING" else str(token)
    return Mention(role, text.lower(), start, start + len(token), defines, of)


def _optional(role: Role, token: Parse) -> Iterator[Mention]:
    if token is not None:
        yield _mention(role, token)


def _bare(parse: Parse) -> Token | None:
    """The name that a value consists of, if it is only a name."""
    if isinstance(parse, Tree) and parse.data == "name":
        token = parse.children[0]
        return token if isinstance(token, Token) else None
    return None


def _word_or_value(parse: Parse) -> Iterator[Mention]:
    name = _bare(parse)
    if name is not None:
        yield _mention("word", name)
    else:
        yield from _in_value(parse)


def _in_parse(parse: Parse) -> Iterator[Mention]:
    """The names in the parse of a line."""
    kids = parse.children
    match str(parse.data):
        case "yarn":
            yield _mention("yarn", kids[0], True)
        case "gauge":
            if kids[0] is not None:
                yield _mention("fabric", kids[0], True)
        case "swatch":
            yield from _optional("fabric", kids[0])
            yield _mention("yarn", kids[-1])
        case "range_of_gauge":
            yield from _optional("fabric", kids[0])
        case "option":
            yield _mention("option", kids[0], True)
            for kid in kids[1:]:
                if kid is not None:
                    yield from _choices(kid)
        case "measure_row":
            yield _mention("measurement", kids[0], True)
        case "range_of_value":
            yield _mention("value", kids[0])
        case "feet_row":
            for kid in kids:
                yield _mention("foot", kid.children[0])
        case "sizes":
            for kid in kids:
                yield _mention("size", kid.children[0], True)
        case "let":
            yield _mention("let", kids[0], True)
            yield from _in_value(kids[1])
        case "section":
            yield from _optional("fabric", kids[1])
        case "allow":
            yield _mention("finding", kids[0])
        case "exchange":
            for kid in kids:
                yield _mention("technique", kid)
        case "technique":
            yield _mention("technique", kids[0], True)
            for kid in kids[1:]:
                if kid is not None:
                    yield _mention("parameter", kid.children[0], True)
                    yield from _word_or_value(kid.children[1])
        case "do":
            yield _mention("technique", kids[0])
            for kid in kids[1:]:
                if kid is not None and kid.data == "argument":
                    yield _mention("argument", kid.children[0], of=str(kids[0]).lower())
                    yield from _word_or_value(kid.children[1])
                else:
                    yield from _in_value(kid)
        case "thread" | "thread_along" | "change" | "cut":
            for kid in kids:
                yield from _optional("yarn", kid)
        case "knit_in":
            yield from _optional("yarn", kids[0])
            yield from _in_value(kids[1])
            yield _mention("group", kids[2], True)
        case "sew_edge_down":
            yield _mention("group", kids[0])
            yield from _in_value(kids[1])
        case "scrap_off":
            yield from _in_value(kids[0])
            yield _mention("group", kids[1], True)
        case "mark":
            yield _mention("group", kids[1], True)
            yield from _in_value(kids[2])
        case "rehang":
            yield _mention("group", kids[0])
            for kid in kids[1:]:
                yield from _in_value(kid)
        case "graft":
            for kid in kids:
                pieces, bed = kid.children
                name = bed.children[-1]
                if pieces is None and len(bed.children) == 1 and name.type == "NAME":
                    yield _mention("group", name)
                else:
                    yield from _in_value(kid)
        case "word_line":
            pass
        case _:
            yield from _in_value(parse)


def _choices(parse: Parse) -> Iterator[Mention]:
    given = parse.data != "default"
    token = (parse if given else parse.children[0]).children[0]
    if isinstance(token, Token):
        yield _mention("choice", token, given)


def _in_value(parse: Parse) -> Iterator[Mention]:
    """The names in a value, condition or set of needles."""
    if not isinstance(parse, Tree):
        return
    kids: list[Parse] = parse.children
    match str(parse.data):
        case "name":
            yield _mention("value", kids[0])
        case "bed" | "end":
            if kids[-1].type == "NAME":
                yield _mention("value", kids[-1])
        case "call":
            # What stands in front of the bracket is the function.
            word = str(kids[0].children[0]).lower()
            for position, kid in enumerate(kids[1:]):
                fabric = _bare(kid) if position == 1 and word in _MEASURED else None
                if fabric is not None:
                    yield _mention("fabric", fabric)
                else:
                    yield from _in_value(kid)
        case "compare":
            yield from _in_value(kids[0])
            yield from _word_or_value(kids[2])
        case "size_is":
            for kid in kids:
                yield _mention("size", kid.children[0])
        case _:
            for kid in kids:
                yield from _in_value(kid)


# ---- lines with a slip

_GIVES: dict[str, Role] = {
    "yarn": "yarn", "gauge": "fabric", "option": "option", "let": "let", "technique": "technique"}
_AFTER: dict[str, Role] = {
    "thread": "yarn", "cut": "yarn", "do": "technique", "allow": "finding",
    "exchange": "technique", "for": "technique",
    "rehang": "group", "as": "group", "slit": "group", "edge": "group"}


def _by_looks(rule: str, read: ReadText) -> Iterator[Mention]:
    """The names in a line with a slip, as far as the words before them tell."""
    pieces = read.pieces
    first = pieces[0].text.lower() if pieces else ""
    if rule == "size_row" and first != "feet" and pieces[0].kind == "NAME":
        yield Mention("measurement", first, pieces[0].start, pieces[0].end, True)
    if rule not in ("line", "expr", "range_row"):
        return
    called = pieces[1].text.lower() if first in ("do", "technique") and len(pieces) > 1 else ""
    for position, piece in enumerate(pieces):
        word = piece.text.lower()
        if piece.kind != "NAME" or word in RESERVED \
                or (position == 0 and rule == "line" and word in language_words()):
            continue
        before = pieces[position - 1].text.lower() if position else ""
        follows = pieces[position + 1].text if position + 1 < len(pieces) else ""
        yield _guess(piece, first, position, before, follows, called)


def _guess(piece: Lexeme, first: str, position: int, before: str, follows: str,
           called: str) -> Mention:
    """What a word of a line with a slip most likely names, by its place in the line."""
    role: Role = "value"
    defines = False
    of = ""
    if first in _GIVES and position == 1:
        role, defines = _GIVES[first], True
    elif first == "sizes":
        role, defines = "size", True
    elif first == "option":
        role, defines = "choice", before != "default"
    elif first == "technique" and before in ("with", ","):
        role, defines = "parameter", True
    elif first == "do" and before in ("with", ",") and follows in ("=", ""):
        role, of = "argument", called
    elif before in ("=", "is"):
        role = "word"
    elif before in _AFTER and (position == 1 or before not in ("thread", "cut", "do", "allow")):
        role = _AFTER[before]
    elif (first, before) in (("thread", "and"), ("change", "to")):
        role = "yarn"
    elif first == "section" and before == "in":
        role = "fabric"
    return Mention(role, piece.text.lower(), piece.start, piece.end, defines, of)
