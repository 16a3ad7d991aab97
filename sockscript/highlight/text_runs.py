"""Lines of a script in runs of one kind each, for whoever shows them: a terminal or a leaflet."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple


class TextRun(NamedTuple):
    """Letters of one kind: ``word`` (of the language), ``number``, ``text`` (in quotes),
    ``comment``, or nothing special."""

    kind: str
    letters: str


def runs_of(lines: Sequence[str]) -> list[list[TextRun]]:
    """The runs of each line; one plain run a line where Pygments is not installed."""
    try:
        from pygments.token import Comment, Keyword, Number, String

        from sockscript.highlight.lexer import SockscriptLexer
    except ImportError:
        return [[TextRun("", line)] if line else [] for line in lines]
    kinds: tuple[tuple[Any, str], ...] = (
        (Keyword, "word"), (Number, "number"), (String, "text"), (Comment, "comment"))
    found: list[list[TextRun]] = [[]]
    lexer = SockscriptLexer(stripnl=False, ensurenl=False)
    for token, letters in lexer.get_tokens("\n".join(lines)):
        kind = next((name for of, name in kinds if token in of), "")
        for number, part in enumerate(letters.split("\n")):
            if number:
                found.append([])
            if part:
                line = found[-1]
                if line and line[-1].kind == kind:
                    line[-1] = TextRun(kind, line[-1].letters + part)
                else:
                    line.append(TextRun(kind, part))
    return found
