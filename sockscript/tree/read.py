"""Text to tree: parse every line by itself and put the lines together into a script.

A line that cannot be understood becomes a problem and is left out; all other lines are still
read, so that one run tells of all the slips.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import Any

from attrs import evolve

from sockscript.numbers.quantity import length
from sockscript.text.layout import Line, lay_out
from sockscript.text.mend import Indent
from sockscript.text.source import Problem, Source, Span
from sockscript.tree import header, header_blocks
from sockscript.tree import instructions as ins
from sockscript.tree import statements as st
from sockscript.tree.build_expressions import Parse, string_value
from sockscript.tree.build_statements import BLOCK_OPENERS
from sockscript.tree.line_reader import MOST_PROBLEMS, LineReader
from sockscript.tree.read_before import ReadBefore, section_place
from sockscript.tree.script import Exchange, Script, Sizes

_HEADER = frozenset({"pattern", "author", "version", "licence", "machine", "yarn", "gauge",
                     "swatch", "sizes", "option", "works_for", "use", "exchange", "builds_on"})
_TOP_ONLY = _HEADER | {"section", "technique"}
_AT_TOP = _TOP_ONLY | {"let", "note", "caution", "allow"}
_BLOCKS: dict[str, Callable[[LineReader, Line, dict[str, Any]], None]] = {
    "machine": header_blocks.machine, "sizes": header_blocks.sizes,
    "works": header_blocks.works_for, "works_for": header_blocks.works_for}
"""By the first word of their line, or by its parse (the words may stand close together)."""


class _Reader(LineReader):
    def __init__(self, source: Source, before: ReadBefore | None) -> None:
        super().__init__(source, before)
        self.fields: dict[str, Any] = {}
        self.lists: dict[str, list[Any]] = {
            "yarns": [], "gauges": [], "swatches": [], "options": [], "lets": [], "remarks": [],
            "allows": [], "uses": [], "exchanges": [], "sections": []}
        self.techniques: dict[str, st.Technique] = {}
        self.titles: dict[str, int] = {}
        self.named: set[tuple[str, str]] = set()

    # ---- blocks

    def block(self, lines: list[Line]) -> st.Block:
        """The statements of an indented block."""
        statements: list[st.Statement] = []
        for line in lines:
            parse = self.parse(line, "line")
            if parse is None:
                # What stands under a line that is not understood is still looked at.
                self.block(line.children)
                continue
            if parse.data in _TOP_ONLY:
                self.problem(line, "misplaced-line",
                             f"'{line.text.split()[0]}' belongs at the top of the script, not "
                             "inside a block.", "Move it out to the left margin.",
                             Indent(line.number, 0) if line is lines[-1] else None)
                self.block(line.children)
            elif parse.data == "otherwise":
                self.otherwise(line, statements)
            elif parse.data == "more_words":
                self.problem(line, "misplaced-line",
                             "These words stand by themselves.",
                             'Put step, note or caution before them, or place them directly under '
                             "such a line.")
            else:
                built = self.statement(line, parse)
                if built is not None:
                    statements.append(built)
        return tuple(statements)

    def statement(self, line: Line, parse: Parse) -> st.Statement | None:
        """One statement with its block."""
        builder = self.builder(line)
        children = line.children
        if parse.data in ("step", "note", "caution"):
            extra, children = self.more_words(children)
            body = self.block(children) if parse.data == "step" else ()
            if parse.data != "step" and children:
                self.nothing_under(line, children)
            words = self.guarded(lambda: builder.statement(parse, body))
            told: st.Statement | None = self.joined(words, extra)
            return told
        body = self.block(children)
        if children and parse.data not in BLOCK_OPENERS:
            self.nothing_under(line, children)
        if parse.data in ("repeat_times", "repeat_until", "when") and not children:
            self.empty_block(line)
            return None
        built: st.Statement | None = self.guarded(lambda: builder.statement(parse, body))
        if isinstance(built, st.Let):
            self.fresh_name(built.name, built.at)
        if isinstance(built, (ins.ScrapOffAs, ins.MarkAs, ins.KnitInWaste)):
            self.name_of_stitches(built.name, built.at)
        return built

    def more_words(self, children: list[Line]) -> tuple[list[st.Words], list[Line]]:
        """Lines of words that go on from the line above them, and the other lines."""
        words: list[st.Words] = []
        for position, line in enumerate(children):
            if not line.text.lstrip().startswith(('"', "“")):
                return words, children[position:]
            parse = self.parse(line, "line")
            if parse is not None:
                token = parse.children[0]
                more = self.guarded(partial(self.builder(line).words, token))
                if more is not None:
                    words.append(more)
        return words, []

    def joined(self, built: Any, extra: list[st.Words]) -> Any:
        if built is None or not extra:
            return built
        parts = list(built.words.parts)
        for words in extra:
            parts.append(" ")
            parts.extend(words.parts)
        words = st.Words(built.words.at, tuple(parts))
        if isinstance(built, st.Step):
            return st.Step(built.at, words, built.body)
        return st.Remark(built.at, built.kind, words)

    def otherwise(self, line: Line, statements: list[st.Statement]) -> None:
        body = self.block(line.children)
        before = statements[-1] if statements else None
        if isinstance(before, st.When) and not line.children:
            self.empty_block(line)
        elif isinstance(before, st.When) and not before.otherwise:
            statements[-1] = st.When(before.at, before.condition, before.body, body)
        else:
            self.problem(line, "misplaced-line", "There is no 'when' just before this 'otherwise'.",
                         "An 'otherwise' follows a 'when', in the same column.")

    def empty_block(self, line: Line) -> None:
        self.problem(line, "empty-block", "Nothing is indented under this line.",
                     "Indent the lines that it governs by four spaces.")

    # ---- header

    def top(self, line: Line) -> None:
        """One line at the left margin."""
        parse = self.parse(line, "line")
        if parse is None:
            if line.text.split()[0].lower() in _BLOCKS:
                # What its lines name is no slip of those that use it.
                self.spoiled.update(row.text.split()[0].lower() for row in line.children)
            else:
                self.block(line.children)
            return
        data = parse.data
        block = _BLOCKS.get(data)
        if block is not None:
            block(self, line, self.fields)
            return
        if data == "section":
            self.section(line, parse)
            return
        if data not in _AT_TOP:
            self.problem(line, "misplaced-line",
                         "This instruction stands outside every section.",
                         'Put it under a line such as  section "Cuff"  and indent it.')
            self.block(line.children)
            return
        if data in _HEADER and line.children:
            self.nothing_under(line, line.children)
        self.header_line(line, parse)

    def header_line(self, line: Line, parse: Parse) -> None:
        """A line of the header that is no block."""
        data = parse.data
        if data in ("pattern", "author", "version", "licence"):
            field = "title" if data == "pattern" else data
            token = parse.children[0]
            text = string_value(token) if token.type == "STRING" else str(token)
            if field in self.fields:
                self.problem(line, "named-twice", f"There is a second '{data}' line.",
                             "Keep one of them.")
            self.fields[field] = text
        elif data == "use":
            span = self.builder(line).at(parse)
            self.lists["uses"].append((string_value(parse.children[0]), span))
        elif data == "builds_on":
            if data in self.fields:
                self.problem(line, "named-twice", "There is a second 'builds on' line.",
                             "A script builds on one other; that may build on a third.")
            self.fields[data] = (string_value(parse.children[0]), self.builder(line).at(parse))
        elif data == "exchange":
            self.add_exchange(line, header.build_exchange(self.builder(line), parse))
        elif data in ("yarn", "gauge", "option"):
            build = {"yarn": header.build_yarn, "gauge": header.build_gauge,
                     "option": header.build_option}[data]
            built = self.guarded(lambda: build(self.builder(line), parse))
            if built is not None:
                self.add_named(line, data, built)
        elif data == "swatch":
            weighed = self.guarded(partial(header.build_swatch, self.builder(line), parse))
            if weighed is not None:
                self.lists["swatches"].append(weighed)
        elif data == "technique":
            self.technique(line, parse)
        else:
            built = self.statement(line, parse)
            if built is not None:
                name = {"let": "lets", "allow": "allows"}.get(data, "remarks")
                self.lists[name].append(built)

    def section(self, line: Line, parse: Parse) -> None:
        """A section; one that stood here before is not built again."""
        place = section_place(line)
        built = self.before.sections.get(place)
        if built is None:
            slips = len(self.problems)
            told = self.statement(line, parse)
            if not isinstance(told, st.Section):
                return
            built = told
            if len(self.problems) == slips:
                self.before.sections[place] = built
        self.lists["sections"].append(self._told_apart(built))

    def _told_apart(self, section: st.Section) -> st.Section:
        """A section of the same title as an earlier one gets a number: tables go by titles."""
        title = section.title
        while title in self.titles:
            self.titles[section.title] += 1
            title = f"{section.title} ({self.titles[section.title]})"
        self.titles[title] = 1
        if title == section.title:
            return section
        return st.Section(section.at, title, section.fabric, section.body)

    def add_named(self, line: Line, data: str, built: Any) -> None:
        name = built.fabric if data == "gauge" else built.name
        if (data, name) in self.named:
            self.problem(line, "named-twice", f"There is a {data} called '{name}' already.",
                         "Give one of the two another name.")
            return
        if data == "option":
            self.fresh_name(name, built.at)
        self.named.add((data, name))
        self.lists[data + "s"].append(built)

    def add_exchange(self, line: Line, built: Exchange) -> None:
        if any(one.name == built.name for one in self.lists["exchanges"]):
            self.problem(line, "named-twice", f"'{built.name}' is exchanged already.",
                         "Keep one of the two lines.")
            return
        self.lists["exchanges"].append(built)

    def technique(self, line: Line, parse: Parse) -> None:
        built = self.statement(line, parse)
        if not isinstance(built, st.Technique):
            return
        for parameter in built.parameters:
            if parameter.name != "side":
                self.fresh_name(parameter.name, parameter.at)
        if built.name in self.techniques:
            self.problem(line, "named-twice", f"There is a technique '{built.name}' already.",
                         "Give one of the two another name.")
            return
        self.techniques[built.name] = built


def read_script(source: Source, before: ReadBefore | None = None) -> Script:
    """Read a script as far as it goes; what could not be read is in its ``problems``.

    ``before`` keeps what was read for the next version of the script.
    """
    lines, problems = lay_out(source)
    reader = _Reader(source, before)
    reader.before.top = lines
    reader.problems.extend(problems)
    for line in lines:
        reader.top(line)
        if len(reader.problems) > MOST_PROBLEMS:
            break
    reader.problems.extend(_values_twice(reader.fields.get("sizes"), reader.lists))
    found = sorted(reader.problems, key=lambda p: (p.at.line, p.at.start))
    fields: dict[str, Any] = {
        **reader.fields, **{name: tuple(items) for name, items in reader.lists.items()}}
    script = Script(source=source, techniques=reader.techniques, problems=tuple(found),
                    spoiled=frozenset(reader.spoiled), **fields)
    return _feet_in_inches(script) if script.inches else script


def _values_twice(sizes: Sizes | None, lists: dict[str, list[Any]]) -> Iterator[Problem]:
    """Names that get a value at the head of a script although they have one: rows of the table,
    options and ``let`` lines."""
    given = [*(sizes.places.items() if sizes is not None else ()),
             *((one.name, one.at) for name in ("options", "lets") for one in lists[name])]
    first: dict[str, Span] = {}
    for name, at in sorted(given, key=lambda one: one[1].line):
        before = first.setdefault(name, at)
        if before is not at:
            yield Problem("named-twice", at, f"'{name}' has a value already, in line "
                          f"{before.line}.", "Keep one of the two lines, or give one of them "
                          "another name.")


def read_technique(source: Source, name: str, before: ReadBefore) -> st.Technique | None:
    """One technique of a file without slips; the others in it are not read."""
    reader = _Reader(source, before)
    for line in lay_out(source)[0]:
        if line.text.split()[:2] == ["technique", name]:
            reader.top(line)
    return reader.techniques.get(name)


def _feet_in_inches(script: Script) -> Script:
    """The script with its feet from the built-in table in inches, like all else in it."""
    sizes = script.sizes
    if sizes is None or not sizes.from_feet:
        return script
    measures = {name: tuple(length(value.value, inches=True) for value in values)
                if name in sizes.from_feet else values
                for name, values in sizes.measures.items()}
    return evolve(script, sizes=evolve(sizes, measures=measures))
