"""What there is to say about a word of the language, wherever it stands in a line."""

from __future__ import annotations

import re
from itertools import chain
from typing import NamedTuple

from sockscript.highlight.word_groups import word_groups
from sockscript.service.meanings import FUNCTION_HELP, SMALL_WORDS, WORDS
from sockscript.service.templates import NEEDLES, ROUNDINGS
from sockscript.tree.line_kinds import LINE_KINDS, filled_in

MOST_SAMPLES = 4


class Meaning(NamedTuple):
    """One thing that a word means; ``words`` is how it stands in a line."""

    words: str
    meaning: str


class WordHelp(NamedTuple):
    """A word with all that it means, and lines in which it stands."""

    name: str
    meanings: tuple[Meaning, ...]
    samples: tuple[str, ...]


def all_words() -> list[str]:
    """Every word of the language."""
    return sorted(set().union(*word_groups()))


def word_help(asked: str) -> WordHelp | None:
    """What a word means, or several that begin a line (``cast on``); None: it is no word of the
    language."""
    name = " ".join(asked.lower().split())
    found = [Meaning(kind.words, kind.meaning) for kind in LINE_KINDS.values()
             if any(_begins(form, name) for form in kind.words.split(", "))]
    if name in FUNCTION_HELP:
        found.append(Meaning(FUNCTION_HELP[name].words, FUNCTION_HELP[name].meaning))
    for words in (WORDS, SMALL_WORDS):
        if name in words:
            found.append(Meaning(name, words[name]))
    if not found:
        return None
    return WordHelp(name, tuple(dict.fromkeys(found)), _samples(name))


def _begins(form: str, name: str) -> bool:
    """Whether a line of this form begins with the words."""
    return form == name or form.startswith((f"{name} ", f"{name}s "))


def _samples(name: str) -> tuple[str, ...]:
    """Lines, or parts of them, with the word; those that begin with it first."""
    lines = []
    whole = (line for kind in LINE_KINDS.values() for line in (*kind.at_margin, *kind.inside))
    for template in chain(whole, (part for part, _ in (*NEEDLES, *ROUNDINGS))):
        text = filled_in(template).rstrip()
        spoken = re.sub(r'"[^"]*"', "", text).lower()
        if re.search(rf"(?<![\w-]){re.escape(name)}(?![\w-])", spoken):
            lines.append(text)
    lines.sort(key=lambda line: not line.lower().startswith(name))
    return tuple(dict.fromkeys(lines))[:MOST_SAMPLES]
