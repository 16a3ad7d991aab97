"""The names that may be used at a place of a script, each with a sentence about it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple
from weakref import WeakKeyDictionary

from sockscript.service.document import Document
from sockscript.service.files import File, file_at, file_of, used_by
from sockscript.service.hover import comment_about
from sockscript.service.mentions import Role, fallback_of
from sockscript.service.names import shipped_techniques
from sockscript.service.symbols import Occurrence, Symbol
from sockscript.service.technique_help import meanings
from sockscript.service.values import short_values
from sockscript.text.layout import without_comment


class KnownName(NamedTuple):
    """A name as it is written, and what it is."""

    name: str
    role: Role
    about: str


class Takes(NamedTuple):
    """A value that a technique takes; ``fallback`` is empty where it must be given."""

    name: str
    fallback: str


class KnownTechnique(NamedTuple):
    """A technique, its values, what its comment says, and the words that it knows."""

    name: str
    takes: tuple[Takes, ...]
    about: str
    words: tuple[str, ...]


_ABOUT: dict[Role, str] = {
    "let": "A value of this script", "measurement": "A measurement from the table of sizes",
    "option": "A choice left to the knitter", "parameter": "A value that this technique takes",
    "choice": "One of the choices of an option", "group": "Stitches put aside under this name",
    "fabric": "A fabric with a gauge", "yarn": "A yarn of this script",
    "size": "A size of this pattern"}

_shorts: WeakKeyDictionary[Document, tuple[list[str], dict[str, str]]] = WeakKeyDictionary()


def numbers_of(document: Document) -> Mapping[str, str]:
    """The script's own values, each as ``48 (52, 56) stitches``."""
    kept = _shorts.get(document)
    # The lines stand for the version: to keep the version itself would keep all its runs.
    if kept is None or kept[0] is not document.source.lines:
        kept = (document.source.lines, short_values(document))
        _shorts[document] = kept
    return kept[1]


def known_names(document: Document, top: int, line: int) -> tuple[KnownName, ...]:
    """All names that mean something in a line under the line ``top``, the nearest ones first."""
    file = file_of(document)
    near: list[KnownName] = []
    far: list[KnownName] = []
    seen: set[tuple[Role, str]] = set()
    numbers = numbers_of(document)
    for one in file.names.occurrences:
        mention = one.mention
        key = (mention.role, mention.name)
        # A name that a line is about to give is not known in that line.
        if not mention.defines or mention.role == "technique" or key in seen or one.line == line:
            continue
        local = mention.role == "parameter" or (mention.role == "let" and one.line != one.top)
        if local and (one.top != top or one.line > line):
            continue
        seen.add(key)
        written = _written(file, one)
        number = numbers.get(mention.name, "") if not local else ""
        about = _about(file, one, number)
        (near if local else far).append(KnownName(written, mention.role, about))
    words = {one.mention.name: _written(file, one) for one in file.names.occurrences
             if one.symbol.space == "word" and one.mention.role in ("word", "group")
             and one.line != line}
    named = {known.name.lower() for known in far}
    far.extend(KnownName(written, "word", "A word that this script uses in another line.")
               for word, written in words.items() if word not in named)
    return (*near, *far)


def _written(file: File, one: Occurrence) -> str:
    return file.source.line(one.line)[one.mention.start - 1:one.mention.end - 1]


def _about(file: File, one: Occurrence, number: str) -> str:
    what = _ABOUT[one.mention.role]
    if number:
        what += f": {number}"
    elif one.mention.role in ("yarn", "fabric", "option"):
        what += ": " + without_comment(file.source.line(one.line)[one.mention.end - 1:]).strip()
    return what + "."


def known_techniques(document: Document) -> Iterator[KnownTechnique]:
    """Every technique that can be called: the script's own, those of used files, shipped ones."""
    own = file_of(document)
    seen: set[str] = set()
    for file in (own, *used_by(own, {})):
        for one in file.names.occurrences:
            if one.mention.role == "technique" and one.mention.defines \
                    and one.mention.name not in seen:
                seen.add(one.mention.name)
                yield _technique(file, one)
    for name in sorted(shipped_techniques() - seen):
        found = technique(document, name)
        if found is not None:
            yield found


def technique(document: Document, name: str) -> KnownTechnique | None:
    """A technique by its name."""
    own = file_of(document)
    symbol = Symbol("technique", "", name.lower())
    files: list[File] = [own, *used_by(own, {})]
    path = document.examined.library.shipped_files().get(name.lower())
    if path is not None:
        shipped = file_at(path)
        files.extend([shipped] if shipped is not None else [])
    for file in files:
        for one in file.names.by_symbol.get(symbol, ()):
            if one.mention.defines:
                return _technique(file, one)
    return None


def _technique(file: File, one: Occurrence) -> KnownTechnique:
    line = without_comment(file.source.line(one.line))
    takes = []
    for other in file.names.by_line[one.line]:
        if other.mention.role == "parameter":
            takes.append(Takes(_written(file, other), fallback_of(line, other.mention)))
    words = {other.symbol.name for other in file.names.occurrences
             if other.top == one.line and other.symbol.space == "word"}
    says = meanings(comment_about(file, one.line), [value.name for value in takes])[""]
    return KnownTechnique(_written(file, one), tuple(takes), says or "A technique of this script.",
                          tuple(sorted(words)))


def of_roles(names: Sequence[KnownName], *roles: Role) -> list[KnownName]:
    """Those names that are one of some things."""
    return [name for name in names if name.role in roles]
