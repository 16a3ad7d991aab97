"""Many sets of values performed together, by sharing what they have in common.

What a section does depends on two things: the machine as it finds it, and the values that its
lines ask for.  Both are kept with what came of it, so that the next set of values which finds the
same machine and gives the same answers need not knit the section again.  The questions of a
section form a tree, since what is asked next may depend on the answers before.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from typing import NamedTuple

from sockscript.expand.look import Looks
from sockscript.expand.perform import Performer
from sockscript.expand.record import Mishap, Moment
from sockscript.expand.run import LONGEST_RUN, Run, SectionRecord
from sockscript.expand.solve import Read, asks_for_lengths, counts_found, guesses
from sockscript.expand.techniques import Library
from sockscript.expand.values import CannotDoError, Names, Scope, Value, cannot, evaluate
from sockscript.machine.profile import Profile
from sockscript.operations.ops import Op, ResetCounter
from sockscript.text.source import Problem
from sockscript.trace.engine import Engine
from sockscript.tree import expressions as ex
from sockscript.tree.script import Script

LONGEST_RANGE = 20_000_000
"""Lines performed for a whole range: some minutes.  A script that needs more never ends."""
MOST_KEPT = 1_000_000
"""Moments kept for sharing; with more, sharing begins anew, so that memory stays bounded."""

Answer = Hashable


class Question(NamedTuple):
    """Something that a section asked: the value of an expression, the counter, the size, or the
    rows found for a line (``what`` is then its hidden name)."""

    what: str
    expr: ex.Expr | None = None
    locals: Mapping[str, Value] = {}
    fabric: str | None = None
    bare: bool = False
    counts: Mapping[tuple[str, str], int] = {}

    def answer(self, names: Names, counter: int, size_name: str) -> Answer:
        """The answer for another set of values."""
        if self.expr is None:
            if self.what in ("counter", "size"):
                return counter if self.what == "counter" else size_name
            return names.choices.get(self.what)
        scope = Scope(names.bare() if self.bare else names, dict(self.locals), self.fabric)
        try:
            return evaluate(self.expr, scope, lambda what, bed: self.counts[what, bed])
        except CannotDoError as error:
            return _no_answer(error)
        except KeyError:
            return "counts other needles"


def _no_answer(error: CannotDoError) -> Answer:
    return "cannot", error.problem.kind, error.problem.message


class Performed(NamedTuple):
    """What came of a section, and the machine that it leaves."""

    number: int
    record: SectionRecord
    moments: list[Moment]
    mishaps: list[Mishap]
    lines: int
    counter: tuple[bool, int]
    """Whether it sets the row counter, and what it then shows or by how much it goes on."""
    stopped: Problem | None
    after: Found


class Found:
    """A machine as a section finds it, with all that was asked and done from there."""

    __slots__ = ("engine", "root")

    def __init__(self, engine: Engine) -> None:
        self.engine = engine
        self.root = _PerformedNode()


class _PerformedNode:
    """A question and where its answers lead; at the end of a section, what came of it."""

    __slots__ = ("answers", "performed", "question")

    def __init__(self) -> None:
        self.question: Question | None = None
        self.answers: dict[Answer, _PerformedNode] = {}
        self.performed: Performed | None = None


class AskingRun(Run):
    """A run that keeps every question whose answer another set of values might change."""

    def __init__(self, script: Script, engine: Engine, size: int, names: Names) -> None:
        super().__init__(script, engine, size, names)
        self.asked: list[tuple[Question, Answer]] = []
        self.counted: dict[tuple[str, str], int] = {}
        self.begin()

    def begin(self) -> None:
        """Ask anew from here on, as at the beginning of a section."""
        self.asked = []
        self.entered_with = self.engine.counter
        self.counter_set = False
        self.counter_asked = False

    def do(self, op: Op) -> None:
        """As in a run; notes that the row counter is set."""
        super().do(op)
        if type(op) is ResetCounter:
            self.counter_set = True

    def row_counter(self) -> int:
        """As in a run; the answer is kept."""
        if not (self.counter_set or self.counter_asked):
            self.asked.append((Question("counter"), self.entered_with))
            self.counter_asked = True
        return super().row_counter()

    def size_word(self) -> str:
        """As in a run; the answer is kept."""
        self.asked.append((Question("size"), self.size_name))
        return self.size_name

    def rows_found(self, name: str) -> int | None:
        """As in a run; the answer is kept."""
        self.asked.append((Question(name), self.names.choices.get(name)))
        return super().rows_found(name)

    def counts(self, what: str, bed: str) -> int:
        """As in a run; the numbers go with the question they belong to."""
        found = self.counted[what, bed] = super().counts(what, bed)
        return found

    def value(self, expr: ex.Expr) -> Value:
        """As in a run; what it was asked for is kept with the answer."""
        if type(expr) is ex.Literally:
            return expr.value
        scope = self.scope
        if type(expr) is ex.Name and expr.name in scope.locals:
            # What it depends on was asked when it was given this value.
            return scope.locals[expr.name]
        names = scope.names
        before, names.looked_at = names.looked_at, set()
        self.counted = {}
        answer: Answer
        try:
            found = answer = super().value(expr)
        except CannotDoError as error:
            answer = _no_answer(error)
            raise
        finally:
            if names.looked_at:
                question = Question("value", expr, dict(scope.locals), scope.fabric,
                                    names is not self.names, self.counted)
                self.asked.append((question, answer))
            names.looked_at |= before
        return found


class Sharer:
    """Performs one set of values after another; see the module."""

    def __init__(self, script: Script, library: Library, profile: Profile,
                 read: Read | None = None) -> None:
        self.script = script
        self.profile = profile
        self.performer = Performer(library, LONGEST_RANGE, read)
        self.asks = read is not None and asks_for_lengths(script)
        self._counts: dict[tuple[object, ...], dict[str, Value]] = {}
        self.number = 0
        self._looks = Looks()
        self._forget()

    def _forget(self) -> None:
        start = Found(Engine(self.profile))
        self.start = start
        self.found: dict[tuple[object, ...], Found] = {(0, *start.engine.situation()): start}
        self.kept = 0

    @property
    def exhausted(self) -> bool:
        """Whether more was performed than any range needs."""
        return self.performer.exhausted

    def sections(self, names: Names, size: int) -> list[Performed]:
        """What each section does with these values, up to the one that stops.

        Rows that are found from a length are settled among the choices of ``names``.
        """
        if self.kept > MOST_KEPT:
            self._forget()
        path = self._sections(names, size)
        read = self.performer.read
        while read is not None and self.asks and any(guesses([one.record for one in path])):
            key = (*(one.number for one in path), *_lengths(names.script, path))
            if key not in self._counts:
                run = joined_run(Run(names.script, path[-1].after.engine, size, names), path)
                self._counts[key] = dict(counts_found(run, read))
            names.choices.update(self._counts[key])
            path = self._sections(names, size)
        return path

    def _sections(self, names: Names, size: int) -> list[Performed]:
        size_name = self.script.sizes.names[size] if self.script.sizes else "one size"
        found = self.start
        path: list[Performed] = []
        lines = counter = 0
        for index in range(len(self.script.sections)):
            done = self._known(found, names, counter, size_name)
            if done is None:
                done = self._perform(found, names, counter, size, index)
            path.append(done)
            lines += done.lines
            counter = done.counter[1] + (0 if done.counter[0] else counter)
            if done.stopped is None and lines > LONGEST_RUN:
                at = self.script.sections[index].at
                path[-1] = done._replace(stopped=cannot(
                    "too-long", at, f"This goes on for more than {LONGEST_RUN} lines.").problem)
            if path[-1].stopped is not None:
                break
            found = done.after
        return path

    def _known(self, found: Found, names: Names, counter: int,
               size_name: str) -> Performed | None:
        node: _PerformedNode | None = found.root
        while node is not None:
            if node.performed is not None or node.question is None:
                return node.performed
            node = node.answers.get(node.question.answer(names, counter, size_name))
        return None

    def _perform(self, found: Found, names: Names, counter: int, size: int,
                 index: int) -> Performed:
        engine = found.engine.fork()
        engine.counter = counter
        run = AskingRun(names.script, engine, size, names)
        self.performer.section(run, self.script.sections[index])
        node = found.root
        for question, answer in run.asked:
            if node.question is None:
                node.question = question
            node = node.answers.setdefault(answer, _PerformedNode())
        key = (index + 1, *run.engine.situation())
        after = self.found.setdefault(key, Found(run.engine))
        record = run.sections[0]
        record.look = self._looks.number(record, run.moments, self.script.source, 0)
        node.performed = Performed(self.number, record, run.moments, run.mishaps, run.lines_done,
                                   (run.counter_set, engine.counter
                                    - (0 if run.counter_set else counter)), run.stopped, after)
        self.number += 1
        self.kept += len(run.moments)
        return node.performed


def joined_run(run: Run, path: list[Performed]) -> Run:
    """The sections one after the other in one run, for the rules to look through."""
    for done in path:
        start = len(run.moments)
        record = SectionRecord(done.record.title, done.record.fabric, start)
        record.last = start + len(done.moments)
        record.offset, record.look = start, done.record.look
        record.instructions = done.record.instructions
        record.targets = done.record.targets
        record.wanted = done.record.wanted
        record.loops, record.strands = done.record.loops, done.record.strands
        run.sections.append(record)
        run.moments.extend(done.moments)
        run.mishaps.extend(done.mishaps)
    run.stopped = path[-1].stopped
    return run


def _lengths(script: Script, path: list[Performed]) -> list[object]:
    """All that a length depends on beside the sections themselves."""
    return [(gauge.stitches_per_mm, gauge.rows_per_mm) for gauge in script.gauges] + [
        wanted.aim for one in path for wanted in one.record.wanted]
