"""The commands and their options, for typer.  Imported only when typer is needed."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from sockscript.commands import SAMPLES, club, own, sharing, wants
from sockscript.commands.options import (
    AllChoices,
    BankBook,
    Choose,
    MachineWords,
    MySize,
    OnlySizes,
    Out,
    PaceGiven,
    With,
)

app = typer.Typer(
    name="sockscript", rich_markup_mode=None, pretty_exceptions_enable=False,
    help="Write a sock pattern in plain words, prove that it knits, print its steps.")
@app.callback(invoke_without_command=True)
def whole(
    context: typer.Context,
    version: Annotated[bool, typer.Option("--version", help="Say which version this is.")]
    = False,
) -> int:
    """What is said before any command."""
    if version:
        from sockscript import __version__

        print(f"sockscript {__version__}")
        return 0
    if context.invoked_subcommand is None:
        print(f"sockscript wants a command: {', '.join(SAMPLES)}.\n"
              "For example:  sockscript check my-sock.sockscript\n"
              "'sockscript --help' tells what each does.", file=sys.stderr)
        raise typer.Exit(2)
    return 0


@app.command(short_help="Prove a script: every size, every choice.")
def check(
    files: Annotated[list[Path] | None, typer.Argument(help="Scripts to prove.")] = None,
    machine: Annotated[str | None, typer.Option(
        help="A machine profile: its name, or a .machine file.")] = None,
    with_: With = None,
    format: Annotated[str, typer.Option(
        help="text, json, sarif, or lines (for an editor's list).")] = "text",
    watch: Annotated[bool, typer.Option(
        "--watch", help="Check again whenever a script is saved; Ctrl-C ends it.")] = False,
    mend: Annotated[bool, typer.Option(
        "--mend", help="Show the mends that are sure, and write them if you say yes.")] = False,
    yes: Annotated[bool, typer.Option("--yes", help="Write the mends without asking.")] = False,
) -> int:
    """Knit a script in thought, every size and every choice, and tell what goes wrong."""
    if not files:
        return wants("check", "at least one script")
    clashes = (("--watch and --mend", watch and mend),
               ("--format and --watch", watch and format != "text"),
               ("--format and --mend", mend and format != "text"),
               ("--with and --watch or --mend", with_ and (watch or mend)))
    for clash, here in clashes:
        if here:
            print(f"{clash} cannot be had together.", file=sys.stderr)
            return 2
    if yes and not mend:
        print("--yes without --mend means nothing: it answers the question that --mend asks.",
              file=sys.stderr)
        return 2
    if mend:
        from sockscript.commands.mend import run as mend_run

        return mend_run(files=files, machine=machine, yes=yes)
    if watch:
        from sockscript.commands.watch import run as watch_run

        return watch_run(files=files, machine=machine)
    from sockscript.commands.check import run

    return run(files=files, machine=machine, format=format, instead=with_ or [])


@app.command(short_help="Tell what a finding, technique or word means.")
def explain(
    name: Annotated[list[str] | None, typer.Argument(
        help="A finding, a technique, or a word of the language.")] = None,
) -> int:
    """Tell what a finding means, with a script that shows it and its mend; what a technique does
    and which values it takes; or what a word of the language says."""
    from sockscript.commands.explain import run

    return run(" ".join(name) if name else None)


@app.command(short_help="Print numbered steps, all sizes together.")
def steps(
    file: Annotated[Path | None, typer.Argument(help="The script.")] = None,
    size: OnlySizes = None,
    choose: Choose = None,
    all_choices: AllChoices = False,
    machine: MachineWords = None,
    with_: With = None,
    my_size: MySize = None,
    bank_book: BankBook = False,
    format: Annotated[str | None, typer.Option(help="text, markdown or json.")] = None,
    every_row: Annotated[bool, typer.Option(
        "--every-row", help="List every row with a box to tick.")] = False,
    out: Out = None,
) -> int:
    """Print the pattern as numbered steps, all sizes together."""
    if file is None:
        return wants("steps", "a script")
    from sockscript.commands.steps import run

    return run(file=file, sizes=size or [], choose=choose or [], all_choices=all_choices,
               machine=machine, my_size=my_size, bank_book=bank_book, format=format,
               every_row=every_row, out=out,
               instead=with_ or [])


@app.command(short_help="Draw every needle at a step or a row.")
def needles(
    file: Annotated[Path | None, typer.Argument(help="The script.")] = None,
    size: Annotated[str | None, typer.Option(help="The size being knitted.")] = None,
    step: Annotated[int | None, typer.Option(help="At the end of this printed step.")] = None,
    row: Annotated[int | None, typer.Option(help="When the row counter shows this.")] = None,
    choose: Choose = None,
    machine: Annotated[str | None, typer.Option(help="A machine profile.")] = None,
    with_: With = None,
) -> int:
    """Draw what should be on every needle at a step or a row: to find the place again."""
    if file is None or (step is None) == (row is None):
        return wants("needles", "a script and either --step or --row")
    from sockscript.commands.needles import run

    return run(file=file, size=size, step=step, row=row, choose=choose or [], machine=machine,
               instead=with_ or [])


@app.command(short_help="Make a leaflet, as HTML or PDF.")
def sheet(
    file: Annotated[Path | None, typer.Argument(help="The script.")] = None,
    size: OnlySizes = None,
    choose: Choose = None,
    all_choices: AllChoices = False,
    machine: MachineWords = None,
    with_: With = None,
    my_size: MySize = None,
    bank_book: BankBook = False,
    paper: Annotated[str, typer.Option(help="a4 or letter.")] = "a4",
    large_print: Annotated[bool, typer.Option("--large-print", help="Large letters.")] = False,
    sans_serif: Annotated[bool, typer.Option("--sans-serif", help="Sans-serif letters.")] = False,
    every_row: Annotated[bool, typer.Option(
        "--every-row", help="Of one size: a box to tick for every row.")] = False,
    with_script: Annotated[bool, typer.Option("--with-script", help="Add the script.")] = False,
    out: Annotated[Path | None, typer.Option(
        "-o", "--out", help="The leaflet to write: its name ends in .html or .pdf.")] = None,
) -> int:
    """Make the pattern a leaflet to print or to look at."""
    if file is None or out is None:
        return wants("sheet", "a script and -o with the name of the leaflet")
    from sockscript.commands.sheet import run

    return run(file=file, sizes=size or [], choose=choose or [], all_choices=all_choices,
               machine=machine, my_size=my_size, bank_book=bank_book, paper=paper,
               large_print=large_print, sans_serif=sans_serif, with_script=with_script,
               every_row=every_row, out=out, instead=with_ or [])


@app.command(short_help="Draw the needles, the heel, the finished sock.")
def picture(
    file: Annotated[Path | None, typer.Argument(help="The script.")] = None,
    what: Annotated[str | None, typer.Option(
        help="beds, fold, heel, fabric, schematic, stitches or sock.")] = None,
    size: Annotated[str | None, typer.Option(help="The size that is drawn.")] = None,
    step: Annotated[int | None, typer.Option(help="For beds: after this printed step.")] = None,
    choose: Choose = None,
    machine: Annotated[str | None, typer.Option(help="A machine profile.")] = None,
    with_: With = None,
    out: Annotated[Path | None, typer.Option(
        "-o", "--out", help="The picture to write: its name ends in .svg or .png.")] = None,
) -> int:
    """Draw the needles, the turning, the heel, the fabric, the measurements or the sock."""
    if file is None or what is None or out is None:
        return wants("picture", "a script, --what to draw and -o with the name of the picture")
    from sockscript.commands.picture import run

    return run(file=file, what=what, size=size, step=step, choose=choose or [], machine=machine,
               out=out, instead=with_ or [])


@app.command(short_help="Make a page to knit from, beside the machine.")
def follow(
    file: Annotated[Path | None, typer.Argument(help="The script.")] = None,
    size: Annotated[str | None, typer.Option(help="The size being knitted.")] = None,
    choose: Choose = None,
    machine: MachineWords = None,
    with_: With = None,
    pace: PaceGiven = 2.0,
    out: Annotated[Path | None, typer.Option(
        "-o", "--out", help="The page that is written.")] = None,
) -> int:
    """Write a page to knit from: it counts rows, draws the beds and keeps your place."""
    if file is None or out is None:
        return wants("follow", "a script and, after -o, the name of the page to write")
    from sockscript.commands.follow import run

    return run(file=file, size=size, choose=choose or [], machine=machine, pace=pace, out=out,
               instead=with_ or [])


@app.command(short_help="Compare test knitters' logs with the pattern.")
def logs(
    file: Annotated[Path | None, typer.Argument(help="The script.")] = None,
    logs: Annotated[list[Path] | None, typer.Argument(
        help="Logs that the page beside the machine saved.")] = None,
    machine: Annotated[str | None, typer.Option(help="The machine profile knitted by.")] = None,
    with_: With = None,
    format: Annotated[str | None, typer.Option(help="text, csv or json.")] = None,
    out: Out = None,
) -> int:
    """Tell what came out of test knitting: measurements, the gauge that fits, times, notes."""
    if file is None or not logs:
        return wants("logs", "a script and at least one knitting log")
    from sockscript.commands.logs import run

    return run(file=file, logs=logs, machine=machine, format=format, out=out,
               instead=with_ or [])


@app.command(short_help="Print the grading table.")
def sizes(
    file: Annotated[Path | None, typer.Argument(help="The script.")] = None,
    size: OnlySizes = None,
    choose: Choose = None,
    with_: With = None,
    format: Annotated[str | None, typer.Option(help="text, markdown, csv or json.")] = None,
    pace: PaceGiven = 2.0,
    out: Out = None,
) -> int:
    """Print the grading table: measurements, stitches, finished values, yarn and time."""
    if file is None:
        return wants("sizes", "a script")
    from sockscript.commands.sizes import run

    return run(file=file, sizes=size or [], choose=choose or [], format=format, pace=pace,
               out=out, instead=with_ or [])


@app.command(short_help="Turn a measured swatch into a gauge.")
def swatch(
    swatch: Annotated[str | None, typer.Argument(
        help="Stitches x rows / width x height: 60x84/20x20cm.")] = None,
    washed: Annotated[str | None, typer.Option(
        help="The same swatch washed and rested: 60x84/19x18.5cm.")] = None,
    fabric: Annotated[str, typer.Option(help="What the script calls the fabric.")] = "plain",
) -> int:
    """Turn a measured swatch into a gauge line, and tell what washing changes."""
    if swatch is None:
        return wants("swatch", "the counts and the size of a swatch")
    from sockscript.commands.swatch import run

    return run(swatch=swatch, washed=washed, fabric=fabric)


@app.command(short_help="Show roundings beside their neighbours.")
def numbers(
    file: Annotated[Path | None, typer.Argument(help="The script.")] = None,
    size: OnlySizes = None,
    choose: Choose = None,
    with_: With = None,
    out: Out = None,
) -> int:
    """Show what is rounded beside the numbers next to it, and which comes nearest the targets."""
    if file is None:
        return wants("numbers", "a script")
    from sockscript.commands.numbers import run

    return run(file=file, sizes=size or [], choose=choose or [], out=out,
               instead=with_ or [])


@app.command("range", short_help="Prove all values of a works-for block.")
def range_(
    file: Annotated[Path | None, typer.Argument(help="The script.")] = None,
    machine: Annotated[str | None, typer.Option(help="A machine profile.")] = None,
    with_: With = None,
    format: Annotated[str | None, typer.Option(help="text, csv or json.")] = None,
    out: Out = None,
) -> int:
    """Prove the pattern for all values that its 'works for' block names."""
    if file is None:
        return wants("range", "a script")
    from sockscript.commands.range import run

    return run(file=file, machine=machine, format=format, out=out,
               instead=with_ or [])


@app.command("format", short_help="Put scripts into the one layout.")
def format_(
    files: Annotated[list[Path] | None, typer.Argument(help="Scripts to lay out.")] = None,
    check: Annotated[bool, typer.Option(
        "--check", help="Write nothing; the exit status tells whether a script would change.")]
    = False,
    diff: Annotated[bool, typer.Option(
        "--diff", help="Write nothing; show what would change.")] = False,
) -> int:
    """Put scripts into the one layout; comments and meaning stay."""
    if not files:
        return wants("format", "at least one script")
    from sockscript.commands.format import run

    return run(files=files, check=check, diff=diff)


@app.command("language-server", short_help="Check while you write: started by editors.")
def language_server(
    stdio: Annotated[bool, typer.Option(
        "--stdio", help="Speak over standard input and output. It always does; many editors "
                        "say so.")] = False,
) -> int:
    """Check scripts while they are written: started by an editor, not by hand."""
    from sockscript.commands.language_server import run

    return run()


own.add_to(app)
club.register(app)
sharing.register(app)
