"""One technique of a pattern exchanged for another: by a line of the script (``exchange heel for
our-heel``), or as a member asks for it (``heel=our-heel``)."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import attrs

from sockscript.expand.called import called
from sockscript.expand.techniques import Library
from sockscript.text.source import Problem, Source, Span, read_source
from sockscript.tree.read import read_script
from sockscript.tree.script import Exchange, Script
from sockscript.tree.statements import Do, Technique

ENDING = ".sockscript"
AS_IT_WAS = "{} as the pattern has it"
"""The name of a technique within the one that stands for it; no script can write it."""


def exchange(library: Library, script: Script, one: Exchange) -> list[Problem]:
    """Let a line ``exchange`` of a script take effect in its library; what cannot be is told."""
    slips = _not_called(library, script, one.name, one.name_at)
    technique = library.get(one.other)
    if technique is None:
        slips.append(library.unknown(one.other, one.other_at))
    elif not slips:
        _put(library, one.name, technique, library.from_files.get(one.other), one.other_at)
    return slips


def _not_called(library: Library, script: Script, name: str, at: Span) -> list[Problem]:
    """Why a technique cannot be exchanged: there is none, or the pattern does without it."""
    if library.get(name) is None:
        return [library.unknown(name, at)]
    does = called(script, library)
    if name in does or not script.sections:
        return []
    return [Problem("unknown-technique", at, f"This pattern does not do '{name}', so nothing "
                    "would be exchanged.",
                    f"It does {', '.join(does)}." if does else "It does no technique at all.")]


def _put(library: Library, name: str, technique: Technique, file: Script | None, at: Span
         ) -> None:
    if technique is not library.get(name):
        before = AS_IT_WAS.format(name)
        library.exchange(name, before, _with(
            technique, body=_calling(technique.body, name, before)), file, at)


def put_instead(library: Library, script: Script, asked: Sequence[str]) -> list[Problem]:
    """Exchange techniques as ``heel=our-heel``; what cannot be is told.

    After ``=`` stands a technique that the pattern could call, or one of a file: its name, when
    the file ``NAME.sockscript`` in this folder has it, or the path of the file.
    """
    return [problem for words in asked for problem in _asked(library, script, words)]


def _asked(library: Library, script: Script, words: str) -> list[Problem]:
    name, equals, other = (part.strip() for part in words.partition("="))
    name = name.lower()
    at = Span(Source(f"--with {words}", ""), 1, 1, 1)
    if not (name and equals and other):
        return [Problem("unknown-technique", at, "After --with stands which technique is "
                        "exchanged, and for which.", "For example: --with heel=our-heel")]
    slips = _not_called(library, script, name, at)
    if slips:
        return slips
    technique = None if other.endswith(ENDING) else library.get(other.lower())
    if technique is not None:
        _put(library, name, technique, library.from_files.get(other.lower()), at)
        return []
    found = of_file(name, other, at)
    if isinstance(found, Problem):
        return [found]
    _put(library, name, *found, at)
    return list(found[1].problems)


def of_file(name: str, other: str, at: Span) -> tuple[Technique, Script] | Problem:
    """The technique of a file that is to stand for the one called ``name``."""
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
