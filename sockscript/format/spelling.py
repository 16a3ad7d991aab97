"""The words of a line in their one spelling, and the spaces between them."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any, NamedTuple

from lark import Lark, Token

from sockscript.numbers.quantity import VULGAR
from sockscript.text.layout import Line
from sockscript.tree.build_expressions import Parse

AMOUNTS = frozenset({"NUMBER", "MIXED", "VULGAR", "FRACTION", "RATIO"})
OWN = frozenset({"NAME", "STRING", "NUMBER"})
"""Kinds of tokens that stay as the author wrote them."""

_SPELLING = {"NM": "Nm", "NE": "Ne", "INCH": "in", "INCHES": "in", "INCH_MARK": "in",
             "YARD": "yards", "YD": "yards", "OUNCE": "oz", "OUNCES": "oz"}
_AFTER_A_VALUE = frozenset({*AMOUNTS, "NAME", "RPAR", "PERCENT", "MM", "CM", "M", "IN", "INCH",
                            "INCHES", "INCH_MARK"})
"""A minus sign after one of these takes away; elsewhere it makes a number negative."""


_MIXED = re.compile(r"(?:(\d+)(?:[ ]+|-))?(\d+[/⁄]\d+)")


class Read(NamedTuple):
    """A line as tokens, with what only its parse tells about them."""

    tokens: tuple[Token, ...]
    tight: frozenset[int]
    """Positions of brackets and strokes that stand close to their neighbours."""


def read_line(parser: Lark, line: Line, start: str) -> Read:
    """The tokens of a line as its parser saw them.  Raises LarkError for a line with a slip."""
    interactive = parser.parse_interactive(line.text, start=start)
    tokens = tuple(interactive.iter_parse())
    parse: Parse = interactive.feed_eof()  # type: ignore[no-untyped-call]
    return Read(tokens, _tight(parse, tokens))


def _tight(parse: Parse, tokens: tuple[Token, ...]) -> frozenset[int]:
    """Brackets of functions and of needles, and the stroke within the count of a yarn."""
    functions: set[Any] = {call.children[0].children[0].start_pos
                           for call in parse.find_data("call")}
    found = {n + 1 for n, token in enumerate(tokens)
             if token.type == "NEEDLE_SIDE" or token.start_pos in functions}
    if any(True for _ in parse.find_data("yarn_count")):
        found.update(n for n, token in enumerate(tokens) if token == "/")
    return frozenset(found)


def spelled(token: Token) -> str:
    """A token in its one spelling."""
    text = str(token)
    if token.type in OWN:
        return text
    if token.type in ("NEEDLE", "NEEDLE_SIDE"):
        return text.upper()
    if token.type == "HALF_MORE":
        return "1/2"
    if token.type in AMOUNTS:
        return _fraction(text)
    return _SPELLING.get(token.type, text.lower())


def _fraction(text: str) -> str:
    """``1 1/2`` and ``1 ½`` as ``1½``; what has no such sign keeps its figures."""
    if text[-1] in VULGAR:
        whole, sign = text[:-1].strip(), text[-1]
        return (whole.lstrip("0") or "") + sign
    whole, part = _MIXED.fullmatch(text).groups()  # type: ignore[union-attr]
    above, below = map(int, re.split("[/⁄]", part))
    value = Fraction(above, below) if below else None
    found = next((sign for sign, worth in VULGAR.items() if worth == value), None)
    if found is None:
        return f"{whole} {above}/{below}" if whole else f"{above}/{below}"
    return ((whole or "").lstrip("0") or "") + found


def spaced(read: Read, begin: int = 0, end: int | None = None) -> str:
    """The tokens from ``begin`` up to ``end`` with the spaces that belong between them."""
    tokens = read.tokens
    last = len(tokens) if end is None else end
    parts: list[str] = []
    for n in range(begin, last):
        if n > begin and not _close(read, n):
            parts.append(" ")
        # 'per inch' reads aloud; after a number the unit is short.
        alone = n and tokens[n - 1].type == "PER" and spelled(tokens[n]) == "in"
        parts.append("inch" if alone else spelled(tokens[n]))
    return "".join(parts)


def _close(read: Read, n: int) -> bool:
    """Whether token ``n`` stands close to the one before it."""
    before, here = read.tokens[n - 1], read.tokens[n]
    if n in read.tight or here.type in ("COMMA", "RPAR", "PERCENT") or before.type == "LPAR":
        return True
    if before == "/" and n - 1 in read.tight:
        return True
    # A sign before a number, not between two.
    return before == "-" and (n == 1 or read.tokens[n - 2].type not in _AFTER_A_VALUE)
