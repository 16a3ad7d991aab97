"""Every row of a size with a box to tick, and what is done by hand before it."""

from __future__ import annotations

import textwrap

from sockscript.expand.printed import Repeating
from sockscript.expand.record import Instruction
from sockscript.expand.run import Run
from sockscript.operations.ops import Knit
from sockscript.sheet.numbering import Plan
from sockscript.sheet.sentences import sentence
from sockscript.trace.state import Snapshot

WIDTH = 88
LONGEST_LIST = 50_000
"""Rows listed for one size; more than this nobody ticks off."""


def render(plan: Plan) -> str:
    """All sizes of a plan, one after the other."""
    parts = []
    for size, run in enumerate(plan.runs):
        lines = [f"EVERY ROW: {run.size_name}",
                 "[ ] row counter, carriage after the row, stitches on front + back", ""]
        _Rows(plan, size, run, lines).all()
        parts.append("\n".join(lines))
    return "\n\n".join(parts) + "\n"


class _Rows:
    def __init__(self, plan: Plan, size: int, run: Run, lines: list[str]) -> None:
        self.plan = plan
        self.size = size
        self.run = run
        self.lines = lines
        self.count = 0
        self.number: int | None = None
        self.said: list[str] = []
        self.last = ""

    def all(self) -> None:
        for section in self.run.sections:
            self.lines += [section.title.upper(), ""]
            for told in section.instructions:
                self.instruction(told)
            self.flush()
            self.lines.append("")

    def instruction(self, one: Instruction) -> None:
        """One instruction and the rows that it knits, each time round a repeat."""
        if self.count > LONGEST_LIST:
            return
        if isinstance(one.printed, Repeating):
            for body in one.rounds:
                for inner in body:
                    self.instruction(inner)
            return
        number = self.plan.number_of(self.size, one.number)
        if number != self.number:
            self.flush()
        self.number = number
        self.said.append(sentence(one.printed, self.plan.profile))
        for index in range(one.first, one.last):
            moment = self.run.moments[index]
            if isinstance(moment.op, Knit):
                before = self.run.moments[index - 1].state if index else None
                self.rows(moment.op.passes, before, moment.state)

    def flush(self) -> None:
        """Write what belongs to one step and is not written yet."""
        if self.said:
            lead = f"{self.number:>4}. " if self.number is not None else "      "
            text = " ".join(self.said)
            again = text == self.last and self.number is not None
            self.lines.append(textwrap.fill("Again." if again else text, WIDTH,
                                            initial_indent=lead, subsequent_indent="      "))
            self.said, self.last = [], text

    def rows(self, passes: int, before: Snapshot | None, after: Snapshot) -> None:
        """One line with a box for each pass of the carriage."""
        self.flush()
        side = before.carriage if before is not None else "right"
        start = after.counter - passes
        stitches = f"{after.front.loaded.bit_count()} + {after.back.loaded.bit_count()}"
        held = after.front.stitches("hold") + after.back.stitches("hold")
        stitches += f", {held} in hold" if held else ""
        for n in range(1, passes + 1):
            side = "left" if side == "right" else "right"
            self.count += 1
            if self.count > LONGEST_LIST:
                self.lines.append(f"      … and {passes - n + 1} more rows")
                return
            self.lines.append(f"      [ ] RC {start + n:>4}  {'COL' if side == 'left' else 'COR'}"
                              f"  {stitches}")
