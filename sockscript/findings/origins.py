"""Where a state was brought about that a later line stumbles over."""

from __future__ import annotations

from collections import Counter
from operator import itemgetter
from typing import NamedTuple

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run
from sockscript.findings.beds_as_set import only_by_racking
from sockscript.findings.kind import Kind, Leading, LedBy, LedMost
from sockscript.numbers.quantity import Quantity
from sockscript.operations import ops
from sockscript.operations.beds import BEDS
from sockscript.text.source import Span


def _hung(change: Transition, mishap: Mishap) -> bool:
    op = change.op
    item = mishap.fault.name if mishap.fault.name in ("comb", "weights") else "comb"
    return isinstance(op, ops.Tackle) and op.action == "hang" and op.item == item


def _held(change: Transition, mishap: Mishap) -> bool:
    op = change.op
    if not isinstance(op, ops.Place) or op.position != "hold":
        return False
    return mishap.fault.bed is not None and bool(op.on(mishap.fault.bed) & mishap.fault.needles)


def _set(change: Transition, mishap: Mishap) -> bool:
    op = change.op
    return isinstance(op, ops.SetBed) and (mishap.fault.bed is None or op.bed is mishap.fault.bed)


def _threaded(change: Transition, mishap: Mishap) -> bool:
    return isinstance(change.op, (ops.Thread, ops.Add, ops.Change)) and \
        mishap.fault.name in ("", change.op.yarn)


def _racked(change: Transition, mishap: Mishap) -> bool:
    return isinstance(change.op, ops.Rack)


def _cut(change: Transition, mishap: Mishap) -> bool:
    return isinstance(change.op, ops.Cut)


def _goes_on_alone(change: Transition, mishap: Mishap) -> bool:
    """One of two yarns is cut, and the other one is what the mishap is told of."""
    return isinstance(change.op, ops.Cut) and mishap.detail.get("left") == "alone" \
        and len(change.before.yarns) == 2 and change.after.yarns == (mishap.fault.name,)


def _circular(change: Transition, mishap: Mishap) -> bool:
    op = change.op
    return isinstance(op, ops.SetBed) and op.action == "circular"


def _left_waiting(change: Transition, mishap: Mishap) -> bool:
    return isinstance(change.op, ops.Change) and change.before.feeder == mishap.fault.name


def _yarn_left(change: Transition, mishap: Mishap) -> bool:
    return change.after.attached is not None and change.after.attached != change.before.attached


def _carriage_came(change: Transition, mishap: Mishap) -> bool:
    return change.before.carriage != change.after.carriage


def _needles_changed(change: Transition, mishap: Mishap) -> bool:
    """The number of stitches on a bed, or which of them work."""
    fault = mishap.fault
    return any(change.before.bed(bed)[:4] != change.after.bed(bed)[:4]
               for bed in BEDS if fault.bed is None or fault.bed is bed)


def _put_on_one(change: Transition, mishap: Mishap) -> bool:
    bed = mishap.fault.bed
    return bed is not None and change.before.bed(bed).double != change.after.bed(bed).double != 0


def _knitted(change: Transition, mishap: Mishap) -> bool:
    bed = mishap.fault.bed
    return isinstance(change.op, ops.Knit) and bed is not None \
        and change.before.bed(bed).action != "rest"


def _held_at_an_end(change: Transition, mishap: Mishap) -> bool:
    op = change.op
    return isinstance(op, ops.Place) and op.position == "hold" and any(
        op.on(bed) & change.before.bed(bed).loaded
        for bed in BEDS if mishap.fault.bed in (None, bed))


def _full_pitch(change: Transition, mishap: Mishap) -> bool:
    return isinstance(change.op, ops.SetPitch) and change.before.pitch != change.op.pitch == "full"


def _tucking(change: Transition, mishap: Mishap) -> bool:
    op, bed = change.op, mishap.fault.bed
    if isinstance(op, ops.SetNeedles):
        return bed is not None and op.action == "tuck" and bool(op.on(bed) & mishap.fault.needles)
    return isinstance(op, ops.SetBed) and op.bed is bed and op.action == "tuck"


def _dropped(change: Transition, mishap: Mishap) -> bool:
    op, bed = change.op, mishap.fault.bed
    return isinstance(op, ops.Drop) and bed is not None \
        and bool(op.on(bed) & mishap.fault.needles)


def _size_set(change: Transition, mishap: Mishap) -> bool:
    return isinstance(change.op, ops.SetSize)


def _needles_set(change: Transition, mishap: Mishap) -> bool:
    op, bed = change.op, mishap.fault.bed
    return isinstance(op, ops.SetNeedles) and bed is not None \
        and bool(op.on(bed) & mishap.fault.needles)


def _emptied(change: Transition, mishap: Mishap) -> bool:
    """Needles came to be in work without a stitch."""
    fault = mishap.fault
    assert fault.bed is not None
    before, after = change.before.bed(fault.bed), change.after.bed(fault.bed)
    return bool(fault.needles & after.in_use & ~after.loaded & (before.loaded | ~before.in_use))


def _went(change: Transition, mishap: Mishap) -> bool:
    """The last stitch of a bed, or of both, went away."""
    beds = [bed for bed in BEDS if mishap.fault.bed in (None, bed)]
    return any(change.before.bed(bed).loaded for bed in beds) \
        and not any(change.after.bed(bed).loaded for bed in beds)


def _moved_by_hand(change: Transition, mishap: Mishap) -> bool:
    return isinstance(change.op, MOVING)


def _shaped(change: Transition, mishap: Mishap) -> bool:
    """The number of stitches changes otherwise than by taking them off."""
    return not isinstance(change.op, TAKING_OFF) \
        and change.before.stitches() != change.after.stitches()


def _rows(change: Transition) -> int:
    return change.op.passes if isinstance(change.op, ops.Knit) else 0


def _odd_pass(change: Transition, mishap: Mishap) -> bool:
    return isinstance(change.op, ops.Knit) and change.op.passes % 2 == 1 \
        and change.before.both_circular


def _together(change: Transition, mishap: Mishap) -> bool:
    """Needles of the two beds come to face each other."""
    return _full_pitch(change, mishap) or (
        isinstance(change.op, ops.Rack) and only_by_racking(change.after))


MOVING = (ops.Transfer, ops.Fold, ops.Fashion, ops.Rehang, ops.Fill)
TAKING_OFF = (ops.BindOff, ops.Gather, ops.Graft, ops.ScrapOff, ops.Drop)

COMB_HUNG = LedBy(_hung, "the comb was hung here")
WEIGHTS_HUNG = LedBy(_hung, "the weights were hung here")
HUNG = LedBy(_hung, "it was hung here")
FIRST_THREADED = LedBy(_threaded, "the first yarn was threaded here")
THREADED = LedBy(_threaded, "the yarn was threaded here")
IT_THREADED = LedBy(_threaded, "it was threaded here")
LEFT_WAITING = LedBy(_left_waiting, "it was left waiting here")
CUT = LedBy(_cut, "the yarn was cut here")
GOES_ON_ALONE = LedBy(_goes_on_alone, "it goes on alone here", first=True)
CUT_ALREADY = LedBy(_cut, "the yarn was cut here already")
HELD = LedBy(_held, "they were put into hold here")
BED_SET = LedBy(_set, "it was set here")
SET = LedBy(_set, "the bed was set here")
ODD_PASS = LedBy(_odd_pass, "the number of passes becomes odd here")
CIRCULAR_SET = LedBy(_circular, "the beds were set to circular here")
RACKED = LedBy(_racked, "it was racked here")
YARN_LEFT = LedBy(_yarn_left, "the yarn was left here")
CARRIAGE_CAME = LedBy(_carriage_came, "the carriage came there with this line", noticed_before=True)
NEEDLES_CHANGED = LedBy(_needles_changed, "the needles came to be so with this line",
                        noticed_before=True)
PUT_ON_ONE = LedBy(_put_on_one, "the two came to one needle here")
TOGETHER = LedBy(_together, "this brought them before each other")
TUCKING = LedBy(_tucking, "it was set to tuck here")
DROPPED = LedBy(_dropped, "they were dropped here")
SIZE_SET = LedBy(_size_set, "the stitch size was set here")
NEEDLES_SET = LedBy(_needles_set, "the needles were set here")
WASTE_THREADED = LedBy(_threaded, "the yarn that comes out again was threaded here")
EMPTIED = LedBy(_emptied, "they came to be empty in work here")
STITCHES_WENT = LedBy(_went, "its stitches went with this line", noticed_before=True)
MOVED_BY_HAND = LedBy(_moved_by_hand, "stitches were moved last here")
STITCHES = LedBy(_shaped, "the stitches came to be so many here")
MOST_ROWS = LedMost(_rows, "most of the rows are knitted here")
KNITTED_LAST = LedBy(_knitted, "they were knitted last here")
SHORT_ROWS_BEGIN = LedBy(_held_at_an_end, "the short rows begin here", first=True)
HELD_AT_AN_END = LedBy(_held_at_an_end, "needles were put into hold last here")


def measured(mishap: Mishap) -> Leading:
    """What a finished measurement comes from: stitches for a girth, rows for a length."""
    return STITCHES if mishap.fault.name.endswith(("girth", "round")) else MOST_ROWS


class Led(NamedTuple):
    """An earlier line that led to a mishap: what happened there, and the way it was reached."""

    at: Span
    label: str
    places: tuple[Span, ...]


def origin(kind: Kind, mishap: Mishap, run: Run) -> Led | None:
    """The line of the script that led to a mishap, and what happened there."""
    led = kind.led(mishap) if callable(kind.led) else kind.led
    if led is None:
        return None
    if isinstance(led, LedMost):
        return _weightiest(led, mishap, run)
    if mishap.moment >= 0:
        last = mishap.moment + led.noticed_before
    else:
        own = _aiming(mishap, run)
        last = max((part.stop for part in own), default=len(run.moments))
    earlier = run.changes()[:max(0, last)]
    for change in earlier if led.first else reversed(earlier):
        if led.leads(change, mishap):
            return _led(change, led.label, run)
    return None


def _weightiest(led: LedMost, mishap: Mishap, run: Run) -> Led | None:
    """The line with most weight, among the rows that the mishap is told of if it is of some."""
    own = _aiming(mishap, run)
    weights: Counter[tuple[Span, ...]] = Counter()
    by_line: dict[tuple[Span, ...], Transition] = {}
    for change in run.changes():
        if not own or any(change.number in part for part in own):
            weights[change.moment.places] += led.weight(change)
            by_line.setdefault(change.moment.places, change)
    places, weight = max(weights.items(), key=itemgetter(1), default=((), 0))
    return _led(by_line[places], led.label, run) if weight else None


def _aiming(mishap: Mishap, run: Run) -> list[range]:
    """The moments of the rows that are measured, or of the sections with the target, that a mishap
    is told of."""
    first, last = mishap.detail.get("from"), mishap.detail.get("up to")
    if isinstance(first, Quantity) and isinstance(last, Quantity):
        return [range(int(first.value), int(last.value))]
    return [range(section.first, section.last) for section in run.sections
            if any(target.places == mishap.places for target in section.targets)]


def last_count(run: Run) -> Led | None:
    """The line since which there are as many stitches as at the end of a run."""
    for change in reversed(run.changes()):
        if change.before.stitches() != change.after.stitches():
            return _led(change, "there are so many stitches since this line", run)
    return None


def _led(change: Transition, label: str, run: Run) -> Led:
    places = change.moment.places
    own = [place for place in places if run.script.wrote(place)]
    return Led(own[-1] if own else places[-1], label, places)
