"""``sockscript steps``: the pattern as numbered steps."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from sockscript.commands.check import UNUSABLE
from sockscript.commands.chosen import (
    AskedForError,
    plans_asked,
    sheet_asked,
    sizes_asked,
    usable,
)
from sockscript.commands.output import deliver, form_asked
from sockscript.sheet import json_form, markdown, rows, text
from sockscript.sheet.sheet import cautions

FORMATS = {"text": text.render, "markdown": markdown.render, "json": json_form.render}


def run(*, file: Path, sizes: list[str], choose: list[str], all_choices: bool,
        machine: str | None, my_size: str | None, bank_book: bool, format: str | None,
        every_row: bool,
        out: Path | None, instead: Sequence[str] = ()) -> int:
    """Print or write the steps; returns 0, or 2 when there is nothing to print."""
    form = form_asked(format, FORMATS, out, file)
    if form is None:
        return UNUSABLE
    if every_row and (form != "text" or bank_book):
        print("--every-row makes a list to tick off with a pencil: it goes with the format text "
              "and without the bank book.\nLeave --format or --with-bank-book out.",
              file=sys.stderr)
        return UNUSABLE
    if every_row and my_size is not None and sizes:
        print("--my-size with --every-row lists the rows of that size alone: leave --size or "
              "--my-size out.", file=sys.stderr)
        return UNUSABLE
    checked = usable(file, machine, instead)
    if checked is None or checked.proof is None:
        return UNUSABLE
    try:
        if every_row:
            script = checked.proof.prepared.script
            plans = plans_asked(checked.proof, sizes_asked(
                script, [my_size] if my_size is not None and not sizes else sizes),
                choose, all_choices)
            return deliver(rows.render(plans, cautions(
                script, [plan.runs for _, plan in plans])), out)
        sheet = sheet_asked(checked, sizes=sizes, choose=choose, every_choice=all_choices,
                            named_machine=checked.machine is not None, my_size=my_size,
                            bank_book=bank_book or form == "json")
    except AskedForError as error:
        print(error, file=sys.stderr)
        return UNUSABLE
    return deliver(FORMATS[form](sheet), out)
