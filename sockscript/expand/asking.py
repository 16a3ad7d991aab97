"""What a section asks while it is performed, and what came of it for the same answers.

What a section does depends on two things: the machine as it finds it, and the values that its
lines ask for.  The questions form a tree, since what is asked next may depend on the answers
before.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping
from typing import Generic, NamedTuple, TypeVar

from sockscript.expand.run import Run
from sockscript.expand.values import CannotDoError, Names, Scope, Value, evaluate
from sockscript.operations.ops import Op, ResetCounter
from sockscript.trace.engine import Engine
from sockscript.tree import expressions as ex
from sockscript.tree.script import Script

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


class AskingRun(Run):
    """A run that keeps every question whose answer another set of values might change.

    Each section has a run of its own (see ``explore``), so that all these are its own.
    """

    def __init__(self, script: Script, engine: Engine, size: int, names: Names) -> None:
        super().__init__(script, engine, size, names)
        self.asked: list[tuple[Question, Answer]] = []
        self.counted: dict[tuple[str, str], int] = {}
        self.entered_with = engine.counter
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


T = TypeVar("T")


class Remembered(Generic[T]):
    """What came of a section, by the answers to what it asked."""

    __slots__ = ("_answers", "_question", "came")

    def __init__(self) -> None:
        self.came: T | None = None
        """What came of it where nothing more is asked."""
        self._question: Question | None = None
        self._answers: dict[Answer, Remembered[T]] = {}

    def find(self, answer: Callable[[Question], Answer]) -> T | None:
        """What came of the section for the same answers; None if they were never given."""
        here: Remembered[T] | None = self
        while here is not None:
            if here._question is None:
                return here.came
            here = here._answers.get(answer(here._question))
        return None

    def place(self, asked: Iterable[tuple[Question, Answer]]) -> Remembered[T]:
        """The place for what comes of the section after these questions and answers."""
        here = self
        for question, answer in asked:
            if here._question is None:
                here._question = question
            here = here._answers.setdefault(answer, Remembered())
        return here
