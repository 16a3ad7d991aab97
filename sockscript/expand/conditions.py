"""Whether a condition holds, what was found instead, and since when."""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterator
from itertools import accumulate
from typing import Any

from sockscript.expand import described as de
from sockscript.expand.described import ConditionSaid, FoundInstead
from sockscript.expand.run import Run
from sockscript.expand.values import COUNTED, cannot
from sockscript.numbers.quantity import Exact, Quantity, QuantityError, add, kind_of
from sockscript.operations.beds import BACK, BEDS, Bed, Side, facing
from sockscript.text.source import Span
from sockscript.trace.state import Snapshot
from sockscript.tree import expressions as ex


class Verdict:
    """``holds``; ``words`` names the condition; ``found`` is what there was instead."""

    __slots__ = ("found", "holds", "measure", "words")

    def __init__(self, holds: bool, words: ConditionSaid, found: FoundInstead = "",
                 measure: Measure | CountsRead | None = None) -> None:
        self.holds = holds
        self.words = words
        self.found = found
        self.measure = measure


class CountsRead:
    """The counts of needles that stand in a comparison; one of constants has none."""

    __slots__ = ("asked",)

    def __init__(self, asked: tuple[Measure, ...]) -> None:
        self.asked = asked

    def read(self, state: Snapshot) -> object:
        """All of them in one snapshot."""
        return tuple(measure.read(state) for measure in self.asked)


class Measure:
    """Something that can be read off any snapshot, to find since when a count is wrong."""

    __slots__ = ("beds", "what")

    def __init__(self, what: str, beds: tuple[Bed, ...]) -> None:
        self.what = what
        self.beds = beds

    def read(self, state: Snapshot) -> object:
        """The value in one snapshot."""
        if self.what == "carriage":
            return state.carriage
        if self.what == "counter":
            return state.counter
        if self.what in ("comb", "weights"):
            return getattr(state, self.what)
        if self.what == "yarn":
            return state.feeder is not None
        if self.what == "tube":
            return (state.front.loaded, facing(BACK, state.back.loaded, state.racking))
        if self.what.startswith("hold-"):
            side: Side = "left" if self.what == "hold-left" else "right"
            return sum((state.bed(bed).held & state.bed(bed).hold_beyond(side)).bit_count()
                       for bed in self.beds)
        return sum(state.bed(bed).stitches(self.what) for bed in self.beds)


def judge(run: Run, condition: ex.Condition) -> Verdict:
    """Whether a condition holds now."""
    state = run.engine.snapshot()
    if isinstance(condition, ex.CountIs):
        beds, bed_word = run.beds(condition.bed) if condition.bed else (BEDS, "")
        wanted = run.count(condition.count, "stitches")
        what: str = condition.where
        end_word = ""
        if condition.end is not None:
            side, end_word = run.end(condition.end)
            what = f"hold-{side}"
        measure = Measure(what, beds)
        found = measure.read(state)
        assert isinstance(found, int)
        words = de.Counted(Quantity(wanted), condition.where, end_word, bed_word)
        return Verdict(found == wanted, words, Quantity(found), measure)
    if isinstance(condition, ex.Compare):
        return _compare(run, condition)
    if isinstance(condition, ex.SizeIs):
        name = run.size_word()
        return Verdict(name.lower() in {n.lower() for n in condition.names},
                       de.SizeIn(condition.names), name)
    if isinstance(condition, ex.CarriageIs):
        return Verdict(state.carriage == condition.side, de.CarriageStands(condition.side),
                       state.carriage, Measure("carriage", ()))
    if isinstance(condition, ex.CounterIs):
        value = run.count(condition.value, "rows")
        now = run.row_counter()
        return Verdict(now == value, de.CounterShows(Quantity(value)), Quantity(now),
                       Measure("counter", ()))
    if isinstance(condition, ex.TubeIs):
        return _tube(run, condition, state)
    if isinstance(condition, ex.BedsEqual):
        front, back = state.front.loaded.bit_count(), state.back.loaded.bit_count()
        return Verdict(front == back, de.BedsAlike(), de.OnEachBed(front, back),
                       Measure("tube", ()))
    if isinstance(condition, ex.HungIs):
        hung = {"comb": state.comb, "weights": state.weights,
                "yarn": state.feeder is not None}[condition.what]
        return Verdict(hung, de.Hangs(condition.what), measure=Measure(condition.what, ()))
    if isinstance(condition, ex.ActionIs):
        beds, bed_word = run.beds(condition.bed)
        others = [state.bed(bed).action for bed in beds
                  if state.bed(bed).action != condition.action]
        return Verdict(not others, de.SetTo(bed_word, condition.action),
                       f"set to {others[0]}" if others else "")
    if isinstance(condition, ex.PitchOf):
        return Verdict(state.pitch == condition.pitch, de.AtPitch(condition.pitch),
                       f"{state.pitch} pitch")
    if isinstance(condition, ex.HoldIs):
        beds, bed_word = run.beds(condition.bed)
        return Verdict(all(state.bed(bed).hold_respected for bed in beds),
                       de.HoldRespected(bed_word))
    if isinstance(condition, ex.Not):
        inner = judge(run, condition.part)
        return Verdict(not inner.holds, de.NotSo(inner.words), inner.found, inner.measure)
    verdicts = [judge(run, part) for part in condition.parts]
    if isinstance(condition, ex.All):
        for verdict in verdicts:
            if not verdict.holds:
                return verdict
        return Verdict(True, de.Several("and", tuple(v.words for v in verdicts)))
    if any(v.holds for v in verdicts):
        return Verdict(True, de.Several("or", tuple(v.words for v in verdicts)))
    # A word that a value has only says when the rest is asked for: "ends is not both or …".
    asked = [verdict for verdict in verdicts if not _of_a_word(verdict.words)] or verdicts
    if len(asked) == 1:
        return asked[0]
    return Verdict(False, de.Several("or", tuple(verdict.words for verdict in asked)),
                   asked[0].found, asked[0].measure)


def _of_a_word(words: de.ConditionSaid) -> bool:
    """Whether a condition only asks which word a value is."""
    return isinstance(words, de.Compared) and bool(words.name) and isinstance(words.left, str)


def _tube(run: Run, condition: ex.TubeIs, state: Snapshot) -> Verdict:
    wanted = run.count(condition.count, "stitches")
    front, back = state.front.loaded, state.back.loaded
    counts = (front.bit_count(), back.bit_count())
    meet = front == facing(BACK, back, state.racking)
    holds = meet and counts == (wanted, wanted)
    found: FoundInstead = de.OnEachBed(*counts)
    if counts == (wanted, wanted) and not meet:
        found = de.NotFacing()
    return Verdict(holds, de.TubeHas(Quantity(wanted)), found, Measure("tube", ()))


def _compare(run: Run, condition: ex.Compare) -> Verdict:
    left = run.value(condition.left)
    right = run.value_or_word(condition.right)
    words = _compared(run, condition, left, right)
    if isinstance(left, str) or isinstance(right, str):
        if condition.how not in ("equal", "unequal"):
            raise run.cannot("not-a-number", condition.at,
                             "Words can only be the same or not the same.",
                             "Write 'is' or 'is not'.")
        return Verdict((left == right) == (condition.how == "equal"), words, left)
    holds = compare(left, condition, right)
    asked = () if holds else (*_counted(run, condition.left), *_counted(run, condition.right))
    return Verdict(holds, words, left if holds else _reckoned(run, condition.left, left),
                   CountsRead(asked) if asked else None)


def _reckoned(run: Run, expr: ex.Expr, value: Quantity) -> FoundInstead:
    """A value as it is found; a sum with what it was reckoned from: ``32 - 11 = 21``."""
    if not isinstance(expr, ex.Sum):
        return value
    return f"{run.value(expr.left)} {expr.sign} {run.value(expr.right)} = {value}"


def _compared(run: Run, condition: ex.Compare, left: Quantity | str, right: Quantity | str
              ) -> de.Compared:
    """What is compared, with what a reader may call it."""
    match condition.left:
        case ex.Call(function="count-on" | "count-working" | "count-held" as function,
                     arguments=(of,)):
            where: Any = COUNTED[function]
            return de.Compared(left, condition.how, right, where, str(run.value(of)))
        case ex.Name(name=name):
            return de.Compared(left, condition.how, right, name=name)
        case ex.Sum(at=at):
            return de.Compared(left, condition.how, right, name=_as_written(at))
    return de.Compared(left, condition.how, right)


def _as_written(at: Span) -> str:
    """A sum in the author's words; its place has no brackets before the first value or after the
    last."""
    text = at.source.line(at.line)[at.start - 1:at.end - 1]
    depths = [0, *accumulate((sign == "(") - (sign == ")") for sign in text)]
    return "(" * -min(depths) + text + ")" * (depths[-1] - min(depths))


def _counted(run: Run, expr: ex.Expr) -> Iterator[Measure]:
    """The counts of needles that stand in an expression."""
    match expr:
        case ex.Sum(left=left, right=right):
            yield from _counted(run, left)
            yield from _counted(run, right)
        case ex.Round(value=value):
            yield from _counted(run, value)
        case ex.Call(function=name) if name in COUNTED:
            bed = run.value(expr.arguments[0])
            yield Measure(COUNTED[name], {"front": (Bed.FRONT,), "back": (Bed.BACK,)}.get(
                str(bed), BEDS))
        case ex.Call():
            for part in expr.arguments[:1]:
                yield from _counted(run, part)


def compare(left: Quantity, condition: ex.Compare, right: Quantity) -> bool:
    """Whether two quantities stand to each other as said.  Raises CannotDoError."""
    try:
        difference = add(left, right, -1).value
    except QuantityError:
        raise cannot("units-do-not-fit", condition.at,
                     f"{kind_of(left).capitalize()} cannot be compared with "
                     f"{kind_of(right)}.") from None
    if condition.how == "multiple":
        return bool(right.value) and left.value % right.value == 0
    return _COMPARED[condition.how](difference, 0)


_COMPARED: dict[str, Callable[[Exact, Exact], bool]] = {
    "equal": operator.eq, "unequal": operator.ne, "more": operator.gt, "less_than": operator.lt,
    "at_least": operator.ge, "at_most": operator.le}

