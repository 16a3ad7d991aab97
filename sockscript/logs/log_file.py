"""One knitting log, as the page beside the machine saves it; strict: it comes from outside."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, NamedTuple

from sockscript.text.source import Problem, Source, Span

FORM = "sockscript-log-1"
"""Names the layout; the page writes the same."""

LARGEST_LOG = 2_000_000
"""Bytes; 500 notes of 2,000 letters are about half of it."""
LONGEST_TEXT = 4000
MOST_ENTRIES = 5000
LARGEST_NUMBER = 1e7
"""Seconds, millimetres or rows: more is no measurement."""

_TEXTS = ("title", "version", "size", "fingerprint", "knitter", "sock")


class Note(NamedTuple):
    """What somebody wanted to remember: where it was, and the row counter there."""

    section: str
    step: int
    counter: int
    words: str


class StepTime(NamedTuple):
    """Seconds at a step without pauses, how many pauses there were, and how many rows were
    knitted in how many of the seconds where nothing was done by hand."""

    section: str
    step: int
    seconds: float
    pauses: int
    rows: int
    row_seconds: float


class Log(NamedTuple):
    """One sock of one knitter.  ``measured``: millimetres or grams, by what was measured."""

    file: str
    title: str
    version: str
    size: str
    choices: dict[str, str]
    fingerprint: str
    knitter: str
    sock: str
    measured: dict[str, float]
    notes: tuple[Note, ...]
    times: tuple[StepTime, ...]


class _NotALogError(Exception):
    """What in a file is not as a log has it."""


def read_log(path: Path) -> Log | Problem:
    """Read one log, or say in plain words why it is none.  Never raises for bad files."""
    name = str(path)
    try:
        if path.is_dir():
            return _problem(name, "This is a folder, not a log.")
        if path.exists() and not path.is_file():
            return _problem(name, "This is a pipe or a device, not a file.")
        if path.stat().st_size > LARGEST_LOG:
            return _problem(name, "This file is far larger than a log.")
        text = path.read_bytes().decode("utf-8-sig")
    except OSError as error:
        return _problem(name, f"The log cannot be read: {error.strerror or error}.")
    except (UnicodeDecodeError, ValueError):
        return _problem(name, "This is not a text file.")
    try:
        found = json.loads(text, parse_constant=_no_number)
        return _log(name, found)
    except json.JSONDecodeError as error:
        source = Source(name, text)
        at = Span(source, error.lineno, error.colno, error.colno + 1)
        return Problem("not-a-log", at, "Here the log breaks off or was damaged.", _AGAIN)
    except ValueError:
        # A number of thousands of digits.
        return _problem(name, "This is not a knitting log: it has a number that can not be.")
    except (_NotALogError, RecursionError) as error:
        said = str(error) if isinstance(error, _NotALogError) else "it is nested too deep"
        return _problem(name, f"This is not a knitting log: {said}.")


_AGAIN = "Ask for the file again, as the page beside the machine saves it."


def _problem(name: str, message: str) -> Problem:
    return Problem("not-a-log", Span(Source(name, ""), 1, 1, 1), message, _AGAIN)


def _no_number(word: str) -> float:
    raise _NotALogError(f"it has {word} for a number")


def _log(name: str, found: Any) -> Log:
    if not isinstance(found, dict) or found.get("form") != FORM:
        raise _NotALogError(f"it does not say that it is one of the form {FORM}")
    texts = {key: _text(found, key) for key in _TEXTS}
    measured, choices = found.get("measured"), found.get("choices")
    if not isinstance(measured, dict) or len(measured) > MOST_ENTRIES:
        raise _NotALogError("its measurements are missing")
    if not isinstance(choices, dict) or len(choices) > MOST_ENTRIES:
        raise _NotALogError("its choices are missing")
    return Log(
        name, measured={key: _number(measured, key) for key in measured},
        choices={key: _text(choices, key) for key in choices},
        notes=tuple(Note(_text(one, "section"), _whole(one, "step"), _whole(one, "counter"),
                         _text(one, "words")) for one in _entries(found, "notes")),
        times=tuple(StepTime(_text(one, "section"), _whole(one, "step"), _number(one, "seconds"),
                             _whole(one, "pauses"), _whole(one, "rows"),
                             _number(one, "row-seconds"))
                    for one in _entries(found, "times")), **texts)


def _entries(found: dict[str, Any], key: str) -> list[dict[str, Any]]:
    entries = found.get(key)
    if (not isinstance(entries, list) or len(entries) > MOST_ENTRIES
            or not all(isinstance(one, dict) for one in entries)):
        raise _NotALogError(f"its {key} are missing or no list")
    return entries


def _text(found: dict[str, Any], key: str) -> str:
    value = found.get(key)
    if not isinstance(value, str) or len(value) > LONGEST_TEXT:
        raise _NotALogError(f"its {key} is missing or no text")
    # What would move a terminal's cursor or turn the letters round is shown as a mark.
    return "".join(one if one.isprintable() or one == "\n" else "\ufffd" for one in value)


def _number(found: dict[str, Any], key: str) -> float:
    value = found.get(key)
    if (isinstance(value, bool) or not isinstance(value, int | float)
            or not 0 <= value <= LARGEST_NUMBER):
        raise _NotALogError(f"'{key}' is no number that can be")
    return float(value)


def _whole(found: dict[str, Any], key: str) -> int:
    value = _number(found, key)
    if value != int(value):
        raise _NotALogError(f"'{key}' is no whole number")
    return int(value)
