"""The commands for a club that shares its patterns, and their options, for typer."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from sockscript.commands import wants
from sockscript.commands.options import Out


def register(app: typer.Typer) -> None:
    """Give the program these commands."""
    app.command(short_help="Tell what differs between two versions.")(compare)


def compare(
    files: Annotated[list[Path] | None, typer.Argument(
        help="Two scripts: as it was, and as it is now.")] = None,
    machine: Annotated[str | None, typer.Option(help="A machine profile.")] = None,
    format: Annotated[str | None, typer.Option(help="text, markdown or json.")] = None,
    every_step: Annotated[bool, typer.Option(
        "--every-step", help="Show each step that differs, as it was and as it is.")] = False,
    out: Out = None,
) -> int:
    """Tell what differs in the knitting between two patterns, or two versions of one.

    The exit status is 0 for the same pattern, 1 if they differ.  git can call it to show what
    changed in a script (see README).
    """
    from sockscript.commands.compare import GIT, GIT_RENAMED, TWO, run

    if not files or len(files) not in (TWO, GIT, GIT_RENAMED):
        return wants("compare", "two scripts: as it was, and as it is now")
    return run(files=files, machine=machine, format=format, every_step=every_step, out=out)
