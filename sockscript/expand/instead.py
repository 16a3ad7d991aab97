"""One technique of a pattern exchanged for another, as a member asks for it (``heel=our-heel``)."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import attrs

from sockscript.expand.techniques import Library
from sockscript.text.source import Problem, Source, Span, read_source
from sockscript.tree.read import read_script
from sockscript.tree.script import Script
from sockscript.tree.slips import nearest
from sockscript.tree.statements import Do, Technique

ENDING = ".sockscript"
AS_IT_WAS = "{} as the pattern has it"
"""The name of a technique within the one that stands for it; no script can write it."""


def put_instead(library: Library, asked: Sequence[str]) -> list[Problem]:
    """Exchange techniques in a library; what cannot be is told.

    After ``=`` stands a technique that the pattern could call, or one of a file: its name, when
    the file ``NAME.sockscript`` in this folder has it, or the path of the file.
    """
    return [problem for words in asked for problem in _exchange(library, words)]


def _exchange(library: Library, words: str) -> list[Problem]:
    name, equals, other = (part.strip() for part in words.partition("="))
    name = name.lower()
    at = Span(Source(f"--with {words}", ""), 1, 1, 1)
    if not (name and equals and other):
        return [Problem("unknown-technique", at, "After --with stands which technique is "
                        "exchanged, and for which.", "For example: --with heel=our-heel")]
    was = library.get(name)
    if was is None:
        meant = nearest(name, library.all_names())
        return [Problem("unknown-technique", at, f"There is no technique called '{name}'.",
                        f"Did you mean '{meant}'?" if meant else "")]
    technique, file = None if other.endswith(ENDING) else library.get(other.lower()), None
    if technique is None:
        found = _of_file(name, other, at)
        if isinstance(found, Problem):
            return [found]
        technique, file = found
    if technique is not was:
        before = AS_IT_WAS.format(name)
        library.exchange(name, before, _with(
            technique, body=_calling(technique.body, name, before)), file)
    return list(file.problems) if file is not None else []


def _of_file(name: str, other: str, at: Span) -> tuple[Technique, Script] | Problem:
    path = Path(other if other.endswith(ENDING) else other + ENDING)
    source = read_source(path)
    if isinstance(source, Problem):
        return Problem("unknown-technique", at, f"There is no technique called "
                       f"'{other.removesuffix(ENDING)}', and no file {path} that can be read.",
                       "Name a technique of the pattern, a shipped one, or the file that yours is "
                       "in.")
    file = read_script(source)
    for wanted in (path.stem.lower(), name):
        if wanted in file.techniques:
            return file.techniques[wanted], file
    if len(file.techniques) == 1:
        return next(iter(file.techniques.values())), file
    return Problem("unknown-technique", at, f"{path} has no technique '{path.stem}' and none "
                   f"called '{name}'.", "It has " + (", ".join(file.techniques) or "none") + ".")


def _calling(body: Any, name: str, before: str) -> Any:
    """A block in which calls of the exchanged technique mean the one that it stands for."""
    found = []
    for line in body:
        if isinstance(line, Do) and line.name == name:
            line = _with(line, name=before)
        for block in ("body", "otherwise"):
            if getattr(line, block, ()):
                line = _with(line, **{block: _calling(getattr(line, block), name, before)})
        found.append(line)
    return tuple(found)


def _with(node: Any, **changes: Any) -> Any:
    return attrs.evolve(node, **changes)
