"""Why a row of the table is missed: rows taken for rounds, a foreign gauge, a part left out."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from sockscript.expand.record import Pass
from sockscript.expand.run import Run
from sockscript.fabric.amounts import gauge_for
from sockscript.fabric.finished import finished
from sockscript.fabric.tubes import circular_passes
from sockscript.fabric.worn import measured_as, measured_on
from sockscript.numbers.quantity import Exact, length, show
from sockscript.text.source import Span
from sockscript.tree import expressions as ex
from sockscript.tree.script import Gauge

SHOE_SIZE = Fraction(20, 3)
"""A foot may be off by one shoe size, 2/3 cm (the Paris point)."""


class Halved(NamedTuple):
    """A line of a tube whose rows would make the length right if they were rounds.

    ``moment``: its first; ``alone``: the length of its rounds, where it makes the part by itself.
    """

    passes: int
    moment: int
    alone: Fraction | None

    @property
    def words(self) -> str:
        """The sentence's end."""
        return f"; {self.passes} rows are {self.passes // 2} rounds, since a round is two rows"


def halved(run: Run, name: str, aim: Exact, comes: Exact, within: Exact) -> Halved | None:
    """The line whose rows are a length in rows, while the tube knits them as rounds: half of it."""
    measured = measured_on(run, name)
    if measured is None:
        return None
    part = range(*measured)
    lines: dict[tuple[Span, ...], list[Pass]] = {}
    for change in run.passes():
        if change.number in circular_passes(run):
            lines.setdefault(change.moment.places, []).append(change)
    for changes in lines.values():
        first = changes[0].number
        gauge = _gauge(run, first)
        if gauge is None or not any(change.number in part for change in changes):
            continue
        passes = sum(change.op.passes for change in changes)
        rounds = Fraction(passes) / gauge.rows_per_mm / 2
        alone = name != "foot-length" and abs(passes - Fraction(aim) * gauge.rows_per_mm) <= 1
        if rounds > within and (alone or abs(comes + rounds - aim) <= within):
            return Halved(passes, first, rounds if alone else None)
    return None


def other_gauge(run: Run, name: str, call: ex.Call | None) -> str:
    """The gauge that stitches are reckoned by, where another one holds for the rows they make."""
    measured = measured_on(run, name)
    if call is None or len(call.arguments) < 2 or measured is None:
        return ""
    by, holds = call.arguments[1], _gauge(run, min(measured))
    if not isinstance(by, ex.Name) or holds is None or by.name == holds.fabric:
        return ""
    return f"; it is reckoned by the gauge of {by.name} and knitted by that of {holds.fabric}"


def _gauge(run: Run, moment: int) -> Gauge | None:
    """The gauge of the section of a moment."""
    return gauge_for(run, next(one for one in run.sections if moment < one.last))


def leg_in_words(run: Run) -> str:
    """The leg with its cuff and without, since a table may mean either."""
    found = measured_as(run, "leg-length")
    if len(found) < 2 or found[0] == found[1]:
        return ""
    whole, alone = (show(length(round(mm), run.script.inches)) for mm in found[:2])
    return f"; it is {whole} from the edge to the heel and {alone} without its cuff"


def parts_in_words(run: Run, off: Fraction) -> str:
    """What heel and toe add to a foot, and whether just that is too much or too little."""
    inches = run.script.inches
    adds = " and ".join(f"the {part} {'' if n else 'adds '}{show(length(round(mm), inches))}"
                        for n, (part, mm) in enumerate(_heel_and_toe(run)))
    wrong = wrong_sum(run, off)
    return (f"; {adds}" if adds else "") + (f": {wrong}" if wrong else "")


def wrong_sum(run: Run, off: Fraction) -> str:
    """That a foot is off by just what heel, toe or both add to it; empty where it is not."""
    parts = _heel_and_toe(run)
    sums = [(f"the {part} was", mm) for part, mm in parts]
    if len(parts) > 1:
        sums.insert(0, ("both were", sum((mm for _, mm in parts), Fraction(0))))
    near = sorted((abs(abs(off) - mm), words) for words, mm in sums
                  if abs(abs(off) - mm) <= SHOE_SIZE)
    if not near:
        return ""
    # Less than a row apart they are not told from each other.
    alike = len(near) > 1 and near[1][0] - near[0][0] < 2
    return (f"{'the heel or the toe was' if alike else near[0][1]} "
            f"{'left out of the sum' if off > 0 else 'taken off twice'}")


def _heel_and_toe(run: Run) -> list[tuple[str, Fraction]]:
    """How long they are, as far as there are any."""
    whole = finished(run)
    return [(part, mm) for part, mm in (("heel", whole.heel), ("toe", whole.toe)) if mm]
