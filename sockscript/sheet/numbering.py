"""Numbered steps: which instructions make up a step, and what the machine shows after it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from sockscript.expand.described import Compared, Counted
from sockscript.expand.explore import Outcome
from sockscript.expand.printed import Aside, Knitting, OwnWords, Repeating
from sockscript.expand.record import Instruction
from sockscript.expand.run import Run
from sockscript.findings.prove import Proof
from sockscript.machine.profile import Profile
from sockscript.numbers.figures import Figure, figure
from sockscript.operations.beds import BEDS, Side
from sockscript.operations.ops import Knit
from sockscript.sheet.merge import MergedInstruction, merge
from sockscript.sheet.sentences import repeat_ending, sentence, settings_of
from sockscript.trace.state import Snapshot


class PrintedStep(NamedTuple):
    """A printed step or (``number`` None) a remark.

    ``only``: names of the sizes that have it, when not all do.  ``text`` holds all sizes (see
    ``numbers.figures``).  ``states``: the machine after it, size by size (None for a size without
    it); ``begins``: the side at which the carriage begins to knit, where it does; ``times``: how
    often something is done over, or how many rows or rounds are knitted, size by size.
    """

    number: int | None
    kind: str
    text: str
    only: tuple[str, ...]
    states: tuple[Snapshot | None, ...]
    begins: tuple[Side | None, ...]
    instructions: tuple[MergedInstruction, ...]
    times: tuple[int, ...]


class PlannedSection(NamedTuple):
    """A section with its steps."""

    title: str
    steps: tuple[PrintedStep, ...]


class Plan:
    """The whole pattern for some sizes and one set of choices, in numbered steps."""

    def __init__(self, runs: Sequence[Run], profile: Profile) -> None:
        self.runs = tuple(runs)
        self.profile = profile
        self.names = tuple(run.size_name for run in runs)
        self._numbers: dict[tuple[int, int], int] = {}
        self._next = 1
        self.sections = self._sections()

    def number_of(self, size: int, instruction: int) -> int | None:
        """The printed step of an instruction of the ``size``-th run."""
        return self._numbers.get((size, instruction))

    def step(self, number: int) -> PrintedStep | None:
        """A step by its number."""
        for section in self.sections:
            for step in section.steps:
                if step.number == number:
                    return step
        return None

    # ---- laying out

    def _sections(self) -> tuple[PlannedSection, ...]:
        return self._laid_out(0)

    def _laid_out(self, first: int) -> tuple[PlannedSection, ...]:
        """The sections from one on."""
        planned = []
        for index in range(first, max((len(run.sections) for run in self.runs), default=0)):
            records = [run.sections[index] if index < len(run.sections) else None
                       for run in self.runs]
            told = merge([record.instructions if record is not None else []
                          for record in records])
            title = next(record.title for record in records if record is not None)
            planned.append(PlannedSection(title, tuple(self._steps(told))))
        return tuple(planned)

    def _steps(self, told: list[MergedInstruction]) -> list[PrintedStep]:
        steps: list[PrintedStep] = []
        gathered: list[MergedInstruction] = []

        def close() -> None:
            if gathered:
                steps.append(self._step(gathered))
                gathered.clear()

        for one in told:
            if isinstance(one.printed, Aside):
                close()
                steps.append(self._remark(one, one.printed))
            elif isinstance(one.printed, (OwnWords, Repeating)):
                close()
                steps.append(self._step([one]))
            else:
                if gathered and self._only(one) != self._only(gathered[-1]):
                    close()
                gathered.append(one)
                if isinstance(one.printed, Knitting):
                    close()
        close()
        return steps

    def _only(self, told: MergedInstruction) -> tuple[str, ...]:
        names = tuple(name for name, one in zip(self.names, told.by_size, strict=True)
                      if one is not None)
        return () if len(names) == len(self.names) else names

    def _remark(self, told: MergedInstruction, aside: Aside) -> PrintedStep:
        return PrintedStep(None, aside.weight, sentence(aside, self.profile), self._only(told),
                           (None,) * len(self.runs), (None,) * len(self.runs), (told,),
                           (0,) * len(self.runs))

    def _step(self, gathered: list[MergedInstruction]) -> PrintedStep:
        number = self._next
        self._next += 1
        for told in gathered:
            self._note_number(told, number)
        text = " ".join(self._text(told) for told in gathered)
        states = tuple(self._state(size, [told.by_size[size] for told in gathered])
                       for size in range(len(self.runs)))
        begins = tuple(self._begins(size, [told.by_size[size] for told in gathered])
                       for size in range(len(self.runs)))
        return PrintedStep(number, gathered[0].printed.kind, text, self._only(gathered[0]), states,
                           begins, tuple(gathered), tuple(
                        self._times(size, gathered[-1]) for size in range(len(self.runs))))

    def _times(self, size: int, told: MergedInstruction) -> int:
        one = told.by_size[size]
        if one is None:
            return 0
        if isinstance(told.printed, Repeating):
            return len(one.rounds)
        if isinstance(told.printed, Knitting):
            return self._passes_of(size, one) // (2 if told.printed.rounds else 1)
        return 0

    def _note_number(self, told: MergedInstruction, number: int) -> None:
        for size, one in enumerate(told.by_size):
            if one is not None:
                self._note_instruction(size, one, number)

    def _note_instruction(self, size: int, one: Instruction, number: int) -> None:
        self._numbers[size, one.number] = number
        for body in one.rounds:
            for inner in body:
                self._note_instruction(size, inner, number)

    def _text(self, told: MergedInstruction) -> str:
        if isinstance(told.printed, Repeating):
            return self._repeat(told, told.printed)
        text = sentence(told.printed, self.profile)
        if isinstance(told.printed, OwnWords):
            size, one = next((s, o) for s, o in enumerate(told.by_size) if o is not None)
            text += settings_of(self.runs[size], one, self.profile)
        return text

    def _repeat(self, told: MergedInstruction, repeat: Repeating) -> str:
        parts = []
        for number, group in enumerate(told.rounds):
            inner = [self._bracketed(one) if len(group.body) > 1 else self._text(one)
                     for one in group.body]
            times = tuple(n or None for n in group.times)
            passes = self._passes(told, number)
            ending = repeat_ending(repeat.until if len(told.rounds) == 1 else None, passes,
                                   self._in_rounds(told), times, self._falling(told, repeat))
            parts.append(" ".join([*inner, ending]).strip())
        return " Then: ".join(parts)

    def _bracketed(self, told: MergedInstruction) -> str:
        """The words of an instruction in a repeat; another repeat stands in brackets, so that a
        reader sees where it begins."""
        text = self._text(told)
        times = {n for group in told.rounds for n in group.times}
        return f"[{text}]" if isinstance(told.printed, Repeating) and times - {0, 1} else text

    def _passes(self, told: MergedInstruction, group: int) -> Figure:
        """Carriage passes in one time round, size by size."""
        counts: list[int | None] = []
        for size, one in enumerate(told.by_size):
            if one is None or not told.rounds[group].times[size]:
                counts.append(None)
                continue
            position = sum(told.rounds[g].times[size] for g in range(group))
            counts.append(sum(self._passes_of(size, inner) for inner in one.rounds[position]))
        return figure(counts)

    def _in_rounds(self, told: MergedInstruction) -> bool:
        """Whether everything knitted in a repeat is counted in rounds."""
        knits = [m.op for size, one in enumerate(told.by_size) if one is not None
                 for m in self.runs[size].moments[one.first:one.last] if isinstance(m.op, Knit)]
        return bool(knits) and all(op.intent.rounds for op in knits)

    def _passes_of(self, size: int, one: Instruction) -> int:
        moments = self.runs[size].moments[one.first:one.last]
        return sum(m.op.passes for m in moments if isinstance(m.op, Knit))

    def _falling(self, told: MergedInstruction, repeat: Repeating) -> bool:
        """Whether a ``repeat until`` counts downwards."""
        until = repeat.until
        if not isinstance(until, (Counted, Compared)) or not until.where:
            return False
        for size, one in enumerate(told.by_size):
            if one is None or not one.first:
                continue
            before = self.runs[size].moments[one.first - 1].state
            after = self.runs[size].moments[one.last - 1].state
            counts = [sum(state.bed(bed).stitches(until.where) for bed in BEDS)
                      for state in (before, after)]
            return counts[0] > counts[1]
        return False

    def _begins(self, size: int, instructions: list[Instruction | None]) -> Side | None:
        """Where the carriage stands before the first pass of a step; None without one."""
        moments = self.runs[size].moments
        for one in instructions:
            for index in range(one.first, one.last) if one is not None else ():
                if isinstance(moments[index].op, Knit):
                    return moments[index - 1].state.carriage if index else "right"
        return None

    def _state(self, size: int, instructions: list[Instruction | None]) -> Snapshot | None:
        lasts = [one.last for one in instructions if one is not None]
        if not lasts or not max(lasts):
            return None
        return self.runs[size].moments[max(lasts) - 1].state


def plan_for(proof: Proof, outcome: Outcome) -> Plan:
    """The plan of all sizes with the choices of one outcome."""
    chosen = outcome.choices[0]
    return Plan([run_with(outcomes, chosen) for outcomes in proof.outcomes], proof.profile)


def run_with(outcomes: Sequence[Outcome], chosen: object) -> Run:
    """The run of one size that stands for a set of choices."""
    for outcome in outcomes:
        if chosen in outcome.choices:
            return outcome.run
    return outcomes[0].run


class StepNumbers:
    """Looks up printed step numbers; the steps are laid out only when one is asked for."""

    def __init__(self, proof: Proof) -> None:
        self.proof = proof
        self.plans: dict[tuple[object, ...], Plan] = {}

    def __call__(self, outcome: Outcome, size: int, instruction: int) -> int | None:
        """The step that an instruction of a size is printed in; None for one without number."""
        chosen = tuple(outcome.choices[0].items())
        if chosen not in self.plans:
            self.plans[chosen] = plan_for(self.proof, outcome)
        return self.plans[chosen].number_of(size, instruction)
