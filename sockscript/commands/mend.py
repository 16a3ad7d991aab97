"""``sockscript check --mend``: show the mends that are sure, write them on confirmation."""

from __future__ import annotations

import difflib
import sys
from pathlib import Path

from sockscript.commands import check
from sockscript.commands.machine_asked import machine_asked
from sockscript.commands.output import write_out
from sockscript.commands.several import scripts_in
from sockscript.findings.mends import mended
from sockscript.text.source import PACK, Problem, read_source


def run(*, files: list[Path], machine: str | None, yes: bool) -> int:
    """Mend scripts one after the other; returns the status of the check that follows."""
    status = check.CLEAN
    for path in scripts_in(files):
        status = max(status, _mend(path, machine, yes))
    return status


def _mend(path: Path, machine: str | None, yes: bool) -> int:
    if path.suffix.lower() == PACK:
        print(f"{path} is a pack: it stays as it was made.\nsockscript open {path} -o FOLDER  "
              "unpacks it; mend the script there.", file=sys.stderr)
        return check.UNUSABLE
    source = read_source(path)
    if isinstance(source, Problem):
        return check.run(files=[path], machine=machine)
    checked = check.check_file(path, machine_asked(machine).name)
    text = mended(source, checked.problems or checked.findings)
    if text is None:
        print(f"{path}: nothing here has a mend that is sure.")
        return check.run(files=[path], machine=machine)
    print("".join(difflib.unified_diff(
        [line + "\n" for line in source.lines], text.splitlines(keepends=True),
        f"{path} as it is", f"{path} mended")))
    if not (yes or _agreed(path)):
        print(f"{path} was left as it is.")
        return check.run(files=[path], machine=machine)
    now = read_source(path)
    if isinstance(now, Problem) or now.raw != source.raw:
        print(f"{path} was changed while the mends were looked at; nothing is written over it.\n"
              "Give the command again.", file=sys.stderr)
        return check.UNUSABLE
    if write_out(text, path, as_is=True):
        return check.UNUSABLE
    print(f"{path} is mended. Checked again:\n")
    return check.run(files=[path], machine=machine)


def _agreed(path: Path) -> bool:
    """Whether the person at the keyboard says yes; without one nothing is written."""
    if not sys.stdin.isatty():
        print("Nothing is written without your word: say --yes.")
        return False
    import typer

    return typer.confirm(f"Write this to {path}?", default=False)
