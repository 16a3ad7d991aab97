"""The narrow end of a tube, bound off so that it stays open."""

from __future__ import annotations

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.fabric.sock import NARROW
from sockscript.fabric.tubes import Tube, tubes_of
from sockscript.findings.kind import Kind
from sockscript.operations.beds import BEDS
from sockscript.operations.ops import BindOff
from sockscript.trace.state import Snapshot

NARROW_END_OPEN = Kind(
    "narrow-end-open", "warning",
    "The tube narrows to {stitches}, and those of the two beds are bound off each by themselves: "
    "its end stays open.",
    "Graft the beds together (graft front to back), draw the stitches together (gather both), or "
    "lay those of one bed onto the other and bind them off as one; if an opening is meant, allow "
    "it.")


def narrow_end_open(run: Run) -> list[Mishap]:
    """Tubes that narrow to less than lets a foot or hand through, and are then bound off on one
    bed and on the other."""
    return [mishap for tube in tubes_of(run) for mishap in _open(run, tube)]


def _open(run: Run, tube: Tube) -> list[Mishap]:
    ending = [change for change in run.changes()[tube.last:] if isinstance(change.op, BindOff)]
    last = next((change for change in ending if not _stitches(change.after)), None)
    if last is None or _beds(ending[0]) != 1 or _beds(last) != 1:
        return []
    end = _stitches(ending[0].before)
    widest = max(_stitches(change.before) for change in run.changes()[tube.first + 1:tube.last + 1])
    if end > NARROW * widest or _stitches(ending[0].after) != _stitches(last.before):
        return []
    return [last.mishap(NARROW_END_OPEN.fault(amount=end))]


def _beds(change: Transition) -> int:
    """On how many beds stitches are bound off."""
    assert isinstance(change.op, BindOff)
    return sum(bool(change.op.on(bed)) for bed in BEDS)


def _stitches(state: Snapshot) -> int:
    return state.front.stitches() + state.back.stitches()
