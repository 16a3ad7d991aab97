"""Tubes: both beds must have the same number of rows when circular knitting ends."""

from __future__ import annotations

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.fabric.tubes import CAST_ON_PASSES, circular, ends_apart
from sockscript.findings.kind import Kind, LineBefore
from sockscript.findings.origins import BED_SET, ODD_PASS, RACKED
from sockscript.numbers.quantity import Quantity
from sockscript.operations import ops
from sockscript.operations.beds import BACK, FRONT, facing, highest, lowest
from sockscript.text.mend import Mend
from sockscript.text.source import Span
from sockscript.trace.state import BedState, Snapshot
from sockscript.trace.yarn import LONGEST_FLOAT
from sockscript.tree.expressions import Literally
from sockscript.tree.instructions import KnitRows

_ENDS = (ops.Fold, ops.BindOff, ops.Graft, ops.Gather, ops.ScrapOff)


def _made_even(mishap: Mishap, run: Run) -> Mend | None:
    """One row more in the last line of the tube that is not counted in rounds, if it knits an odd
    number of rows that is written out, and once."""
    passes, source = mishap.detail["passes"], mishap.places[0].source
    if not isinstance(passes, Quantity) or passes.value % 2 == 0:
        return None  # one bed has more rows since the carriage was moved by hand
    lines = {line.at: line for section in run.script.sections for line in section.body
             if isinstance(line, KnitRows) and line.at.source is source}
    for change in reversed(run.passes()):
        line = lines.get(change.moment.places[-1])
        if change.number > mishap.moment or (line is not None and line.rounds):
            continue
        if line is None or line.bed is not None or line.start is not None:
            return None
        count = line.count
        if not isinstance(count, Literally) or count.value.unit or count.value.value % 2 == 0:
            return None
        rows = Span(source, count.at.line, count.at.start, line.at.end)
        return rows.replaced_by(f"{count.value.value + 1} rows")
    return None


ODD_PASS_IN_TUBE = Kind(
    "odd-pass-in-tube", "fault",
    "The tube is left after {passes} passes: the front bed has {front_rows} and the back bed "
    "{back_rows} of them.",
    "A round is two passes: knit an even number, or count in rounds.",
    mend=_made_even,
    led=ODD_PASS,
    follows=("circular-on-one-bed",))

TUBE_NOT_FACING = Kind(
    "tube-not-facing", "warning",
    "The tube begins on needles that do not face each other: its edges lie {amount} needles apart.",
    "Bring the same needles into work on both beds, or transfer so that the stitches face.")

TUBE_RACKED = Kind(
    "tube-racked", "warning",
    "The back bed is still racked by {amount} in the tube: its stitches do not face those of the "
    "front bed.",
    "Write  rack to 0  before the tube begins; if no tube is meant here, write  set both to knit.",
    led=RACKED)

CIRCULAR_ON_ONE_BED = Kind(
    "circular-on-one-bed", "warning",
    "Only the {bed} bed is set to circular: it knits in every other row, and the {other} bed does "
    "not take the turn between.",
    "Write  set both to circular, or set the {bed} bed to knit.",
    mend=LineBefore("set both to circular"),
    led=BED_SET)


def odd_passes(run: Run) -> list[Mishap]:
    """Circular knitting left with one bed a row short."""
    found: list[Mishap] = []
    rows = [0, 0]
    last: Transition | None = None
    front_way = run.engine.profile.front_circular
    for change in run.changes_by(ops.Knit, ops.SetBed, *_ENDS):
        op = change.op
        circular = change.after.both_circular
        if last is not None and (not circular or isinstance(op, _ENDS)):
            _judge(found, rows, change)
            rows, last = [0, 0], None
        if circular and type(op) is ops.Knit:
            front, back = change.before.turns(op.passes, front_way)
            rows = [rows[0] + front, rows[1] + back]
            last = change
    if last is not None:
        _judge(found, rows, last)
    return found


def tube_not_facing(run: Run) -> list[Mishap]:
    """A tube on needles of the two beds that do not face each other, or on racked beds.

    A gusset, picked up along the edges of a flap, reaches beyond the other bed, and a few circular
    passes are the edge of a rib.
    """
    going = racked = gusset = False
    passes = 0
    askew: Transition | None = None
    found: list[Mishap] = []
    for change in run.changes_by(ops.Knit, ops.PickUp):
        if not isinstance(change.op, ops.Knit):
            gusset = True
            continue
        before = change.before
        tube = before.both_circular and before.on_both
        if tube and before.racking and not racked and \
                ends_apart(before, 0) < ends_apart(before, before.racking):
            racked = True
            found.append(change.mishap(TUBE_RACKED.fault(amount=abs(before.racking))))
        elif tube and not (going or racked or gusset) and ends_apart(before, before.racking) > 1:
            askew, passes = change, 0
        going, gusset = tube, gusset and not tube
        askew = askew if tube else None
        passes += change.op.passes
        if askew is not None and passes > CAST_ON_PASSES:
            return [_not_facing(askew)]
    return found


def _not_facing(change: Transition) -> Mishap:
    before = change.before
    across = facing(FRONT, before.front.loaded, before.racking)
    return change.mishap(TUBE_NOT_FACING.fault(
        BACK, before.back.loaded & ~across, amount=ends_apart(before, before.racking)))


def _cord(here: BedState, there: BedState) -> bool:
    """Whether a few stitches on one bed alone are drawn into a cord by the yarn behind them."""
    return not there.in_use and highest(here.loaded) - lowest(here.loaded) <= LONGEST_FLOAT


def circular_on_one_bed(run: Run) -> list[Mishap]:
    """One bed in circular and the other not: every other pass knits nothing, or only one bed."""
    for change in run.passes():
        front, back = change.before.front, change.before.back
        if change.op.passes < 2 or (front.action == "circular") == (back.action == "circular"):
            continue
        bed, here, there = (FRONT, front, back) if front.action == "circular" \
            else (BACK, back, front)
        if here.loaded and not _cord(here, there):
            return [change.mishap(CIRCULAR_ON_ONE_BED.fault(bed))]
    return []


def _judge(found: list[Mishap], rows: list[int], change: Transition) -> None:
    total = sum(rows)
    if rows[0] != rows[1] and total > CAST_ON_PASSES:
        found.append(change.mishap(ODD_PASS_IN_TUBE.fault(),
                            {"passes": Quantity(total), "front_rows": Quantity(rows[0]),
                             "back_rows": Quantity(rows[1])}))


def drawn_apart(run: Run, first: Transition) -> int | None:
    """The moment in which the yarn has to jump between the beds of a tube because their edges have
    come so far apart; before the first decrease or increase they lay together."""
    if _edges_apart(first.before) > 1:
        return None
    for mishap in run.mishaps:
        if mishap.fault.kind == "yarn-jump" and mishap.moment > first.number:
            before = run.changes()[mishap.moment].before
            if circular(before) and _edges_apart(before) >= mishap.fault.amount:
                return mishap.moment
    return None


def _edges_apart(state: Snapshot) -> int:
    return ends_apart(state, state.racking) if state.on_both else 0
