"""``sockscript format``: put scripts into the one layout."""

from __future__ import annotations

import difflib
import sys
from pathlib import Path

from sockscript.commands.output import write_out
from sockscript.findings.report import problem_text
from sockscript.format.formatter import CannotFormatError, format_source
from sockscript.text.source import PACK, Problem, read_source

CLEAN, WOULD_CHANGE, UNUSABLE = 0, 1, 2


def run(*, files: list[Path], check: bool, diff: bool) -> int:
    """Lay out scripts one after the other; returns 0, 1 (with --check or --diff: something would
    change) or 2 (a script could not be laid out)."""
    return max(_format(path, check, diff) for path in files)


def _format(path: Path, check: bool, diff: bool) -> int:
    if path.suffix.lower() == PACK:
        print(f"{path} is a pack: it stays as it was made.\nsockscript open {path} -o FOLDER  "
              "unpacks it; lay the script out there.", file=sys.stderr)
        return UNUSABLE
    source = read_source(path)
    if isinstance(source, Problem):
        return _refused(path, (source,), "mend it first.")
    try:
        text = format_source(source)
    except CannotFormatError as error:
        return _refused(path, error.problems, str(error))
    try:
        # Line ends are left to the computer: they alone are no reason to write.
        same = path.read_text("utf-8-sig") == text
        if same:
            if not diff:
                print(f"{path}: laid out already.")
            return CLEAN
        if diff:
            shown = "".join(difflib.unified_diff(
                [line + "\n" for line in source.lines], text.splitlines(keepends=True),
                f"{path} as it is", f"{path} laid out"))
            sys.stdout.write(shown or f"{path}: only the end of its last line would change.\n")
        if check and not diff:
            print(f"{path}: would be laid out anew.")
        if check or diff:
            return WOULD_CHANGE
    except OSError as error:
        print(f"{path} cannot be read: {error.strerror or error}.", file=sys.stderr)
        return UNUSABLE
    if write_out(text, path, as_is=True):
        return UNUSABLE
    print(f"{path}: laid out anew.")
    return CLEAN


def _refused(path: Path, problems: tuple[Problem, ...], why: str) -> int:
    for problem in problems:
        print(problem_text(problem) + "\n")
    print(f"{path}: left as it is; {why}")
    return UNUSABLE
