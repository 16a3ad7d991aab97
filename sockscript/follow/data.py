"""What the page needs to know of one size, as plain data."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from itertools import groupby

from sockscript.fabric.tape import tape
from sockscript.fit.pace import Pace
from sockscript.follow.walk import Stop, Walk
from sockscript.numbers.figures import shown
from sockscript.sheet.numbering import Plan
from sockscript.sheet.outline import Outline, Prose
from sockscript.sheet.sheet import make_sheet
from sockscript.text.visible import json_text
from sockscript.trace.symbols import SIGNS
from sockscript.tree.script import Script

BEFORE = ("materials", "gauge", "tools", "needs", "built-on", "techniques", "my-sizes",
          "machine-words")
"""Lists that are read before the first row."""


class NothingToKnitError(Exception):
    """A size without steps."""


def page_data(script: Script, plan: Plan, size: int, chosen: Mapping[str, str], named_machine: bool,
              pace: Pace, faults: int, fingerprint: str,
              techniques: Sequence[str] = ()) -> dict[str, object]:
    """The data of the page.

    ``plan`` has all sizes, so that steps are numbered as on the sheet of all sizes; ``size`` is
    the position of the one that is knitted; ``chosen`` the choices as they are written;
    ``faults`` is how many the check found, ``fingerprint`` the mark of script and machine,
    ``techniques`` where those come from that are not the program's own.  Raises TooLongError, and
    NothingToKnitError for a size without a single step.

    A stop has ``s`` section, ``n`` step, ``t`` and ``w`` its text and remarks (numbers in
    ``texts``), ``c`` and ``r`` carriage and row counter, ``k`` passes, ``u`` 1 in circular,
    ``a`` states after the taps with how often, ``b`` the state before the pass, ``x`` which
    passes are safe, ``h`` and ``g`` moves and settings by hand, ``i`` the time round a repeat.
    What is 0 or missing is left out.
    """
    walk = Walk(plan, size)
    if not walk.stops:
        raise NothingToKnitError("There is not a single step in this size, so there is nothing to "
                                 "knit from.")
    alone = Plan([plan.runs[size]], plan.profile)
    choices = tuple(f"{name} {value}" for name, value in chosen.items())
    sheet = make_sheet(script, [(choices, alone)], plan.profile, named_machine,
                       techniques=techniques)
    texts: dict[str, int] = {}
    steps = _whole_steps(plan, alone, size)
    data: dict[str, object] = {
        "title": sheet.title,
        "author": sheet.author,
        "version": sheet.version,
        "licence": sheet.licence,
        "size": plan.names[size],
        "choices": sheet.choices,
        "chosen": dict(chosen),
        "machine": sheet.machine,
        "beds": plan.profile.beds,
        "needles": plan.profile.needles,
        "pace": list(pace),
        "faults": faults,
        "fingerprint": fingerprint,
        "before": [[block.title, list(map(shown, block.items))] for name in BEFORE
                   if (block := sheet.listing(name)) is not None],
        "measures": [[row.name, row.cells[0].words] for row in table.rows]
        if (table := sheet.table("sizes")) is not None else [],
        "notes": [shown(words) for block in sheet.blocks if isinstance(block, Prose)
                  for words in block.paragraphs],
        "signs": {one.name: one.words for one in SIGNS},
        "cautions": _items(sheet, "cautions"),
        "finishing": _items(sheet, "finishing"),
        "tape": [[one.key, one.words, one.what] for one in tape(walk.run)],
        "sections": [section.title for section in walk.run.sections],
        "stops": [_stop(stop, texts) for stop in walk.stops],
        "start": walk.start,
        "states": [list(beds) for beds in walk.states.beds],
        "settings": [list(settings) for settings in walk.states.settings],
        "words": walk.states.words,
        "whole": {str(number): text for number, text in steps.items()},
        "texts": list(texts),
    }
    packed = json_text([data["stops"], data["texts"]]).encode("utf-8")
    data["mark"] = hashlib.sha256(packed).hexdigest()[:12]
    return data


def _items(sheet: Outline, name: str) -> list[str]:
    block = sheet.listing(name)
    return list(map(shown, block.items)) if block is not None else []


def _stop(stop: Stop, texts: dict[str, int]) -> dict[str, object]:
    def number(text: str) -> int:
        return texts.setdefault(text, len(texts))

    packed: dict[str, object] = {
        "s": stop.section, "n": stop.step, "t": number(stop.text),
        "w": [[int(kind == "caution"), number(text)] for kind, text in stop.remarks],
        "c": stop.side[0].upper(), "r": stop.counter, "k": stop.passes, "u": int(stop.circular),
        "a": [[state, len(list(same))] for state, same in groupby(stop.states)],
        "x": "".join("01"[safe] for safe in stop.safe), "h": stop.moves, "g": stop.settings,
        "i": list(stop.time) if stop.time is not None else None}
    packed = {key: value for key, value in packed.items() if value or key in "str"}
    if stop.between is not None:
        packed["b"] = stop.between
    return packed


def _whole_steps(plan: Plan, alone: Plan, size: int) -> dict[int, str]:
    """The printed words of steps with repeats, by number, for this size only."""
    found = {}
    for section in alone.sections:
        for step in section.steps:
            one = step.instructions[0].by_size[0]
            if step.kind == "repeat" and one is not None:
                number = plan.number_of(size, one.number)
                if number is not None:
                    found[number] = step.text
    return found
