"""``sockscript picture``: one picture from the simulated knitting, as SVG or PNG."""

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
    title_of,
    usable,
)
from sockscript.commands.output import may_write, missing_extra, tell_written
from sockscript.fabric.courses import MOST_COURSES, courses
from sockscript.findings.prove import Proof
from sockscript.pictures.beds import bed_picture
from sockscript.pictures.kinds import KINDS, OF_ONE_SIZE
from sockscript.pictures.schematic import schematic_picture
from sockscript.pictures.svg import Picture
from sockscript.pictures.typeset import NoLetterError
from sockscript.sheet.numbering import Plan

ENDINGS = (".svg", ".png")


def run(*, file: Path, what: str, size: str | None, step: int | None, choose: list[str],
        machine: str | None, out: Path, instead: Sequence[str] = ()) -> int:
    """Draw and write a picture; returns 0, or 2 when there is nothing to draw."""
    try:
        if what not in KINDS:
            raise AskedForError(f"There is no picture '{what}'. Choose from {', '.join(KINDS)}.")
        if step is not None and what != "beds":
            raise AskedForError(f"--step goes with --what beds; the picture '{what}' is of the "
                                "whole piece.")
        if not may_write(out, ENDINGS, file):
            return UNUSABLE
        checked = usable(file, machine, instead)
        if checked is None or checked.proof is None:
            return UNUSABLE
        made = _drawn(checked.proof, title_of(checked, instead), what, size, step, choose)
        return tell_written(_pixels(made) if out.suffix.lower() == ".png" else made.svg, out)
    except (AskedForError, NoLetterError) as error:
        print(error, file=sys.stderr)
    except ImportError as error:
        print(missing_extra(error, "A PNG" if what != "sock" else "This picture"),
              file=sys.stderr)
    return UNUSABLE


def _pixels(made: Picture) -> bytes:
    from sockscript.pictures.png import as_png

    return as_png(made)


def _drawn(proof: Proof, title: str, what: str, size: str | None, step: int | None,
           choose: list[str]) -> Picture:
    script = proof.prepared.script
    chosen = choices_asked(script, choose)
    # Steps are numbered as on the sheet of all sizes, which is what lies beside the machine.
    plan = plan_of(proof, sizes_asked(script, []), chosen)
    if what == "schematic":
        runs, drawn = plan.runs, len(plan.runs) // 2
        if size is not None:
            runs, drawn = (plan.runs[sizes_asked(script, [size])[0]],), 0
            title = f"{title}, {runs[0].size_name}"
        made = schematic_picture(runs, drawn, heading=f"{title}: finished measurements")
        if made is None:
            raise AskedForError(
                "Nothing that could be measured is knitted." if script.gauges else
                "The pattern has no gauge, so nothing can be measured.")
        return made
    which = one_size(script, size)
    one = plan.runs[which]
    if what == "beds":
        return _beds(plan, which, step, title)
    if len(courses(one)) == MOST_COURSES:
        raise AskedForError(f"Size {one.size_name} has {MOST_COURSES} rows or more; nobody could "
                            "read a picture of so many.")
    words, draw, nothing = OF_ONE_SIZE[what]
    found = draw(one, heading=f"{title}, {one.size_name}: {words}")
    if found is None:
        raise AskedForError(f"{nothing} (Size {one.size_name}.)")
    return found


def _beds(plan: Plan, size: int, number: int | None, title: str) -> Picture:
    last = max((s.number or 0 for section in plan.sections for s in section.steps), default=0)
    if number is None:
        raise AskedForError(f"After which step? Add --step and a number from 1 to {last}.")
    step = plan.step(number)
    if step is None:
        raise AskedForError(f"There is no step {number}; the steps go from 1 to {last}.")
    state = step.states[size]
    if state is None:
        raise AskedForError(f"Size {plan.names[size]} does without step {number}.")
    run = plan.runs[size]
    return bed_picture(state, needles=run.engine.profile.needles,
                       beds=run.engine.profile.beds, yarn=run.in_feeder(state),
                       heading=f"{title}, {run.size_name}: after step {number}")
