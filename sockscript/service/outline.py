"""A script in outline, and what of it can be folded away."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple

from sockscript.service.document import Document
from sockscript.service.mentions import Mention, mentions
from sockscript.service.reading import Lexeme, LinesRead, ReadLine, reading
from sockscript.text.layout import without_comment

EntryKind = Literal["section", "technique", "parameter", "yarn", "fabric", "sizes", "measurement",
                    "option", "value", "ranges", "machine"]


class OutlineEntry(NamedTuple):
    """An entry of the outline: the lines it covers, and where its name stands in the first.

    ``detail`` is what stands behind the name, shortened.  Columns count from 1.
    """

    kind: EntryKind
    name: str
    detail: str
    first: int
    last: int
    start: int
    end: int
    children: tuple[OutlineEntry, ...] = ()


class FoldableLines(NamedTuple):
    """Lines that fold into the first of them."""

    first: int
    last: int
    kind: Literal["block", "comment", "words"]


_SIMPLE: dict[str, EntryKind] = {"yarn": "yarn", "gauge": "fabric", "option": "option",
                                 "let": "value", "technique": "technique"}
_LONGEST = 60
"""Letters of a detail; an outline is narrow."""


def outline(document: Document) -> tuple[OutlineEntry, ...]:
    """The header, the techniques and the sections of a script, in the order of its lines.

    A line with a slip has its place too, as long as its name can be told.
    """
    read = reading(document)
    rows: dict[int, list[ReadLine]] = {}
    for line in read.lines:
        if line.number != line.top:
            rows.setdefault(line.top, []).append(line)
    tops = (line for line in read.lines if line.number == line.top)
    return tuple(entry for line in tops for entry in _entries(line, rows.get(line.number, [])))


def _entries(line: ReadLine, under: list[ReadLine]) -> Iterator[OutlineEntry]:
    """The entries of a line at the left margin and of what stands under it."""
    word = line.top_word
    pieces = line.read.pieces
    if word == "section":
        title = next((piece for piece in pieces if piece.kind == "STRING"), None)
        if title is not None and title.text.strip('"“”'):
            behind = line.text[title.end - 1:].strip()
            yield _entry("section", line, title, title.text.strip('"“”'), behind)
        else:
            yield _entry("section", line, pieces[0], "section", "")
    elif word == "sizes":
        names = [m for m in mentions(line.rule, line.text) if m.role == "size"]
        measures = tuple(_measurement(row) for row in under
                         if row.rule == "size_row" and row.read.pieces)
        yield _entry("sizes", line, pieces[0], "sizes",
                     ", ".join(line.text[m.start - 1:m.end - 1].strip('"“”') for m in names),
                     measures)
    elif word in ("works", "machine"):
        yield _entry("ranges" if word == "works" else "machine", line, pieces[0],
                     "works for" if word == "works" else "machine", "")
    elif word in _SIMPLE:
        found = mentions(line.rule, line.text)
        given = next((m for m in found if m.defines), None)
        if given is None and word == "gauge":
            # Without a name the fabric is called plain.
            yield _entry("fabric", line, pieces[0], "plain",
                         line.text[pieces[0].end - 1:].strip())
        if given is not None:
            yield _entry(_SIMPLE[word], line, given, line.text[given.start - 1:given.end - 1],
                         line.text[given.end - 1:].strip(" ="),
                         tuple(_parameter(line, m) for m in found if m.role == "parameter"))


def _measurement(row: ReadLine) -> OutlineEntry:
    first = row.read.pieces[0]
    return _entry("measurement", row, first, first.text,
                  " ".join(row.text[first.end - 1:].split()))


def _parameter(line: ReadLine, mention: Mention) -> OutlineEntry:
    return OutlineEntry("parameter", line.text[mention.start - 1:mention.end - 1], "", line.number,
                        line.number, mention.start, mention.end)


def _entry(kind: EntryKind, line: ReadLine, at: Mention | Lexeme, name: str, detail: str,
           children: tuple[OutlineEntry, ...] = ()) -> OutlineEntry:
    if len(detail) > _LONGEST:
        detail = detail[:_LONGEST - 1].rstrip() + "…"
    return OutlineEntry(kind, name, detail, line.number, line.last, at.start, at.end, children)


def foldings(document: Document) -> tuple[FoldableLines, ...]:
    """Blocks, comments and printed words of more than one line."""
    read = reading(document)
    found = [FoldableLines(line.number, line.last, "block") for line in read.lines
             if line.last > line.number and not _only_words_under(line, read)]
    found.extend(_comments(document.source.lines))
    found.extend(_words(read))
    return tuple(sorted(set(found)))


def _only_words_under(line: ReadLine, read: LinesRead) -> bool:
    under = (read.by_number.get(number) for number in range(line.number + 1, line.last + 1))
    return all(other is None or _is_words(other) for other in under)


def _is_words(line: ReadLine) -> bool:
    return line.text.lstrip()[:1] in ("“", '"')


def _comments(lines: list[str]) -> Iterator[FoldableLines]:
    """Lines that are nothing but comment, one under the other."""
    begun: int | None = None
    for number, raw in enumerate([*lines, ""], start=1):
        if raw.strip().startswith("#") and not without_comment(raw):
            begun = begun or number
        else:
            if begun is not None and number - 1 > begun:
                yield FoldableLines(begun, number - 1, "comment")
            begun = None


def _words(read: LinesRead) -> Iterator[FoldableLines]:
    """Lines of words that go on from the line above them."""
    begun: int | None = None
    before: int | None = None
    for line in read.lines:
        if _is_words(line):
            begun = before if begun is None else begun
        else:
            if begun is not None and before is not None:
                yield FoldableLines(begun, before, "words")
            begun = None
        before = line.number
    if begun is not None and before is not None:
        yield FoldableLines(begun, before, "words")
