"""What hands do to the columns: moved, taken off, hung again, joined, made, ended."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Literal

from sockscript.expand.record import Moment
from sockscript.fabric.wales.cloth import Cloth, gone
from sockscript.fabric.wales.hung import Hem, hem
from sockscript.operations import ops
from sockscript.operations.beds import BEDS, Bed, indices
from sockscript.trace.state import Snapshot

MOVING = (ops.Transfer, ops.Fold, ops.Rehang)
"""What may change the order on the needles."""
CLOSING = (ops.BindOff, ops.Gather, ops.Graft)
"""What ends columns and leaves edges."""
NOTED = frozenset({*MOVING, *CLOSING, ops.Fashion, ops.ScrapOff, ops.Mark, ops.KnitIn,
                   ops.GraftGroups})
"""What is followed even if the same needles are loaded afterwards."""


class Hands:
    """The cloth, the groups that are off the needles, and hems that were hung.

    ``freed``: which groups come free where waste yarn is drawn out.  ``made``: columns cast on, or
    for stitches made in a gap, which have no neighbours yet.
    ``touched``: columns that were hung on a needle since this was last emptied.
    """

    def __init__(self) -> None:
        self.cloth = Cloth()
        self.groups: dict[str, list[int]] = {}
        self.freed: dict[str, Literal["edge", "slit"]] = {}
        self.hems: list[Hem] = []
        self.made: set[int] = set()
        self.touched: set[int] = set()

    def carry_out(self, index: int, moment: Moment, rib: bool) -> None:
        """One operation, and what it made or took besides (casting on, dropping).

        ``rib``: the cloth is one, in which what stands side by side on a bed are no neighbours.
        """
        do = _CARRY_OUT.get(type(moment.op))
        if do is not None:
            do(self, index, moment.op, moment.state)
        finished = isinstance(moment.op, CLOSING)
        for bed in BEDS:
            on, loaded = self.cloth.on[bed], moment.state.bed(bed).loaded
            if len(on) == loaded.bit_count():
                continue
            for n in gone(on, loaded):
                column = on.pop(n)
                if not finished:
                    self.cloth.close_up(column)
            for n in indices(loaded):
                if n not in on:
                    column = self.cloth.new()
                    if rib or isinstance(moment.op, ops.CastOn):
                        # Neighbours by the order in which the next row goes along them.
                        on[n] = column
                        self.made.add(column)
                    elif not self.cloth.insert(bed, n, column):
                        self.made.add(column)

    def fresh(self, after: Snapshot) -> set[int]:
        """New columns: for stitches that a pass made on empty needles, and those made by hand."""
        made = self.made
        self.made = set()
        for bed in BEDS:
            on, loaded = self.cloth.on[bed], after.bed(bed).loaded
            if len(on) == loaded.bit_count():
                continue
            for n in indices(loaded):
                if n not in on:
                    on[n] = self.cloth.new()
                    made.add(on[n])
        return made

    def _hang(self, column: int, bed: Bed, needle: int, after: Snapshot) -> None:
        """A column on a needle, or dropped where the needle takes none."""
        if after.bed(bed).loaded >> needle & 1:
            self.cloth.hang(bed, needle, column)
            self.touched.add(column)
        else:
            self.cloth.close_up(column)

    def _move(self, moves: Sequence[ops.Move], after: Snapshot) -> None:
        """Lift all, then hang all."""
        lifted = [(self.cloth.lift(bed, n), to, target) for bed, n, to, target in moves]
        for column, bed, n in lifted:
            if column is not None:
                self._hang(column, bed, n, after)

    def _transfer(self, _: int, op: ops.Transfer | ops.Fold, after: Snapshot) -> None:
        self._move(op.moves, after)

    def _fashion(self, _: int, op: ops.Fashion, after: Snapshot) -> None:
        self._move([(op.bed, a, op.bed, b) for a, b in op.moves], after)

    def _scrap_off(self, _: int, op: ops.ScrapOff, __: Snapshot) -> None:
        if op.name in self.freed:
            return
        lifted = [self.cloth.lift(op.bed, n) for n in indices(op.needles)]
        taken = [column for column in lifted if column is not None]
        if taken:
            self.groups.setdefault(op.name, []).extend(taken)

    def _mark(self, _: int, op: ops.Mark, __: Snapshot) -> None:
        self._freed(op.name, self.cloth.row(op.bed), op.kind == "slit")

    def _knit_in(self, _: int, op: ops.KnitIn, __: Snapshot) -> None:
        on = self.cloth.on[op.bed]
        self._freed(op.name, [on[n] for n in indices(op.needles) if n in on], True)

    def _freed(self, name: str, row: list[int], slit: bool) -> None:
        """Loops that waste yarn will free: above it, and for a slit below it too."""
        if name in self.groups or not row:
            return
        feet = self.cloth.feet(row)
        if slit:
            above = self.cloth.feet(row)
            self.cloth.link(feet[0], above[0])
            self.cloth.link(feet[-1], above[-1])
            feet += above
        self.groups[name] = feet
        self.freed[name] = "slit" if slit else "edge"

    def _rehang(self, index: int, op: ops.Rehang, after: Snapshot) -> None:
        group = self.groups.pop(op.name, None)
        if group is None:
            return
        if op.turned:
            group.reverse()
        pairs = list(zip(group, op.targets, strict=False))
        if op.name in self.freed:
            on = self.cloth.on
            hung = [(foot, on[bed][n]) for foot, (bed, n) in pairs if n in on[bed]]
            if hung:
                self.hems.append(hem(index, hung, self.cloth))
        for column, (bed, n) in pairs:
            self._hang(column, bed, n, after)
        if len(group) > len(pairs):
            self.groups[op.name] = group[len(pairs):]
        else:
            self.freed.pop(op.name, None)

    def _graft_groups(self, _: int, op: ops.GraftGroups, __: Snapshot) -> None:
        names = {op.first, op.second}
        if len(names) < 2 or not names <= self.groups.keys() \
                or any(self.freed.get(name) == "slit" for name in names):
            return
        for name in names:
            self.freed.pop(name, None)
            del self.groups[name]


_CARRY_OUT: dict[type, Callable[[Hands, int, Any, Snapshot], None]] = {
    ops.Transfer: Hands._transfer, ops.Fold: Hands._transfer, ops.Fashion: Hands._fashion,
    ops.ScrapOff: Hands._scrap_off, ops.Mark: Hands._mark,
    ops.KnitIn: Hands._knit_in, ops.Rehang: Hands._rehang,
    ops.GraftGroups: Hands._graft_groups,
}
