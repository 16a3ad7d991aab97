"""A script performed again after an edit: sections that did not change are not knitted again.

What a section does depends on its own lines, the machine as it finds it, and the values that its
lines ask for (see ``asking``).  All three are kept with what came of it.  Where they are the same
again, what was kept is put into the new run; if only its place or the totals before it differ,
its records are moved along.
"""

from __future__ import annotations

import math
from collections.abc import Hashable, Sequence
from typing import NamedTuple

from sockscript.expand.asking import Answer, AskingRun, Question, Remembered
from sockscript.expand.explore import Outcome, from_section
from sockscript.expand.look import Looks
from sockscript.expand.perform import Performer
from sockscript.expand.record import Instruction, Mishap, Moment
from sockscript.expand.run import LONGEST_RUN, Run
from sockscript.expand.sections import SectionRecord
from sockscript.expand.solve import ReadTape
from sockscript.expand.techniques import Library
from sockscript.expand.values import Names, Value
from sockscript.machine.profile import Profile
from sockscript.numbers.quantity import Quantity
from sockscript.operations.ops import ResetCounter
from sockscript.text.source import Problem, Source, Span
from sockscript.trace.engine import Engine
from sockscript.trace.state import Ledger, Snapshot
from sockscript.tree.script import Script

MOST_KEPT = 400_000
"""Moments kept; with more, all is forgotten, so that memory stays bounded."""


class SectionKey(NamedTuple):
    """A section of the script: its text without comments, and the line where it begins.

    The text has as many lines as the section, but for empty ones at its end.
    """

    text: str
    line: int


class _Entry(NamedTuple):
    """Where a section began: the counts of the run and the totals of the machine.

    ``line``: its first line; the counts are those of the run so far.
    """

    line: int
    moments: int
    instructions: int
    sections: int
    counter: int
    ledger: Ledger
    ends: dict[str, int]
    yarn_loops: dict[str, int]
    yarn_strands: dict[str, int]


class _Kept(NamedTuple):
    """What came of a section, and the machine that it left."""

    entry: _Entry
    height: int
    record: SectionRecord
    moments: list[Moment]
    mishaps: list[Mishap]
    lines: int
    instructions: int
    current: int
    counter_set: bool
    looked_at: frozenset[str]
    stopped: Problem | None
    stopped_places: tuple[Span, ...]
    engine: Engine


class Again:
    """Performs the versions of one script one after another.

    ``performed`` counts the sections that were knitted, ``reused`` those that were not.  All
    versions must have the same ``Source``, whose lines are replaced.  ``read`` measures finished
    runs, for lines that find their rows from a length.  ``looks`` numbers what looks alike.
    """

    def __init__(self, read: ReadTape | None = None, looks: Looks | None = None) -> None:
        self.read = read
        self.looks = looks
        self.performed = self.reused = 0
        self._basis: Hashable = None
        self._memories: dict[Hashable, Remembered[_Kept]] = {}
        self._answers: dict[tuple[int, int, tuple[Value, ...]], Answer] = {}
        self._moments_kept = 0

    def outcomes(self, script: Script, library: Library, profile: Profile,
                 choices: list[dict[str, Value]], basis: Hashable, keys: Sequence[SectionKey]
                 ) -> tuple[tuple[Outcome, ...], ...]:
        """Every size with every combination of ``choices``: see ``explore``.

        ``keys`` names the sections of this version; ``basis`` is everything else that they
        depend on (the header, techniques, the machine): when it changes, all is performed.
        """
        if basis != self._basis or self._moments_kept > MOST_KEPT:
            self._basis, self._moments_kept = basis, 0
            self._memories, self._answers = {}, {}
            if self.looks is not None:
                self.looks.forget()
        performer = Performer(library, read=self.read)
        found: list[tuple[Outcome, ...]] = []

        def perform(run: Run, index: int) -> None:
            assert isinstance(run, AskingRun)
            self._section(run, performer, script, keys, index)

        for size in range(len(script.sizes.names) if script.sizes is not None else 1):
            start = AskingRun(script, Engine(profile), size, Names(script, size, choices[0]))
            found.append(tuple(from_section(perform, performer, start, 0, choices,
                                            self.read is not None)))
            if performer.exhausted:
                break
        return tuple(found)

    def _section(self, run: AskingRun, performer: Performer, script: Script,
                 keys: Sequence[SectionKey], index: int) -> None:
        if run.stopped is not None:
            return
        key = (keys[index].text, script.sections[index].title, script.sections[index].fabric,
               _situation(run.engine))
        memory = self._memories.setdefault(key, Remembered())
        kept = memory.find(lambda question: self._answer(question, run))
        if kept is not None and run.lines_done + kept.lines <= LONGEST_RUN \
                and performer.lines_done + kept.lines <= performer.limit:
            self.reused += 1
            performer.lines_done += kept.lines
            _put_in(run, kept, keys[index].line, script.source)
            return
        self.performed += 1
        entry = _entry(run, keys[index].line)
        height = keys[index].text.count("\n") + 1
        lines, mishaps = run.lines_done, len(run.mishaps)
        performer.section(run, script.sections[index])
        new = run.mishaps[mishaps:]
        # An expectation that has not been met since an earlier section depends on that one too.
        if not performer.exhausted and all(_since(mishap) >= entry.moments for mishap in new):
            moments = run.moments[entry.moments:]
            self._moments_kept += len(moments)
            record = run.sections[-1]
            if self.looks is not None:
                record.look = self.looks.number(record, moments, script.source, entry.line)
            memory.place(run.asked).came = _Kept(
                entry, height, record, moments, new, run.lines_done - lines,
                run.instruction_count - entry.instructions, run.current, run.counter_set,
                frozenset(run.names.looked_at), run.stopped, run.stopped_places,
                run.engine.fork())

    def _answer(self, question: Question, run: AskingRun) -> Answer:
        """The answer for this run.  While the basis stays, a value depends on nothing but the
        size and the choices, and is worked out once."""
        if question.expr is None:
            return question.answer(run.names, run.engine.counter, run.size_name)
        key = (id(question), run.size, tuple(run.names.choices.values()))
        if key not in self._answers:
            self._answers[key] = question.answer(run.names, run.engine.counter, run.size_name)
        return self._answers[key]


def _situation(engine: Engine) -> tuple[object, ...]:
    """All that a section finds, but for totals and the row counter."""
    front, back = engine.beds
    return (*engine.situation(), tuple(front.strands.items()), tuple(back.strands.items()))


def _since(mishap: Mishap) -> float:
    """From which moment on an expectation has not been met; of what just happened, infinity."""
    since = mishap.detail.get("since")
    return int(since.value) if isinstance(since, Quantity) else math.inf


def _entry(run: Run, line: int) -> _Entry:
    engine = run.engine
    return _Entry(line, len(run.moments), run.instruction_count, len(run.sections),
                  engine.counter, engine.ledger, dict(engine.ends), dict(engine.yarn_loops),
                  dict(engine.yarn_strands))


def _put_in(run: Run, kept: _Kept, line: int, source: Source) -> None:
    """The records of a section go into a run, and its machine goes on from there."""
    now, then = _entry(run, line), kept.entry
    if now == then:
        record, moments, mishaps = kept.record, kept.moments, kept.mishaps
        stopped, places = kept.stopped, kept.stopped_places
    else:
        move = _Move(now, then, source, kept)
        record = move.record(kept.record)
        moments = move.moments(kept.moments)
        mishaps = [move.mishap(mishap) for mishap in kept.mishaps]
        stopped = kept.stopped and kept.stopped.moved_to(move.span(kept.stopped.at))
        places = move.places(kept.stopped_places)
    run.sections.append(record)
    run.moments.extend(moments)
    run.mishaps.extend(mishaps)
    run.lines_done += kept.lines
    run.instruction_count += kept.instructions
    run.current = kept.current - then.instructions + now.instructions
    run.names.looked_at |= kept.looked_at
    run.stopped, run.stopped_places = stopped, places
    run.engine = _machine_after(kept, now)


def _machine_after(kept: _Kept, now: _Entry) -> Engine:
    """The machine that the section leaves, with the totals of this run."""
    engine, then = kept.engine.fork(), kept.entry
    if now == then:
        return engine
    if not kept.counter_set:
        engine.counter += now.counter - then.counter
    for name, was, total in zip(Ledger._fields, then.ledger, now.ledger, strict=True):
        setattr(engine, name, getattr(engine, name) + total - was)
    _move_counts(engine.ends, then.ends, now.ends)
    _move_counts(engine.yarn_loops, then.yarn_loops, now.yarn_loops)
    _move_counts(engine.yarn_strands, then.yarn_strands, now.yarn_strands)
    engine._snapshot = None
    return engine


def _move_counts(counts: dict[str, int], then: dict[str, int], now: dict[str, int]) -> None:
    for yarn in sorted({*then, *now}):
        counts[yarn] = counts.get(yarn, 0) + now.get(yarn, 0) - then.get(yarn, 0)


class _Move:
    """Moves the records of a section to another place in the script and in the run."""

    def __init__(self, now: _Entry, then: _Entry, source: Source, kept: _Kept) -> None:
        self.source = source
        self.shift = now.line - then.line
        self.own = range(then.line, then.line + kept.height)
        self.by_moments = now.moments - then.moments
        self.by_instructions = now.instructions - then.instructions
        self.by_sections = now.sections - then.sections
        self.by_counter = now.counter - then.counter
        self.by_ledger = tuple(a - b for a, b in zip(now.ledger, then.ledger, strict=True))
        self.same_totals = not any(self.by_ledger)
        self.known: dict[tuple[Span, ...], tuple[Span, ...]] = {}
        self.states: dict[int, Snapshot] = {}

    def span(self, at: Span) -> Span:
        """A place; only lines of the section itself move."""
        if not self.shift or at.source is not self.source or at.line not in self.own:
            return at
        return at._replace(line=at.line + self.shift)

    def places(self, places: tuple[Span, ...]) -> tuple[Span, ...]:
        """Places that lines came through; the first is the line of the section."""
        if not self.shift or not places:
            return places
        found = self.known.get(places)
        if found is None:
            found = self.known[places] = tuple(map(self.span, places))
        return found

    def record(self, record: SectionRecord) -> SectionRecord:
        """The section with its instructions."""
        if not (self.shift or self.by_moments or self.by_instructions or self.by_sections):
            return record  # totals of the machine are in its moments only
        moved = SectionRecord(record.title, record.fabric, record.first + self.by_moments)
        moved.last = record.last + self.by_moments
        moved.offset, moved.look = record.offset, record.look
        moved.loops, moved.strands = record.loops, record.strands
        moved.instructions = [self.instruction(one) for one in record.instructions]
        moved.targets = [target._replace(places=self.places(target.places))
                         for target in record.targets]
        moved.wanted = [wanted._replace(places=self.places(wanted.places))
                        for wanted in record.wanted]
        return moved

    def instruction(self, one: Instruction) -> Instruction:
        """A printed instruction with everything in it."""
        moved = Instruction(one.number + self.by_instructions, one.printed,
                            self.places(one.places), one.section + self.by_sections,
                            one.first + self.by_moments)
        moved.last = one.last + self.by_moments
        moved.rounds = [[self.instruction(inner) for inner in body] for body in one.rounds]
        return moved

    def moments(self, moments: list[Moment]) -> list[Moment]:
        """The operations, with the row counter and the bank book as they are in this run."""
        found = []
        counting = self.by_counter != 0
        for op, state, instruction, places in moments:
            counting = counting and type(op) is not ResetCounter
            found.append(Moment(op, self.state(state, counting),
                                instruction + self.by_instructions, self.places(places)))
        return found

    def state(self, state: Snapshot, counting: bool) -> Snapshot:
        """A state with the totals of this run."""
        if self.same_totals and not counting:
            return state
        found = self.states.get(id(state))
        if found is None:
            ledger = Ledger(*map(int.__add__, state.ledger, self.by_ledger))
            found = self.states[id(state)] = state._replace(
                counter=state.counter + (self.by_counter if counting else 0), ledger=ledger)
        return found

    def mishap(self, mishap: Mishap) -> Mishap:
        """Something that went wrong, at its new place."""
        detail = mishap.detail
        since = detail.get("since")
        if isinstance(since, Quantity):
            detail = {**detail, "since": Quantity(int(since.value) + self.by_moments)}
        return mishap._replace(places=self.places(mishap.places), detail=detail,
                               moment=mishap.moment + self.by_moments,
                               instruction=mishap.instruction + self.by_instructions)
