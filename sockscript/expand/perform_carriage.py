"""The carriage and the yarn: threading, cutting, knitting, the row counter."""

from __future__ import annotations

from sockscript.expand import printed as pr
from sockscript.expand.run import Run
from sockscript.numbers.quantity import Quantity
from sockscript.operations import ops
from sockscript.tree import instructions as ins

MOST_ROWS = 100_000_000


def _yarn(run: Run, line: ins.ThreadYarn | ins.CutYarn, word: str) -> str:
    """The yarn a word means: one of the script's, or a parameter that holds one."""
    if word in run.yarns:
        return word
    value = run.scope.locals.get(word)
    if isinstance(value, str) and value in run.yarns:
        return value
    named = value if isinstance(value, str) else word
    raise run.cannot("unknown-yarn", line.at, f"There is no yarn called '{named}'.",
                     f"Add a line such as  yarn {named} \"what it is\"  to the header.")


def thread(run: Run, line: ins.ThreadYarn) -> None:
    """A yarn of the script into the feeder."""
    yarn = _yarn(run, line, line.yarn)
    run.say(pr.Threading(run.yarns[yarn].text))
    run.do(ops.Thread(yarn))


def cut(run: Run, line: ins.CutYarn) -> None:
    """The yarn in the feeder; stops if another one is named."""
    feeder = run.engine.feeder
    if line.yarn is not None:
        yarn = _yarn(run, line, line.yarn)
        if feeder is not None and feeder != yarn:
            raise run.cannot(
                "other-yarn-threaded", line.at,
                f"'{run.yarns[yarn].text}' cannot be cut here: '{run.yarns[feeder].text}' is in "
                "the feeder.", f"Write  cut {feeder}  or just  cut.")
    run.say(pr.Cutting(run.yarns[feeder].text if feeder else ""))
    run.do(ops.Cut())


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
    if count == 0:
        return
    run.say(pr.Knitting(Quantity(count, "rows"), line.rounds, word, start or ""))
    passes = 2 * count if line.rounds else count
    run.do(ops.Knit(passes, ops.Intent(beds, line.rounds, start)))


def set_counter(run: Run, line: ins.CounterTo) -> None:
    """The row counter."""
    value = run.count(line.value, "rows")
    run.say(pr.Counting(Quantity(value)))
    run.do(ops.ResetCounter(value))
