"""An independent judge of a knitted thing: its loops, followed on the plain machine of the oracle.

Nothing here asks the rules of the check.  Every loop is followed to the loop it was drawn through;
a *column* is what hangs together that way (stitches joined by a decrease are one column from then
on).  Two columns are *neighbours* where the yarn ran from one to the other in at least three
courses.  A tube is a ring of neighbours, a flat piece a path; a stitch hung in the wrong place
makes a chord.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise
from statistics import median
from typing import NamedTuple

import networkx as nx
from oracle.plain_machine import PlainMachine

from sockscript.operations import ops
from sockscript.operations.beds import BACK, FRONT, Bed

OFTEN = 3
"""Courses in which two columns lie side by side before they are called neighbours."""
ROWS_OFF, STITCHES_OFF = 4, 2
"""How far the cloth may be off the sound one: about 10 mm of length, 7 mm of girth a bed (the
tolerances of the examples' own targets, at their gauge of 30 stitches and 42 rows)."""
TAKING_OFF = (ops.BindOff, ops.Gather, ops.Graft, ops.ScrapOff)
UNDONE = frozenset({
    "beds-collide", "yarn-jump", "pass-without-yarn", "fold-with-comb", "fold-with-yarn",
    "transfer-to-idle-needle", "loop-on-idle-needle", "empty-needle-catches", "nothing-knits",
    "stack-too-high", "transfer-onto-loop", "nothing-to-join", "transfer-from-empty",
    "unequal-graft", "graft-from-empty", "bind-off-without-yarn", "cast-on-without-yarn",
    "wrap-without-yarn", "cast-on-over-loop", "rehang-count", "bind-off-from-empty",
    "racking-too-far"})
"""What the plain machine itself reports when work cannot be done as it is told."""


class Cloth(NamedTuple):
    """What came off the machine, in numbers that are compared with those of the sound piece."""

    print: int
    """The same for two pieces made of the same loops in the same way."""
    tackle: tuple[object, ...]
    undone: frozenset[str]
    lost: int
    left: int
    open_edges: int
    pieces: int
    rings: int
    columns: int
    holes: int
    eyelets: int
    """Turns beside a held needle that the yarn does not touch, though none was put aside there."""
    catches: int
    corners: tuple[int, int]
    """Wraps over to a resting bed, in the left and in the right half."""
    zigzag: int
    """How often the first course goes from bed to bed: it closes a tube's edge."""
    rows: tuple[int, int]
    width: tuple[float, float]
    decreases: tuple[int, int, int, int]
    lean: float
    """How much more was knitted left of the middle than right of it, as a share of all loops."""
    sizes: tuple[int, ...]
    uneven: bool
    """Whether a tube was knitted with another stitch size on the one bed than on the other."""
    yarns: tuple[tuple[str, float], ...]
    knitted_in: int
    """Loops drawn through waste yarn at a place that no mark frees."""
    seam: float | None
    """How far the middle of the short rows lies from the flat edges, as a share of the ring."""


OTHER_COLUMNS = "columns joined wrongly"
"""If nothing else is wrong, more or fewer decreases are a matter of design: a blunter toe, say."""


def cloth_of(run, waste: frozenset[str]) -> Cloth:
    """Knit a run on the plain machine and read the cloth."""
    reader = _Reader(run, waste)
    reader.knit_all()
    return reader.cloth()


def faults_in(piece: Cloth, sound: Cloth) -> list[str]:
    """Why a piece is no longer a sound one, in the words of the report."""
    found = []

    def say(is_so: bool, words: str) -> None:
        if is_so:
            found.append(words)

    say(bool(piece.undone - sound.undone), "cannot be done: " + ", ".join(
        sorted(piece.undone - sound.undone)))
    say(piece.lost > sound.lost, "loops lost")
    say(piece.left > sound.left, "loops left open")
    say(piece.open_edges > sound.open_edges, "an edge left open")
    say(piece.pieces != sound.pieces, "not one piece")
    say(piece.rings != sound.rings, "stitches have other neighbours")
    say(abs(piece.columns - sound.columns) > max(4, 0.15 * sound.columns), OTHER_COLUMNS)
    say(piece.holes > sound.holes, "holes")
    say(piece.catches > sound.catches, "unwanted stitches")
    say(any(a < b for a, b in zip(piece.corners, sound.corners, strict=True)), "open corners")
    say(piece.zigzag < sound.zigzag / 2, "an edge in two layers")
    say(any(abs(a - b) > ROWS_OFF for a, b in zip(piece.rows, sound.rows, strict=True)),
        "length off")
    say(any(abs(a - b) > STITCHES_OFF for a, b in zip(piece.width, sound.width, strict=True)),
        "girth off")
    mine, its = piece.decreases, sound.decreases
    say(any(abs(mine[a] - mine[a + 1]) > abs(its[a] - its[a + 1]) for a in (0, 2))
        or abs(mine[0] - mine[2]) > abs(its[0] - its[2]), "decreases not alike")
    say(abs(piece.lean) > abs(sound.lean) + 0.006, "lopsided")
    say(piece.uneven and not sound.uneven, "stitch size differs in the tube")
    say(piece.sizes != sound.sizes, "stitch sizes the wrong way")
    shares = dict(sound.yarns)
    say(any(abs(share - shares.get(yarn, 0)) > 0.05 for yarn, share in piece.yarns), "other yarn")
    say(piece.knitted_in > sound.knitted_in, "waste yarn knitted in")
    say(sound.seam is not None and piece.seam is not None
        and abs(piece.seam - sound.seam) > 0.1, "seam in another place")
    return found


class _Marking(PlainMachine):
    """The plain machine, with loops freed by waste yarn that know their column."""

    def __init__(self, profile):
        super().__init__(profile)
        self.freed: dict[int, int] = {}

    def do_Mark(self, op):
        waste = [needle.loops[-1].number for needle in self.beds[op.bed] if needle.loops]
        count = len(self.loops)
        super().do_Mark(op)
        for place, loop in enumerate(self.loops[count:]):
            self.freed[loop.number] = waste[place % len(waste)]


class _Reader:
    def __init__(self, run, waste: frozenset[str]) -> None:
        self.run = run
        self.waste = waste
        self.machine = _Marking(run.engine.profile)
        self.middle = run.engine.profile.needles / 2 - 0.5
        self.pairs: Counter[tuple[int, int]] = Counter()
        self.undone: set[str] = set()
        self.tackle: list[object] = []
        self.holes = self.eyelets = self.catches = self.zigzag = 0
        self.corners = [0, 0]
        self.held_when_turned: dict[tuple[Bed, str], int] = {}
        self.row_sizes: list[tuple[object, object]] = []
        self.uneven = False
        self.short: list[int] = []
        self.last_course: list = []
        self.before_knit: dict[int, bool] = {}
        self.tube_widths: tuple[list[int], list[int]] = ([], [])
        self.dec = [0, 0, 0, 0]
        self.marked: set[int] = set()
        self.stacked: list[tuple] = []  # loops that come off the needles as one

    # ---- knitting

    def knit_all(self) -> None:
        machine = self.machine
        for moment in self.run.moments:
            op = moment.op
            if isinstance(op, ops.Knit):
                for number in range(op.passes):
                    self.one_pass(ops.Knit(1, op.intent if number == 0 else ops.Intent()))
                continue
            if isinstance(op, ops.Tackle):
                self.tackle.append((op.item, op.action, machine.passes))
            if isinstance(op, ops.Wrap) and machine.action[op.bed] == "rest" \
                    and machine.beds[op.bed][op.needle].loops:
                self.corners[op.needle > self.middle] += 1
            if isinstance(op, ops.Mark):
                self.marked |= {needle.loops[-1].number for needle in machine.beds[op.bed]
                                if needle.loops}
            if isinstance(op, TAKING_OFF):
                self.stacked.extend(pair for bed in (FRONT, BACK) for needle in machine.beds[bed]
                                    for pair in pairwise(needle.loops))
            self.undone |= {fault.kind for fault in machine.apply(op)} & UNDONE
            if isinstance(op, (ops.Cut, ops.Thread)):
                self.last_course = []

    def one_pass(self, op: ops.Knit) -> None:
        machine = self.machine
        if machine.feeder is not None:
            self.turned()
        count = len(machine.loops)
        held = {bed: any(n.loops and n.position == "hold" for n in machine.beds[bed])
                and machine.respected[bed] for bed in (FRONT, BACK)}
        start = machine.carriage
        faults = machine.apply(op)
        self.undone |= {fault.kind for fault in faults} & UNDONE
        self.catches += sum(fault.needles.bit_count() for fault in faults
                            if fault.kind == "empty-needle-catches")
        new = sorted(machine.loops[count:],
                     key=lambda loop: (loop.needle, loop.bed), reverse=start == "right")
        if not new:
            return
        self.row_sizes.append((machine.size[FRONT], machine.size[BACK]))
        circular = machine.action[FRONT] == machine.action[BACK] == "circular"
        if circular and machine.size[FRONT] != machine.size[BACK]:
            self.uneven = True
        by_bed = [sum(loop.bed is bed for loop in new) for bed in (FRONT, BACK)]
        if circular:
            for bed in (FRONT, BACK):
                if by_bed[bed]:
                    self.tube_widths[bed].append(by_bed[bed])
        for bed in (FRONT, BACK):
            if held[bed] and by_bed[bed]:
                self.short.extend(loop.number for loop in new if loop.bed is bed)
        chain = [*self.last_course[-1:], *new]
        for one, two in pairwise(chain):
            if one.bed is not two.bed or abs(one.needle - two.needle) <= 2:
                self.pairs[one.number, two.number] += 1
        if not count:
            self.zigzag = sum(one.bed is not two.bed for one, two in pairwise(new))
        for loop in new:
            if len(loop.parents) > 1:
                self.dec[2 * loop.bed + (loop.needle > self.middle)] += len(loop.parents) - 1
        self.last_course = new

    def turned(self) -> None:
        """Whether the yarn turned beside a held needle that it does not touch."""
        machine = self.machine
        if not self.last_course:
            return
        side = machine.carriage
        bed = self.last_course[-1].bed
        if machine.action[bed] == "rest" or not machine.respected[bed]:
            return
        needles = machine.beds[bed]
        working = [n for n, needle in enumerate(needles)
                   if needle.loops and needle.position in ("work", "upper")]
        if not working:
            return
        edge = min(working) if side == "left" else max(working)
        beyond = [n for n, needle in enumerate(needles) if needle.loops
                  and needle.position == "hold" and (n < edge if side == "left" else n > edge)]
        was = self.held_when_turned.get((bed, side), 0)
        self.held_when_turned[bed, side] = len(beyond)
        if not beyond:
            return
        nearest = max(beyond) if side == "left" else min(beyond)
        if needles[nearest].strands or needles[nearest].loops[-1] is self.last_course[-1]:
            return
        if len(beyond) <= was:
            self.eyelets += 1
        elif len(beyond) - was <= 4:  # more is a part put aside, not a short row
            self.holes += 1

    # ---- reading

    def cloth(self) -> Cloth:
        machine = self.machine
        columns = nx.utils.UnionFind(loop.number for loop in machine.loops)
        for loop in machine.loops:
            for parent in loop.parents:
                columns.union(loop.number, parent.number)
        for loop, under in self.freed():
            columns.union(loop, under)
        for one, two in self.stacked:
            columns.union(one.number, two.number)
        for needle in (n for bed in machine.beds.values() for n in bed):
            for one, two in pairwise(needle.loops):
                columns.union(one.number, two.number)
        touching: Counter[frozenset[int]] = Counter()
        for (one, two), times in self.pairs.items():
            a, b = columns[one], columns[two]
            if a != b:
                touching[frozenset((a, b))] += times
        graph = nx.Graph()
        for loop in machine.loops:
            graph.add_node(columns[loop.number])
        whole = graph.copy()
        whole.add_edges_from(tuple(pair) for pair in touching)
        whole.add_edges_from((columns[a.number], columns[b.number]) for a, b in machine.grafts)
        graph.add_edges_from(tuple(pair) for pair, times in touching.items() if times >= OFTEN)
        pieces = nx.number_connected_components(whole)
        alone = nx.number_connected_components(graph)
        rings = graph.number_of_edges() - graph.number_of_nodes() + alone
        on_needles = sum(len(needle.loops) for bed in machine.beds.values() for needle in bed)
        groups = {kind: sum(map(len, stacks)) for kind, stacks in machine.groups.values()}
        own = [loop for loop in machine.loops if loop.yarn not in self.waste]
        left = sum(loop.needle < self.middle for loop in own)
        yarns = Counter(loop.yarn for loop in machine.loops)
        return Cloth(
            hash(tuple((loop.yarn, loop.bed, loop.needle, tuple(p.number for p in loop.parents))
                       for loop in machine.loops)) ^ hash(tuple(self.row_sizes)),
            tuple(self.tackle), frozenset(self.undone), machine.ledger["dropped"],
            on_needles + groups.get("scrap", 0) + groups.get("slit", 0), groups.get("edge", 0),
            pieces, rings, graph.number_of_nodes(), self.holes, self.eyelets, self.catches,
            (self.corners[0], self.corners[1]), self.zigzag,
            self.rows(own), self.widths(), (self.dec[0], self.dec[1], self.dec[2], self.dec[3]),
            (2 * left - len(own)) / max(1, len(own)), tuple(self.steps_of_size()), self.uneven,
            tuple(sorted((yarn, count / len(machine.loops)) for yarn, count in yarns.items())),
            sum(loop.yarn not in self.waste and any(p.yarn in self.waste for p in loop.parents)
                and not any(p.number in self.marked for p in loop.parents)
                for loop in machine.loops),
            self.seam(graph, columns))

    def freed(self) -> Iterator[tuple[int, int]]:
        yield from self.machine.freed.items()

    def rows(self, own) -> tuple[int, int]:
        """Rows that the middle needles of each bed knit."""
        counts = Counter((loop.bed, loop.needle) for loop in own)
        middle = (int(self.middle), int(self.middle) + 1)
        return (max(counts[FRONT, n] for n in middle), max(counts[BACK, n] for n in middle))

    def widths(self) -> tuple[float, float]:
        front, back = self.tube_widths
        return median(front or [0]), median(back or [0])

    def steps_of_size(self) -> Iterator[int]:
        """Whether the stitch size went up or down, from one stretch of rows to the next."""
        stretches: list[list[object]] = []
        for sizes in self.row_sizes:
            if None in sizes:
                continue
            if not stretches or stretches[-1][0] != max(sizes):
                stretches.append([max(sizes), 0])
            stretches[-1][1] += 1
        for one, two in pairwise(stretches):
            yield 1 if two[0] > one[0] else -1

    def seam(self, graph, columns) -> float | None:
        """The way round the ring from the flat edges to the middle of the short rows."""
        if not self.short or not self.machine.loops:
            return None
        first = [loop for loop in self.machine.loops if loop.row == self.machine.loops[0].row]
        edge = columns[min(first, key=lambda loop: loop.needle).number]
        counts = Counter(columns[number] for number in self.short)
        most = max(counts.values())
        if edge not in graph:
            return None
        reach = nx.single_source_shortest_path_length(graph, edge)
        ways = [reach[column] for column, count in counts.items()
                if count > 0.8 * most and column in reach]
        return median(ways) / max(reach.values()) if ways and max(reach.values()) else None
