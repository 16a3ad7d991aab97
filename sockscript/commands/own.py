"""Commands about the member's own: a first script, a fitted one, her machine."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from sockscript.commands import wants
from sockscript.commands.options import Choose, Out, With


def add_to(app: typer.Typer) -> None:
    """Add the commands of this module to the command line."""
    app.command(context_settings={"allow_extra_args": True, "ignore_unknown_options": True},
                short_help="Make one size for your own foot and gauge.")(fit)
    app.command(short_help="Write a first script that checks clean, or a machine profile.")(new)
    app.command(short_help="List machines; say which one is yours.")(machine)


def fit(
    context: typer.Context,
    file: Annotated[Path | None, typer.Argument(help="The script.")] = None,
    shoe: Annotated[str | None, typer.Option(
        help="A shoe size for the length of the foot, for example 'eu 39'.")] = None,
    gauge: Annotated[str | None, typer.Option(
        help="Your own swatch, for example 29x41/10cm.")] = None,
    size: Annotated[str | None, typer.Option(
        help="Start from this size, not from the one most like your foot.")] = None,
    yarn: Annotated[str | None, typer.Option(
        help="Your own yarn, as on its band: '400 m per 100 g'.")] = None,
    choose: Choose = None,
    with_: With = None,
    machine: Annotated[str | None, typer.Option(help="A machine profile.")] = None,
    out: Annotated[Path | None, typer.Option("-o", "--out", help="Write the steps to this .txt, "
                                             "or the fitted pattern to this new .sockscript.")]
    = None,
) -> int:
    """Make one size for your own foot, gauge and yarn, check it and print its steps.

    Every row of the pattern's table of sizes is an option: --foot-length 24.5cm. With -o and a
    name that ends in .sockscript the pattern is written with your size in it: leaflet, pictures,
    needles and the page to knit from can be made of it.
    """
    if file is None:
        return wants("fit", "a script and your measurements")
    words = iter(context.args)
    measures = {}
    for word in words:
        name, equals, value = word.removeprefix("--").partition("=")
        if not word.startswith("--"):
            return wants("fit", f"measurements as --NAME VALUE, not '{word}'")
        if name in measures:
            return wants("fit", f"--{name} once")
        measures[name] = value if equals else next(words, "")
    from sockscript.commands.fit import run

    return run(file=file, measures=measures, shoe=shoe, gauge=gauge, size=size, band=yarn,
               choose=choose or [], machine=machine, out=out, instead=with_ or [])


def new(
    title: Annotated[str | None, typer.Option(help="What the pattern is called.")] = None,
    author: Annotated[str | None, typer.Option(help="Who wrote it.")] = None,
    kind: Annotated[str | None, typer.Option(help="sock, leg-warmer or machine.")] = None,
    gauge: Annotated[str | None, typer.Option(help="30x42 (10 cm) or '8x10 per inch'.")] = None,
    example: Annotated[str | None, typer.Option(
        "--from", help="Copy an example instead, for example family-sock.")] = None,
    out: Out = None,
) -> int:
    """Write a first script to start from, or a copy of an example; it checks clean.

    --kind machine describes your own machine, by questions.
    """
    if example is not None:
        if title or author or kind or gauge:
            return wants("new", "nothing but -o beside --from: an example is copied word for word")
        from sockscript.commands.examples import run as copy

        return copy(name=example, out=out)
    if kind == "machine":
        if author or gauge:
            return wants("new", "nothing but --title and -o beside --kind machine: it has no "
                         "author and no gauge")
        from sockscript.commands.new_machine import run as new_machine

        return new_machine(title, out)
    from sockscript.commands.new import run

    return run(title=title, author=author, kind=kind, gauge=gauge, out=out)


def machine(
    name: Annotated[str | None, typer.Argument(
        help="The machine that you usually mean: a profile's name or file; any: none.")] = None,
) -> int:
    """List the machines that can be named, or say which one every command is to use."""
    from sockscript.commands.machine import run

    return run(name)
