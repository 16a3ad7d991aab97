"""Placeholder until the prebuilt tables are in."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from lark import Lark


@lru_cache
def load_parser() -> Lark:
    """The parser for lines of a script."""
    text = (Path(__file__).parents[2] / "grammar" / "sockscript.lark").read_text("utf-8")
    starts = next(x for x in text.splitlines() if x.startswith("// start:")).split()[2:]
    return Lark(text, parser="lalr", start=starts, lexer="contextual", maybe_placeholders=True)
