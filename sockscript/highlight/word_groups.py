"""The words of the language in groups, as they stand in the grammar: for editors."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, NamedTuple

from sockscript.expand.values import FUNCTIONS
from sockscript.text.parser import load_parser
from sockscript.tree.build_statements import BLOCK_OPENERS

_STARTS = ("line", "machine_line", "size_row", "range_row")
"""The kinds of lines that begin with words of the language."""

OPENERS = BLOCK_OPENERS | {"works_for"}


class WordGroups(NamedTuple):
    """Words in lower case, each group in alphabetical order."""

    first: tuple[str, ...]
    """Those a line begins with."""
    later: tuple[str, ...]
    """Those that stand within a line: units, beds and single letters are not among them."""
    units: tuple[str, ...]
    """Units of length, weight and yarn; they follow a number."""
    beds: tuple[str, ...]
    ends: tuple[str, ...]
    functions: tuple[str, ...]
    opening: tuple[str, ...]
    """First words of lines that have others indented under them."""


class _Grammar:
    """The rules of the parser, asked for the words that they lead to."""

    def __init__(self) -> None:
        parser = load_parser()
        self.words = {terminal.name: str(terminal.pattern.value).lower()
                      for terminal in parser.terminals
                      if str(terminal.pattern.value).isalpha()}
        self.rules: dict[str, list[list[Any]]] = {}
        self.openings: dict[str, set[str]] = {}
        for rule in parser.rules:
            if rule.alias and rule.expansion:
                self.openings.setdefault(rule.alias, set()).add(str(rule.expansion[0].name))
            self.rules.setdefault(str(rule.origin.name), []).append(
                list(rule.expansion))

    def first_of(self, aliases: frozenset[str]) -> set[str]:
        """The words that lines parsed as one of ``aliases`` begin with."""
        return {self.words[name] for alias in aliases for name in self.openings[alias]}

    def reach(self, *names: str, without: str = "") -> set[str]:
        """All words anywhere in what the rules ``names`` lead to, one rule left out."""
        return self._words(self._symbols(names, lambda expansion: expansion, {without}))

    def first_and_later(self, *starts: str) -> tuple[set[str], set[str]]:
        """The words that lines begin with, and those that may stand further on."""
        begin = self._symbols(starts, lambda expansion: expansion[:1], set())
        behind = {str(symbol.name) for name in begin for expansion in self.rules.get(name, ())
                  for symbol in expansion[1:]}
        # A unit belongs to its number; the word "in" stands elsewhere too.
        return self._words(begin), self.reach(*behind, without="length_unit")

    def _words(self, symbols: set[str]) -> set[str]:
        return {self.words[name] for name in symbols if name in self.words}

    def _symbols(self, names: Iterable[str], followed: Callable[[list[Any]], list[Any]],
                 left_out: set[str]) -> set[str]:
        """Some symbols of the grammar and all that can be reached from them, by way of those that
        are ``followed`` of what a rule consists of."""
        found: set[str] = set()
        waiting = set(names) - left_out
        while waiting:
            name = waiting.pop()
            found.add(name)
            waiting |= {str(symbol.name) for expansion in self.rules.get(name, ())
                        for symbol in followed(expansion)} - found - left_out
        return found


def word_groups() -> WordGroups:
    """Every word of the grammar in its group."""
    grammar = _Grammar()
    first, later = grammar.first_and_later(*_STARTS)
    # The rules 'bed' and 'end' also have words that are in no way special to them.
    beds = grammar.reach("bed") - {"other"}
    ends = grammar.reach("end") - {"side", "carriage", "far"}
    # Nm and Ne stand before their numbers, like other words.
    yarn_units = grammar.reach("run_length") - grammar.reach("count_system") - {"per"}
    units = grammar.reach("length_unit") | yarn_units
    later = {word for word in later - beds - ends - yarn_units if len(word) > 1}
    return WordGroups(*(tuple(sorted(group)) for group in (
        first, later, units, beds, ends, set(FUNCTIONS), grammar.first_of(OPENERS))))
