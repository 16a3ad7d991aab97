"""``sockscript steps``: the pattern as numbered steps."""

from __future__ import annotations

import sys
from pathlib import Path

from sockscript.commands.check import UNUSABLE
from sockscript.commands.chosen import (
    AskedForError,
    choice_words,
    choices_asked,
    plan_of,
    sizes_asked,
    usable,
)
from sockscript.commands.output import deliver
from sockscript.expand.explore import all_choices
from sockscript.findings.prove import Proof
from sockscript.sheet import json_form, markdown, rows, text
from sockscript.sheet.sheet import make_sheet

FORMATS = {"text": text.render, "markdown": markdown.render, "json": json_form.render}


def run(*, file: Path, sizes: list[str], choose: list[str], all_choices: bool,
        machine: str | None, format: str, every_row: bool, out: Path | None) -> int:
    """Print or write the steps; returns 0, or 2 when there is nothing to print."""
    if format not in FORMATS:
        print(f"There is no format '{format}'. Choose from {', '.join(FORMATS)}.",
              file=sys.stderr)
        return UNUSABLE
    checked = usable(file, machine)
    if checked is None or checked.proof is None:
        return UNUSABLE
    try:
        rendered = _rendered(checked.proof, sizes, choose, all_choices, machine, format,
                             every_row)
    except AskedForError as error:
        print(error, file=sys.stderr)
        return UNUSABLE
    return deliver(rendered, out)


def _rendered(proof: Proof, sizes: list[str], choose: list[str], every_choice: bool,
              machine: str | None, format: str, every_row: bool) -> str:
    script = proof.prepared.script
    wanted = sizes_asked(script, sizes)
    chosen = choices_asked(script, choose)
    combinations = [chosen]
    if every_choice:
        combinations = [c for c in all_choices(script)
                        if all(c[name] == chosen[name] for name in _settled(choose))]
    if every_row:
        return rows.render(plan_of(proof, wanted, combinations[0]))
    plans = [(choice_words(c), plan_of(proof, wanted, c)) for c in combinations]
    return FORMATS[format](make_sheet(script, plans, proof.profile, machine is not None))


def _settled(choose: list[str]) -> list[str]:
    return [text.partition("=")[0].strip().lower() for text in choose]
