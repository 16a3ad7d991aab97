"""What can stand at a place of a script, each with a sentence about it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Literal, NamedTuple

from lark.exceptions import LarkError

from sockscript.service.document import Document
from sockscript.service.fitting import FittingNames, names_that_fit
from sockscript.service.known import KnownName, known_names, of_roles
from sockscript.service.meanings import FUNCTION_HELP, WORDS
from sockscript.service.mentions import Role
from sockscript.service.reading import BLOCK_RULES
from sockscript.service.templates import NEEDLES, ROUNDINGS, TemplatePart, parts_of, text_of
from sockscript.text.layout import indentation, without_comment
from sockscript.text.parser import load_parser
from sockscript.text.quotes import INCH_MARK
from sockscript.tree.line_kinds import LINE_KINDS
from sockscript.tree.line_kinds.header import MACHINE, RANGES, SIZE_ROWS
from sockscript.tree.line_kinds.instructions import INSTRUCTIONS

CompletionKind = Literal["line", "word", "needles", "name", "technique", "function", "file"]


class Completion(NamedTuple):
    """Something that can stand at a place, in place of columns ``start`` up to ``end``.

    ``parts`` is what to write, with stops to fill in (a line after the first is indented from
    where the first begins); ``about`` tells what it is.
    """

    label: str
    kind: CompletionKind
    about: str
    parts: tuple[TemplatePart, ...]
    start: int
    end: int

    @property
    def text(self) -> str:
        """What is written before anything is filled in."""
        return text_of(self.parts)


class Standing(NamedTuple):
    """Where a line stands: the rule that reads it, and the lines above that it belongs to.

    ``top`` is the line at the left margin (0: the line is one itself), ``beside`` the first word
    of the line before it in the same block.
    """

    rule: str
    top: int
    beside: str


_FOR_STOPS: tuple[Role, ...] = ("yarn", "fabric", "size", "group")
_PARTIAL = re.compile(r"(?<![\w-])[\d_-]*+([^\W\d_][\w-]*+)$")
_UNITS = frozenset({"mm", "cm", "m", "in", "inch", "inches"})
_ENDS = (("carriage side", "The end where the carriage stands."),
         ("far side", "The end opposite the carriage."))
_PHRASES: dict[str, tuple[tuple[str, str], ...]] = {
    "carriage": (("carriage left", "The carriage stands at the left."),
                 ("carriage right", "The carriage stands at the right.")),
    "tube": (("tube of <36> stitches a bed", WORDS["tube"]),),
    "size": (("size is <size:Small>", "This is the size that is being knitted."),),
    "row": (("row counter <0>", "The row counter shows this number."),),
    "beds": (("beds equal", "Both beds have the same number of stitches."),),
    "comb": (("comb hung", "The comb hangs in the knitting."),),
    "weights": (("weights hung", "Weights hang in the knitting."),),
    "yarn": (("yarn threaded", "There is a yarn in the feeder."),),
    "half": (("half pitch", WORDS["half"]),), "full": (("full pitch", WORDS["full"]),)}
"""Conditions, and needs of a machine, that begin with a word, and what they say."""
_COUNTED = ("rows", "rounds", "stitches", "row", "round", "stitch")
"""What is counted; behind a number it is likelier than anything that reckons with it."""
_BEDS = ("front", "back", "both")
_OF_WHOLE_BEDS = frozenset({"transfer", "graft", "gather", "bind", "scrap"})
"""First words of lines that oftener name a whole bed than some needles of one."""
_PITCHES = frozenset({"half", "full"})
_GIVEN = {"length": "20 cm", "stitches": "72", "rows": "84", "bed": "front"}
"""What stands in the brackets of a function until something is filled in."""
_GOES_ON = "The line can go on with this word."


def completions(document: Document, line: int, column: int) -> tuple[Completion, ...]:
    """What can stand where the cursor is, what is likeliest first.

    ``column`` is where the next letter would be written, counted from 1.
    """
    raw = document.source.line(line)[:column - 1]
    standing = standing_of(document.source.lines, line, raw)
    inner = _open_words(raw)
    if inner is not None:
        if inner.startswith("use "):
            return tuple(_files(document, raw))
        if "{" not in inner:
            return ()
        begin = raw.rindex("{") + 1
        return tuple(_unique(_in_line(document, line, standing._replace(rule="expr"),
                                      raw[begin:], begin)))
    if without_comment(raw) != raw.rstrip():
        return ()
    return tuple(_unique(_in_line(document, line, standing, raw, 0)))


def standing_of(lines: list[str], number: int, raw: str) -> Standing:
    """Where a line stands, by its indentation and the lines above it."""
    indent = indentation(raw)
    rule, top, beside = "line", 0, ""
    words: list[str] = []
    for above in range(min(number - 1, len(lines)), 0, -1):
        text = without_comment(lines[above - 1])
        if not text.strip() or text.lstrip()[0] in '"“':
            continue
        deep = indentation(text)
        if deep == indent and not words and not beside:
            beside = text.split()[0].lower()
        if deep < indent:
            indent = deep
            words.append(text.split()[0].lower())
            top = above
            beside = beside or " "
        if not deep:
            break
    if words:
        rule = BLOCK_RULES.get(words[-1], "line")
        if rule == "machine_line" and words[0] == "words":
            rule = "word_line"
    return Standing(rule, top, beside.strip())


_INCHES = re.compile(INCH_MARK)


def _open_words(raw: str) -> str | None:
    """What stands before and in a quotation that is open at the end (None: none is)."""
    opened: int | None = None
    closing = ""
    for position, letter in enumerate(raw):
        if opened is None:
            if letter == "#":
                return None
            if letter in '"“' and not _INCHES.match(raw, position):
                opened, closing = position, '"' if letter == '"' else "”"
        elif letter == closing:
            opened = None
    if opened is None:
        return None
    words = raw[opened + 1:]
    first = raw[:opened].strip().lower()
    if first in ("use", "builds on"):
        return "use " + words
    braces = first in ("step", "note", "caution", "")
    return words[max(0, words.rfind("{")):] if braces and \
        words.rfind("{") > words.rfind("}") else ""


def _files(document: Document, raw: str) -> Iterator[Completion]:
    """Scripts beside this one."""
    folder = document.source.folder
    start = max(raw.rfind('"'), raw.rfind("“")) + 2
    if folder is not None:
        for path in sorted(folder.glob("*.sockscript")):
            if path.name != document.source.name.rpartition("/")[2]:
                yield Completion(path.name, "file", "A script in the same folder.", (path.name,),
                                 start, len(raw) + 1)


def _unique(found: Iterator[Completion]) -> Iterator[Completion]:
    seen: set[str] = set()
    for one in found:
        if one.label not in seen:
            seen.add(one.label)
            yield one


def _in_line(document: Document, line: int, standing: Standing, text: str,
             begin: int) -> Iterator[Completion]:
    """``text`` is the line up to the cursor (or what stands in a brace that opens at ``begin``)."""
    match = _PARTIAL.search(text)
    head = text[:match.start(1)] if match else text
    if head[-1:].isalnum():
        # Directly behind a number.
        return
    start, end = begin + len(head) + 1, begin + len(text) + 1
    names = known_names(document, standing.top or line, line)
    if not head.strip() and standing.rule != "expr":
        for one in _lines(document, standing, names):
            yield one._replace(start=start, end=end)
        if standing.rule != "range_row":
            return
    accepted = _accepted(head, standing.rule)
    for one in _further(document, head, standing, accepted, names):
        yield one._replace(start=start, end=end)


def _accepted(head: str, rule: str) -> frozenset[str]:
    """The terminals that the grammar takes after some text (none behind a slip)."""
    interactive = load_parser().parse_interactive(head, start=rule)
    try:
        interactive.exhaust_lexer()
    except LarkError:
        return frozenset()
    return frozenset(interactive.accepts())  # type: ignore[no-untyped-call]


# ---- the beginning of a line


def _lines(document: Document, standing: Standing,
           names: tuple[KnownName, ...]) -> Iterator[Completion]:
    known: dict[str, list[str]] = {role: [name.name for name in of_roles(names, role)]
             for role in _FOR_STOPS}
    match standing.rule:
        case "machine_line":
            kinds = MACHINE
        case "range_row":
            kinds = RANGES
        case "size_row":
            yield from _rows(document)
            return
        case "word_line":
            yield from _settings()
            return
        case _:
            kinds = INSTRUCTIONS if standing.top else LINE_KINDS
    for rule, kind in kinds.items():
        if rule == "otherwise" and standing.beside != "when":
            continue
        for template in kind.inside if standing.top else kind.at_margin:
            parts = parts_of(template, known)
            label = text_of(parts).partition("\n")[0].strip()
            yield Completion(label, "line", kind.meaning, parts, 0, 0)


def _rows(document: Document) -> Iterator[Completion]:
    """Rows of the table of sizes."""
    from sockscript.fit.foot_table import ROWS

    sizes = document.examined.script.sizes
    count = len(sizes.names) if sizes is not None else 1
    given = sizes.measures if sizes is not None else {}
    for name in (*ROWS, "leg-length", "cuff-length"):
        if name not in given:
            yield Completion(name, "line", "A measurement, with a value for every size.",
                             parts_of(f"{name}" + "  <20>" * count + " cm"), 0, 0)
    yield Completion("feet", "line", SIZE_ROWS["feet_row"].meaning,
                     parts_of("feet" + "  <woman-38>" * count), 0, 0)


def _settings() -> Iterator[Completion]:
    from sockscript.machine.load import SETTINGS

    for name in SETTINGS:
        yield Completion(name, "line", f"The machine's own word for the setting '{name}'.",
                         parts_of(f'{name} "<your word>"'), 0, 0)


# ---- further on in a line


def _further(document: Document, head: str, standing: Standing, accepted: frozenset[str],
             names: tuple[KnownName, ...]) -> Iterator[Completion]:
    """What can follow in a line, by what the grammar takes there."""
    def of_names(fitting: FittingNames) -> Iterator[Completion]:
        for one in fitting.names:
            yield Completion(one.label, "technique" if one.technique else "name", one.about,
                             one.parts, 0, 0)

    value = {"NAME", "LPAR"} <= accepted or not accepted
    fitting = names_that_fit(document, head, standing.rule, names, value)
    if "NAME" in accepted or not accepted:
        yield from of_names(fitting)
        if fitting.only:
            return
    if {"CENTRE", "NEEDLE"} <= accepted:
        if head.lstrip().partition(" ")[0].lower() in _OF_WHOLE_BEDS:
            yield from _words(set(_BEDS), accepted, names)
        for template, about in NEEDLES:
            parts = parts_of(template)
            yield Completion(text_of(parts), "needles", about, parts, 0, 0)
    if not head.strip() and standing.rule == "range_row":
        return
    words = {str(terminal.pattern.value).lower() for terminal in load_parser().terminals
             if terminal.name in accepted and str(terminal.pattern.value).isalpha()}
    rounding = {"up", "down", "to"} <= words
    if rounding:
        words -= {"up", "down"}
    # A value that gets a name is rounded oftener than one that is used.
    early = rounding and (standing.rule == "expr" or head.split()[0].lower() == "let")
    if early:
        yield from _roundings()
    if {"carriage", "far"} <= words:
        for phrase, about in _ENDS:
            yield Completion(phrase, "word", about, (phrase,), 0, 0)
        words -= {"carriage", "far"}
    if value and accepted:
        yield from _functions()
        words -= {"rows", "stitches"}
    yield from _words(words - _UNITS, accepted, names)
    if rounding and not early:
        yield from _roundings()
    # Units are as quickly written.
    yield from _words(words & _UNITS, accepted, names)


def _roundings() -> Iterator[Completion]:
    for template, about in ROUNDINGS:
        parts = parts_of(template)
        yield Completion(text_of(parts), "word", about, parts, 0, 0)


def _functions() -> Iterator[Completion]:
    for name, told in FUNCTION_HELP.items():
        inside = ", ".join(f"<{_GIVEN.get(one, one)}>" for one in told.takes)
        parts = parts_of(f"{name}({inside})")
        yield Completion(told.words, "function", told.meaning, parts, 0, 0)


def _words(words: set[str], accepted: frozenset[str],
           names: tuple[KnownName, ...]) -> Iterator[Completion]:
    condition = "TUBE" in accepted and "BEDS" in accepted
    needed = "TUCK" in accepted and "RACKING" in accepted
    sizes = {"size": [name.name for name in of_roles(names, "size")]}
    counted = [word for word in _COUNTED if word in words]
    for word in (*counted, *sorted(words.difference(counted))):
        if word in _PHRASES and (condition or (needed and word in _PITCHES)):
            for phrase, about in _PHRASES[word]:
                parts = parts_of(phrase, sizes)
                yield Completion(text_of(parts), "word", about, parts, 0, 0)
        else:
            yield Completion(word, "word", WORDS.get(word, _GOES_ON), (word,), 0, 0)
