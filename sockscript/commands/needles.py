"""``sockscript needles``: what should be on every needle at a step or a row."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from sockscript.commands.check import UNUSABLE
from sockscript.commands.chosen import (
    AskedForError,
    choices_asked,
    one_size,
    plan_of,
    sizes_asked,
    usable,
)
from sockscript.expand.called import exchanged_words
from sockscript.expand.run import Run
from sockscript.operations.ops import Knit
from sockscript.sheet.bed_picture import picture
from sockscript.sheet.cautions import AFTER_A_MISHAP
from sockscript.sheet.numbering import Plan, PrintedStep
from sockscript.text.width import filled
from sockscript.trace.replay import replay
from sockscript.trace.state import Snapshot


def run(*, file: Path, size: str | None, step: int | None, row: int | None, choose: list[str],
        machine: str | None, instead: Sequence[str] = ()) -> int:
    """Draw the beds; returns 0, or 2 when there is no such size, step or row."""
    checked = usable(file, machine, instead)
    if checked is None or checked.proof is None:
        return UNUSABLE
    proof = checked.proof
    script = proof.prepared.script
    try:
        position = one_size(script, size)
        # Steps are numbered as on the sheet of all sizes, which is what lies beside the machine.
        plan = plan_of(proof, sizes_asked(script, []), choices_asked(script, choose))
        if step is not None:
            _show_step(plan, position, step)
        else:
            assert row is not None
            _show_row(plan, position, row)
        if instead:
            print("\n" + filled(f"With {exchanged_words(checked.library)}."))
        print("\n" + filled(f"Mind: {AFTER_A_MISHAP}"))
        return 0
    except AskedForError as error:
        print(error, file=sys.stderr)
        return UNUSABLE


def _show_step(plan: Plan, size: int, number: int) -> None:
    step = plan.step(number)
    if step is None:
        last = max((s.number or 0 for section in plan.sections for s in section.steps), default=0)
        raise AskedForError(f"There is no step {number}; the steps go from 1 to {last}.")
    state = step.states[size]
    if state is None:
        raise AskedForError(f"Size {plan.names[size]} does without step {number}.")
    print(filled(f"{plan.names[size]}, at the end of step {number}: "
                 f"{_text_for(plan, size, step)}") + "\n")
    print(_drawn(state, plan.runs[size]), end="")


def _text_for(plan: Plan, size: int, step: PrintedStep) -> str:
    """The words of a step with the numbers of one size only."""
    alone = Plan([plan.runs[size]], plan.profile)
    instruction = next(told.by_size[size] for told in step.instructions
                       if told.by_size[size] is not None)
    number = alone.number_of(0, instruction.number) if instruction is not None else None
    found = alone.step(number) if number is not None else None
    return found.text if found is not None else step.text


def _drawn(state: Snapshot, run: Run) -> str:
    profile = run.engine.profile
    return picture(state, profile.needles, run.in_feeder(state), profile.beds)


def _show_row(plan: Plan, size: int, row: int) -> None:
    run = plan.runs[size]
    found = 0
    for state, section, instruction in _at_row(run, row):
        number = plan.number_of(size, instruction)
        where = f"in step {number}" if number is not None else ""
        told = f"{plan.names[size]}, {section}, row counter {row} {where}:"
        print(("\n" if found else "") + filled(told) + "\n")
        print(_drawn(state, run), end="")
        found += 1
    if not found:
        raise AskedForError(f"The row counter never shows {row} in size {plan.names[size]}.")


def _at_row(run: Run, row: int) -> list[tuple[Snapshot, str, int]]:
    """The machine each time the counter shows ``row`` after a pass."""
    found = []
    before = 0
    section = 0
    for index, moment in enumerate(run.moments):
        while section + 1 < len(run.sections) and index >= run.sections[section].last:
            section += 1
        op = moment.op
        if isinstance(op, Knit) and before < row <= moment.state.counter:
            state = moment.state if row == moment.state.counter else \
                _in_the_middle(run, index, row - before)
            found.append((state, run.sections[section].title, moment.instruction))
        before = moment.state.counter
    return found


def _in_the_middle(run: Run, index: int, passes: int) -> Snapshot:
    """The machine after some of the passes of one operation: knitted again up to there."""
    op = run.moments[index].op
    assert isinstance(op, Knit)
    before = [moment.op for moment in run.moments[:index]]
    return replay([*before, Knit(passes, op.intent)], run.engine.profile).snapshot()
