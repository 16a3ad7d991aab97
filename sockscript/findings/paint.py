"""How the parts of a report are set off on a terminal: in colour, or not at all."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple


class Paint(NamedTuple):
    """What is done to the severity, strong words, the mark under a place, and a line of a
    script.  The words say the same without it."""

    severity: Callable[[str], str]
    strong: Callable[[str], str]
    mark: Callable[[str], str]
    code: Callable[[str], str]


def _as_it_is(text: str) -> str:
    return text


PLAIN = Paint(_as_it_is, _as_it_is, _as_it_is, _as_it_is)

_SEVERITIES = {"FAULT": "1;31", "CANNOT READ": "1;31", "WARNING": "1;33", "ADVICE": "1;36"}
_KINDS = {"word": "1", "number": "36", "text": "32", "comment": "2"}
"""Words of the language bold, numbers cyan, texts green, comments faint."""


def _in(code: str) -> Callable[[str], str]:
    """Letters between escape codes of ECMA-48."""
    return lambda text: f"\x1b[{code}m{text}\x1b[0m" if text else ""


def _code(line: str) -> str:
    from sockscript.highlight.text_runs import runs_of

    return "".join(_in(_KINDS[run.kind])(run.letters) if run.kind else run.letters
                   for run in runs_of([line])[0])


COLOUR = Paint(lambda mark: _in(_SEVERITIES[mark])(mark), _in("1"), _in("1;31"), _code)
"""Bold red, yellow and cyan for the severities."""
