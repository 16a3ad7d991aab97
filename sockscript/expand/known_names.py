"""Before anything is knitted: is every name known, and does every call fit its technique?"""

from __future__ import annotations

from collections.abc import Set
from typing import Any

from sockscript.expand.call_fits import exchange_misfit
from sockscript.expand.known_elsewhere import known_elsewhere
from sockscript.expand.techniques import Library
from sockscript.expand.values import FUNCTIONS
from sockscript.expand.words_taken import HandedOn, choices, fields
from sockscript.text.problem_names import ProblemName
from sockscript.text.source import Problem, Span
from sockscript.tree import expressions as ex
from sockscript.tree import instructions as ins
from sockscript.tree import statements as st
from sockscript.tree.line_reader import MOST_PROBLEMS
from sockscript.tree.script import Script, Weighed, WorksFor
from sockscript.tree.slips import nearest

_FIGURES = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
            "nine": 9, "ten": 10, "eleven": 11, "twelve": 12}
_BEDS = ("front", "back", "both")
_ROUNDINGS = ("round", "rounded", "floor", "ceil", "ceiling", "int", "trunc")
_ROUNDING = "How to round comes after the value: … to nearest,  … up to whole  or  … down to whole."
_LOOSELY = "Write front, back or both; that it is done loosely stands in the printed step."
_NEXT = "Write carriage side, far side, left or right: the next held one is  carriage side 1 held."
_COUNTED = ("needle", "needles", "stitch", "stitches")
_ENDS = ("left", "right", "carriage side", "far side")


NamedBefore = dict[int, tuple[st.Section, Library, object]]
"""Sections (by ``id``) whose names were all in order, and all that was known then."""


def check_names(script: Script, library: Library, before: NamedBefore | None = None
                ) -> list[Problem]:
    """All names of a script that nothing is called by, where each is used.

    ``before`` keeps which sections are in order: the same section is not looked at again while
    the same names are known.
    """
    checker = _Checker(script, library)
    before = before if before is not None else {}
    for let in script.lets:
        checker.node(let.value, set())
    for swatch in script.swatches:
        checker.swatch(swatch)
    if script.works_for is not None:
        checker.ranges(script.works_for)
    for remark in script.remarks:
        checker.block((remark,), set())
    for technique in script.techniques.values():
        checker.block(technique.body, {p.name for p in technique.parameters}, technique)
    for section in script.sections:
        if section.fabric is not None:
            checker.fabric(section.fabric, section.at)
        if before.get(id(section), (None, None, None))[1:] == (library, checker.known):
            continue
        slips = len(checker.problems)
        checker.block(section.body, set())
        if len(checker.problems) == slips:
            before[id(section)] = (section, library, checker.known)
    return checker.problems


class _Checker:
    def __init__(self, script: Script, library: Library) -> None:
        self.script = script
        self.library = library
        self.problems: list[Problem] = []
        self.globals = {let.name for let in script.lets} | {o.name for o in script.options}
        if script.sizes is not None:
            self.globals |= set(script.sizes.measures)
        self.words = {value for option in script.options for value in option.values
                      if isinstance(value, str)}
        self.yarns = {yarn.name for yarn in script.yarns}
        self.words_and_yarns = self.words | self.yarns
        self.fabrics = {gauge.fabric for gauge in script.gauges}
        self.sizes = set(script.sizes.names) if script.sizes is not None else set()
        self.handed_on = HandedOn(self.library)
        self.called: dict[str, tuple[set[str], set[str]]] = {}
        """By technique: words that its values may be, names that it gives to stitches."""
        self.known = tuple(map(frozenset, (self.globals, self.words, self.yarns, self.fabrics,
                                           self.sizes, script.spoiled)))

    @property
    def full(self) -> bool:
        """Whether so much is unknown already that one more name tells nobody anything."""
        return len(self.problems) > MOST_PROBLEMS

    def unknown(self, kind: ProblemName, at: Span, what: str, name: str, known: set[str],
                otherwise: str = "") -> None:
        """Nothing is called so; ``at`` is the place of the name, or of what it stands in."""
        if self.full or name.lower() in self.script.spoiled:
            return
        if name.lower() in _FIGURES:
            otherwise = f"Write the number in figures: {_FIGURES[name.lower()]}."
        elif kind == "unknown-name" and name in FUNCTIONS:
            otherwise = f"Write in brackets of what: {name}({_OF_WHAT.get(name, '…')})."
        meant = nearest(name, known)
        hint = f"Did you mean '{meant}'?" if meant else otherwise
        wrong = at.word(name) if meant else None
        self.problems.append(Problem(kind, at, f"{what} '{name}'.", hint,
                                     wrong.replaced_by(meant) if wrong and meant else None))

    def yarn_hint(self, cut: bool) -> str:
        """What to write for a yarn that nobody knows; ``cut``: it may be the one in the feeder."""
        if cut:
            return _CUT_ALONE
        known = ", ".join(sorted(self.yarns))
        return f"This pattern has {known}: write its name, or add a 'yarn' line to the header." \
            if known else "Add a 'yarn' line to the header."

    def fabric(self, name: str, at: Span) -> None:
        """The name of a fabric that the script gives a gauge for."""
        if name not in self.fabrics:
            known = ", ".join(sorted(self.fabrics))
            self.unknown("unknown-fabric", at, "There is no gauge for", name, self.fabrics,
                         f"There is one for {known}: write that, or add a 'gauge' line to the "
                         "header." if known else "Add a 'gauge' line to the header.")

    def swatch(self, swatch: Weighed) -> None:
        """A weighed swatch is of a fabric and a yarn that the script knows."""
        self.fabric(swatch.fabric, swatch.at)
        yarn = next((y for y in self.script.yarns if y.name == swatch.yarn), None)
        if yarn is None:
            self.unknown("unknown-yarn", swatch.at, "There is no yarn called", swatch.yarn,
                         self.yarns)
        elif yarn.metres_per_gram is None:
            self.problems.append(Problem(
                "weight-without-length", swatch.at,
                f"The swatch was weighed, but nothing says how long a gram of '{yarn.name}' is.",
                "Write its length on the yarn line, as on the band: 400 m per 100 g."))

    def ranges(self, works_for: WorksFor) -> None:
        """Look at the names in a block ``works for``."""
        options = {option.name for option in self.script.options}
        for one in works_for.ranges:
            if one.what != "value":
                self.fabric(one.name, one.at)
            elif one.name in options:
                self.problems.append(Problem(
                    "unknown-name", one.at, f"'{one.name}' is an option.",
                    "Leave it out: every choice is tried anyway."))
            elif one.name not in self.globals:
                self.unknown("unknown-name", one.at, "Nothing is called", one.name, self.globals,
                             "A range stands for a row in the table of sizes or for a 'let'.")
        for condition in works_for.where:
            self.node(condition, set())

    def block(self, body: st.Block, local: set[str], technique: st.Technique | None = None) -> None:
        for line in body:
            self.statement(line, local)
            if isinstance(line, st.Contract) and technique is None:
                self.problems.append(Problem(
                    "misplaced-line", line.at, f"'{line.which}' says what a technique "
                    f"{line.which}; this line stands in none.",
                    "Put it right under the line 'technique …', not deeper; elsewhere write "
                    "expect."))
            if isinstance(line, st.Let):
                local.add(line.name)

    def statement(self, line: st.Statement, local: set[str]) -> None:
        if isinstance(line, st.Do):
            self.call(line, local)
            return
        if isinstance(line, (ins.ThreadYarn, ins.AddYarn, ins.ChangeYarn, ins.CutYarn,
                             ins.KnitInWaste)):
            along = line.along if isinstance(line, ins.ThreadYarn) else None
            for yarn in (line.yarn, along):
                if yarn is not None and yarn not in self.yarns and yarn not in local:
                    self.unknown("unknown-yarn", line.at, "There is no yarn called", yarn,
                                 self.yarns, self.yarn_hint(isinstance(line, ins.CutYarn)
                                                            and yarn == "yarn"))
        for value in fields(line):
            if isinstance(value, tuple) and value and type(value[0]) in _STATEMENTS:
                self.block(value, local)
            elif isinstance(line, ins.GraftTo) and isinstance(value, ex.Needles) \
                    and not value.pieces:
                continue  # the name of a group, or a bed: known only when it is performed
            else:
                self.node(value, local)

    def node(self, value: Any, local: set[str]) -> None:
        """Look at an expression, condition or set of needles, all the way down."""
        if isinstance(value, tuple):
            for part in value:
                self.node(part, local)
        elif isinstance(value, ex.Name):
            self.name(value, local)
        elif isinstance(value, ex.Call):
            self.function(value, local)
        elif isinstance(value, ex.Compare):
            self.node(value.left, local)
            if not isinstance(value.right, ex.Name):
                self.node(value.right, local)
            elif not self.is_word(value, local):
                self.name(value.right, local, self.words_and_yarns)
        elif isinstance(value, ex.SizeIs):
            known = {name.lower() for name in self.sizes}
            for name in value.names:
                if name.lower() not in known:
                    self.unknown("unknown-size", value.at, "There is no size called", name,
                                 self.sizes, "The sizes are "
                                 + ", ".join(self.script.sizes.names) + "."
                                 if self.script.sizes is not None
                                 else "This script has no table of sizes.")
        elif isinstance(value, ex.BedName):
            self.word(value, _BEDS, "a bed", local)
        elif isinstance(value, ex.End):
            self.word(value, _ENDS, "an end of the bed", local)
        elif hasattr(type(value), "__attrs_attrs__"):
            for part in fields(value):
                self.node(part, local)

    def name(self, value: ex.Name, local: set[str], words: Set[str] = frozenset(),
             hint: str = "") -> None:
        """Look at a name that stands for a value, or for one of some ``words``."""
        if self.full or value.name in local or value.name in self.globals or value.name in words:
            return
        elsewhere = known_elsewhere(self.script, value.name, value.at)
        if elsewhere is not None:
            self.problems.append(Problem("unknown-name", value.at, *elsewhere))
        elif value.name in _COUNTED:
            self.problems.append(Problem(
                "unknown-name", value.at, f"How many is not said before '{value.name}'.",
                "Write a number, for example 1, in its place."))
        else:
            self.unknown("unknown-name", value.at, "Nothing is called", value.name,
                         self.globals | local | words,
                         hint or f"Give it a value with  let {value.name} = …  or a row in the "
                         "table of sizes.")

    def is_word(self, value: ex.Compare, local: set[str]) -> bool:
        """Whether the right side of a comparison is a word and not the name of a value."""
        assert isinstance(value.right, ex.Name)
        told = isinstance(value.left, ex.Name) and (
            value.left.name in local or value.left.name in self.script.spoiled)
        return told or value.right.name in self.words_and_yarns

    def word(self, value: ex.BedName | ex.End, known: tuple[str, ...], what: str,
             local: set[str]) -> None:
        if not (value.word in known or value.word in local or value.word in self.globals
                or value.word in self.script.spoiled):
            meant = nearest(value.word, known)
            wrong = value.at.word(value.word) if meant else None
            self.problems.append(Problem(
                "not-a-bed" if isinstance(value, ex.BedName) else "not-an-end", value.at,
                f"'{value.word}' is not {what}.",
                _LOOSELY if value.word.lower() == "loosely" else
                _NEXT if value.word.lower() in ("next", "nearest", "last") else
                f"Did you mean '{meant}'?" if meant else f"Write {', '.join(known[:-1])} or "
                f"{known[-1]}.", wrong.replaced_by(meant) if wrong and meant else None))

    def function(self, call: ex.Call, local: set[str]) -> None:
        if call.function not in FUNCTIONS:
            self.unknown("unknown-function", call.at, "There is no function", call.function,
                         set(FUNCTIONS), _ROUNDING if call.function in _ROUNDINGS else
                         "There are " + ", ".join(sorted(FUNCTIONS)) + ".")
            return
        measured = call.function in ("stitches", "rows", "width", "height")
        self.node(call.arguments[:1] if measured else call.arguments, local)
        if measured and len(call.arguments) > 1 and isinstance(call.arguments[1], ex.Name):
            self.fabric(call.arguments[1].name, call.arguments[1].at)

    def call(self, line: st.Do, local: set[str]) -> None:
        technique = self.library.get(line.name)
        if line.name not in self.called:
            taken = self.handed_on.words_taken(technique)
            self.called[line.name] = (self.yarns | taken.words, taken.groups)
        words, groups = self.called[line.name]
        for name, value, _ in line.arguments:
            # A bare word may be a yarn, a word that the technique compares with, or a name that
            # it gives to stitches.
            if not isinstance(value, ex.Name):
                self.node(value, local)
            elif name not in groups:
                either = sorted(choices(technique, name) - {"none"})
                self.name(value, local, words, f"'{line.name}' asks whether '{name}' is "
                          f"{' or '.join(either)}." if either else "")
        if line.bed is not None:
            self.node(line.bed, local)
        if technique is None:
            if line.name not in self.script.spoiled and not self.full:
                self.problems.append(self.library.unknown(line.name, line.name_at))
            return
        misfit = exchange_misfit(line, self.library)
        if misfit is not None:
            self.problems.append(misfit)
            return
        known = {parameter.name for parameter in technique.parameters}
        given = {name for name, _, _ in line.arguments}
        for name, _, at in line.arguments:
            if name not in known:
                self.unknown("unknown-value", at._replace(end=at.start + len(name)),
                             f"'{line.name}' takes no value called", name, known - given,
                             "It takes " + (", ".join(sorted(known)) or "none") + ".")
        # A misspelt value is told once: what it was meant for is not missing too.
        given |= {nearest(name, known - given) or name for name in given - known}
        if line.bed is not None and "bed" not in known:
            self.problems.append(Problem("unknown-value", line.bed.at,
                                         f"'{line.name}' is not told a bed.",
                                         "Leave out 'on …'."))
        for parameter in technique.parameters:
            if parameter.default is None and parameter.name not in given \
                    and not (parameter.name == "bed" and line.bed is not None):
                self.problems.append(Problem(
                    "missing-value", line.at,
                    f"'{line.name}' needs a value for '{parameter.name}'.",
                    f"Write  do {line.name} on front  or  on back."
                    if parameter.name == "bed" else
                    f"Add  {', ' if given else 'with '}{parameter.name} = "
                    f"{self._value_for(parameter.name)}"))

    def _value_for(self, parameter: str) -> str:
        """A value to write for a parameter, where its name tells which."""
        yarns = [yarn.name for yarn in self.script.yarns if yarn.role == "main"]
        return yarns[0] if parameter == "yarn" and yarns else "…"


_OF_WHAT = {"count-on": "front", "count-working": "front", "count-held": "front",
            "count-before": "front", "width": "72", "height": "84"}
"""What may stand in the brackets of a function."""
_CUT_ALONE = "'cut' alone cuts the yarn in the feeder; or write the name of a yarn after it."


_STATEMENTS = frozenset(st.Statement.__args__)  # type: ignore[attr-defined]
