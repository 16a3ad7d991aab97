"""Options that several commands have, for typer."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from sockscript.numbers.quantity import QuantityError, read_amount

Choose = Annotated[list[str] | None, typer.Option(
    help="Settle an option: NAME=VALUE (may be given again).")]
With = Annotated[list[str] | None, typer.Option(
    "--with", help="Exchange a technique: heel=our-heel, a technique or a file that has it.")]
OnlySizes = Annotated[list[str] | None, typer.Option(help="Only this size (may be given again).")]
MachineWords = Annotated[str | None, typer.Option(
    help="Use this machine's own words for settings.")]
Out = Annotated[Path | None, typer.Option("-o", "--out", help="Write to this file.")]
MySize = Annotated[str | None, typer.Option(
    "--my-size", help="The size that stands out in every list of numbers.")]
BankBook = Annotated[bool, typer.Option(
    "--with-bank-book", help="Put the bank book of stitches at the end.")]
AllChoices = Annotated[bool, typer.Option(
    "--all-choices", help="Print every choice, each as a block of its own.")]


def _seconds(text: str | float) -> float:
    """A number as it is written anywhere else, with a comma or a fraction too."""
    try:
        return float(read_amount(str(text)))
    except QuantityError:
        raise typer.BadParameter(f"'{text}' is no number of seconds "
                                 "from 0.1 to 600.") from None


PaceGiven = Annotated[float, typer.Option(
    "--pace", parser=_seconds, metavar="SECONDS", help="Your seconds for a pass of the carriage.")]
