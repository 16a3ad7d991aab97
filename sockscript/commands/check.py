"""``sockscript check``: prove scripts, tell what was found."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from pathlib import Path

from sockscript.commands.machine_asked import machine_asked
from sockscript.commands.several import none_found, scripts_in, total, with_progress
from sockscript.expand.explore import Outcome
from sockscript.findings.checked import Checked, check
from sockscript.findings.paint import COLOUR, PLAIN, Paint
from sockscript.findings.prove import Proof, StepNumber
from sockscript.findings.report import (
    allowed_text,
    finding_text,
    following_text,
    problem_text,
    told_text,
)
from sockscript.findings.told_back import told_back
from sockscript.text import width
from sockscript.text.source import Problem, Source, read_source

FORMATS = ("text", "json", "sarif", "lines")
MORE = "'sockscript explain NAME' tells more of each."
CLEAN, FOUND, UNUSABLE = 0, 1, 2


def check_file(path: Path, machine: str | None, instead: Sequence[str] = ()) -> Checked:
    """Read and prove one script; ``instead``: techniques that are exchanged."""
    return check(read_script(path), machine, numbers_of, instead)


def read_script(path: Path, shown_as: str | None = None) -> Source | Problem:
    """A script, or that of a pack if nothing is wrong with its signature."""
    source = read_source(path, shown_as)
    if isinstance(source, Problem) or source.pack is None:
        return source
    from sockscript.commands.signer import refused

    return refused(source) or source


def tell_pack(source: Source) -> None:
    """Say beside what is printed who signed the pack that a script is from."""
    if source.pack is not None:
        from sockscript.commands.signer import tell_signer

        tell_signer(source)


def numbers_of(proof: Proof) -> StepNumber:
    """The numbers of printed steps; laying them out is loaded only when something was found."""
    found: list[StepNumber] = []

    def number(outcome: Outcome, size: int, instruction: int) -> int | None:
        if not found:
            from sockscript.sheet.numbering import StepNumbers

            found.append(StepNumbers(proof))
        return found[0](outcome, size, instruction)

    return number


def run(*, files: list[Path], machine: str | None = None, format: str = "text",
        instead: Sequence[str] = ()) -> int:
    """Check scripts, and those in folders, one after the other; returns 0 clean, 1 findings, 2
    unusable input."""
    if format not in FORMATS:
        print(f"There is no format '{format}'. Choose from {', '.join(FORMATS)}.",
              file=sys.stderr)
        return UNUSABLE
    scripts = scripts_in(files)
    if not scripts:
        return none_found(files)
    asked = machine_asked(machine)
    everything = []
    by_status: dict[int, list[Path]] = {CLEAN: [], FOUND: [], UNUSABLE: []}
    for path in with_progress(scripts):
        checked = check_file(path, asked.name, instead)
        if format == "text":
            print(report(checked, COLOUR if has_colour() else PLAIN) + _marked(checked))
        else:
            everything.append(checked)
        by_status[status_of(checked)].append(path)
    if format != "text":
        asked.tell()
        sys.stdout.write(_formed(everything, format, asked.usual))
    elif asked.usual:
        print("\n" + width.set_in(asked.remark))
    if format == "text" and len(scripts) > 1:
        print("\n" + width.set_in(total(len(by_status[CLEAN]), by_status[FOUND],
                                        by_status[UNUSABLE])))
    return max(status for status, paths in by_status.items() if paths)


def _marked(checked: Checked) -> str:
    """Of a script that can be knitted: techniques from elsewhere, and the fingerprint."""
    if not checked.knits:
        return ""
    from sockscript.expand.called import borrowed, built_on
    from sockscript.sharing.stamp import fingerprint_of

    lines = [*(f"Built on {one}" for one in built_on(checked.script)),
             *(f"Technique {one}" for one in borrowed(checked.script, checked.library))]
    lines.append(f"Fingerprint {fingerprint_of(checked)}")
    pack = checked.script.source.pack
    if pack is not None:
        from sockscript.commands.signer import signer

        said = signer(pack)
        lines.append(said[0].upper() + said[1:])
    return "".join(f"\n{width.filled(line, '  ', '    ')}" for line in lines)


def status_of(checked: Checked) -> int:
    """The exit status for one script: advice does not count."""
    if checked.problems:
        return UNUSABLE
    return FOUND if any(f.severity != "advice" for f in checked.findings) else CLEAN


def _formed(everything: list[Checked], format: str, usual: bool) -> str:
    from sockscript import __version__
    from sockscript.findings.for_programs import FileFindings, as_json, as_lines, as_sarif
    from sockscript.sharing.stamp import fingerprint_of

    files = [FileFindings(checked.name, checked.problems or checked.findings,
                          str(fingerprint_of(checked)) if checked.knits else None,
                          checked.machine, usual)
             for checked in everything]
    if format == "lines":
        return as_lines(files)
    return as_json(files) if format == "json" else as_sarif(files, __version__)


def has_colour() -> bool:
    """Whether the output goes to a terminal that shows colour and nobody minds it
    (no-color.org)."""
    return (sys.stdout.isatty() and not os.environ.get("NO_COLOR")
            and os.environ.get("TERM", "dumb") != "dumb")


def _last(name: str, said: str) -> str:
    """What is said of a whole script, after its name."""
    line = f"{name}: {said}"
    return line if width.page() >= min(len(line), width.WIDEST) else \
        f"{name}:\n{width.filled(said, '  ')}"


def report(checked: Checked, paint: Paint = PLAIN) -> str:
    """All that a person should read about one script."""
    if checked.problems:
        blocks = [problem_text(problem, paint) for problem in checked.problems]
        count = len(blocks)
        blocks.append(_last(checked.name, f"not checked; {count} thing"
                                          f"{'s' if count > 1 else ''} to mend first. {MORE}"))
        return "\n\n".join(blocks)
    if checked.proof is None:
        return _last(checked.name, "techniques only; they are read and their names known. They "
                                   "are knitted in a pattern that names this file after 'use'.")
    blocks = []
    for finding in checked.findings:
        if finding.cause is None:
            text = finding_text(finding, paint)
            following = [one for one in checked.findings
                         if one.cause == (finding.kind, finding.at)]
            blocks.append(text + ("\n" + following_text(following) if following else ""))
    blocks.extend(allowed_text(one) for one in checked.allowed)
    from_here = _on_this_machine(checked)
    if from_here:
        blocks.append(from_here)
    blocks.append(_last(checked.name, _summary(checked)))
    if checked.knits and checked.proof is not None:
        blocks[-1] += "".join(f"\n{told_text(told)}" for told in told_back(checked.proof))
    return "\n\n".join(blocks)


def _on_this_machine(checked: Checked) -> str:
    """What to do instead on a machine that lacks something; empty if it lacks nothing."""
    if checked.machine is None or checked.profile is None:
        return ""
    from sockscript.findings.other_machine import instead

    paragraphs = instead(checked)
    return "\n".join((f"On the {checked.profile.name}", *map(told_text, paragraphs))) \
        if paragraphs else ""


def _summary(checked: Checked) -> str:
    """What was found and allowed, counted in a sentence."""
    proof = checked.proof
    assert proof is not None
    sizes = len(proof.outcomes)
    proved = f"{sizes} size{'s' if sizes > 1 else ''}"
    if proof.combinations > sizes:
        proved += f", {proof.combinations} combinations of size and choices"
    told = [f for f in checked.findings if f.cause is None]
    counts = {severity: sum(f.severity == severity for f in told)
              for severity in ("fault", "warning", "advice")}
    following = len(checked.findings) - len(told)
    if counts["fault"] or counts["warning"]:
        parts = [f"{n} {severity}{'s' if n > 1 and severity != 'advice' else ''}"
                 for severity, n in counts.items() if n]
        if following:
            parts.append(f"{following} that may follow")
        return f"{', '.join(parts)} ({proved}). {MORE}"
    rest = f" {counts['advice']} piece{'s' if counts['advice'] > 1 else ''} of advice." \
        if counts["advice"] else ""
    return f"no stitch is lost ({proved}).{rest}"
