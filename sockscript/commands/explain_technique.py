"""What ``sockscript explain`` tells of a technique: what it does, takes, needs and leaves."""

from __future__ import annotations

import re
from pathlib import Path

from sockscript.expand.techniques import SHIPPED, Library
from sockscript.service.technique_help import TechniqueValue, help_of_technique, shipped_names
from sockscript.text import width
from sockscript.text.source import Problem, read_source
from sockscript.tree.read import read_script
from sockscript.tree.statements import Contract, Technique

ENDING = ".sockscript"


def shipped(name: str) -> Technique | None:
    """The technique of that name that comes with the program."""
    return Library({}, {}).get(name)


def of_file(path: Path) -> list[Technique] | Problem:
    """The techniques that stand in a script, in their order."""
    source = read_source(path)
    return source if isinstance(source, Problem) else list(read_script(source).techniques.values())


def told(technique: Technique) -> str:
    """All that somebody should know who calls it."""
    source = technique.at.source
    parts = [width.filled(f"{technique.name}   (a technique, {source.name}, line "
                          f"{technique.at.line})", "", "    ")]
    help = help_of_technique(technique)
    if help.says:
        parts.append(width.filled(help.says))
    # As they are written: the default of a value may be any expression.
    values = re.sub(r"(?i)^technique\s+\S+\s*(with)?", "", technique.at.source.line(
        technique.at.line).partition("#")[0].strip()).strip()
    parts.append(width.filled(f"Call it with:  do {technique.name}"
                              + (f" with {values}" if values else ""), "", "    "))
    if help.values:
        parts.append("\n".join(["Its values:", *map(_value, help.values)]))
    for which, words in (("needs", "It needs"), ("leaves", "It leaves")):
        lines = [_line(one) for one in technique.body
                 if isinstance(one, Contract) and one.which == which]
        if lines:
            parts.append("\n".join([f"{words}:", *(f"    {line}" for line in lines)]))
    if help.use:
        parts.append(f"For example:\n    {help.use}")
    if technique.name in shipped_names() and shipped(technique.name) is not None:
        parts.append(width.filled("It is written in the language itself: copy it from "
                                  f"{SHIPPED / Path(source.name).name} to change it."))
    return "\n\n".join(parts)


def _value(value: TechniqueValue) -> str:
    """A value that it takes: what it means, and what it is where it is not given."""
    meaning = f"{value.meaning.rstrip('.')}. " if value.meaning else ""
    given = f"Without it: {value.default}." if value.default else "It must be given."
    return width.filled(meaning + given, f"  {value.name:<14}", " " * 16)


def _line(contract: Contract) -> str:
    text = contract.at.source.line(contract.at.line)[:contract.at.end - 1].strip()
    return text[len(contract.which):].strip()
