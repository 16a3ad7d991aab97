"""What came of a section, moved to another place of the script and of the run."""

from __future__ import annotations

from typing import NamedTuple, Self

from sockscript.expand.record import Instruction, Mishap, Moment
from sockscript.expand.run import Run
from sockscript.expand.sections import SectionRecord
from sockscript.numbers.quantity import Quantity
from sockscript.operations.ops import ResetCounter
from sockscript.text.source import Problem, Source, Span
from sockscript.trace.state import Ledger, Snapshot


class SectionStart(NamedTuple):
    """Where a section begins: its first line, and what its records count on from."""

    line: int
    moments: int
    instructions: int
    sections: int
    counter: int
    ledger: Ledger

    @classmethod
    def now(cls, run: Run, line: int) -> Self:
        """The place of a section that is the next one in a run."""
        return cls(line, len(run.moments), run.instruction_count, len(run.sections),
                   run.engine.counter, run.engine.ledger)

    def as_told(self, moments: list[Moment]) -> Self:
        """All of the place that its records tell: a section that sets the row counter before
        anything else tells nothing of what it showed."""
        if moments and type(moments[0].op) is ResetCounter:
            return self._replace(counter=0)
        return self


class SectionDone(NamedTuple):
    """What came of a section that began at one place."""

    record: SectionRecord
    moments: list[Moment]
    mishaps: list[Mishap]
    stopped: Problem | None
    stopped_places: tuple[Span, ...]


class Moving:
    """Moves what came of a section to another place; only its ``own`` lines of the script move."""

    def __init__(self, then: SectionStart, now: SectionStart, source: Source, own: range) -> None:
        self.source = source
        self.shift = now.line - then.line
        self.own = own
        self.by_moments = now.moments - then.moments
        self.by_instructions = now.instructions - then.instructions
        self.by_sections = now.sections - then.sections
        self.by_counter = now.counter - then.counter
        self.by_ledger = tuple(a - b for a, b in zip(now.ledger, then.ledger, strict=True))
        self.same_totals = not any(self.by_ledger)
        self.known: dict[tuple[Span, ...], tuple[Span, ...]] = {}
        self.states: dict[int, Snapshot] = {}

    def done(self, done: SectionDone) -> SectionDone:
        """All that came of the section."""
        return SectionDone(self.record(done.record), self.moments(done.moments),
                           [self.mishap(mishap) for mishap in done.mishaps],
                           done.stopped and done.stopped.moved_to(self.span(done.stopped.at)),
                           self.places(done.stopped_places))

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
