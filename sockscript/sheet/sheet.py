"""The sheet: what is printed of a pattern, put together as an outline of blocks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from sockscript.expand.called import built_on
from sockscript.expand.run import Run
from sockscript.highlight.text_runs import runs_of
from sockscript.machine.profile import Profile
from sockscript.numbers.figures import side_by_side, words_of
from sockscript.numbers.quantity import Exact, InchLength, Quantity, show, with_fraction
from sockscript.operations import ops
from sockscript.pictures.beside_steps import short_rows_beside, turnings_beside
from sockscript.sheet import facts
from sockscript.sheet.cautions import usual_cautions
from sockscript.sheet.choices import ChosenWords, by_choice, sections_of, without_figures
from sockscript.sheet.letters import lettered
from sockscript.sheet.margin import abbreviations
from sockscript.sheet.measured import finished_table, size_table, yarn_table
from sockscript.sheet.numbering import Plan
from sockscript.sheet.outline import (
    Blanks,
    Figured,
    Listing,
    Outline,
    PrintedBlock,
    Prose,
    ScriptText,
)
from sockscript.sheet.own_sizes import OwnSizes, own_sizes
from sockscript.tree.script import Gauge, Script

_RELAXED = {"washed": "washed and rested", "wet": "measured wet", "dry": "measured dry, unwashed"}


def make_sheet(script: Script, plans: Sequence[tuple[ChosenWords, Plan]], profile: Profile,
               named_machine: bool, *, others: str = "", mine: int | None = None,
               bank_book: bool = False, with_script: bool = False,
               with_pictures: bool = False, every_row: bool = False, stamp: str = "",
               techniques: Sequence[str] = ()) -> Outline:
    """Put the outline together.  ``plans``: the choices in words, and the plan with them; what
    differs among the plans stands as one block for each choice.

    ``others``: choices that are not printed, in words.  ``mine``: the position of the reader's
    own size.  ``bank_book``: with the ledger of stitches; ``with_script``: with the script itself;
    where one size is printed, ``with_pictures``: with the turning and the short rows drawn beside
    their steps, and ``every_row``: with a box for each row.  ``stamp``: what stands at the foot of
    the page besides the title.  ``techniques``: where those come from that are not the program's
    own.
    """
    foreign = named_machine and script.machine.name != profile.name
    every = [plan.runs for _, plan in plans]
    choices = [words for words, _ in plans]
    runs = every[0]
    all_runs = [run for runs in every for run in runs]
    mine_own = own_sizes(script, all_runs, profile) if foreign else OwnSizes((), ())
    sections = tuple(sections_of(plans, _drawn(plans[0][1]) if with_pictures else {},
                                 every_row))

    def lists(by_plan: Sequence[Sequence[str]], lead: str) -> list[str]:
        return [f"{lead} {words}: {line}" if words else line
                for words, line in by_choice(by_plan, choices, without_figures)]

    blocks: list[PrintedBlock | None] = [
        Prose("notes", tuple(map(words_of, remarks(script, runs, "note")))),
        Blanks(("My size", "Dials", "Dye lot", "Date")),
        _listing("my-sizes", "My stitch sizes", mine_own.told),
        Blanks(tuple(f"My number for size {show(Quantity(size))}" for size in mine_own.asked)),
        _listing("materials", "Materials", materials(script, all_runs)),
        _listing("gauge", "Gauge", gauges(script)),
        _listing("tools", "Tools", facts.tools(all_runs)),
        _listing("needs", "The machine needs", lists([facts.machine_needs(runs)
                                                      for runs in every], "with")),
        _listing("built-on", "Built on", built_on(script)),
        _listing("techniques", "Techniques", techniques),
        _listing("machine-words", "On this machine",
                 _machine_words(profile, mine_own) if named_machine else ()),
        _listing("abbreviations", "Abbreviations", abbreviations([
            step for _, plan in plans for section in plan.sections for step in section.steps])),
        size_table(script, runs),
        finished_table(runs, ", ".join(choices[0]) if len(plans) > 1 else ""),
        yarn_table(every),
        _listing("cautions", "Cautions", cautions(script, every), boxed=True),
        *sections,
        _listing("finishing", "Finishing", lists([facts.finishing(runs) for runs in every],
                                                 "With"), sizes=len(runs)),
        _bank_book(every, choices) if bank_book else None,
        *(ScriptText(title, tuple(map(tuple, runs_of(source.lines)))) for title, source in (
            ("The script", script.source),
            *((f"{one.name}, on which it builds", one.script.source)
              for one in script.based_on)) if with_script),
    ]
    return Outline(
        title=script.title or "Untitled pattern", author=script.author, version=script.version,
        licence=script.licence, machine=profile.name if named_machine else "",
        sizes=plans[0][1].names, choices="" if len(plans) > 1 else ", ".join(choices[0]),
        other_choices=others, mine=mine, stamp=stamp,
        blocks=tuple(block for block in blocks if block is not None and _says_something(block)))


def _drawn(plan: Plan) -> dict[int, tuple[Figured, ...]]:
    """By section: the drawings that stand beside its steps, of one size."""
    if len(plan.runs) != 1:
        return {}
    run = plan.runs[0]
    found: dict[int, tuple[Figured, ...]] = {}
    for drawn, caption in ((turnings_beside(run), "The turning"),
                           (short_rows_beside(run), "The short rows, the first at the bottom")):
        for section, one in drawn.items():
            found[section] = (*found.get(section, ()), Figured(
                one.picture, caption, plan.number_of(0, one.instruction)))
    return found


def _says_something(block: PrintedBlock) -> bool:
    match block:
        case Prose(paragraphs=()) | Listing(items=()) | Blanks(names=()):
            return False
    return True


def _listing(name: str, title: str, items: Sequence[str], *, sizes: int = 1,
             boxed: bool = False) -> Listing:
    """A list; with the number of ``sizes``, its numbers may go into a table of letters."""
    words, letters = lettered([words_of(item) for item in items], sizes)
    return Listing(name, title, words, letters, boxed)


def gauges(script: Script) -> list[str]:
    """The gauge of every fabric."""
    def counted(gauge: Gauge, count: Exact) -> str:
        # A tape in inches is read in halves and quarters.
        if isinstance(gauge.over, InchLength) and (4 * Fraction(count)).denominator == 1:
            return with_fraction(Fraction(count))
        return show(Quantity(count))

    return [f"{g.fabric}: {counted(g, g.stitches)} stitches, {counted(g, g.rows)} rows "
            f"over {show(g.over)}, {_RELAXED[g.state]}" for g in script.gauges]


def materials(script: Script, runs: Sequence[Run]) -> list[str]:
    """The yarns that are used, and waste yarn for stitches that are taken off the needles."""
    used = {moment.op.yarn for run in runs for moment in run.moments
            if isinstance(moment.op, (ops.Thread, ops.Add, ops.Change))} \
        | {moment.op.waste for run in runs for moment in run.moments
           if isinstance(moment.op, ops.KnitIn)}
    wastes = [yarn.name for yarn in script.yarns if yarn.role == "waste"]
    scrapped = facts.is_scrapped(runs) and used.isdisjoint(wastes)
    if scrapped:
        used.update(wastes[:1])
    lines = []
    for yarn in script.yarns:
        if yarn.name not in used:
            continue
        text = script.yarn_words[yarn.name]
        if yarn.metres_per_gram is not None:
            text += f", {facts.band(yarn, script.inches)}"
        role = {"waste": " (waste yarn)", "cord": " (ravel cord)"}.get(yarn.role, "")
        lines.append(text + ("" if role.strip(" ()") in yarn.text.lower() else role))
    if scrapped and not wastes:
        lines.append("smooth waste yarn, some lengths for the stitches that are taken off")
    return lines


def cautions(script: Script, every: Sequence[Sequence[Run]]) -> tuple[str, ...]:
    """The author's own cautions, then the usual ones.  ``every``: the runs of each choice."""
    return (*remarks(script, every[0], "caution"),
            *usual_cautions([run for runs in every for run in runs]))


def remarks(script: Script, runs: Sequence[Run], kind: str) -> list[str]:
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
            parts.append(side_by_side([str(value) for value in values]))
        lines.append("".join(parts))
    return lines


def _machine_words(profile: Profile, own: OwnSizes) -> list[str]:
    """Positions that the sentences name without brackets, in this machine's words; and that no
    number of another dial is taken over."""
    named = {"out": "out of work", "work": "in work", "upper": "upper working position",
             "hold": "in hold"}
    told = [f"{text}: {profile.words[word]}" for word, text in named.items()
            if word in profile.words]
    if own.told or own.asked:
        told.append("stitch sizes: the numbers in the steps are those of the author's dial"
                    + ("; knit a swatch that has the gauge above and write your own number into "
                       "the box" if own.asked else ""))
    return told


def _bank_book(every: Sequence[Sequence[Run]], choices: Sequence[ChosenWords]) -> Listing:
    return _listing("bank-book", "The bank book of stitches", list(_ledger(every, choices)),
                    sizes=len(every[0]))


def _ledger(every: Sequence[Sequence[Run]], choices: Sequence[ChosenWords]) -> Iterator[str]:
    for words, line in by_choice([facts.ledger(runs) for runs in every], choices,
                                 lambda line: line.title):
        entries = ", ".join(f"{name} {value}" for name, value in line.entries)
        yield f"{line.title}{f', with {words}' if words else ''}: {entries}"
