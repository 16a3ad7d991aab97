"""The carriage and the yarn: threading, cutting, knitting, the row counter."""

from __future__ import annotations

from sockscript.expand import printed as pr
from sockscript.expand.needles import choose
from sockscript.expand.run import Run
from sockscript.expand.sections import WantedLength
from sockscript.numbers.quantity import Quantity
from sockscript.operations import ops
from sockscript.tree import instructions as ins

MOST_ROWS = 100_000_000
TRIAL = 200
"""Rows that are taken for granted until the right number is found (see ``solve``): more than a
heel is deep, so that a heel and a toe of short rows stay apart."""


def _yarn(run: Run, line: ins.ThreadYarn | ins.AddYarn | ins.ChangeYarn | ins.CutYarn
          | ins.KnitInWaste, word: str) -> str:
    """The yarn a word means: one that a technique was handed under this name, or else one of the
    script's."""
    value = run.scope.locals.get(word)
    if isinstance(value, str) and value in run.yarns:
        return value
    if word in run.yarns:
        return word
    named = value if isinstance(value, str) else word
    raise run.cannot("unknown-yarn", line.at, f"There is no yarn called '{named}'.",
                     f"Add a line such as  yarn {named} \"what it is\"  to the header.")


def thread(run: Run, line: ins.ThreadYarn) -> None:
    """A yarn of the script into the feeder, or two that are knitted together."""
    yarn = _yarn(run, line, line.yarn)
    along = _yarn(run, line, line.along) if line.along is not None else None
    run.say(pr.Threading(run.yarn_words[yarn], run.yarn_words[along] if along else ""))
    run.do(ops.Thread(yarn))
    if along is not None:
        run.do(ops.Add(along))


def add(run: Run, line: ins.AddYarn) -> None:
    """A second yarn to the one in the feeder."""
    yarn, feeder = _yarn(run, line, line.yarn), run.engine.feeder
    run.say(pr.Adding(run.yarn_words[yarn], run.yarn_words[feeder] if feeder else ""))
    run.do(ops.Add(yarn))


def change(run: Run, line: ins.ChangeYarn) -> None:
    """Another yarn in turn."""
    yarn, feeder = _yarn(run, line, line.yarn), run.engine.feeder
    run.say(pr.Changing(run.yarn_words[yarn], run.yarn_words[feeder] if feeder else ""))
    run.do(ops.Change(yarn))


def cut(run: Run, line: ins.CutYarn) -> None:
    """The yarns in the feeder, or the one that is named; stops if another one is."""
    within = run.engine.snapshot().yarns
    out = within
    if line.yarn is not None:
        yarn = _yarn(run, line, line.yarn)
        if yarn in run.engine.waiting and yarn not in within:
            run.say(pr.Cutting(run.yarn_words[yarn], "", ""))
            run.do(ops.Cut(yarn))
            return
        if within and yarn not in within:
            raise run.cannot(
                "other-yarn-threaded", line.at,
                f"'{run.yarn_words[yarn]}' cannot be cut here: '{run.in_feeder()}' is in "
                "the feeder.", f"Write  cut {within[0]}  or just  cut.")
        out = (yarn,) if within else ()
    left = run.yarn_words[within[0 if out[0] == within[1] else 1]] \
        if len(out) < len(within) else ""
    told = [run.yarn_words[name] for name in out]
    run.say(pr.Cutting(told[0] if told else "", told[1] if len(told) > 1 else "", left))
    # What is in the feeder is cut whole unless one strand is named.
    run.do(ops.Cut(out[0] if left else None))


def knit_in(run: Run, line: ins.KnitInWaste) -> None:
    """Waste yarn over some needles, by hand."""
    yarn = _yarn(run, line, line.yarn)
    chosen = choose(run, line.needles, "loaded")
    name = run.group(line.name)
    run.say(pr.KnittingIn(run.yarn_words[yarn], chosen.words, name))
    for bed in chosen.beds:
        run.do(ops.KnitIn(bed, chosen.masks[bed], yarn, name, run.first_yarn))


def move_carriage(run: Run, line: ins.CarriageTo) -> None:
    """The carriage to an end."""
    side, _ = run.end(line.end)
    run.say(pr.CarriageMove(side))
    run.do(ops.MoveCarriage(side))


def knit(run: Run, line: ins.KnitRows) -> None:
    """Rows or rounds (two passes each); none is nothing."""
    count = run.count(line.count, "rows")
    if count > MOST_ROWS:
        raise run.cannot("too-many-rows", line.count.at, f"{count} rows: nobody knits that far.",
                         "Look at the measurements and the gauge.")
    beds, word = run.beds(line.bed) if line.bed is not None else ((), "")
    start = run.end(line.start)[0] if line.start is not None else None
    _knit(run, count, line.rounds, ops.Intent(beds, line.rounds, start), word)


def _knit(run: Run, count: int, rounds: bool, intent: ops.Intent, bed: str = "") -> None:
    if count:
        run.say(pr.Knitting(Quantity(count, "rows"), rounds, bed, intent.start or ""))
        run.do(ops.Knit(2 * count if rounds else count, intent))


def knit_for(run: Run, line: ins.KnitFor) -> None:
    """As many rows or rounds as a length of the finished piece needs; see ``solve``."""
    aim = run.value(line.length)
    if isinstance(aim, str) or aim.unit != "mm":
        raise run.cannot("not-a-length", line.length.at, "A length should stand here.",
                         "For example: knit rounds for a foot length of 24 cm")
    section = run.sections[-1]
    own = run.script.wrote(line.at)
    # Title and place within the section stay the same when lines and sections above it change.
    place = line.at.line - run.places[0].line if own else line.at.line
    name = f"rows of {section.title} {'' if own else line.at.source.name} {place}"
    count = run.rows_found(name)
    rows = TRIAL if count is None else count
    _knit(run, rows, line.rounds, ops.Intent((), line.rounds, None))
    # What is put right before the passes takes moments of its own.
    section.wanted.append(WantedLength(name, line.what, aim.value, 2 if line.even else 1, rows,
                                       count is None, len(run.moments) - 1 - section.first,
                                       run.places))


def set_counter(run: Run, line: ins.CounterTo) -> None:
    """The row counter."""
    value = run.count(line.value, "rows")
    run.say(pr.Counting(Quantity(value)))
    run.do(ops.ResetCounter(value))
