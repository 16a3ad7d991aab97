"""Performing the lines of a script: the glue (repeat, when, do …) and the dispatch to the rest."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any, Literal

from sockscript.expand import perform_beds, perform_carriage, perform_hands
from sockscript.expand.conditions import Verdict, judge
from sockscript.expand.described import ConditionSaid, Counted
from sockscript.expand.printed import Aside, OwnWords, Repeating, WordPart
from sockscript.expand.record import Item
from sockscript.expand.run import LONGEST_RUN, Run
from sockscript.expand.sections import SectionRecord, SectionTarget
from sockscript.expand.solve import ReadTape
from sockscript.expand.techniques import DEEPEST_CALL, Library
from sockscript.expand.values import CannotDoError, Scope, Value, cannot
from sockscript.numbers.quantity import Quantity
from sockscript.text.source import Span
from sockscript.trace.faults import EngineFault, Fault
from sockscript.tree import expressions as ex
from sockscript.tree import instructions as ins
from sockscript.tree import statements as st

LONGEST_PROOF = 120_000
"""Lines performed in all sizes and choices together: some two seconds, a quarter of a gigabyte."""
MOST_REPEATS = 100_000
MOST_STILL = 100
"""Times round a ``repeat until`` in which the count of stitches that is waited for stays as it was,
before it is said never to come true."""
MOST_TRIES = 2_000
"""Times round a ``repeat until`` before it is said never to come true."""


class Performer:
    """Performs blocks of statements on a run, with the techniques of a library.

    ``read`` measures finished runs, for lines that find their rows from a length.
    """

    def __init__(self, library: Library, limit: int = LONGEST_PROOF,
                 read: ReadTape | None = None) -> None:
        self.library = library
        self.read = read
        self.limit = limit
        self.lines_done = 0

    @property
    def exhausted(self) -> bool:
        """Whether all runs together have taken more lines than any pattern needs."""
        return self.lines_done > self.limit

    def section(self, run: Run, section: st.Section) -> None:
        """Perform one section; what stops it is kept in ``run.stopped``."""
        if run.stopped is not None:
            return
        record = SectionRecord(section.title, section.fabric, len(run.moments))
        run.sections.append(record)
        run.collecting = record.instructions
        run.places = (section.at,)
        run.scope = Scope(run.names, {}, section.fabric)
        before = run.lines_done
        loops, strands = run.engine.yarn_loops.copy(), run.engine.yarn_strands.copy()
        try:
            self.block(run, section.body)
        except CannotDoError as error:
            run.stopped = error.problem
            run.stopped_places = run.places
        self.lines_done += run.lines_done - before
        if run.stopped is not None and run.stopped.kind == "too-long":
            self.lines_done += self.limit
        elif self.exhausted and run.stopped is None:
            run.stopped = cannot(
                "too-long", section.at, f"With all sizes and choices this goes on for more than "
                f"{self.limit} lines.", "Leave fewer choices open, or fewer repeats.").problem
            run.stopped_places = run.places
        record.last = len(run.moments)
        record.loops = _more(run.engine.yarn_loops, loops)
        record.strands = _more(run.engine.yarn_strands, strands)
        run.places = ()

    def block(self, run: Run, body: st.Block) -> None:
        """Perform statements one after the other."""
        outer = run.places
        for statement in body:
            run.lines_done += 1
            if run.lines_done > LONGEST_RUN:
                raise run.cannot("too-long", statement.at,
                                 f"This goes on for more than {LONGEST_RUN} lines.",
                                 "Look for a repeat that hardly ends.")
            run.places = (*outer, statement.at)
            _PERFORM[type(statement)](self, run, statement)
            run.places = outer

    # ---- glue

    def let(self, run: Run, line: st.Let) -> None:
        """Give a local name its value."""
        run.scope.locals[line.name] = run.value(line.value)

    def words(self, run: Run, words: st.Words) -> tuple[WordPart, ...]:
        """Printed words as text and values."""
        return tuple(part if isinstance(part, str) else run.value(part) for part in words.parts)

    def step(self, run: Run, line: st.Step) -> None:
        """Print the words, perform the body without printing it."""
        told = run.say(OwnWords(self.words(run, line.words)))
        run.silent += 1
        try:
            self.block(run, line.body)
        finally:
            run.silent -= 1
        told.last = len(run.moments)

    def remark(self, run: Run, line: st.Remark) -> None:
        """A note or a caution."""
        run.say(Aside(line.kind, self.words(run, line.words)))

    def expect(self, run: Run, line: st.Expect) -> None:
        """Judge a condition; if it does not hold, find since which moment."""
        self._must_be(run, line.condition, line.at, "expectation-not-met")

    def _must_be(self, run: Run, condition: ex.Condition, at: Span, kind: EngineFault,
                 technique: str = "") -> None:
        verdict = judge(run, condition)
        if verdict.holds:
            return
        detail: dict[str, Item] = {"wanted": verdict.words, "found": verdict.found}
        if verdict.measure is not None and run.moments:
            since = len(run.moments) - 1
            now = verdict.measure.read(run.engine.snapshot())
            while since > 0 and verdict.measure.read(run.moments[since - 1].state) == now:
                since -= 1
            detail["since"] = Quantity(since)
        run.fault(Fault(kind, name=technique), at, {**detail, "technique": technique})

    def contract(self, run: Run, technique: st.Technique, which: Literal["needs", "leaves"]
                 ) -> None:
        """Judge what a technique says that it needs, or leaves; told of the line that calls it."""
        outer = run.places
        for line in technique.body:
            if type(line) is st.Contract and line.which == which:
                run.places = (*outer, line.at)
                self._must_be(run, line.condition, line.at, _BROKEN[which], technique.name)
        run.places = outer

    def target(self, run: Run, line: st.Target) -> None:
        """Keep what the section should measure until it is finished."""
        share = line.what == "heel width"
        amounts = []
        for expr in (line.value, line.within):
            if expr is None:
                amounts.append(Quantity(Fraction(1, 10)) if share else Quantity(5, "mm"))
                continue
            value = run.value(expr)
            if isinstance(value, str) or value.unit != ("" if share else "mm"):
                raise run.cannot("not-a-length", expr.at, "A share of the heel should stand here."
                                 if share else "A length should stand here.",
                                 "For example: target heel width 1/3 within 1/10" if share else
                                 "For example: target girth 20 cm within 5 mm")
            amounts.append(value)
        run.sections[-1].targets.append(SectionTarget(
            line.what, amounts[0].value, amounts[1].value, run.places))

    def repeat_times(self, run: Run, line: st.RepeatTimes) -> None:
        """So many times over."""
        value = run.value(line.times)
        unit = value.unit if isinstance(value, Quantity) else ""
        times = run.count(line.times, unit if unit in ("rows", "stitches") else "times")
        if times > MOST_REPEATS:
            raise run.cannot("too-many-repeats", line.times.at,
                             f"{times} times is more than a sock needs.",
                             f"At most {MOST_REPEATS} are worked out.")
        self._rounds(run, line.body, None, lambda done: done < times)

    def repeat_until(self, run: Run, line: st.RepeatUntil) -> None:
        """Until it holds, nothing changes any more, or the count has gone past."""
        verdict = judge(run, line.until)
        was: object = None
        missing = _missing(verdict)
        still = 0
        counts = isinstance(verdict.words, Counted)

        def more(done: int) -> bool:
            nonlocal verdict, was, missing, still
            if done:
                verdict = judge(run, line.until)
            now = (run.engine.shape(), run.row_counter() if _reads_counter(line.until) else 0,
                   tuple(run.scope.locals.items()))
            before, missing = missing, _missing(verdict)
            # Nothing changes any more, or the count has gone past what is waited for.
            still = still + 1 if done and before == missing else 0
            stuck = now == was or before * missing < 0 or (counts and still >= MOST_STILL)
            was = now
            if not verdict.holds and (stuck or done >= MOST_TRIES):
                run.fault(Fault("never-true", amount=done), line.until.at,
                          {"wanted": verdict.words, "found": verdict.found})
                raise run.cannot("never-true", line.until.at,
                                 f"After {done} repeats this is still not so, and never will be.",
                                 "Look at what the repeated lines change, and by how much.")
            return not verdict.holds

        self._rounds(run, line.body, verdict.words, more)

    def _rounds(self, run: Run, body: st.Block, until: ConditionSaid | None,
                more: Callable[[int], bool]) -> None:
        told = run.say(Repeating(until))
        outer = run.collecting
        done = 0
        try:
            while more(done):
                run.collecting = []
                self.block(run, body)
                told.rounds.append(run.collecting)
                run.lines_done += 1
                done += 1
        finally:
            run.collecting = outer
            told.last = len(run.moments)
        if not told.rounds and outer and outer[-1] is told:
            outer.pop()

    def when(self, run: Run, line: st.When) -> None:
        """One block or the other."""
        self.block(run, line.body if judge(run, line.condition).holds else line.otherwise)

    def do_technique(self, run: Run, line: st.Do) -> None:
        """Call a technique with its values, in a scope of its own."""
        technique = self.library.find(line.name, run.places[-1])
        if len(run.places) > DEEPEST_CALL:
            raise run.cannot("calls-itself", line.name_at,
                             f"'{line.name}' ends up calling itself, over and over.",
                             "A technique may use others, but never itself.")
        given: dict[str, Value] = {}
        if line.bed is not None:
            given["bed"] = run.beds(line.bed)[1]
        for name, expr, _ in line.arguments:
            given[name] = run.value_or_word(expr)
        own = run.script.wrote(technique.at)
        scope = Scope(run.names if own else run.names.bare(), {}, run.scope.fabric)
        outer, run.scope = run.scope, scope
        try:
            for parameter in technique.parameters:
                if parameter.name in given:
                    scope.locals[parameter.name] = given[parameter.name]
                elif parameter.default is not None:
                    scope.locals[parameter.name] = run.value_or_word(parameter.default)
                else:
                    raise run.cannot(
                        "missing-value", line.at,
                        f"'{line.name}' needs a value for '{parameter.name}'.",
                        f"Add  with {parameter.name} = …" if parameter.name != "bed"
                        else f"Write  do {line.name} on front  or  on back.")
            scope.before = run.engine.snapshot()
            self.contract(run, technique, "needs")
            self.block(run, technique.body)
            self.contract(run, technique, "leaves")
        finally:
            run.scope = outer

    def nothing(self, run: Run, line: st.Statement) -> None:
        """Techniques, their contracts and allowances: nothing happens where they stand."""


def _more(now: dict[str, int], before: dict[str, int]) -> dict[str, int]:
    """By how much each count has grown, where it has."""
    return {yarn: count - before.get(yarn, 0) for yarn, count in now.items()
            if count > before.get(yarn, 0)}


_BROKEN: dict[str, EngineFault] = {"needs": "technique-out-of-place",
                                   "leaves": "technique-promise-broken"}


def _missing(verdict: Verdict) -> int:
    """How far a count is from what is waited for (0 for conditions that do not count)."""
    words, found = verdict.words, verdict.found
    if isinstance(words, Counted) and isinstance(words.count, Quantity) \
            and isinstance(found, Quantity):
        return int(found.value - words.count.value)
    return 0


def _reads_counter(condition: ex.Condition) -> bool:
    if isinstance(condition, (ex.Any_, ex.All)):
        return any(_reads_counter(part) for part in condition.parts)
    if isinstance(condition, ex.Not):
        return _reads_counter(condition.part)
    return isinstance(condition, ex.CounterIs)


def _machine(perform: Callable[[Run, Any], None]) -> Callable[[Performer, Run, Any], None]:
    def performed(_: Performer, run: Run, line: Any) -> None:
        said, mishaps = run.instruction_count, len(run.mishaps)
        perform(run, line)
        if run.collecting:
            run.collecting[-1].last = len(run.moments)
        if run.instruction_count > said and not run.silent:
            # What was noticed before the line was printed is told with it all the same.
            run.mishaps[mishaps:] = [one._replace(instruction=max(one.instruction, said))
                                     for one in run.mishaps[mishaps:]]
    return performed


_PERFORM: dict[type, Callable[[Performer, Run, Any], None]] = {
    st.Let: Performer.let,
    st.Step: Performer.step,
    st.Remark: Performer.remark,
    st.Expect: Performer.expect,
    st.Target: Performer.target,
    st.Allow: Performer.nothing,
    st.RepeatTimes: Performer.repeat_times,
    st.RepeatUntil: Performer.repeat_until,
    st.When: Performer.when,
    st.Do: Performer.do_technique,
    st.Technique: Performer.nothing,
    st.Contract: Performer.nothing,
    ins.PitchIs: _machine(perform_beds.set_pitch),
    ins.RackTo: _machine(perform_beds.rack),
    ins.PlaceNeedles: _machine(perform_beds.place),
    ins.SetBedTo: _machine(perform_beds.set_bed),
    ins.SetNeedlesTo: _machine(perform_beds.set_needles),
    ins.HoldSwitch: _machine(perform_beds.switch_hold),
    ins.StitchSize: _machine(perform_beds.stitch_size),
    ins.ThreadYarn: _machine(perform_carriage.thread),
    ins.AddYarn: _machine(perform_carriage.add),
    ins.ChangeYarn: _machine(perform_carriage.change),
    ins.CutYarn: _machine(perform_carriage.cut),
    ins.PickUpAlong: _machine(perform_hands.pick_up),
    ins.KnitInWaste: _machine(perform_carriage.knit_in),
    ins.CarriageTo: _machine(perform_carriage.move_carriage),
    ins.KnitRows: _machine(perform_carriage.knit),
    ins.KnitFor: _machine(perform_carriage.knit_for),
    ins.CounterTo: _machine(perform_carriage.set_counter),
    ins.TransferTo: _machine(perform_hands.transfer),
    ins.FoldOnto: _machine(perform_hands.fold),
    ins.MoveEdge: _machine(perform_hands.move_edge),
    ins.HandWork: _machine(perform_hands.hand_work),
    ins.ScrapOffAs: _machine(perform_hands.scrap_off),
    ins.RehangGroup: _machine(perform_hands.rehang),
    ins.GraftTo: _machine(perform_hands.graft),
    ins.TackleDo: _machine(perform_hands.tackle),
    ins.MarkAs: _machine(perform_hands.mark),
    ins.SewDownRows: _machine(perform_hands.sew_down),
    ins.SewTheSides: _machine(perform_hands.sew_sides),
    ins.FillFrom: _machine(perform_hands.fill),
}
