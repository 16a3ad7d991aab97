"""What other Python programs use: ``import sockscript`` offers these names.

Nothing here prints; what a script lacks is told by ``Checked``, never raised.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from os import PathLike, fspath
from pathlib import Path

from sockscript.commands.chosen import (
    AskedForError,
    plan_of,
    printed_choices,
    settled,
    sizes_asked,
)
from sockscript.expand.values import Value
from sockscript.findings import checked as one
from sockscript.findings.checked import Checked
from sockscript.findings.finding import Finding
from sockscript.findings.prove import Proof
from sockscript.fit.pace import Pace
from sockscript.sheet import grading
from sockscript.sheet.numbering import StepNumbers
from sockscript.sheet.outline import Outline
from sockscript.sheet.sheet import make_sheet
from sockscript.text.source import Problem, Source, read_source

__all__ = ["AskedForError", "Checked", "Finding", "Problem", "check", "check_text", "sizes",
           "steps"]


def check(script: str | PathLike[str], machine: str | None = None) -> Checked:
    """Read the script in a file and knit it in thought, every size and every choice.

    ``machine``: the name of a machine profile or a ``.machine`` file; without it any machine
    that is as the script says.  What is wrong stands in ``problems`` (it cannot be knitted at
    all) or in ``findings``.
    """
    return one.check(read_source(Path(fspath(script))), machine, StepNumbers)


def check_text(text: str, machine: str | None = None, *, name: str = "script.sockscript",
               folder: str | PathLike[str] | None = None) -> Checked:
    """As ``check``, for a text.  Only with a ``folder`` can it use files, which lie there."""
    source = Source(name, text, Path(fspath(folder)).resolve() if folder is not None else None)
    return one.check(source, machine, StepNumbers)


def steps(checked: Checked, *, sizes: Collection[str] = (),
          choices: Mapping[str, str] | None = None) -> Outline:
    """The printed pattern: materials, and sections with their numbered steps.

    ``sizes``: names of sizes, all without it; ``choices``: by the name of the option, defaults
    without it.  Raises AskedForError for a size or choice that the script does not have, and
    for a script with problems.
    """
    proof, chosen = _proved(checked, choices)
    plan = plan_of(proof, sizes_asked(checked.script, list(sizes)), chosen)
    return make_sheet(checked.script, [(printed_choices(checked.script, chosen), plan)],
                      proof.profile, checked.machine is not None)


def sizes(checked: Checked, *, sizes: Collection[str] = (),
          choices: Mapping[str, str] | None = None
          ) -> tuple[tuple[str, ...], list[grading.GradingRow]]:
    """The grading table: names of the sizes, and rows with a text for each of them.

    Arguments and errors as for ``steps``.
    """
    proof, chosen = _proved(checked, choices)
    plan = plan_of(proof, sizes_asked(checked.script, list(sizes)), chosen)
    return tuple(plan.names), grading.grading(plan.runs, Pace())


def _proved(checked: Checked, choices: Mapping[str, str] | None
            ) -> tuple[Proof, dict[str, Value]]:
    if checked.proof is None:
        raise AskedForError(f"{checked.name} cannot be knitted: it has problems.")
    return checked.proof, settled(checked.script, choices or {})
