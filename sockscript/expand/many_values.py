"""Many sets of values performed together, by sharing what they have in common.

What came of a section is kept with the machine that it found and what its lines asked (see
``asking``), so that the next set of values which finds the same machine and gives the same answers
need not knit the section again.
"""

from __future__ import annotations

from typing import NamedTuple

from sockscript.expand.asking import AskingRun, Remembered
from sockscript.expand.looks_alike import Looks
from sockscript.expand.perform import Performer
from sockscript.expand.record import Mishap, Moment
from sockscript.expand.run import LONGEST_RUN, Run
from sockscript.expand.sections import SectionRecord
from sockscript.expand.solve import ReadTape, counts_found, guesses
from sockscript.expand.techniques import Library
from sockscript.expand.values import Names, Value, cannot
from sockscript.machine.profile import Profile
from sockscript.text.source import Problem
from sockscript.trace.engine import Engine
from sockscript.tree.script import Script

LONGEST_RANGE = 20_000_000
"""Lines performed for a whole range: some minutes.  A script that needs more never ends."""
MOST_KEPT = 1_000_000
"""Moments kept for sharing; with more, sharing begins anew, so that memory stays bounded."""


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

    __slots__ = ("engine", "memory")

    def __init__(self, engine: Engine) -> None:
        self.engine = engine
        self.memory: Remembered[Performed] = Remembered()


class Sharer:
    """Performs one set of values after another; see the module."""

    def __init__(self, script: Script, library: Library, profile: Profile,
                 read: ReadTape | None = None) -> None:
        self.script = script
        self.profile = profile
        self.performer = Performer(library, LONGEST_RANGE, read)
        self._counts: dict[tuple[object, ...], dict[str, Value]] = {}
        self.number = 0
        self._looks = Looks()
        self._forget()

    def _forget(self) -> None:
        self.start = Found(Engine(self.profile))
        self.found: dict[tuple[object, ...], Found] = {}
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
        while read is not None and any(guesses([one.record for one in path])):
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
            done = _known(found, names, counter, size_name)
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

    def _perform(self, found: Found, names: Names, counter: int, size: int,
                 index: int) -> Performed:
        engine = found.engine.fork()
        engine.counter = counter
        run = AskingRun(names.script, engine, size, names)
        self.performer.section(run, self.script.sections[index])
        key = (index + 1, *run.engine.situation())
        after = self.found.setdefault(key, Found(run.engine))
        record = run.sections[0]
        record.look = self._looks.number(record, run.moments, self.script.source, 0)
        shown = engine.counter - (0 if run.counter_set else counter)
        done = Performed(self.number, record, run.moments, run.mishaps, run.lines_done,
                         (run.counter_set, shown), run.stopped, after)
        self.number += 1
        self.kept += len(run.moments)
        found.memory.place(run.asked).came = done
        return done


def _known(found: Found, names: Names, counter: int, size_name: str) -> Performed | None:
    return found.memory.find(lambda question: question.answer(names, counter, size_name))


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
