"""``sockscript range``: prove a pattern for all values that it says it works for."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import nullcontext
from math import ceil, floor
from pathlib import Path
from typing import Any

from sockscript.commands.check import (
    CLEAN,
    FOUND,
    UNUSABLE,
    read_script,
    report,
    tell_pack,
)
from sockscript.commands.chosen import title_of
from sockscript.commands.machine_asked import machine_asked
from sockscript.commands.output import deliver, form_asked
from sockscript.findings.checked import Checked, begin, prove_begun
from sockscript.findings.finding import Finding
from sockscript.findings.prove import Prepared, prepare
from sockscript.findings.ranges import (
    MOST_COMBINATIONS,
    BareFinding,
    RangeProof,
    Survey,
    combinations,
    dimensions,
    settled_script,
)
from sockscript.findings.survey import Summary, joined, summarise
from sockscript.machine.profile import Profile
from sockscript.sheet import range_table
from sockscript.text.source import Problem, Source
from sockscript.tree.script import Script

FORMATS = {"text": range_table.as_text, "csv": range_table.as_csv, "json": range_table.as_json}
CHUNK = 500
"""Combinations handed to a core at a time."""
WORTH_SHARING = 1500
"""With fewer combinations a second core takes longer to start than it saves."""


def _own_range(script: Script) -> str:
    """A range of a girth or length that the script's own table has."""
    lengths = {name: [cell.value / 10 for cell in row] for name, row in
               (script.sizes.measures if script.sizes is not None else {}).items()
               if all(cell.unit == "mm" for cell in row)}
    name = next((one for one in lengths if one.endswith("-round")), next(iter(lengths), None))
    if name is None or name == "foot-round":
        return "foot-round 18 to 27 cm by 1 cm"
    return f"{name} {floor(min(lengths[name]))} to {ceil(max(lengths[name]))} cm by 1 cm"


def run(*, file: Path, machine: str | None, format: str | None, out: Path | None,
        instead: Sequence[str] = ()) -> int:
    """Try every combination; returns 0 if all knit, 1 if some do not, 2 for unusable input."""
    form = form_asked(format, FORMATS, out, file)
    if form is None:
        return UNUSABLE
    source = read_script(file)
    asked = machine_asked(machine)
    asked.tell()
    begun = begin(source, asked.name, instead)
    if isinstance(source, Problem) or begun.prepared is None or begun.profile is None:
        print(report(begun), file=sys.stderr)
        return UNUSABLE
    tell_pack(source)
    prepared, profile, script = begun.prepared, begun.profile, begun.script
    if script.works_for is None or not script.works_for.ranges:
        print(f"{file} does not say which values it works for.\nAdd a block to its header, for "
              f"example:\n\nworks for\n    {_own_range(script)}\n    gauge plain 26 to "
              "34 stitches by 2", file=sys.stderr)
        return UNUSABLE
    dims = dimensions(script)
    total = combinations(dims)
    if total > MOST_COMBINATIONS:
        print(f"The ranges give {total} combinations; at most {MOST_COMBINATIONS} are tried.\n"
              "Write larger steps after 'by', or leave a range out.", file=sys.stderr)
        return UNUSABLE
    survey = joined(_surveys(source, instead, prepared, profile, total))
    if survey.cut_short:
        print(f"{file} goes on and on: it was given up after {len(survey.which)} of {total} "
              "combinations.\nLook for a repeat that hardly ends, or make the ranges smaller.",
              file=sys.stderr)
        return UNUSABLE
    summary = summarise(dims, survey)
    examples = _examples(begun, summary)
    text = FORMATS[form](title_of(begun, instead), summary, survey, examples)
    return deliver(text, out) or (CLEAN if summary.knit == summary.tried else FOUND)


def _surveys(source: Source, instead: Sequence[str], prepared: Prepared, profile: Profile,
             total: int) -> Iterator[Survey]:
    """The surveys of all combinations in order; if it takes long, with a bar on the terminal, or
    else a word on standard error about how long."""
    chunks = [(first, min(first + CHUNK, total)) for first in range(0, total, CHUNK)]
    cores = min(os.cpu_count() or 1, len(chunks))
    if total < WORTH_SHARING:
        cores = 1
    begun = time.monotonic()
    with _progress(total) as bar:
        for number, survey in enumerate(
                _alone(prepared, profile, chunks) if cores < 2
                else _together(source, instead, prepared, profile, chunks, cores)):
            if bar is not None:
                bar.update(len(survey.which))
            elif not number:
                _say_how_long((time.monotonic() - begun) * (len(chunks) - 1) / cores)
            yield survey
            if survey.cut_short:
                return


def _progress(total: int) -> Any:
    if total < WORTH_SHARING:
        return nullcontext()
    if not sys.stderr.isatty():
        print(f"{total} combinations are tried.", file=sys.stderr, flush=True)
        return nullcontext()
    import typer

    return typer.progressbar(length=total, label="Knitting in thought", file=sys.stderr)


def _say_how_long(seconds: float) -> None:
    """Roughly how long the rest takes, where it is worth a word."""
    if seconds > 90:
        print(f"That takes about {round(seconds / 60)} minutes.", file=sys.stderr, flush=True)
    elif seconds > 5:
        print(f"That takes about {round(seconds, -1):.0f} seconds.", file=sys.stderr, flush=True)


def _alone(prepared: Prepared, profile: Profile,
           chunks: list[tuple[int, int]]) -> Iterator[Survey]:
    proof = RangeProof(prepared, profile)
    for chunk in chunks:
        yield proof.survey(*chunk)


def _together(source: Source, instead: Sequence[str], prepared: Prepared, profile: Profile,
              chunks: list[tuple[int, int]], cores: int) -> Iterator[Survey]:
    from concurrent.futures import ProcessPoolExecutor

    try:
        pool = ProcessPoolExecutor(cores, initializer=_begin, initargs=(source, instead, profile))
    except OSError:
        # No memory to share, as in some containers: one core does it all.
        yield from _alone(prepared, profile, chunks)
        return
    with pool:
        try:
            yield from pool.map(_part, chunks)
        finally:
            pool.shutdown(cancel_futures=True)


_OWN: list[RangeProof] = []
"""The proof of this process: what it has knitted serves all chunks that it is handed."""


def _begin(source: Source, instead: Sequence[str], profile: Profile) -> None:
    _OWN[:] = [RangeProof(prepare(source, instead), profile)]


def _part(chunk: tuple[int, int]) -> Survey:
    return _OWN[0].survey(*chunk)


def _examples(begun: Checked, summary: Summary) -> dict[BareFinding, Finding]:
    """For each finding, that which a plain check gives for its first combination."""
    found: dict[BareFinding, Finding] = {}
    for one in summary.occurrences[:range_table.MOST_TOLD]:
        script = settled_script(begun.script, summary.dims, one.example)
        alone = prove_begun(begun._replace(prepared=Prepared(script, begun.library, ())))
        for finding in alone.findings:
            other = "" if finding.at.source is script.source else finding.at.source.name
            if (finding.kind, finding.at.line, other) == (
                    one.finding.kind, one.finding.line, one.finding.file):
                found.setdefault(one.finding, finding)
    return found
