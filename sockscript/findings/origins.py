"""Where a state was brought about that a later line stumbles over."""

from __future__ import annotations

from sockscript.expand.record import Mishap, Moment
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind, LedBy
from sockscript.operations import ops
from sockscript.text.source import Span


def _hung(moment: Moment, mishap: Mishap) -> bool:
    op = moment.op
    item = mishap.fault.name if mishap.fault.name in ("comb", "weights") else "comb"
    return isinstance(op, ops.Tackle) and op.action == "hang" and op.item == item


def _held(moment: Moment, mishap: Mishap) -> bool:
    op = moment.op
    if not isinstance(op, ops.Place) or op.position != "hold":
        return False
    return mishap.fault.bed is not None and bool(op.on(mishap.fault.bed) & mishap.fault.needles)


def _set(moment: Moment, mishap: Mishap) -> bool:
    op = moment.op
    return isinstance(op, ops.SetBed) and (mishap.fault.bed is None or op.bed is mishap.fault.bed)


def _threaded(moment: Moment, mishap: Mishap) -> bool:
    return isinstance(moment.op, (ops.Thread, ops.Add, ops.Change)) and \
        mishap.fault.name in ("", moment.op.yarn)


def _racked(moment: Moment, mishap: Mishap) -> bool:
    return isinstance(moment.op, ops.Rack)


def _cut(moment: Moment, mishap: Mishap) -> bool:
    return isinstance(moment.op, ops.Cut)


def _circular(moment: Moment, mishap: Mishap) -> bool:
    op = moment.op
    return isinstance(op, ops.SetBed) and op.action == "circular"


COMB_HUNG = LedBy(_hung, "the comb was hung here")
HUNG = LedBy(_hung, "it was hung here")
FIRST_THREADED = LedBy(_threaded, "the first yarn was threaded here")
THREADED = LedBy(_threaded, "the yarn was threaded here")
IT_THREADED = LedBy(_threaded, "it was threaded here")
CUT = LedBy(_cut, "the yarn was cut here")
CUT_ALREADY = LedBy(_cut, "the yarn was cut here already")
HELD = LedBy(_held, "they were put into hold here")
BED_SET = LedBy(_set, "it was set here")
SET = LedBy(_set, "the bed was set here")
CIRCULAR_SET = LedBy(_circular, "the beds were set to circular here")
RACKED = LedBy(_racked, "it was racked here")


def origin(kind: Kind, mishap: Mishap, run: Run) -> tuple[Span, str] | None:
    """The line of the script that led to a mishap, and what happened there."""
    if kind.led is None:
        return None
    for moment in reversed(run.moments[:max(0, mishap.moment)]):
        if kind.led.leads(moment, mishap):
            own = [place for place in moment.places if place.source is run.script.source]
            return (own[-1] if own else moment.places[-1]), kind.led.label
    return None
