"""``sockscript fit``: a shared pattern for one foot and gauge; checked, then printed or written."""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
from pathlib import Path

from attrs import evolve

from sockscript.commands.check import FOUND, UNUSABLE, read_script, report, tell_pack
from sockscript.commands.chosen import (
    AskedForError,
    choices_asked,
    other_choices,
    plan_of,
    printed_choices,
)
from sockscript.commands.exchanged_text import exchanging, header_below, with_lines
from sockscript.commands.fitted_text import FittedSize, asks_by_name, fitted_text
from sockscript.commands.fitting import fitting_asked
from sockscript.commands.machine_asked import machine_asked
from sockscript.commands.output import deliver, may_begin, may_write, tell_written
from sockscript.expand.called import borrowed
from sockscript.findings.checked import Checked, begin, prove_begun
from sockscript.sheet import text
from sockscript.sheet.sheet import make_sheet
from sockscript.text.source import Problem, Source
from sockscript.tree.script import Script

ENDINGS = (".txt",)
SCRIPT = ".sockscript"


def run(*, file: Path, measures: Mapping[str, str], shoe: str | None, gauge: str | None,
        choose: list[str], machine: str | None, out: Path | None, size: str | None = None,
        band: str | None = None, instead: Sequence[str] = ()) -> int:
    """Fit the pattern, check it, print its steps or write it as a script; returns 0, 1 with
    findings, 2 unusable."""
    into_script = out is not None and out.suffix.lower() == SCRIPT
    if not (may_begin(out) if into_script else may_write(out, ENDINGS, file)):
        return UNUSABLE
    source = read_script(file)
    asked = machine_asked(machine)
    asked.tell()
    begun = begin(source, asked.name, instead)
    if isinstance(source, Problem) or begun.prepared is None or begun.profile is None:
        print(report(begun), file=sys.stderr)
        return UNUSABLE
    tell_pack(source)
    try:
        if into_script and out is not None:
            _can_use_its_files(begun, out, instead)
        source, instead = _with_all(source, begun, instead if into_script else ()), \
            () if into_script else instead
        begun = begin(source, asked.name, instead)
        if begun.prepared is None or begun.profile is None:
            print(report(begun), file=sys.stderr)
            return UNUSABLE
        script = begun.script
        fitting, said = fitting_asked(script, measures, shoe, gauge, size, band, choose)
        _no_names_below(script, fitting)
        chosen = choices_asked(script, choose)
    except AskedForError as error:
        print(error, file=sys.stderr)
        return UNUSABLE
    written = fitted_text(source, script, fitting, said if into_script else ())
    whole = begin(Source(source.name, written, source.folder, source.beside), asked.name,
                  instead)
    if whole.prepared is None or whole.profile is None:
        print(report(whole), file=sys.stderr)
        return UNUSABLE
    print("\n".join(said), file=sys.stderr)
    fitted = _only(whole.script, fitting.name)
    checked = prove_begun(whole._replace(prepared=whole.prepared._replace(script=fitted)))
    if not checked.knits or checked.proof is None:
        print(report(checked), file=sys.stderr)
        return FOUND
    if out is not None and into_script:
        if any(f.kind == "sizes-alike" for f in prove_begun(whole).findings):
            written = fitted_text(source, script, fitting._replace(like_another=True), said)
        status = tell_written(written, out)
        if not status:
            print(f"Print it, for example:  sockscript sheet {out} --size '{fitting.name}' "
                  f"-o {out.with_suffix('.pdf')}")
        return status
    plan = plan_of(checked.proof, [0], chosen)
    sheet = make_sheet(fitted, [(printed_choices(fitted, chosen), plan)], whole.profile,
                       asked.name is not None, others=other_choices(fitted, chosen),
                       techniques=[str(one) for one in borrowed(fitted, whole.library)])
    return deliver(text.render(sheet), out)


def _with_all(source: Source, begun: Checked, instead: Sequence[str]) -> Source:
    """The script with all that is changed in it by fitting, or exchanged, written down."""
    lines = [*header_below(begun.script), *exchanging(begun, instead)[0]]
    return Source(source.name, with_lines(source, lines), source.folder, source.beside) \
        if lines else source


def _can_use_its_files(begun: Checked, out: Path, instead: Sequence[str]) -> None:
    """Raises AskedForError where the new script would not find the files of the old one."""
    there = out.resolve().parent
    if begun.library.files and there != begun.script.source.folder:
        raise AskedForError(f"The pattern uses {next(iter(begun.library.files))}, which is looked "
                            "for beside it.\nWrite the fitted script into the same folder.")
    for one in exchanging(begun, instead)[1]:
        if one.folder != there:
            raise AskedForError(f"The fitted script would look for {Path(one.name).name} beside "
                                "it.\nCopy it there first.")


def _no_names_below(script: Script, fitting: FittedSize) -> None:
    """Raises AskedForError where a script that this one builds on would not know the size."""
    for below in script.based_on:
        if any(asks_by_name(line, fitting.base) for line in below.script.source.lines):
            raise AskedForError(f"{below.name} asks whether the size is {fitting.base}, and would "
                                f"not know of {fitting.name}.\nFit that script itself.")


def _only(script: Script, name: str) -> Script:
    """The script with one of its sizes."""
    sizes = script.sizes
    assert sizes is not None
    column = sizes.names.index(name)
    return evolve(script, sizes=evolve(sizes, names=(name,), measures={
        row: (values[column],) for row, values in sizes.measures.items()}))
