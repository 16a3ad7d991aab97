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
    app.command(short_help="List the patterns of a folder, or those that fit.")(catalogue)


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


def catalogue(
    folder: Annotated[Path | None, typer.Argument(help="A folder of scripts.")] = None,
    words: Annotated[list[str] | None, typer.Argument(
        help="Words that stand anywhere in the pattern.")] = None,
    foot: Annotated[str | None, typer.Option(help="A foot as long as this: 24cm.")] = None,
    foot_round: Annotated[str | None, typer.Option(help="A foot as wide round as this.")] = None,
    gauge: Annotated[str | None, typer.Option(
        help="Stitches in 10 cm, or a swatch: 30, 30x42/10cm.")] = None,
    yarn: Annotated[str | None, typer.Option(help="Metres of the yarn in 100 g: 400.")] = None,
    one_bed: Annotated[bool, typer.Option("--one-bed", help="For one needle bed.")] = False,
    needles: Annotated[int | None, typer.Option(
        help="For no more needles of a bed than this.")] = None,
    machine: Annotated[str | None, typer.Option(
        help="What this machine can do: its profile.")] = None,
    size: Annotated[str | None, typer.Option(help="With a size of this name.")] = None,
    author: Annotated[str | None, typer.Option(help="By somebody of this name.")] = None,
    licence: Annotated[str | None, typer.Option(help="With this in its licence.")] = None,
    technique: Annotated[list[str] | None, typer.Option(
        help="With this technique (may be given again).")] = None,
    fingerprint: Annotated[str | None, typer.Option(help="With this fingerprint.")] = None,
    clean: Annotated[bool, typer.Option("--clean", help="In which no stitch is lost.")] = False,
    trouble: Annotated[bool, typer.Option(
        "--trouble", help="Files that are not clean or cannot be read.")] = False,
    everything: Annotated[bool, typer.Option("--all", help="Show all that are found.")] = False,
    format: Annotated[str | None, typer.Option(help="text, markdown, csv or json.")] = None,
    out: Out = None,
) -> int:
    """List the patterns in a folder and below it, or those that fit what you ask.

    Each file is read and checked once; afterwards only what has changed. The index is kept with
    you, nothing is written into the folder. The exit status is 0, or 1 if nothing fits.
    """
    if folder is None:
        return wants("catalogue", "a folder")
    from sockscript.commands.asked_of_catalogue import NotUnderstoodError, wanted
    from sockscript.commands.catalogue import run

    try:
        asked = wanted(words=words or [], foot=foot, foot_round=foot_round, gauge=gauge,
                       yarn=yarn, one_bed=one_bed, needles=needles, machine=machine, size=size,
                       author=author, licence=licence, technique=technique or [],
                       fingerprint=fingerprint, clean=clean, trouble=trouble)
    except NotUnderstoodError as error:
        return wants("catalogue", str(error))
    return run(folder=folder, wanted=asked, everything=everything, format=format, out=out)
