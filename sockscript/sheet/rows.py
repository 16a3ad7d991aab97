"""Every row of a size with a box to tick, and what is done by hand before it."""

from __future__ import annotations

from collections.abc import Sequence

from sockscript.expand.printed import Repeating
from sockscript.expand.record import Instruction
from sockscript.expand.run import Run
from sockscript.operations import ops
from sockscript.operations.beds import BEDS, needle_ranges
from sockscript.sheet.choices import ChosenWords
from sockscript.sheet.numbering import Plan
from sockscript.sheet.sentences import sentence
from sockscript.text.width import filled, page
from sockscript.trace.in_words import CARRIAGE_AT
from sockscript.trace.state import Snapshot

LONGEST_LIST = 50_000
"""Rows listed for one size; more than this nobody ticks off."""
TEN, FEW_ROWS = 10, 5
"""Boxes on a line of plain rows, and how many such rows have a line each all the same."""
LONGEST_NAMES = 60
"""Letters of the needles named behind a sentence: with more it says them better."""
ROOM_FOR_TEN = 72
"""Columns of a page on which ten boxes stand in a line; on a narrower one, five."""
_POSITIONS = {"out": "out of work:", "work": "into work:", "upper": "upper working position:",
              "hold": "hold"}


def render(plans: Sequence[tuple[ChosenWords, Plan]], cautions: Sequence[str]) -> str:
    """All sizes of each plan, one after the other; ``plans`` with their choices."""
    parts = ["\n".join(filled(f"Mind: {caution}", below="      ") for caution in cautions)]
    for choices, plan in plans:
        for size, run in enumerate(plan.runs):
            lines = [", ".join((f"EVERY ROW: {run.size_name}", *choices)),
                     filled("[ ] row counter, carriage after the row, stitches on front + back"),
                     filled("Plain rows have a line of ten boxes, and after it what its last row "
                            "shows."),
                     ""]
            _RowList(plan, size, run, lines).all()
            parts.append("\n".join(lines))
    return "\n\n".join(filter(None, parts)) + "\n"


def needles_moved(operations: Sequence[ops.Op], needles: int) -> str:
    """The very needles that operations by hand are about: ``hold front R15``; empty: none."""
    found: dict[str, int] = {}
    moved: list[str] = []
    for op in operations:
        if isinstance(op, ops.Place):
            for bed in BEDS:
                if op.on(bed):
                    key = f"{_POSITIONS[op.position]} {bed.word}"
                    found[key] = found.get(key, 0) | op.on(bed)
        elif isinstance(op, ops.Wrap):
            key = f"wrap {op.bed.word}"
            found[key] = found.get(key, 0) | 1 << op.needle
        elif isinstance(op, ops.Fashion):
            start, end = (sum(1 << move[n] for move in op.moves) for n in (0, 1))
            moved.append(f"{op.bed.word} {needle_ranges(start, needles)} onto "
                         f"{needle_ranges(end, needles)}")
    return "; ".join([*(f"{key} {needle_ranges(mask, needles)}" for key, mask in found.items()),
                      *moved])


class _RowList:
    def __init__(self, plan: Plan, size: int, run: Run, lines: list[str]) -> None:
        self.plan = plan
        self.size = size
        self.run = run
        self.lines = lines
        self.count = 0
        self.number: int | None = None
        self.said: list[str] = []
        self.done: list[ops.Op] = []
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
            self.done.append(moment.op)
            if isinstance(moment.op, ops.Knit):
                before = self.run.moments[index - 1].state if index else None
                self.rows(moment.op.passes, before, moment.state)

    def flush(self) -> None:
        """Write what belongs to one step and is not written yet."""
        if self.said:
            lead = f"{self.number:>4}. " if self.number is not None else "      "
            text = " ".join(self.said)
            named = needles_moved(self.done, self.run.engine.profile.needles)
            if text == self.last and self.number is not None:
                told = f"{named[:1].upper()}{named[1:]}." if named else "Again."
            else:
                told = f"{text} [{named}]" if 0 < len(named) <= LONGEST_NAMES else text
            self.lines.append(filled(told, lead, "      "))
            self.said, self.done, self.last = [], [], text

    def rows(self, passes: int, before: Snapshot | None, after: Snapshot) -> None:
        """A box for each pass of the carriage: a line each, or ten where nothing else changes."""
        self.flush()
        side = before.carriage if before is not None else "right"
        start = after.counter - passes
        stitches = f"{after.front.loaded.bit_count()} + {after.back.loaded.bit_count()}"
        held = after.front.stitches("hold") + after.back.stitches("hold")
        stitches += f", {held} in hold" if held else ""
        ten = TEN if page() >= ROOM_FOR_TEN else TEN // 2
        done = 0
        while done < passes:
            count = min(ten, passes - done) if passes > FEW_ROWS else 1
            done += count
            self.count += count
            if self.count > LONGEST_LIST:
                self.lines.append(f"      … and {passes - done + count} more rows")
                return
            if count % 2:
                side = "left" if side == "right" else "right"
            shown = f"{CARRIAGE_AT[side]}  {stitches}"
            last = f"RC {start + done:>4}"
            if passes <= FEW_ROWS:
                self.lines.append(f"      [ ] {last}  {shown}")
            else:
                boxes = "[ ]" * min(count, TEN // 2) + " " + "[ ]" * max(0, count - TEN // 2)
                self.lines.append(f"      {boxes:<{3 * ten + 1}}  {last}  {shown}")
