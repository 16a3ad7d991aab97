"""What ``sockscript explain`` tells of a technique: what it does, takes, needs and leaves."""

from __future__ import annotations

import re
import textwrap
from pathlib import Path

from sockscript.expand.techniques import Library
from sockscript.findings.report import WIDTH
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
    parts = [f"{technique.name}   (a technique, {source.name}, line {technique.at.line})"]
    comment = _comment(technique)
    if comment:
        parts.append(textwrap.fill(comment, WIDTH, break_on_hyphens=False))
    # As they are written: the default of a value may be any expression.
    values = re.sub(r"(?i)^technique\s+\S+\s*(with)?", "", technique.at.source.line(
        technique.at.line).partition("#")[0].strip()).strip()
    parts.append(f"Call it with:  do {technique.name}" + (f" with {values}" if values else ""))
    for which, words in (("needs", "It needs"), ("leaves", "It leaves")):
        lines = [_line(one) for one in technique.body
                 if isinstance(one, Contract) and one.which == which]
        if lines:
            parts.append("\n".join([f"{words}:", *(f"    {line}" for line in lines)]))
    return "\n\n".join(parts)


def _line(contract: Contract) -> str:
    text = contract.at.source.line(contract.at.line)[:contract.at.end - 1].strip()
    return text[len(contract.which):].strip()


def _comment(technique: Technique) -> str:
    source, number = technique.at.source, technique.at.line + 1
    found = []
    while source.line(number).lstrip().startswith("#"):
        found.append(source.line(number).lstrip().lstrip("#").strip())
        number += 1
    return " ".join(found)
