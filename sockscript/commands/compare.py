"""``sockscript compare``: what differs between two patterns, or two versions of one."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from sockscript.commands.check import CLEAN, FOUND, UNUSABLE, read_script, tell_pack
from sockscript.commands.output import deliver, form_asked
from sockscript.compare import report
from sockscript.compare.comparison import compare
from sockscript.findings.checked import Checked, check
from sockscript.findings.report import problem_text
from sockscript.text.source import Problem, Source, read_source

FORMATS = ("text", "markdown", "json")
TWO, GIT, GIT_RENAMED = 2, 7, 9
_HEX, _MODE = re.compile(r"[0-9a-f]{4,64}|\."), re.compile(r"[0-7]{6}|\.")


class _Asked(NamedTuple):
    """The two files, and by which name and in which folder each is known."""

    was: Path
    now: Path
    names: tuple[str, str]
    folder: Path | None = None


def run(*, files: Sequence[Path], machine: str | None, format: str | None, every_step: bool,
        out: Path | None) -> int:
    """Print or write the comparison; returns 0 the same pattern, 1 it differs, 2 one of them
    cannot be used.  Called by version control, which takes any other status for a mishap: 0.
    """
    git = asked_by_git(list(map(str, files)))
    asked = git or _Asked(files[0], files[1], (str(files[0]), str(files[1])))
    form = form_asked(format, FORMATS, out, asked.was, asked.now)
    if form is None:
        return UNUSABLE
    if every_step and form == "json":
        print("--every-step means nothing here: the form json has every step in any case.",
              file=sys.stderr)
        return UNUSABLE
    if git is not None and os.devnull in (str(git.was), str(git.now)):
        return _only_one(git, machine)
    was, now = (_checked(path, name, asked.folder, machine) for path, name in zip(
        (asked.was, asked.now), asked.names, strict=True))
    unread = [checked for checked in (was, now) if checked.prepared is None]
    for checked in unread:
        print("\n".join(map(problem_text, checked.problems)), file=sys.stderr)
    if unread:
        return CLEAN if git is not None else UNUSABLE
    found = compare(was, now)
    text = report.as_json(found) if form == "json" else (
        report.as_markdown if form == "markdown" else report.as_text)(found, every_step)
    status = deliver(text, out)
    if git is not None:
        return CLEAN
    if status or was.problems or now.problems:
        return status or UNUSABLE
    return FOUND if found.sameness in ("differs", "not-known") else CLEAN


def asked_by_git(words: Sequence[str]) -> _Asked | None:
    """The two versions that git means when it calls a command to compare a file: the path, then
    file, hash and mode of either version, and of a renamed file the new path and what was done
    (git(1), ``GIT_EXTERNAL_DIFF``)."""
    if len(words) not in (GIT, GIT_RENAMED):
        return None
    path, was, was_hash, was_mode, now, now_hash, now_mode = words[:GIT]
    if not all(map(_HEX.fullmatch, (was_hash, now_hash))) \
            or not all(map(_MODE.fullmatch, (was_mode, now_mode))):
        return None
    new_path = words[GIT] if len(words) == GIT_RENAMED else path
    # The versions lie in a folder for what is passing; techniques lie beside the pattern.
    return _Asked(Path(was), Path(now), (path, new_path), Path(new_path).absolute().parent)


def _checked(path: Path, name: str, folder: Path | None, machine: str | None) -> Checked:
    source = read_script(path, name)
    if isinstance(source, Source):
        tell_pack(source)
    if isinstance(source, Source) and folder is not None:
        source.folder = folder
    return check(source, machine)


def _only_one(asked: _Asked, machine: str | None) -> int:
    """A pattern that version control has in one of two versions only."""
    new = str(asked.was) == os.devnull
    source = read_source(asked.now if new else asked.was, asked.names[new])
    checked = check(source, machine)
    if isinstance(source, Problem) or checked.prepared is None:
        print("\n".join(map(problem_text, checked.problems)), file=sys.stderr)
        return CLEAN
    state = "no stitch is lost" if checked.knits else "the check finds something to mend"
    print(f"{asked.names[new]}: {'a new pattern' if new else 'the pattern is gone'}: "
          f"{checked.script.title or 'Untitled pattern'}" + (f" ({state})." if new else "."))
    return CLEAN
