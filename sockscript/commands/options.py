"""Options that several commands have, for typer."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

Choose = Annotated[list[str] | None, typer.Option(
    help="Settle an option: NAME=VALUE (may be given again).")]
With = Annotated[list[str] | None, typer.Option(
    "--with", help="Exchange a technique: heel=our-heel, a technique or a file that has it.")]
Sizes = Annotated[list[str] | None, typer.Option(help="Only this size (may be given again).")]
Words = Annotated[str | None, typer.Option(help="Use this machine's own words for settings.")]
Out = Annotated[Path | None, typer.Option("-o", "--out", help="Write to this file.")]
MySize = Annotated[str | None, typer.Option(
    "--my-size", help="The size that stands out in every list of numbers.")]
BankBook = Annotated[bool, typer.Option(
    "--with-bank-book", help="Put the bank book of stitches at the end.")]
AllChoices = Annotated[bool, typer.Option(
    "--all-choices", help="Print every choice, each as a block of its own.")]
