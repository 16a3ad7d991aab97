"""One run of a script: a size and a set of choices, performed line by line on the simulator."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from functools import lru_cache, wraps
from itertools import chain
from operator import attrgetter, itemgetter
from typing import Any, NamedTuple, Self, TypeVar

from sockscript.expand.printed import Printed
from sockscript.expand.put_right import SEEN_AT_ONCE, as_it_is_now, put_right
from sockscript.expand.record import Instruction, Item, Mishap, Moment, Pass, Transition
from sockscript.expand.sections import SectionRecord
from sockscript.expand.values import CannotDoError, Names, Scope, Value, cannot, evaluate
from sockscript.numbers.quantity import Quantity, kind_of, show
from sockscript.operations.beds import BACK, BEDS, FRONT, Bed, Side, other_side
from sockscript.operations.ops import Knit, Op, Place
from sockscript.text.problem_names import ProblemName
from sockscript.text.source import Problem, Span
from sockscript.trace.engine import Engine
from sockscript.trace.faults import Fault
from sockscript.trace.state import Snapshot
from sockscript.tree import expressions as ex
from sockscript.tree.script import Script, Yarn

LONGEST_RUN = 100_000
"""Lines performed in one run.  A large sock takes under a thousand; a stranger's may not end."""


T = TypeVar("T")


def _kept(work: Callable[[Run], T], place: Callable[[Run], dict[object, Any]]
          ) -> Callable[[Run], T]:
    @wraps(work)
    def kept(run: Run) -> T:
        known = place(run)
        if work not in known:
            known[work] = work(run)
        found: T = known[work]
        return found

    return kept


def once(work: Callable[[Run], T]) -> Callable[[Run], T]:
    """What ``work`` reads off a finished run is kept with the run: it is worked out only once."""
    return _kept(work, attrgetter("worked_out"))


def once_alike(work: Callable[[Run], T]) -> Callable[[Run], T]:
    """As ``once``, kept for all runs that look alike (see ``looks_alike``).

    What ``work`` tells must not depend on how many more than ``looks_alike.MANY_ROWS`` rows
    are knitted in one go.
    """
    return _kept(work, attrgetter("alike"))


class _YarnRoles(NamedTuple):
    """The yarns of a script; the same for all its runs.

    ``main``: those that stay in the piece; ``waste``: those that come out again, waste yarn and
    ravel cord.
    """

    by_name: Mapping[str, Yarn]
    words: Mapping[str, str]
    main: tuple[str, ...]
    waste: frozenset[str]


@lru_cache(maxsize=8)
def _yarns_of(script: Script) -> _YarnRoles:
    return _YarnRoles({yarn.name: yarn for yarn in script.yarns}, script.yarn_words,
                  tuple(yarn.name for yarn in script.yarns if yarn.role == "main"),
                  frozenset(yarn.name for yarn in script.yarns if yarn.role != "main"))


class Run:
    """The machine, the record of what was done, and the place in the script."""

    def __init__(self, script: Script, engine: Engine, size: int, names: Names) -> None:
        self.script = script
        self.engine = engine
        self.size = size
        self.size_name = script.sizes.names[size] if script.sizes else "one size"
        self.names = names
        self.scope = Scope(names, {}, None)
        self.moments: list[Moment] = []
        self.mishaps: list[Mishap] = []
        self.sections: list[SectionRecord] = []
        self.stopped: Problem | None = None
        self.stopped_places: tuple[Span, ...] = ()
        self.places: tuple[Span, ...] = ()
        self.lines_done = 0
        self.instruction_count = 0
        self.collecting: list[Instruction] = []
        self.silent = 0
        self.current = -1
        self.worked_out: dict[object, Any] = {}
        """What readers of the finished run have worked out from it: see ``once``."""
        self.alike: dict[object, Any] = {}
        """The same of its shape; runs that look alike share it: see ``once_alike``."""
        known = _yarns_of(script)
        self.yarns, self.yarn_words = known.by_name, known.words
        self.main_yarns, self.waste = known.main, known.waste
        self.first_yarn = self.main_yarns[0] if self.main_yarns else ""

    def fork(self, choices: Mapping[str, Value], script: Script) -> Self:
        """A copy that goes on from here with other choices; what is done is shared.

        So is the machine: whoever works it from here on takes a copy of it first.  ``script``: its
        version, of which all up to here is the same.
        """
        names = Names(script, self.size, self.names.choices)
        names._known = dict(self.names._known)
        names.forget(choices)
        twin = type(self)(script, self.engine, self.size, names)
        twin.moments = self.moments.copy()
        twin.mishaps = self.mishaps.copy()
        twin.sections = self.sections.copy()
        twin.stopped = self.stopped
        twin.stopped_places = self.stopped_places
        twin.lines_done = self.lines_done
        twin.instruction_count = self.instruction_count
        twin.current = self.current
        return twin

    # ---- what was done

    @once
    def changes(self) -> list[Transition]:
        """Every operation with the machine before and after it; only of a finished run."""
        return [*self.first_changes()]

    def first_changes(self) -> Iterator[Transition]:
        """As ``changes``, for whoever may stop after a few of them."""
        before = type(self.engine)(self.engine.profile).snapshot()
        for index, moment in enumerate(self.moments):
            op, after, _, _ = moment
            yield Transition(index, op, before, after, moment)
            before = after

    def at_the_end(self, fault: Fault) -> Mishap:
        """Something that is wrong when all is done; there must have been any operation."""
        last = self.moments[-1]
        return Mishap(fault, last.places, len(self.moments) - 1, last.instruction)

    def changes_by(self, *kinds: type[Op]) -> list[Transition]:
        """Those of ``changes`` that come of some kinds of operations; most rules need no others."""
        known: list[Transition] | None = self.worked_out.get(kinds)
        if known is None:
            there = [kind for kind in dict.fromkeys(kinds) if kind in self.kinds()]
            known = self.worked_out[kinds] = sorted(chain.from_iterable(
                self._by_kind()[kind] for kind in there), key=itemgetter(0))
        return known

    @once
    def _by_kind(self) -> dict[type[Op], list[Transition]]:
        found: dict[type[Op], list[Transition]] = {}
        for change in self.changes():
            found.setdefault(type(change.op), []).append(change)
        return found

    @once_alike
    def kinds(self) -> frozenset[type[Op]]:
        """The kinds of operations that there are in it."""
        return frozenset(type(moment.op) for moment in self.moments)

    @once_alike
    def holds(self) -> bool:
        """Whether any needle is put into hold."""
        return any(isinstance(change.op, Place) and change.op.position == "hold"
                   for change in self.changes_by(Place))

    @once
    def passes(self) -> list[Pass]:
        """Those of ``changes`` that are carriage passes."""
        return [*map(Pass._make, self.changes_by(Knit))]

    # ---- values

    def counts(self, what: str, bed: str) -> int:
        """Stitches on the needles, for ``count-on(front)`` and its like."""
        state: Snapshot | None = self.engine.snapshot()
        if what == "before":
            what, state = "all", self.scope.before
        if state is None:
            raise cannot("unknown-function", self.places[-1], "'count-before' is how many stitches "
                         "there were when a technique was called; this line stands in none.",
                         "Write count-on(…) for those that are there now.")
        wanted = {"front": (FRONT,), "back": (BACK,), "both": BEDS}.get(bed)
        if wanted is None:
            raise cannot("not-a-bed", self.places[-1], f"'{bed}' is not a bed.",
                         "Write front, back or both.")
        return sum(state.bed(one).stitches(what) for one in wanted)

    def value(self, expr: ex.Expr) -> Value:
        """The value of an expression here and now."""
        return evaluate(expr, self.scope, self.counts)

    def in_feeder(self, state: Snapshot | None = None) -> str:
        """What is in the feeder, in the author's words: ``wool and nylon``; empty if nothing."""
        yarns = (state or self.engine.snapshot()).yarns
        return " and ".join(self.yarn_words[yarn] for yarn in yarns if yarn in self.yarns)

    def row_counter(self) -> int:
        """What the row counter shows, for conditions."""
        return self.engine.counter

    def rows_found(self, name: str) -> int | None:
        """The number of rows that was found for a line, by its hidden name; None before that."""
        self.names.looked_at.add(name)
        value = self.names.choices.get(name)
        return int(value.value) if isinstance(value, Quantity) else None

    def size_word(self) -> str:
        """The name of the size, for conditions."""
        return self.size_name

    def value_or_word(self, expr: ex.Expr) -> Value:
        """As ``value``; a name that nothing is called by is a word (``finish is graft``)."""
        if isinstance(expr, ex.Name) and expr.name not in self.scope.locals \
                and not self.names.has(expr.name):
            return expr.name
        return self.value(expr)

    def count(self, expr: ex.Expr, unit: str) -> int:
        """A whole number of ``stitches``, ``rows`` or ``times``, at least 0."""
        if type(expr) is ex.Literally and type(expr.value.value) is int and not expr.value.unit:
            return expr.value.value
        value = self.value(expr)
        if isinstance(value, str):
            raise cannot("not-a-number", expr.at, f"'{value}' is a word, not a number.",
                         "Write a number here, or the name of a value that is one.")
        if value.unit not in ("", unit):
            raise cannot("units-do-not-fit", expr.at,
                         f"A number of {unit} should stand here, not {kind_of(value)} "
                         f"({show(value)}).",
                         f"Turn the length into {unit} with {unit}(…)."
                         if value.unit == "mm" and unit in ("stitches", "rows") else "")
        if not isinstance(value.value, int):
            raise CannotDoError(Problem(
                "not-whole", expr.at,
                f"This comes to {show(Quantity(value.value))} {unit}, which is not a whole number.",
                "Say how to round it, for example 'to nearest even'.",
                amount=Fraction(value.value)))
        if value.value < 0:
            raise cannot("negative-count", expr.at, f"This comes to {value.value} {unit}, less "
                         "than none.", "Look at the measurements it is worked out from.")
        return value.value

    def cannot(self, kind: ProblemName, at: Span, message: str, hint: str = "") -> CannotDoError:
        """The exception for a line that cannot be carried out."""
        return cannot(kind, at, message, hint)

    def beds(self, name: ex.BedName) -> tuple[tuple[Bed, ...], str]:
        """The beds meant by a bed word, and the word."""
        word = name.word
        if word not in ("front", "back", "both"):
            value = self.scope.locals.get(word)
            if value is None and self.names.has(word):
                value = self.value(ex.Name(name.at, word))
            word = str(value) if isinstance(value, str) else word
        if name.other and word in ("front", "back"):
            word = "back" if word == "front" else "front"
        found = {"front": (FRONT,), "back": (BACK,), "both": BEDS}.get(word)
        if found is None:
            raise cannot("not-a-bed", name.at, f"'{word}' is not a bed.",
                         "Write front, back or both.")
        if BACK in found and self.engine.profile.beds == 1:
            if word == "both":
                return (FRONT,), "front"
            self.fault(Fault("no-second-bed", bed=BACK), name.at)
        return found, word

    def bed(self, name: ex.BedName) -> Bed:
        """The one bed meant."""
        found, _ = self.beds(name)
        if len(found) != 1:
            raise cannot("not-a-bed", name.at, "One bed should stand here, not both.",
                         "Write front or back.")
        return found[0]

    def end(self, end: ex.End) -> tuple[Side, str]:
        """The side meant by an end word, and the word."""
        word = end.word
        if word not in ("left", "right", "carriage side", "far side"):
            value = self.scope.locals.get(word)
            if value is None and self.names.has(word):
                value = self.value(ex.Name(end.at, word))
            word = str(value) if isinstance(value, str) else word
        if word == "left" or word == "right":
            return word, word  # type: ignore[return-value]
        carriage = self.engine.carriage
        if word == "carriage side":
            return carriage, word
        if word == "far side":
            return other_side(carriage), word
        raise cannot("not-an-end", end.at, f"'{word}' is not an end of the bed.",
                     "Write left, right, carriage side or far side.")

    def group(self, name: str) -> str:
        """The name of a group of stitches; a parameter stands for the name it was given."""
        value = self.scope.locals.get(name)
        return value if isinstance(value, str) else name

    # ---- doing and recording

    def do(self, op: Op) -> None:
        """Carry out one operation and keep what happened; plain slips are put right first."""
        faults: list[Fault] = []
        todo: list[Op] = [op]
        if type(op) in SEEN_AT_ONCE:
            todo = as_it_is_now(self.engine, op)
            for fault, mend in put_right(self.engine, op, self.first_yarn):
                faults.append(fault)
                self.record(mend)
        for one in todo:
            faults += self.record(one)
        for fault in faults:
            self.mishaps.append(Mishap(fault, self.places, len(self.moments) - 1, self.current))

    def record(self, op: Op) -> list[Fault]:
        """Carry out one operation; returns what went wrong."""
        faults = self.engine.apply(op)
        self.moments.append(Moment(op, self.engine.snapshot(), self.current, self.places))
        return faults

    def fault(self, fault: Fault, at: Span | None = None,
              detail: Mapping[str, Item] | None = None) -> None:
        """Keep a fault that was noticed before the machine did anything."""
        places = self.places if at is None else (*self.places[:-1], at)
        self.mishaps.append(Mishap(fault, places, max(0, len(self.moments) - 1), self.current,
                                   detail or {}))

    def say(self, printed: Printed) -> Instruction:
        """Begin a printed instruction (inside a ``step`` it is not printed)."""
        number = self.instruction_count
        self.instruction_count += 1
        told = Instruction(number, printed, self.places, len(self.sections) - 1,
                           len(self.moments))
        if not self.silent:
            self.collecting.append(told)
            self.current = number
        return told
