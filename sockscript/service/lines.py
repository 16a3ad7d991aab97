"""The machine after each line of a script, for the counts at the ends of lines."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from sockscript.expand.run import Run
from sockscript.pictures.beds import bed_picture
from sockscript.service.document import Document
from sockscript.sheet.bed_picture import picture
from sockscript.sheet.margin import stitches_of
from sockscript.trace.in_words import CARRIAGE_AT
from sockscript.trace.state import Snapshot


class LineEnd(NamedTuple):
    """What the machine shows after a line: a short form, and the same in words."""

    line: int
    short: str
    words: str


class DrawnBeds(NamedTuple):
    """The beds after a line, drawn (SVG) and in plain characters."""

    title: str
    svg: str
    text: str


def size_names(document: Document) -> tuple[str, ...]:
    """The sizes of the last version that could be knitted."""
    good = document.last_good
    sizes = good.script.sizes if good is not None else None
    return sizes.names if sizes is not None else ("one size",)


def chosen_run(document: Document, size: str | None) -> Run | None:
    """The run of a size with the default choices; the middle size where it is not named (or
    has gone).  None before any version could be knitted."""
    good = document.last_good
    if good is None or good.proof is None:
        return None
    names = [name.lower() for name in size_names(document)]
    wanted = names.index(size.lower()) if size is not None and size.lower() in names \
        else len(names) // 2
    outcomes = good.proof.outcomes
    return outcomes[min(wanted, len(outcomes) - 1)][0].run


def states_by_line(document: Document, run: Run) -> dict[int, Snapshot]:
    """The machine after the last time that each line was performed, by line of the script."""
    source = document.source
    found: dict[int, Snapshot] = {}
    for moment in run.moments:
        for place in moment.places:
            if place.source is source:
                found[place.line] = moment.state
    for section in run.sections:
        # The title of a section is no line that knits.
        first = run.moments[section.first].places if section.last > section.first else ()
        if first:
            found.pop(first[0].line, None)
    return found


def line_ends(document: Document, size: str | None, first: int, last: int) -> Iterator[LineEnd]:
    """What the machine shows after the lines from ``first`` to ``last``.

    While the script has slips, lines that stand as they did in the last version without them
    keep what they showed, wherever they moved to.
    """
    run = chosen_run(document, size)
    if run is None:
        return
    states = states_by_line(document, run)
    for line in range(max(1, first), min(last, len(document.source.lines)) + 1):
        state = states.get(_before(document, line))
        if state is not None:
            yield LineEnd(line, _short(state), _words(state, run.size_name))


def _before(document: Document, line: int) -> int:
    """The number of a line in the last version that could be knitted (0: it was not there)."""
    number = document.numbers_in_good[line - 1]
    good = document.last_good_lines
    return number if number and good[number - 1] == document.source.line(line) else 0


def _short(state: Snapshot) -> str:
    front, back, held = stitches_of(state)
    return (f"{front} + {back}" + (f", {held} in hold" if held else "")
            + f" · {CARRIAGE_AT[state.carriage]} · RC {state.counter}")


def _words(state: Snapshot, size: str) -> str:
    front, back, held = stitches_of(state)
    return (f"Size {size}, after this line: {front} stitches on the front bed, {back} on the back "
            f"bed" + (f", {held} of them in hold" if held else "")
            + f"; carriage at the {state.carriage}; row counter {state.counter}.")


def needles_after(document: Document, line: int, size: str | None) -> DrawnBeds | None:
    """The beds after a line, or after the nearest one above it that does something."""
    run = chosen_run(document, size)
    if run is None:
        return None
    states = states_by_line(document, run)
    lines = range(min(line, len(document.source.lines)), 0, -1)
    shown = next((number for number in lines if _before(document, number) in states), 0)
    if not shown:
        return None
    state = states[_before(document, shown)]
    words = run.in_feeder(state)
    profile = run.engine.profile
    title = f"{run.script.title or 'Untitled pattern'}, {run.size_name}: after line {shown}"
    return DrawnBeds(title, bed_picture(state, needles=profile.needles, beds=profile.beds,
                                        heading=title, yarn=words).svg,
                     picture(state, profile.needles, words, profile.beds))
