"""``sockscript check``: prove scripts, tell what was found."""

from __future__ import annotations

import gc
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from sockscript.commands.several import none_found, scripts_in, total, with_progress
from sockscript.expand.explore import Outcome
from sockscript.findings.allow import Allowed
from sockscript.findings.finding import Finding
from sockscript.findings.prove import Prepared, Proof, judge_proof, prepare, prove
from sockscript.findings.report import allowed_text, finding_text, in_colour, problem_text
from sockscript.machine.load import lacks, load_profile, script_profile
from sockscript.machine.profile import Profile
from sockscript.text.source import Problem, read_source

if TYPE_CHECKING:
    from sockscript.sheet.numbering import Plan

FORMATS = ("text", "json", "sarif", "lines")
MORE = "'sockscript explain NAME' tells more of each."
CLEAN, FOUND, UNUSABLE = 0, 1, 2


class Checked(NamedTuple):
    """A script as far as it went: problems, or a proof with its findings, or neither of them
    for a file that has only techniques."""

    path: Path
    problems: tuple[Problem, ...]
    prepared: Prepared | None = None
    proof: Proof | None = None
    findings: tuple[Finding, ...] = ()
    allowed: tuple[Allowed, ...] = ()


def profile_for(machine: str | None, prepared: Prepared) -> Profile | Problem:
    """The machine that was named, or the one that the script describes."""
    return script_profile(prepared.script) if machine is None else load_profile(machine)


def check_file(path: Path, machine: str | None) -> Checked:
    """Read and prove one script."""
    collecting = gc.isenabled()
    # Almost all that is made is kept to the end: looking for garbage again and again would make
    # the time grow faster than the script.
    gc.disable()
    try:
        return _check_file(path, machine)
    finally:
        if collecting:
            gc.enable()


def _check_file(path: Path, machine: str | None) -> Checked:
    source = read_source(path)
    if isinstance(source, Problem):
        return Checked(path, (source,))
    prepared = prepare(source)
    if prepared.problems or prepared.only_techniques:
        return Checked(path, prepared.problems, prepared)
    profile = profile_for(machine, prepared)
    if isinstance(profile, Problem):
        return Checked(path, (profile,), prepared)
    missing = lacks(prepared.script, profile)
    proof = prove(prepared, profile)
    findings = [Finding(p.kind, "fault", p.at, p.message, p.hint) for p in missing]
    judged = judge_proof(proof, _Numbering(proof))
    return Checked(path, (), prepared, proof, (*findings, *judged.findings),
                   tuple(judged.allowed))


class _Numbering:
    """Looks up printed step numbers; the steps are laid out only when something was found."""

    def __init__(self, proof: Proof) -> None:
        self.proof = proof
        self.plans: dict[tuple[object, ...], Plan] = {}

    def __call__(self, outcome: Outcome, size: int, instruction: int) -> int | None:
        from sockscript.sheet.numbering import plan_for

        chosen = tuple(outcome.choices[0].items())
        if chosen not in self.plans:
            self.plans[chosen] = plan_for(self.proof, outcome)
        return self.plans[chosen].number_of(size, instruction)


def run(*, files: list[Path], machine: str | None = None, format: str = "text") -> int:
    """Check scripts, and those in folders, one after the other; returns 0 clean, 1 findings, 2
    unusable input."""
    if format not in FORMATS:
        print(f"There is no format '{format}'. Choose from {', '.join(FORMATS)}.",
              file=sys.stderr)
        return UNUSABLE
    scripts = scripts_in(files)
    if not scripts:
        return none_found(files)
    everything = []
    by_status: dict[int, list[Path]] = {CLEAN: [], FOUND: [], UNUSABLE: []}
    for path in with_progress(scripts):
        checked = check_file(path, machine)
        if format == "text":
            text = report(checked)
            print(in_colour(text) if has_colour() else text, file=sys.stdout)
        else:
            everything.append(checked)
        by_status[status_of(checked)].append(path)
    if format != "text":
        sys.stdout.write(_formed(everything, format))
    elif len(scripts) > 1:
        print("\n" + total(len(by_status[CLEAN]), by_status[FOUND], by_status[UNUSABLE]))
    return max(status for status, paths in by_status.items() if paths)


def status_of(checked: Checked) -> int:
    """The exit status for one script: advice does not count."""
    if checked.problems:
        return UNUSABLE
    return FOUND if any(f.severity != "advice" for f in checked.findings) else CLEAN


def _formed(everything: list[Checked], format: str) -> str:
    from sockscript import __version__
    from sockscript.findings import forms

    files = [forms.FileFindings(str(checked.path), checked.problems or checked.findings)
             for checked in everything]
    if format == "lines":
        return forms.as_lines(files)
    return forms.as_json(files) if format == "json" else forms.as_sarif(files, __version__)


def has_colour() -> bool:
    """Whether the output goes to a terminal that shows colour and nobody minds it
    (no-color.org)."""
    return (sys.stdout.isatty() and not os.environ.get("NO_COLOR")
            and os.environ.get("TERM", "dumb") != "dumb")


def report(checked: Checked) -> str:
    """All that a person should read about one script."""
    if checked.problems:
        blocks = [problem_text(problem) for problem in checked.problems]
        count = len(blocks)
        blocks.append(f"{checked.path}: not checked; {count} thing{'s' if count > 1 else ''} to "
                      f"mend first. {MORE}")
        return "\n\n".join(blocks)
    if checked.proof is None:
        return (f"{checked.path}: techniques only; they are read and their names known. They are "
                "knitted in a pattern that names this file after 'use'.")
    blocks = [finding_text(finding) for finding in checked.findings]
    blocks.extend(allowed_text(one) for one in checked.allowed)
    blocks.append(f"{checked.path}: {_summary(checked)}")
    return "\n\n".join(blocks)


def _summary(checked: Checked) -> str:
    proof = checked.proof
    assert proof is not None
    sizes = len(proof.outcomes)
    proved = f"{sizes} size{'s' if sizes > 1 else ''}"
    if proof.combinations > sizes:
        proved += f", {proof.combinations} combinations of size and choices"
    counts = {severity: sum(f.severity == severity for f in checked.findings)
              for severity in ("fault", "warning", "advice")}
    if counts["fault"] or counts["warning"]:
        parts = [f"{n} {severity}{'s' if n > 1 and severity != 'advice' else ''}"
                 for severity, n in counts.items() if n]
        return f"{', '.join(parts)} ({proved}). {MORE}"
    rest = f" {counts['advice']} piece{'s' if counts['advice'] > 1 else ''} of advice." \
        if counts["advice"] else ""
    return f"no stitch is lost ({proved}).{rest}"
