"""``sockscript sizes``: the whole grading table of a pattern."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from sockscript.commands.check import UNUSABLE
from sockscript.commands.chosen import (
    AskedForError,
    choices_asked,
    plan_of,
    sizes_asked,
    title_of,
    usable,
)
from sockscript.commands.output import deliver, form_asked
from sockscript.fit.pace import Pace
from sockscript.machine.places import ANY
from sockscript.sheet import grading

FORMATS = {"text": grading.as_text, "markdown": grading.as_markdown, "csv": grading.as_csv,
           "json": grading.as_json}


def run(*, file: Path, sizes: list[str], choose: list[str], format: str | None, pace: float,
        out: Path | None, instead: Sequence[str] = ()) -> int:
    """Print or write the table; ``pace`` is seconds for a pass of the carriage."""
    form = form_asked(format, FORMATS, out, file)
    if form is None:
        return UNUSABLE
    if not 0.1 <= pace <= 600:
        print("The pace is seconds for a pass of the carriage, from 0.1 to 600.", file=sys.stderr)
        return UNUSABLE
    checked = usable(file, ANY, instead)
    if checked is None or checked.proof is None:
        return UNUSABLE
    script = checked.proof.prepared.script
    try:
        plan = plan_of(checked.proof, sizes_asked(script, sizes), choices_asked(script, choose))
    except AskedForError as error:
        print(error, file=sys.stderr)
        return UNUSABLE
    own = Pace()._replace(carriage=pace)
    rows = grading.grading(plan.runs, own)
    return deliver(FORMATS[form](title_of(checked, instead), plan.names, rows), out)
