"""The sheet: everything that is printed, as data; the renderers only lay it out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.measures import measures
from sockscript.machine.profile import Profile
from sockscript.numbers.figures import figure, number_of, quantities, side_by_side
from sockscript.numbers.quantity import Quantity, show
from sockscript.operations import ops
from sockscript.sheet import facts
from sockscript.sheet.choices import (
    SheetSection,
    by_choice,
    side_by_side_sections,
    without_figures,
)
from sockscript.sheet.numbering import Plan
from sockscript.tree.script import Script

ABBREVIATIONS = {
    "COL": "carriage at the left",
    "COR": "carriage at the right",
    "RC": "row counter",
}

USUAL_CAUTIONS = (
    "Latch hooks, transfer tools and the comb are sharp: keep fingers and eyes clear, and never "
    "reach between the beds while the carriage moves. A motor drive is switched off before hands "
    "go in. The manual of your machine comes first.",
    "Weights fall when knitting comes off the needles: hold the work and keep feet clear.",
    "A cuff must pass easily over the heel and leave no marks. With poor circulation, diabetes, "
    "swelling or numb feet, ask a clinician before wearing snug socks.",
    "Socks are slippery on smooth floors and stairs.",
)


_RELAXED = {"washed": "washed and rested", "wet": "measured wet", "dry": "measured dry, unwashed"}


class TableRow(NamedTuple):
    """A line of the table of sizes."""

    name: str
    values: tuple[str, ...]


class Sheet(NamedTuple):
    """A pattern ready to be laid out for one or several sizes."""

    title: str
    author: str
    version: str
    licence: str
    machine: str
    sizes: tuple[str, ...]
    choices: str
    materials: tuple[str, ...]
    gauges: tuple[str, ...]
    tools: tuple[str, ...]
    needs: tuple[str, ...]
    machine_words: tuple[str, ...]
    table: tuple[TableRow, ...]
    finished: tuple[tuple[str, str], ...]
    abbreviations: tuple[tuple[str, str], ...]
    cautions: tuple[str, ...]
    notes: tuple[str, ...]
    sections: tuple[SheetSection, ...]
    finishing: tuple[str, ...]
    ledger: tuple[facts.LedgerLine, ...]


def make_sheet(script: Script, plans: Sequence[tuple[str, Plan]], profile: Profile,
               named_machine: bool) -> Sheet:
    """Put the sheet together.  ``plans``: the choices in words, and the plan with them.

    What differs among the plans names its choices.
    """
    plan = plans[0][1]
    runs = plan.runs
    choices = [words for words, _ in plans]
    every = [p.runs for _, p in plans]
    sections = side_by_side_sections(plans)
    return Sheet(
        title=script.title or "Untitled pattern",
        author=script.author,
        version=script.version,
        licence=script.licence,
        machine=profile.name if named_machine else "",
        sizes=plan.names,
        choices="" if len(plans) > 1 else plans[0][0],
        materials=tuple(_materials(script, [run for runs in every for run in runs])),
        gauges=tuple(f"{g.fabric}: {show(Quantity(g.stitches))} stitches, "
                     f"{show(Quantity(g.rows))} rows over {show(g.over)}, {_RELAXED[g.state]}"
                     for g in script.gauges),
        tools=tuple(facts.tools([run for runs in every for run in runs])),
        needs=tuple(_lines([facts.machine_needs(runs) for runs in every], choices, "with")),
        machine_words=_machine_words(profile) if named_machine else (),
        table=_table(script, runs),
        finished=_finished(every, choices),
        abbreviations=_abbreviations(sections),
        cautions=(*_remarks(script, runs, "caution"), *USUAL_CAUTIONS),
        notes=_remarks(script, runs, "note"),
        sections=sections,
        finishing=tuple(_lines([facts.finishing(runs) for runs in every], choices, "With")),
        ledger=tuple(line._replace(title=_titled(line.title, words)) for words, line in by_choice(
            [facts.ledger(runs) for runs in every], choices, lambda line: line.title)),
    )


def _lines(lists: Sequence[Sequence[str]], choices: Sequence[str], lead: str) -> Iterator[str]:
    """Sentences of several choices; what only some say begins with ``lead`` and their names."""
    for words, line in by_choice(lists, choices, without_figures):
        yield f"{lead} {words}: {line}" if words else line


def _titled(title: str, words: str) -> str:
    return f"{title}, with {words}" if words else title


def _materials(script: Script, runs: Sequence[Run]) -> list[str]:
    used = {moment.op.yarn for run in runs for moment in run.moments
            if isinstance(moment.op, ops.Thread)}
    lines = []
    for yarn in script.yarns:
        if yarn.name not in used:
            continue
        text = yarn.text
        if yarn.metres_per_gram is not None:
            text += f", {facts.band(yarn, script.inches)}"
        role = {"waste": " (waste yarn)", "cord": " (ravel cord)"}.get(yarn.role, "")
        lines.append(text + ("" if role.strip(" ()") in yarn.text.lower() else role))
    return lines


def _table(script: Script, runs: Sequence[Run]) -> tuple[TableRow, ...]:
    if script.sizes is None:
        return ()
    return tuple(TableRow(name.replace("-", " "), tuple(show(values[run.size]) for run in runs))
                 for name, values in script.sizes.measures.items())


def _finished(every: Sequence[Sequence[Run]], choices: Sequence[str]
              ) -> tuple[tuple[str, str], ...]:
    """Each section's measurements, of all choices."""
    return tuple((_titled(title, words), text) for words, (title, text) in by_choice(
        [_measured(runs) for runs in every], choices, lambda line: line[0]))


def _measured(runs: Sequence[Run]) -> list[tuple[str, str]]:
    by_size = [{m.title: m for m in measures(run)} for run in runs]
    inches = runs[0].script.inches
    lines = []
    for title in by_size[0]:
        if not all(title in measures for measures in by_size):
            continue
        found = [found[title] for found in by_size]
        girth = [m.girth for m in found]
        length = [m.length for m in found]
        text = f"{figure([m.around for m in found])} stitches"
        if girth[0] is not None:
            text += f" = {facts.own_first(girth, inches)} across"
        text += f"; {number_of(figure([m.rows for m in found]), 'row', 'rows')}"
        if any(m.inside for m in found):
            text += f" ({quantities([Quantity(m.inside) for m in found])} of them turned in)"
        if length[0] is not None:
            text += f" = {facts.own_first(length, inches)}"
        lines.append((title, text))
    return lines


def _abbreviations(sections: Sequence[SheetSection]) -> tuple[tuple[str, str], ...]:
    """Those that the steps use."""
    used = {word for section in sections for step in section.steps
            for word in re.findall(r"\w+", step.shows)}
    return tuple(item for item in ABBREVIATIONS.items() if item[0] in used)


def _remarks(script: Script, runs: Sequence[Run], kind: str) -> tuple[str, ...]:
    """Notes or cautions of the header, with the values of all sizes."""
    from sockscript.expand.values import Scope, evaluate, no_counts
    from sockscript.tree.statements import Remark

    lines = []
    for remark in script.remarks:
        if not isinstance(remark, Remark) or remark.kind != kind:
            continue
        parts = []
        for part in remark.words.parts:
            if isinstance(part, str):
                parts.append(part)
                continue
            values = [evaluate(part, Scope(run.names, {}, None), no_counts) for run in runs]
            parts.append(side_by_side([v if isinstance(v, str) else show(v) for v in values]))
        lines.append("".join(parts))
    return tuple(lines)


def _machine_words(profile: Profile) -> tuple[str, ...]:
    """Positions that the sentences name without brackets, in this machine's words."""
    named = {"out": "out of work", "work": "in work", "upper": "upper working position",
             "hold": "in hold"}
    return tuple(f"{text}: {profile.words[word]}" for word, text in named.items()
                 if word in profile.words)
