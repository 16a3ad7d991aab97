"""The fabric as a graph: every loop, the loops it was drawn through, its neighbours on the yarn.

The operations of a run are carried out again and each loop is followed by itself: onto other
needles, off on waste yarn and back, until it is grafted, gathered or bound off.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, Literal, NamedTuple

from sockscript.expand.run import Run
from sockscript.operations import ops
from sockscript.operations.beds import BACK, BEDS, FRONT, SIDES, Bed, Side, indices
from sockscript.trace.engine import Engine
from sockscript.trace.passes import acting


class Loop(NamedTuple):
    """A loop: its yarn, where it was formed, its section, its course, what it was drawn through.

    ``along``: a second yarn in it, empty if there is none.
    """

    yarn: str
    bed: Bed
    needle: int
    section: int
    course: int
    parents: tuple[int, ...]
    along: str = ""


class CourseLoops(NamedTuple):
    """The loops of one pass (or of casting on by hand) in the order of the yarn.

    ``joined``: whether the yarn runs on from the course before.  ``flat``: whether both its ends
    are open edges.
    """

    section: int
    direction: Side
    loops: tuple[int, ...]
    joined: bool
    flat: bool
    edges: tuple[bool, bool]
    """Whether its leftmost and rightmost loop lie at the edge of what is on the needles."""


class SewnDown(NamedTuple):
    """A hem sewn down: so many rows at an end of the courses from ``first`` to before ``end``."""

    first: int
    end: int
    part: Literal["first", "last"]
    rows: int


class LoopGraph(NamedTuple):
    """All loops of a piece and how they hang together beside parents and courses."""

    loops: tuple[Loop, ...]
    courses: tuple[CourseLoops, ...]
    grafted: tuple[tuple[int, int], ...]
    gathered: tuple[tuple[int, ...], ...]
    sewn: tuple[SewnDown, ...]
    on_needles: tuple[dict[int, tuple[int, ...]], dict[int, tuple[int, ...]]]
    """Front and back bed: what each needle holds at the end, oldest loop first."""
    picked_along: frozenset[int] = frozenset()
    """Loops of edges along which others were picked up: they are sewn to nothing."""


def loop_graph(run: Run) -> LoopGraph:
    """Follow every loop of a run."""
    return _Follower(run).graph()


class _Follower:
    def __init__(self, run: Run) -> None:
        self.run = run
        self.engine = Engine(run.engine.profile)
        self.loops: list[Loop] = []
        self.child: dict[int, int] = {}
        self.stacks: tuple[dict[int, list[int]], dict[int, list[int]]] = ({}, {})
        self.courses: list[CourseLoops] = []
        self.grafted: list[tuple[int, int]] = []
        self.gathered: list[tuple[int, ...]] = []
        self.groups: dict[str, list[list[int]]] = {}
        self.ladders: dict[tuple[Bed, int], list[int]] = {}
        self.joined = False
        self.selvedges: dict[tuple[Bed, Side], list[int]] = {}
        self.picked_along: set[int] = set()
        self.section = self.begun = 0
        self.sewn: list[SewnDown] = []
        self.marked: dict[str, int] = {}
        self.waste = run.waste

    def graph(self) -> LoopGraph:
        """Carry out all operations."""
        for index, moment in enumerate(self.run.moments):
            while index >= self.run.sections[self.section].last:
                self.section += 1
            if isinstance(moment.op, (ops.Knit, ops.CastOn)) and not any(
                    stack for bed in self.stacks for stack in bed.values()):
                self.begun = len(self.courses)
                self.selvedges.clear()
            if isinstance(moment.op, ops.Knit):
                for _ in range(moment.op.passes):
                    self._knit(moment.op)
            else:
                if isinstance(moment.op, (ops.Fold, ops.SewSides)):
                    self.selvedges.clear()
                follow = _FOLLOW.get(type(moment.op))
                if follow is not None:
                    follow(self, moment.op)
                self.engine.apply(moment.op)
                if isinstance(moment.op, (ops.Thread, ops.Change, ops.Cut)):
                    self.joined = False
        held = tuple({n: tuple(stack) for n, stack in sorted(bed.items()) if stack}
                     for bed in self.stacks)
        return LoopGraph(tuple(self.loops), tuple(self.courses), tuple(self.grafted),
                         tuple(self.gathered), tuple(self.sewn), (held[0], held[1]),
                         frozenset(self.picked_along))

    # ---- small things

    def new(self, bed: Bed, needle: int, parents: Iterable[int] = (), yarn: str = "") -> int:
        """A new loop on a needle."""
        number = len(self.loops)
        above = tuple(parents)
        self.loops.append(Loop(yarn or self.engine.feeder or "", bed, needle, self.section,
                               len(self.courses), above,
                               "" if yarn else self.engine.along or ""))
        for parent in above:
            self.child[parent] = number
        self.stacks[bed][needle] = [number]
        return number

    def in_use(self, bed: Bed, needle: int) -> bool:
        """Whether a needle is not out of work, so that a loop stays on it."""
        return bool(self.engine.beds[bed].in_use >> needle & 1)

    def _knit(self, op: ops.Knit) -> None:
        engine = self.engine
        worked = acting(engine)
        actions = [engine.beds[bed].action for bed in BEDS]
        has_yarn = engine.feeder is not None
        # A back needle comes after its front one: at half pitch it stands half a needle further.
        order = sorted(((n + (engine.racking if bed == BACK else 0), bed, n)
                        for bed in BEDS for n in indices(worked[bed])),
                       reverse=engine.carriage == "right")
        alone = not (engine.beds[FRONT].loaded and engine.beds[BACK].loaded)
        flat = "circular" not in actions and (alone or "rest" not in actions)
        loaded = engine.beds[FRONT].loaded | engine.beds[BACK].loaded
        made: list[int] = []

        def tucks(bed: Bed, n: int) -> bool:
            return actions[bed] == "tuck" or bool(engine.beds[bed].tuck >> n & 1)

        for _, bed, n in order:
            stack = self.stacks[bed].get(n, [])
            if not has_yarn:
                if not tucks(bed, n):
                    self.stacks[bed].pop(n, None)
            elif not stack or not tucks(bed, n):
                made.append(self.new(bed, n, stack))
        in_rounds = actions[FRONT] == actions[BACK] == "circular" \
            and all(bed.active for bed in engine.beds)
        self._edges(worked, in_rounds, engine.feeder in self.waste)
        engine.apply(ops.Knit(1, op.intent))
        if made:
            needles = [self.loops[loop].needle for loop in made]
            self.courses.append(CourseLoops(
                self.section, engine.carriage, tuple(made), self.joined, flat,
                (not loaded & ((1 << min(needles)) - 1), not loaded >> max(needles) + 1)))
            self.joined = True

    def _edges(self, worked: tuple[int, int], in_rounds: bool, waste: bool) -> None:
        """Which edges the loops of a pass lie at; a round has none."""
        if in_rounds:
            self.selvedges.clear()
        elif not waste:
            on = {bed: [n for n, stack in sorted(self.stacks[bed].items()) if stack]
                  for bed in BEDS if worked[bed]}
            for side in SIDES:
                ends = {bed: needles[0 if side == "left" else -1]
                        for bed, needles in on.items() if needles}
                if all(worked[bed] >> n & 1 for bed, n in ends.items()):
                    for bed, n in ends.items():
                        self.selvedges.setdefault((bed, side), []).append(self.stacks[bed][n][-1])

    # ---- what hands do

    def _pick_up(self, op: ops.PickUp) -> None:
        """The loops of the edge are pulled over needles too, evenly spread from the last row."""
        edge = self.selvedges.get((op.bed, op.side), [])
        first = max(0, len(edge) - op.rows)
        taken = edge[first:]
        self.picked_along.update(taken)
        for place, (bed, n) in enumerate(op.targets):
            if self.in_use(bed, n) and taken:
                up = (2 * place + 1) * len(taken) // (2 * len(op.targets))
                self.stacks[bed].setdefault(n, []).append(taken[-1 - up])
        self.selvedges[op.bed, op.side] = edge[:first]

    def _cast_on(self, op: ops.CastOn) -> None:
        if self.engine.feeder is None:
            return
        made = [self.new(bed, n) for bed, mask in ((FRONT, op.front), (BACK, op.back))
                for n in indices(mask) if self.in_use(bed, n) and not self.stacks[bed].get(n)]
        if made:
            self.courses.append(CourseLoops(self.section, self.engine.carriage, tuple(made),
                                            False, False, (False, False)))

    def _move(self, moves: Iterable[tuple[Bed, int, Bed, int]]) -> None:
        lifted = [(to, n, self.stacks[bed].pop(needle, []))
                  for bed, needle, to, n in moves]
        for to, n, stack in lifted:
            if stack and self.in_use(to, n):
                self.stacks[to].setdefault(n, []).extend(stack)

    def _transfer(self, op: ops.Transfer | ops.Fold) -> None:
        self._move(op.moves)

    def _fashion(self, op: ops.Fashion) -> None:
        self._move((op.bed, a, op.bed, b) for a, b in op.moves)
        self._take(op.bed, op.out)

    def _take(self, bed: Bed, mask: int) -> list[list[int]]:
        """The stacks of some needles, which are empty then."""
        found = [self.stacks[bed].pop(n, []) for n in indices(mask)]
        return [stack for stack in found if stack]

    def _place(self, op: ops.Place) -> None:
        if op.position == "out":
            self._take(FRONT, op.front)
            self._take(BACK, op.back)

    def _wrap(self, op: ops.Wrap) -> None:
        if (self.engine.feeder is not None and self.in_use(op.bed, op.needle)
                and not self.stacks[op.bed].get(op.needle)):
            self.new(op.bed, op.needle)

    def _bind_off(self, op: ops.BindOff) -> None:
        self._take(FRONT, op.front)
        self._take(BACK, op.back)

    def _graft(self, op: ops.Graft) -> None:
        front, back = self._take(FRONT, op.front), self._take(BACK, op.back)
        self.grafted += [(a[-1], b[-1]) for a, b in zip(front, back, strict=False)]

    def _gather(self, op: ops.Gather) -> None:
        front, back = self._take(FRONT, op.front), self._take(BACK, op.back)
        ring = tuple(stack[-1] for stack in (*front, *back[::-1]))
        if ring:
            self.gathered.append(ring)

    def _scrap_off(self, op: ops.ScrapOff) -> None:
        if taken := self._take(op.bed, op.needles):
            self.groups.setdefault(op.name, []).extend(taken)

    def _mark(self, op: ops.Mark) -> None:
        """What waste yarn frees: the loops below it and, not knitted yet, those above its own."""
        self.marked[op.name] = len(self.courses)
        marked = [self.stacks[op.bed][n][-1] for n in sorted(self.stacks[op.bed])
                  if self.stacks[op.bed][n]]
        above = [[loop] for loop in marked]
        below = [[self._below(loop)] for loop in marked] if op.kind == "slit" else []
        self.groups.setdefault(op.name, [*below, *above])

    def _knit_in(self, op: ops.KnitIn) -> None:
        needles = [n for n in indices(op.needles) if self.stacks[op.bed].get(n)]
        if op.name in self.groups or not needles:
            return
        below = [[self.stacks[op.bed][n][-1]] for n in needles]
        made = [self.new(op.bed, n, self.stacks[op.bed][n], op.waste) for n in needles]
        self.courses.append(CourseLoops(self.section, self.engine.carriage, tuple(made), False,
                                        False, (False, False)))
        self.groups[op.name] = [*below, *([loop] for loop in made)]

    def _sew_down(self, op: ops.SewDown) -> None:
        first = self.marked.pop(op.name, self.begun) if op.name else self.begun
        self.sewn.append(SewnDown(first, len(self.courses), op.part, op.rows))
        if op.part == "last":
            for bed in self.stacks:
                bed.clear()

    def _below(self, loop: int) -> int:
        """The first loop under some waste knitting."""
        while self.loops[loop].yarn in self.waste and self.loops[loop].parents:
            loop = self.loops[loop].parents[0]
        return loop

    def _above(self, loop: int) -> int:
        """The first loop above some waste knitting."""
        while self.loops[loop].yarn in self.waste and loop in self.child:
            loop = self.child[loop]
        return loop

    def _rehang(self, op: ops.Rehang) -> None:
        group = self.groups.get(op.name)
        if group is None:
            return
        stacks = group[::-1] if op.turned else group
        for stack, (bed, needle) in zip(stacks, op.targets, strict=False):
            if self.in_use(bed, needle):
                self.stacks[bed].setdefault(needle, []).extend(map(self._above, stack))
        left = stacks[len(op.targets):]
        if left:
            self.groups[op.name] = left
        else:
            del self.groups[op.name]

    def _graft_groups(self, op: ops.GraftGroups) -> None:
        rows = {name for name, group in self.engine.groups.items() if group.kind != "slit"}
        if op.first != op.second and {op.first, op.second} <= rows:
            one, two = ([self._above(stack[-1]) for stack in self.groups.pop(name)]
                        for name in (op.first, op.second))
            self.grafted += zip(one, two, strict=False)

    def _drop(self, op: ops.Drop) -> None:
        for bed, mask in ((FRONT, op.front), (BACK, op.back)):
            for n in indices(mask):
                stack = self.stacks[bed].pop(n, [])
                self.ladders.setdefault((bed, n), []).extend(stack)

    def _latch_up(self, op: ops.LatchUp) -> None:
        for bed, mask in ((FRONT, op.front), (BACK, op.back)):
            for n in indices(mask):
                ladder = self.ladders.get((bed, n))
                if ladder and self.in_use(bed, n) and not self.stacks[bed].get(n):
                    self.stacks[bed][n] = [ladder.pop()]

    def _fill(self, op: ops.Fill) -> None:
        neighbour = self.stacks[op.bed].get(op.neighbour)
        if neighbour and self.in_use(op.bed, op.needle) and not self.stacks[op.bed].get(op.needle):
            self.new(op.bed, op.needle, self.loops[neighbour[-1]].parents)


_FOLLOW: dict[type, Callable[[_Follower, Any], None]] = {
    ops.CastOn: _Follower._cast_on, ops.PickUp: _Follower._pick_up,
    ops.Transfer: _Follower._transfer,
    ops.Fold: _Follower._transfer, ops.Fashion: _Follower._fashion, ops.Place: _Follower._place,
    ops.Wrap: _Follower._wrap, ops.BindOff: _Follower._bind_off, ops.Graft: _Follower._graft,
    ops.GraftGroups: _Follower._graft_groups, ops.Gather: _Follower._gather,
    ops.ScrapOff: _Follower._scrap_off, ops.Rehang: _Follower._rehang, ops.Mark: _Follower._mark,
    ops.KnitIn: _Follower._knit_in, ops.SewDown: _Follower._sew_down, ops.Drop: _Follower._drop,
    ops.LatchUp: _Follower._latch_up, ops.Fill: _Follower._fill,
}
