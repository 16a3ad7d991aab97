"""A Pygments lexer whose words are those of the grammar.

Registered as a plugin: wherever Pygments is installed, ``pygmentize -l sockscript`` and whatever
builds on it colour scripts.
"""

from __future__ import annotations

import re
from typing import Any

from pygments.lexer import RegexLexer, words
from pygments.token import Comment, Keyword, Name, Number, Operator, Punctuation, String, Text

from sockscript.expand.values import FUNCTIONS
from sockscript.text.parser import grammar_file
from sockscript.text.quotes import INCH_MARK
from sockscript.tree.line_kinds import samples

MACHINE_WORDS = ("beds", "needles", "needs", "has", "spacing", "dial", "pitches", "swatch",
                 "words")
"""First words of the lines under ``machine``."""


def grammar_words() -> list[str]:
    """Every word of the language, as it stands in the grammar."""
    grammar = "\n".join(line for line in grammar_file().read_text("utf-8").splitlines()
                        if not line.startswith("//"))
    return sorted({word.lower() for word in re.findall(r'"([A-Za-z]+)"i', grammar)})


def _whole(listed: list[str]) -> Any:
    """A pattern for whole words; a hyphen makes a longer name."""
    return words(tuple(listed), prefix=r"(?<![\w-])", suffix=r"(?![\w-])")


class SockscriptLexer(RegexLexer):
    """Colours a script: first words of a line as keywords, other words of the language lighter."""

    name = "Sockscript"
    aliases = ("sockscript",)
    filenames = ("*.sockscript", "*.machine")
    url = ""
    flags = re.IGNORECASE | re.MULTILINE

    tokens = {
        "root": [
            (r"\s+", Text),
            (r"#.*?$", Comment.Single),
            (INCH_MARK, Number),
            (r'"', String, "words"),
            (r"“[^”\n]*”?", String),
            (r"(?<![\w-])[lr]\d+(?![\w-])", Name.Variable),
            (r"\d+(?:st|nd|rd|th)\b", Number),
            (r"\d+(?:[ ]+|-)\d+[/⁄]\d+|(?:\d+[ ]*)?[¼½¾⅓⅔⅛⅜⅝⅞]|\d+(?:[.,]\d+)?", Number),
            (words(tuple(sorted(FUNCTIONS)), prefix=r"(?<![\w-])", suffix=r"(?=\()"),
             Name.Function),
            (_whole([*sorted(samples()), *MACHINE_WORDS]), Keyword),
            (_whole(grammar_words()), Keyword.Pseudo),
            (r"[^\W\d_][^\W_]*(?:-[^\W_]+)*", Name),
            (r"[-+*/×÷=%]", Operator),
            (r"[(),]", Punctuation),
            (r".", Text),
        ],
        "words": [
            (r"\{[^}\n\"]*\}?", String.Interpol),
            (r'[^"{\n]+', String),
            (r'"', String, "#pop"),
            (r"\n", Text, "#pop"),
        ],
    }
