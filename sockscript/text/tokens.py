"""The words and signs of a line, as its parser may take them at each place.

lark's own contextual lexer puts all words that may stand at a place into one pattern; the check of
one sock compiles ninety of them, which takes longer than to read the whole script.  Here a word is
found by one pattern for all places and then looked up.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from functools import cached_property
from typing import Any

from lark import Token
from lark.common import LexerConf
from lark.exceptions import UnexpectedCharacters, UnexpectedToken
from lark.lexer import Lexer, LexerState, PatternStr, TerminalDef

_WORD = re.compile(r"[^\W\d_][^\W_]*(?:-[^\W_]+)*")
"""As the terminal NAME of the grammar: a keyword is never the beginning of a longer word."""


class LineLexer(Lexer):
    """Reads the next token among those that the parser accepts where it stands.

    Signs, numbers and the like come first by the priorities of the grammar; then a word is the
    keyword that is accepted, or else a name.
    """

    __future_interface__ = 2

    def __init__(self, conf: LexerConf) -> None:
        self.terminals: dict[str, TerminalDef] = conf.terminals_by_name
        self.ignored = frozenset(conf.ignore)
        self.flags = conf.g_regex_flags
        self.keywords: dict[str, str] = {
            word(terminal): terminal.name for terminal in conf.terminals if word(terminal)}
        self.patterns: dict[frozenset[str], re.Pattern[str]] = {}
        self.signs: dict[int, re.Pattern[str]] = {}
        """The pattern for signs, numbers and the like at each place of the parser."""

    @cached_property
    def everything(self) -> frozenset[str]:
        """The names of all terminals."""
        return frozenset(self.terminals)

    def lex(self, lexer_state: LexerState, parser_state: Any) -> Iterator[Token]:
        """The tokens of a line.  Raises UnexpectedToken for one that does not fit where it stands,
        UnexpectedCharacters for what is none at all."""
        states = parser_state.parse_conf.parse_table.states
        place = lexer_state.line_ctr
        text, end = lexer_state.text.text, lexer_state.text.end
        while place.char_pos < end:
            accepted = states[parser_state.position]
            signs = self.signs.get(parser_state.position)
            if signs is None:
                signs = self.signs[parser_state.position] = self._pattern(accepted)
            kind, found = self._next(text, place.char_pos, accepted, signs)
            if not found:
                raise self._unexpected(lexer_state, parser_state, accepted)
            if kind in self.ignored:
                place.feed(found, False)
                continue
            yield self._token(kind, found, lexer_state)

    def _token(self, kind: str, found: str, state: LexerState) -> Token:
        place = state.line_ctr
        token = Token(kind, found, place.char_pos, place.line, place.column)
        place.feed(found, False)
        token.end_line, token.end_column = place.line, place.column
        token.end_pos = place.char_pos
        state.last_token = token
        return token

    def _next(self, text: str, at: int, accepted: Collection[str],
              signs: re.Pattern[str]) -> tuple[str, str]:
        """The kind and the text of what stands at a place; empty if nothing that is accepted."""
        match = signs.match(text, at)
        if match is not None and match.lastgroup is not None:
            return match.lastgroup, match.group()
        match = _WORD.match(text, at)
        if match is None:
            return "", ""
        kind = self.keywords.get(match.group().lower(), "")
        if kind in accepted:
            return kind, match.group()
        return ("NAME", match.group()) if "NAME" in accepted else ("", "")

    def _pattern(self, accepted: Collection[str]) -> re.Pattern[str]:
        """A pattern for all that is accepted and is no word."""
        wanted = frozenset(accepted).intersection(self.terminals).union(self.ignored)
        wanted = wanted.difference(self.keywords.values(), ("NAME",))
        found = self.patterns.get(wanted)
        if found is None:
            terminals = sorted((self.terminals[name] for name in wanted), key=_first)
            found = self.patterns[wanted] = re.compile("|".join(
                f"(?P<{one.name}>{one.pattern.to_regexp()})" for one in terminals), self.flags)
        return found

    def _unexpected(self, state: LexerState, parser_state: Any,
                    accepted: Collection[str]) -> Exception:
        fits = self.everything.intersection(accepted) - self.ignored
        if "NAME" in fits:
            fits -= set(self.keywords.values())
        place, last = state.line_ctr, state.last_token
        kind, found = self._next(state.text.text, place.char_pos, self.everything,
                                 self._pattern(self.everything))
        if found:
            return UnexpectedToken(  # type: ignore[no-untyped-call]
                Token(kind, found, place.char_pos, place.line, place.column), set(fits),
                state=parser_state, token_history=[last] if last is not None else None,
                terminals_by_name=self.terminals)
        return UnexpectedCharacters(  # type: ignore[no-untyped-call]
            state.text.text, place.char_pos, place.line, place.column,
            allowed=set(fits) or {"<END-OF-FILE>"}, state=parser_state,
            token_history=[last] if last is not None else None, terminals_by_name=self.terminals)


def word(terminal: TerminalDef) -> str:
    """The word that a terminal stands for; empty for signs, numbers and the like."""
    value = terminal.pattern.value
    return value.lower() if isinstance(terminal.pattern, PatternStr) \
        and _WORD.fullmatch(value) else ""


def _first(terminal: TerminalDef) -> tuple[int, int, int, str]:
    """Which terminals are tried before others: as lark orders them."""
    pattern = terminal.pattern
    return -terminal.priority, -pattern.max_width, -len(pattern.value), terminal.name
