"""A run as a row of stops: what is done by hand before one tap, or rows with one tap each."""

from __future__ import annotations

from typing import NamedTuple

from sockscript.expand.printed import Aside, Knitting, Leaf, OwnWords, Repeating
from sockscript.expand.record import Instruction, Moment
from sockscript.expand.run import Run
from sockscript.fabric.amounts import hand_moves
from sockscript.follow.states import States
from sockscript.operations.beds import BEDS, Side
from sockscript.operations.ops import Knit
from sockscript.sheet.numbering import Plan
from sockscript.sheet.sentences import sentence, settings_of
from sockscript.trace.engine import Engine

MOST_TAPS = 20_000
"""Rows and other stops on one page; the largest sock of the examples has under 500."""

FEW_ROWS = 2
"""In a repeat with so few rows at a time, hand work and the first row are one tap."""

Remarks = tuple[tuple[str, str], ...]


class TooLongError(Exception):
    """A size with more rows and steps than a page to knit from can hold."""


class Stop(NamedTuple):
    """One thing to do.

    ``passes`` is 0 for hand work, which is one tap; else each pass is a tap.  ``side`` and
    ``counter``: the carriage and the row counter after hand work, or before the first pass.
    ``states``: numbers of the machine's states after each tap; ``between``: after the hand work
    that goes with the first pass, None if there is none.  ``safe``: for each pass whether one
    may go back to its end after a mishap.  ``moves``, ``settings``: work by hand, for the time.
    ``time``: which time round a repeat, of how many.
    """

    section: int
    step: int | None
    text: str
    remarks: Remarks
    side: Side
    counter: int
    passes: int
    circular: bool
    states: tuple[int, ...]
    between: int | None
    safe: tuple[bool, ...]
    moves: int
    settings: int
    time: tuple[int, int] | None


class Walk:
    """The stops of one size of a plan.  Raises TooLongError."""

    def __init__(self, plan: Plan, size: int) -> None:
        self.plan = plan
        self.size = size
        self.run: Run = plan.runs[size]
        self.engine = Engine(plan.profile)
        self.states = States(plan.profile.needles, plan.profile.beds)
        self.stops: list[Stop] = []
        self.start = self._state()
        self._section = 0
        self._step: int | None = None
        self._time: tuple[int, int] | None = None
        self._waiting: list[tuple[str, str]] = []
        self._remarks: Remarks = ()
        self._said: list[str] = []
        self._moves = self._settings = self._taps = 0
        for index, section in enumerate(self.run.sections):
            self._section, self._step = index, None
            for one in section.instructions:
                self._instruction(one)
            self._flush()
            if self._waiting:
                self._remark_alone()

    # ---- walking through the instructions

    def _instruction(self, one: Instruction) -> None:
        printed = one.printed
        if isinstance(printed, Aside):
            self._flush()
            self._waiting.append((printed.weight, sentence(printed, self.plan.profile)))
            return
        if isinstance(printed, Repeating):
            self._repeat(one)
            return
        number = self.plan.number_of(self.size, one.number)
        if number != self._step or self._waiting:
            self._flush()
            if number != self._step:
                self._remarks = ()
            self._remarks += tuple(r for r in self._waiting if r not in self._remarks)
            self._step, self._waiting = number, []
        self._leaf(one, printed)

    def _repeat(self, one: Instruction) -> None:
        self._flush()
        outer = self._time
        for index, body in enumerate(one.rounds):
            if outer is None:
                self._time = (index + 1, len(one.rounds))
            for inner in body:
                self._instruction(inner)
            self._flush()
        self._time = outer

    def _leaf(self, one: Instruction, printed: Leaf) -> None:
        text = sentence(printed, self.plan.profile)
        if isinstance(printed, OwnWords):
            text += settings_of(self.run, one, self.plan.profile)
        moments = self.run.moments[one.first:one.last]
        if isinstance(printed, Knitting):
            for moment in moments:
                if isinstance(moment.op, Knit):
                    self._knit(moment, text)
                else:
                    # A slip that was put right before the row (see ``expand.put_right``).
                    self.engine.apply(moment.op)
            return
        self._said.append(text)
        for moment in moments:
            if isinstance(moment.op, Knit):
                self._knit(moment, text)
            else:
                self.engine.apply(moment.op)
                by_hand = hand_moves(moment.op)
                self._moves += by_hand
                self._settings += by_hand == 0
                if not self._said:
                    self._said.append(text)
        if not moments:
            self._settings += 1

    # ---- stops

    def _knit(self, moment: Moment, text: str) -> None:
        """All passes of an operation, each carried out by itself."""
        op = moment.op
        assert isinstance(op, Knit)
        self._count(op.passes)
        # Words of a step that begins with the carriage stand with its rows, not before them.
        if self._said == [text] and not self._moves and not self._settings:
            self._said.clear()
        together = self._time is not None and op.passes <= FEW_ROWS
        if not together:
            self._flush()
        before = self.engine.snapshot()
        between = self._state() if self._said else None
        said = " ".join(dict.fromkeys([*self._said, text]))
        circular = "circular" in (before.front.action, before.back.action)
        states, safe = [], []
        for done in range(1, op.passes + 1):
            self.engine.apply(Knit(1, op.intent))
            states.append(self._state())
            safe.append(self._is_safe() and not (circular and done % 2))
        self._stop(said, before.carriage, before.counter, op.passes, circular, states, between,
                   safe)

    def _flush(self) -> None:
        """The hand work gathered so far becomes a stop."""
        if self._said:
            now = self.engine.snapshot()
            self._stop(" ".join(self._said), now.carriage, now.counter, 0, False,
                       [self._state()], None, [])

    def _stop(self, text: str, side: Side, counter: int, passes: int, circular: bool,
              states: list[int], between: int | None, safe: list[bool]) -> None:
        self._count(int(not passes))
        self.stops.append(Stop(self._section, self._step, text, self._remarks, side, counter,
                               passes, circular, tuple(states), between, tuple(safe),
                               self._moves, self._settings, self._time))
        self._said = []
        self._moves = self._settings = 0

    def _count(self, taps: int) -> None:
        self._taps += taps
        if self._taps > MOST_TAPS:
            raise TooLongError(f"This size takes more than {MOST_TAPS} rows and steps; that is "
                               "too long for a page to knit from.")

    def _remark_alone(self) -> None:
        """Remarks after the last step of a section are a stop of their own."""
        self._remarks, self._waiting = tuple(self._waiting), []
        now = self.engine.snapshot()
        self._stop("Read this before you go on.", now.carriage, now.counter, 0, False,
                   [self._state()], None, [])
        self._remarks = ()

    # ---- the machine

    def _state(self) -> int:
        snapshot = self.engine.snapshot()
        return self.states.number(snapshot, self.run.in_feeder(snapshot), self._off())

    def _off(self) -> int:
        """Live stitches on waste yarn or a holder, off the needles."""
        return sum(len(group.stacks) for group in self.engine.groups.values()
                   if group.kind == "scrap")

    def _is_safe(self) -> bool:
        """Whether every loop is on a needle and no hand work is half done.

        Two loops or a strand on a needle that knits are hand work that a row must still close.
        """
        if self._off() or self.engine.feeder is None:
            return False
        for bed in BEDS:
            state = self.engine.bed(bed)
            knitting = state.active if state.action != "rest" else 0
            if (state.double | state.laid) & knitting:
                return False
        return True
