"""``sockscript numbers``: the whole numbers that a script takes, beside their neighbours."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from sockscript.commands.check import UNUSABLE
from sockscript.commands.chosen import AskedForError, choices_asked, sizes_asked, title_of, usable
from sockscript.commands.output import deliver, may_write
from sockscript.findings.whole_numbers import rounded_lets, trials
from sockscript.machine.places import ANY
from sockscript.sheet.number_table import SizeNumbers, as_text
from sockscript.tree import expressions as ex
from sockscript.tree import statements as st
from sockscript.tree.script import Script
from sockscript.tree.walk import nodes

ENDINGS = (".txt",)


def run(*, file: Path, sizes: list[str], choose: list[str], out: Path | None,
        instead: Sequence[str] = ()) -> int:
    """Print the table; returns 0, or 2 when there is nothing to compare."""
    if not may_write(out, ENDINGS, file):
        return UNUSABLE
    checked = usable(file, ANY, instead)
    if checked is None or checked.proof is None:
        return UNUSABLE
    prepared = checked.proof.prepared
    script = prepared.script
    if not rounded_lets(script):
        print(f"{file} rounds nothing at its head, so there are no numbers to choose.\n"
              "For example:  let around = stitches(foot-round less 10%) to nearest multiple of 4",
              file=sys.stderr)
        return UNUSABLE
    if not any(isinstance(line, st.Target) for section in script.sections
               for line in section.body):
        print(f"{file} does not say what its sections should measure, so no number is better "
              f"than another.\nFor example, in the section that it is for:  target girth "
              f"{_girth(script)}", file=sys.stderr)
        return UNUSABLE
    try:
        wanted = sizes_asked(script, sizes)
        chosen = choices_asked(script, choose)
    except AskedForError as error:
        print(error, file=sys.stderr)
        return UNUSABLE
    names = script.sizes.names if script.sizes is not None else ("one size",)
    table = [SizeNumbers(names[size], tuple(trials(prepared, checked.proof.profile, size, chosen)))
             for size in wanted]
    return deliver(as_text(title_of(checked, instead), table), out)


def _girth(script: Script) -> str:
    """A girth of the script's own table that stitches are reckoned from, or one as an example."""
    rows = script.sizes.measures if script.sizes is not None else {}
    for let in script.lets:
        for node, _ in nodes(let.value):
            if isinstance(node, ex.Call) and node.function == "stitches":
                for name, _ in nodes(node.arguments):
                    if isinstance(name, ex.Name) and name.name in rows:
                        return name.name
    return "foot-round less 10%"
