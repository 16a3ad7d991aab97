"""The stitch size: a step after the cast-on, and another after the rib."""

from __future__ import annotations

from fractions import Fraction

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run, once_alike
from sockscript.fabric.measures import is_rib
from sockscript.findings.kind import Kind
from sockscript.findings.origins import (
    SIZE_SET,
)
from sockscript.numbers.quantity import Quantity
from sockscript.operations.beds import BACK, BEDS, FRONT, Bed
from sockscript.operations.ops import Knit, SetSize
from sockscript.trace.state import Snapshot

ENOUGH_ROWS = 4
"""Rows after which a fabric is meant to stay: common practice, no source."""


SEVERAL = 2
"""Who sets two different sizes sets the size of every part: common practice, no source."""

EDGE_PASSES = 3
"""The zigzag row and the two that close a tubular edge: common practice, no source."""


SIZE_UNCHANGED_AFTER_RIB = Kind(
    "size-unchanged-after-rib", "advice",
    "The plain knitting after the rib goes on with the stitch size of the rib, {size}.",
    "Plain knitting usually takes a larger size than rib; set it before the first plain rows.",
    led=SIZE_SET)

CAST_ON_SIZE_UNCHANGED = Kind(
    "cast-on-size-unchanged", "advice",
    "The rows after the cast-on go on with the stitch size of the edge, {size}.",
    "An edge is cast on tighter than what follows; set a larger size after the cast-on rows.",
    led=SIZE_SET)

SIZE_SET_LATE = Kind(
    "size-set-late", "advice",
    "The first rows are knitted before any stitch size is set; {size} comes only later.",
    "Write  stitch size …  before the first row: the dial stands where the last piece left it.")

SIZES_REVERSED = Kind(
    "sizes-reversed", "warning",
    "{tight} is knitted with stitch size {tight_size}, looser than {loose} with {loose_size}.",
    "An edge is the tightest, rib comes next, plain knitting is the loosest: look whether two "
    "sizes were exchanged.",
    led=SIZE_SET)


def size_set_late(run: Run) -> list[Mishap]:
    """An edge cast on before the first stitch size, in a script that sets several later on.

    A beginning in waste yarn may have any size.
    """
    first: Transition | None = None
    sizes: list[Fraction] = []
    for change in run.changes():
        if type(change.op) is SetSize:
            sizes.append(change.op.size)
            if first is None:
                return []
        elif type(change.op) is Knit and first is None:
            if change.before.feeder in run.waste:
                return []
            first = change
    if first is None or len(set(sizes)) < SEVERAL:
        return []
    return [first.mishap(SIZE_SET_LATE.fault(), {"size": Quantity(sizes[0])})]


def size_after_rib(run: Run) -> list[Mishap]:
    """Plain knitting that goes on with the stitch size of the rib before it."""
    if not _has_rib(run):
        return []
    sizes: dict[Bed, Fraction] = {}
    rib_sizes: dict[Bed, Fraction] = {}
    rib = plain = 0
    for change in run.changes_by(Knit, SetSize):
        op, before = change.op, change.before
        if type(op) is SetSize:
            sizes.update(dict.fromkeys(op.beds, op.size))
        elif type(op) is Knit and before.feeder is not None:
            if is_rib(before):
                rib, plain = rib + op.passes, 0
                rib_sizes = dict(sizes)
            elif rib > ENOUGH_ROWS:
                active = [bed for bed in BEDS if _active(before, bed)]
                plain += op.passes if active else 0
                if any(bed not in sizes or sizes[bed] != rib_sizes.get(bed) for bed in active):
                    rib = 0
                elif active and plain > ENOUGH_ROWS:
                    return [change.mishap(SIZE_UNCHANGED_AFTER_RIB.fault(),
                                          {"size": Quantity(sizes[active[0]])})]
    return []


@once_alike
def _has_rib(run: Run) -> bool:
    """Whether both beds knit in any row."""
    return any(is_rib(change.before) for change in run.passes())


def cast_on_size(run: Run) -> list[Mishap]:
    """An edge cast on over both beds and knitted on with the same stitch size."""
    sizes: dict[Bed, Fraction] = {}
    edge: Fraction | None = None
    rows = 0
    for change in run.first_changes():
        op, before = change.op, change.before
        if type(op) is SetSize:
            sizes.update(dict.fromkeys(op.beds, op.size))
            if edge is not None and any(size != edge for size in sizes.values()):
                edge = None
        elif type(op) is Knit and before.feeder not in run.waste:
            empty = before.bare
            if empty and change.after.on_both:
                edge, rows = sizes.get(FRONT), 0
            elif edge is not None:
                rows += op.passes
                if rows > 2 * ENOUGH_ROWS:
                    return [change.mishap(CAST_ON_SIZE_UNCHANGED.fault(), {"size": Quantity(edge)})]
    return []


def sizes_reversed(run: Run) -> list[Mishap]:
    """A rib looser than the plain knitting beside it, or an edge looser than the rib after it.

    Each fabric counts with the size at which most of its rows are knitted; a few loose rows, as
    for a fold or before binding off, do not.
    """
    if not _has_rib(run):
        return []
    rows: dict[str, dict[Fraction, _DialRows]] = {"edge": {}, "rib": {}, "plain": {}}
    sizes: dict[Bed, Fraction] = {}
    edge_left = 0
    for change in run.changes_by(Knit, SetSize):
        op, before = change.op, change.before
        if type(op) is SetSize:
            sizes.update(dict.fromkeys(op.beds, op.size))
        if type(op) is not Knit or before.feeder is None or before.feeder in run.waste:
            continue
        bed = BACK if before.back.loaded and not _active(before, FRONT) else FRONT
        size = sizes.get(bed)
        if size is None:
            continue
        if before.bare:
            edge_left = EDGE_PASSES
        fabric = "edge" if edge_left > 0 else "rib" if is_rib(before) else "plain"
        edge_left -= op.passes
        knitted = rows[fabric].get(size)
        if knitted is None:
            knitted = rows[fabric][size] = _DialRows(change)
        knitted.count += op.passes
    most = {fabric: max(sizes, key=lambda size: (sizes[size].count, -size))
            for fabric, sizes in rows.items() if sizes}
    found = []
    for tight, loose in (("edge", "rib"), ("rib", "plain")):
        one, two = most.get(tight), most.get(loose)
        if one is None or two is None or one <= two or rows[loose][two].count <= ENOUGH_ROWS \
                or (tight == "rib" and rows[tight][one].count <= ENOUGH_ROWS):
            continue
        change = max(rows[tight][one].first, rows[loose][two].first,
                     key=lambda change: change.number)
        found.append(change.mishap(SIZES_REVERSED.fault(name=tight),
                            {"tight": _NAMES[tight], "tight_size": Quantity(one),
                             "loose": _NAMES[loose], "loose_size": Quantity(two)}))
    return found


class _DialRows:
    """Rows of one fabric knitted with one stitch size: the first of them, and how many."""

    __slots__ = ("count", "first")

    def __init__(self, first: Transition) -> None:
        self.first = first
        self.count = 0


_NAMES = {"edge": "the edge", "rib": "the rib", "plain": "the plain knitting"}


def _active(state: Snapshot, bed: Bed) -> bool:
    one = state.bed(bed)
    return one.action != "rest" and bool(one.loaded)
