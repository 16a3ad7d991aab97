"""The commands by which members hand scripts to each other, and their options, for typer."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from sockscript.commands import wants
from sockscript.commands.options import With


def register(app: typer.Typer) -> None:
    """Give the program these commands."""
    app.command(short_help="Put a script and all it needs into one file.")(pack)
    app.command(short_help="Tell the mark of your key for signing packs.")(key)
    app.command("open", short_help="Tell what a pack is, check it, unpack it.")(open_)


def pack(
    file: Annotated[Path | None, typer.Argument(help="The script.")] = None,
    machine: Annotated[str | None, typer.Option(
        help="A machine profile that goes with it: it is checked on this one.")] = None,
    with_: With = None,
    sign: Annotated[bool, typer.Option("--sign", help="Sign it with your key.")] = False,
    out: Annotated[Path | None, typer.Option(
        "-o", "--out", help="The pack to write, also over an older one: its name ends in "
                            ".sockpack.")] = None,
) -> int:
    """Put a script, its techniques, the record of its check and a leaflet into one file."""
    if file is None or out is None:
        return wants("pack", "a script and -o with the name of the pack")
    from sockscript.commands.pack import run

    return run(file=file, machine=machine, sign=sign, out=out, instead=with_ or [])


def open_(
    pack: Annotated[Path | None, typer.Argument(help="The pack.")] = None,
    know: Annotated[str | None, typer.Option(
        help="Keep the key that signed it under this name, once she has read you its mark.")]
    = None,
    out: Annotated[Path | None, typer.Option(
        "-o", "--out", help="A new folder that it is unpacked into.")] = None,
) -> int:
    """Tell what a pack is before anything is written, check it anew, unpack it if you say where."""
    if pack is None:
        return wants("open", "a pack")
    from sockscript.commands.open_pack import run

    return run(pack=pack, know=know, out=out)


def key() -> int:
    """Tell the mark of your key for signing packs; it is made the first time."""
    from sockscript.commands.key import run

    return run()
