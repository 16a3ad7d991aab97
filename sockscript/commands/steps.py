"""``sockscript steps``: the pattern as numbered steps."""

from __future__ import annotations

import sys
from pathlib import Path

from sockscript.commands.check import UNUSABLE
from sockscript.commands.chosen import AskedForError, plans_asked, sizes_asked, usable
from sockscript.commands.output import deliver, form_asked
from sockscript.findings.prove import Proof
from sockscript.sheet import json_form, markdown, rows, text
from sockscript.sheet.sheet import make_sheet

FORMATS = {"text": text.render, "markdown": markdown.render, "json": json_form.render}


def run(*, file: Path, sizes: list[str], choose: list[str], all_choices: bool,
        machine: str | None, format: str | None, every_row: bool, out: Path | None) -> int:
    """Print or write the steps; returns 0, or 2 when there is nothing to print."""
    form = form_asked(format, FORMATS, out, file)
    if form is None:
        return UNUSABLE
    checked = usable(file, machine)
    if checked is None or checked.proof is None:
        return UNUSABLE
    try:
        rendered = _rendered(checked.proof, sizes, choose, all_choices, machine, form, every_row)
    except AskedForError as error:
        print(error, file=sys.stderr)
        return UNUSABLE
    return deliver(rendered, out)


def _rendered(proof: Proof, sizes: list[str], choose: list[str], every_choice: bool,
              machine: str | None, format: str, every_row: bool) -> str:
    script = proof.prepared.script
    plans = plans_asked(proof, sizes_asked(script, sizes), choose, every_choice)
    if every_row:
        return rows.render(plans[0][1])
    return FORMATS[format](make_sheet(script, plans, proof.profile, machine is not None))
