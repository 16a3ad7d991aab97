"""A script performed again after an edit: sections that did not change are not knitted again.

What a section does depends on its own lines, the machine as it finds it, and the values that its
lines ask for (see ``asking``).  All three are kept with what came of it.  Where they are the same
again, what was kept is put into the new run; if only its place or the totals before it differ,
its records are moved along (see ``moving``).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable, Sequence
from typing import NamedTuple

from sockscript.expand.asking import Answer, AskingRun, Question, Remembered
from sockscript.expand.explore import Choices, Outcome, from_section
from sockscript.expand.looks_alike import Looks
from sockscript.expand.moving import Moving, SectionDone, SectionStart
from sockscript.expand.perform import Performer
from sockscript.expand.record import Mishap
from sockscript.expand.run import LONGEST_RUN, Run
from sockscript.expand.solve import ReadTape
from sockscript.expand.techniques import Library
from sockscript.expand.values import Names, Value
from sockscript.machine.profile import Profile
from sockscript.numbers.quantity import Quantity
from sockscript.text.source import Source
from sockscript.trace.engine import Engine
from sockscript.trace.state import Ledger
from sockscript.tree.script import Script

MOST_KEPT = 400_000
"""Moments kept; with more, all is forgotten, so that memory stays bounded."""
MOST_IN_RUNS = 2_000_000
"""So many moments stand in runs that are kept for the next version; each run lists its own."""


class SectionKey(NamedTuple):
    """A section of the script: its text without comments, and the line where it begins.

    The text has as many lines as the section, but for empty ones at its end.
    """

    text: str
    line: int


class _Yarns(NamedTuple):
    """The totals of the machine for each yarn, where a section began."""

    ends: dict[str, int]
    loops: dict[str, int]
    strands: dict[str, int]


class _Kept(NamedTuple):
    """What came of a section, and the machine that it left.

    ``own``: at the place where it was performed; ``elsewhere``: at others.
    """

    place: SectionStart
    yarns: _Yarns
    height: int
    own: SectionDone
    elsewhere: dict[SectionStart, SectionDone]
    lines: int
    instructions: int
    current: int
    counter_set: bool
    looked_at: frozenset[str]
    engine: Engine


class _Followed(NamedTuple):
    """How a run went on with a section, which ``key`` names with all that the script says of it."""

    key: tuple[Hashable, ...]
    run: AskingRun
    branch: AskingRun


class Again:
    """Performs the versions of one script one after another.

    ``performed`` counts the sections that were knitted, ``reused`` those that were not.  Runs
    themselves are kept as far as nothing has changed since the beginning of the script.  All
    versions must have the same ``Source``, whose lines are replaced.  ``read`` measures finished
    runs, for lines that find their rows from a length.  ``looks`` numbers what looks alike.
    """

    def __init__(self, read: ReadTape | None = None, looks: Looks | None = None) -> None:
        self.read = read
        self.looks = looks
        self.performed = self.reused = 0
        self._basis: Hashable = None
        self._memories: dict[Hashable, Remembered[_Kept]] = {}
        self._answers: dict[tuple[int | Value, ...], dict[int, Answer]] = {}
        self._moments_kept = 0
        self._starts: dict[int, AskingRun] = {}
        self._followed: dict[tuple[object, ...], _Followed] = {}
        """From the version before, by the run (which they keep alive) and the choices."""

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
            self._starts, self._followed = {}, {}
            if self.looks is not None:
                self.looks.forget()
        performer = Performer(library, read=self.read)
        found: list[tuple[Outcome, ...]] = []
        followed: dict[tuple[object, ...], _Followed] = {}
        in_runs = 0

        def perform(run: Run, chosen: Choices, index: int) -> Run:
            nonlocal in_runs
            assert isinstance(run, AskingRun)
            section = script.sections[index]
            key = (keys[index], section.title, section.fabric)
            place = (id(run), *chosen.items())
            known = self._followed.get(place)
            if known is not None and known.key == key and performer.lines_done \
                    + known.branch.lines_done - run.lines_done <= performer.limit:
                branch = known.branch
                performer.lines_done += branch.lines_done - run.lines_done
                self.reused += 1
            else:
                branch = run.fork(chosen, script)
                self._section(branch, performer, script, keys, index)
            in_runs += len(branch.moments)
            if in_runs <= MOST_IN_RUNS and not performer.exhausted:
                followed[place] = _Followed(key, run, branch)
            return branch

        for size in range(len(script.sizes.names) if script.sizes is not None else 1):
            if size not in self._starts:
                self._starts[size] = AskingRun(script, Engine(profile), size,
                                               Names(script, size, choices[0]))
            found.append(tuple(from_section(perform, performer, self._starts[size], 0, choices,
                                            self.read is not None)))
            if performer.exhausted:
                break
        self._followed = followed
        return tuple(found)

    def _section(self, run: AskingRun, performer: Performer, script: Script,
                 keys: Sequence[SectionKey], index: int) -> None:
        if run.stopped is not None:
            return
        key = (keys[index].text, script.sections[index].title, script.sections[index].fabric,
               _situation(run.engine))
        memory = self._memories.setdefault(key, Remembered())
        kept = memory.find(self._answers_for(run))
        if kept is not None and run.lines_done + kept.lines <= LONGEST_RUN \
                and performer.lines_done + kept.lines <= performer.limit:
            self.reused += 1
            performer.lines_done += kept.lines
            self._put_in(run, kept, keys[index].line, script.source)
            return
        self.performed += 1
        run.engine = run.engine.fork()
        place, yarns = SectionStart.now(run, keys[index].line), _yarns(run)
        height = keys[index].text.count("\n") + 1
        lines, mishaps = run.lines_done, len(run.mishaps)
        performer.section(run, script.sections[index])
        new = run.mishaps[mishaps:]
        # An expectation that has not been met since an earlier section depends on that one too.
        if not performer.exhausted and all(_since(mishap) >= place.moments for mishap in new):
            moments = run.moments[place.moments:]
            self._moments_kept += len(moments)
            record = run.sections[-1]
            if self.looks is not None:
                record.look = self.looks.number(record, moments, script.source, place.line)
            memory.place(run.asked).came = _Kept(
                place, yarns, height,
                SectionDone(record, moments, new, run.stopped, run.stopped_places), {},
                run.lines_done - lines, run.instruction_count - place.instructions, run.current,
                run.counter_set, frozenset(run.names.looked_at), run.engine)

    def _answers_for(self, run: AskingRun) -> Callable[[Question], Answer]:
        """How questions are answered for this run.  While the basis stays, a value depends on
        nothing but the size and the choices, and is worked out once."""
        values = (run.size, *run.names.choices.values())
        answers = self._answers.setdefault(values, {})

        def answer(question: Question) -> Answer:
            if question.expr is None:
                return question.answer(run.names, run.engine.counter, run.size_name)
            if id(question) not in answers:
                answers[id(question)] = question.answer(run.names, run.engine.counter,
                                                        run.size_name)
            return answers[id(question)]

        return answer

    def _put_in(self, run: Run, kept: _Kept, line: int, source: Source) -> None:
        """The records of a section go into a run, and its machine goes on from there."""
        place = SectionStart.now(run, line)
        done = self._moved(kept, place, source)
        run.sections.append(done.record)
        run.moments.extend(done.moments)
        run.mishaps.extend(done.mishaps)
        run.stopped, run.stopped_places = done.stopped, done.stopped_places
        run.lines_done += kept.lines
        run.instruction_count += kept.instructions
        run.current = kept.current - kept.place.instructions + place.instructions
        run.names.looked_at |= kept.looked_at
        run.engine = _machine_after(kept, place, _yarns(run))

    def _moved(self, kept: _Kept, place: SectionStart, source: Source) -> SectionDone:
        """What came of a section as it is at another place; kept for the next version."""
        now, then = (one.as_told(kept.own.moments) for one in (place, kept.place))
        if now == then:
            return kept.own
        if now not in kept.elsewhere:
            own = range(then.line, then.line + kept.height)
            kept.elsewhere[now] = Moving(then, now, source, own).done(kept.own)
            self._moments_kept += len(kept.own.moments)
        return kept.elsewhere[now]


def _situation(engine: Engine) -> tuple[object, ...]:
    """All that a section finds, but for totals and the row counter."""
    front, back = engine.beds
    return (*engine.situation(), tuple(front.strands.items()), tuple(back.strands.items()))


def _since(mishap: Mishap) -> float:
    """From which moment on an expectation has not been met; of what just happened, infinity."""
    since = mishap.detail.get("since")
    return int(since.value) if isinstance(since, Quantity) else math.inf


def _yarns(run: Run) -> _Yarns:
    engine = run.engine
    return _Yarns(engine.ends.copy(), engine.yarn_loops.copy(), engine.yarn_strands.copy())


def _machine_after(kept: _Kept, place: SectionStart, yarns: _Yarns) -> Engine:
    """The machine that the section leaves, with the totals of this run."""
    then = kept.place
    if (place.counter, place.ledger, yarns) == (then.counter, then.ledger, kept.yarns):
        return kept.engine
    engine = kept.engine.fork()
    if not kept.counter_set:
        engine.counter += place.counter - then.counter
    for name, was, total in zip(Ledger._fields, then.ledger, place.ledger, strict=True):
        setattr(engine, name, getattr(engine, name) + total - was)
    _move_counts(engine.ends, kept.yarns.ends, yarns.ends)
    _move_counts(engine.yarn_loops, kept.yarns.loops, yarns.loops)
    _move_counts(engine.yarn_strands, kept.yarns.strands, yarns.strands)
    engine._snapshot = None
    return engine


def _move_counts(counts: dict[str, int], then: dict[str, int], now: dict[str, int]) -> None:
    for yarn in sorted({*then, *now}):
        counts[yarn] = counts.get(yarn, 0) + now.get(yarn, 0) - then.get(yarn, 0)
        if not counts[yarn]:
            del counts[yarn]  # it was knitted in the version before, and is not any more
