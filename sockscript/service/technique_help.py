"""What there is to say about a technique: its comment is its help.

The comment stands under the line that begins with 'technique'.  It says what the technique does;
``name: …`` in it begins what one of its values means, ``For example:`` a line that uses it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from sockscript.expand.techniques import Library
from sockscript.text.layout import Line, lay_out, without_comment
from sockscript.text.source import Source
from sockscript.tree.statements import Technique

_USE = "For example"


class TechniqueValue(NamedTuple):
    """A value that a technique takes; ``default`` is empty where it must be given."""

    name: str
    default: str
    meaning: str


class TechniqueHelp(NamedTuple):
    """A technique as its comment tells of it; ``use`` is a line that calls it."""

    name: str
    says: str
    values: tuple[TechniqueValue, ...]
    use: str
    file: str


def shipped_names() -> list[str]:
    """The names of all techniques that come with the program."""
    return sorted(Library({}, {}).shipped_files())


def shipped_help(name: str) -> TechniqueHelp | None:
    """What there is to say about a shipped technique, or None if there is none of that name."""
    technique = Library({}, {}).get(name)
    return help_of_technique(technique) if technique is not None else None


def help_of_technique(technique: Technique) -> TechniqueHelp:
    """What there is to say about a technique that was read."""
    name, source = technique.name, technique.at.source
    line = next(line for line in lay_out(source)[0] if line.number == technique.at.line)
    return help_of(name, source, line, [(value.name, _default(line, value.name))
                                        for value in technique.parameters])


def help_of(name: str, source: Source, line: Line, values: Sequence[tuple[str, str]]
            ) -> TechniqueHelp:
    """The comment under the line of a technique, taken apart."""
    words = []
    number = line.number + 1
    while source.line(number).strip().startswith("#"):
        words.append(source.line(number).strip().lstrip("# "))
        number += 1
    told = meanings(" ".join(words), [value for value, _ in values])
    return TechniqueHelp(name, told[""], tuple(
        TechniqueValue(value, default, told.get(value, "")) for value, default in values),
        told.get(_USE, ""), source.name)


def meanings(comment: str, names: Sequence[str]) -> dict[str, str]:
    """A comment taken apart: what it says first (under ''), and of each of ``names``."""
    marks = "|".join(map(re.escape, sorted([*names, _USE], key=len, reverse=True)))
    parts = re.split(rf"(?:^|(?<=[.;:] ))({marks}): ", comment)
    told = {"": parts[0].strip()}
    for name, text in zip(parts[1::2], parts[2::2], strict=True):
        told[name] = text.strip().rstrip(";")
    return told


def _default(line: Line, name: str) -> str:
    """What a value is where it is not given, as it stands in the line of the technique."""
    text = without_comment(line.text)
    found = re.search(rf"(?:with|,)\s+{re.escape(name)}\s*=\s*([^,]+)", text, re.I)
    return found.group(1).strip() if found is not None else ""
