"""``sockscript logs``: what test knitters send back, beside what the pattern says."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from sockscript.commands.check import CLEAN, FOUND, UNUSABLE
from sockscript.commands.chosen import (
    AskedForError,
    choices_asked,
    plan_of,
    sizes_asked,
    usable,
)
from sockscript.commands.output import deliver, form_asked
from sockscript.expand.values import Value
from sockscript.findings.prove import Proof
from sockscript.findings.report import problem_text
from sockscript.fit.pace import Pace
from sockscript.logs import report
from sockscript.logs.compare import Knitted, compare
from sockscript.logs.log_file import Log, read_log
from sockscript.machine.places import ANY
from sockscript.sharing.fingerprint import same_pattern
from sockscript.sharing.stamp import fingerprint_of
from sockscript.sheet.numbering import Plan
from sockscript.text.source import Problem, Source, Span
from sockscript.text.width import set_in

_Plans = dict[tuple[tuple[str, Value], ...], Plan]
"""The plans of all sizes, by what is chosen."""
FORMATS = {"text": report.as_text, "csv": report.as_csv, "json": report.as_json}


def run(*, file: Path, logs: list[Path], format: str | None, out: Path | None,
        machine: str | None = None, instead: Sequence[str] = ()) -> int:
    """Print or write what the logs tell; returns 0, 1 if a log could not be used, 2 if none."""
    form = form_asked(format, FORMATS, out, file, *logs)
    if form is None:
        return UNUSABLE
    checked = usable(file, machine if machine is not None else ANY, instead)
    if checked is None or checked.proof is None:
        return UNUSABLE
    script = checked.proof.prepared.script
    plans: _Plans = {}
    knitted: list[Knitted] = []
    unfit: list[Problem] = []
    ours = str(fingerprint_of(checked))
    for path in logs:
        log = read_log(path)
        one = log if isinstance(log, Problem) else _knitted(checked.proof, log, plans)
        if isinstance(one, Problem):
            unfit.append(one)
            continue
        knitted.append(one)
        if not same_pattern(one.log.fingerprint, ours):
            print(set_in(
                f"{path}: the pattern was changed since this sock was begun, though its version is "
                f"the same: its fingerprint was {one.log.fingerprint or 'none'}, and now it is "
                f"{ours}. Steps and measurements are compared with the pattern as it is now.\n"),
                file=sys.stderr)
    for problem in unfit:
        print(problem_text(problem) + "\n", file=sys.stderr)
    if not knitted:
        print("There is no log to compare.", file=sys.stderr)
        return UNUSABLE
    text = FORMATS[form](script.title or "Untitled pattern", compare(knitted, Pace()))
    return deliver(text, out) or (FOUND if unfit else CLEAN)


def _knitted(proof: Proof, log: Log, plans: _Plans) -> Knitted | Problem:
    """The size and the choices that a log is of, or why it is not of this pattern."""
    script = proof.prepared.script
    ours = (script.title or "Untitled pattern", str(script.version or ""))
    if log.title != ours[0]:
        return _foreign(log, f"This log is of '{log.title}', not of '{ours[0]}'.",
                        "Name the script that was knitted from.")
    if log.version != ours[1]:
        return _foreign(log, f"This log is of version {log.version or '(none)'}; the script is "
                             f"version {ours[1] or '(none)'}.",
                        "Compare it with the script of that version.")
    try:
        chosen = choices_asked(script, [f"{name}={value}" for name, value in log.choices.items()])
        combination = tuple(chosen.items())
        if combination not in plans:
            plans[combination] = plan_of(proof, sizes_asked(script, []), chosen)
        plan = plans[combination]
        (size,) = (n for n, name in enumerate(plan.names) if name == log.size)
    except AskedForError as error:
        words = ", ".join(f"{name} {value}" for name, value in log.choices.items())
        return _foreign(log, f"This log was knitted with '{words}'. {error}",
                        "Compare it with the script that was knitted from.")
    except ValueError:
        return _foreign(log, f"The pattern has no size '{log.size}'. It has "
                             f"{', '.join(plan.names)}.",
                        "Compare it with the script that was knitted from.")
    return Knitted(log, plan, size)


def _foreign(log: Log, message: str, hint: str) -> Problem:
    return Problem("foreign-log", Span(Source(log.file, ""), 1, 1, 1), message, hint)
