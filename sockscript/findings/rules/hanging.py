"""What hangs beside what after hands have moved it: groups, single stitches, hems, grafts."""

from __future__ import annotations

from collections.abc import Mapping

from sockscript.expand.record import Item, Mishap
from sockscript.expand.run import Run
from sockscript.fabric.wales.follow import neighbours
from sockscript.fabric.wales.meetings import Meeting
from sockscript.findings.kind import Kind
from sockscript.findings.origins import MOVED_BY_HAND
from sockscript.operations import ops
from sockscript.operations.beds import BEDS, Bed, Spot, needle_ranges

GROUP_REVERSED = Kind(
    "group-reversed", "fault",
    "The stitches on {where} hang the wrong way round: at both ends of the group the knitting is "
    "joined to stitches that it does not belong to.",
    "Turn the group as you hang it, so that the stitch at the fold faces its neighbour (fold …, or "
    "rehang … turned); if it was turned, hang it straight.",
    led=MOVED_BY_HAND)

GROUPS_EXCHANGED = Kind(
    "groups-exchanged", "fault",
    "The stitches on {where} hang in each other's places.",
    "Hang each group beside the stitches that it was knitted beside.",
    led=MOVED_BY_HAND)

STITCHES_CROSSED = Kind(
    "stitches-crossed", "warning",
    "The stitches on {where} are crossed: they do not hang in the order in which they were "
    "knitted.",
    "Hang every stitch beside its neighbour; look at them one by one before you knit.",
    led=MOVED_BY_HAND)

STITCHES_OUT_OF_ORDER = Kind(
    "stitches-out-of-order", "fault",
    "At {jumps} places this row joins stitches that were no neighbours in the knitting, while "
    "their neighbours hang elsewhere on the needles.",
    "Follow the edge of the knitting with your finger from one end to the other: the stitches must "
    "hang in that order.",
    led=MOVED_BY_HAND)

GRAFT_CROSSED = Kind(
    "graft-crossed", "fault",
    "The two rows of stitches that are grafted do not lie with the same ends together: the "
    "knitting is twisted.",
    "Turn one of the two round, so that the stitches at each end are neighbours.")

HEM_REVERSED = Kind(
    "hem-reversed", "fault",
    "The edge is hung the wrong way round: its left end is on the right.",
    "Hang the first loop of the edge on the first stitch (rehang …, without turned).")

HEM_SHIFTED = Kind(
    "hem-shifted", "warning",
    "The edge is hung {shift} too far {way}: the hem will run askew.",
    "Hang every loop of the edge on the stitch that stands above it.")

HEM_CROSSED = Kind(
    "hem-crossed", "warning",
    "The loops of the edge hang on other stitches than those that stand above them.",
    "Hang every loop of the edge on the stitch that stands above it.")

TUBE_INSIDE_OUT = Kind(
    "tube-inside-out", "warning",
    "The tube hangs inside out: its knit side lies inside from here on.",
    "Hang the stitches of the front bed on the front bed again, and both groups the same way "
    "round as before.",
    led=MOVED_BY_HAND)


def hung_wrongly(run: Run) -> list[Mishap]:
    """Stitches that hang beside others than their neighbours when the next row is knitted."""
    return [mishap for meeting in neighbours(run).meetings if meeting.wrong
            for mishap in _told(run, meeting)]


def _told(run: Run, meeting: Meeting) -> list[Mishap]:
    if meeting.order == "graft":
        return [_mishap(run, GRAFT_CROSSED, meeting.moment, meeting.moment)]
    if meeting.wrong == "inside-out":
        told = _last_hung(run, meeting.moment, [])
        return [_mishap(run, TUBE_INSIDE_OUT, told, told)]
    if meeting.wrong == "interleaved":
        return []
    if meeting.wrong == "mixed" or not meeting.needles:
        return [_mishap(run, STITCHES_OUT_OF_ORDER, meeting.moment, meeting.moment,
                        {"jumps": str(len(meeting.jumps))})]
    kind = {"reversed": GROUP_REVERSED, "exchanged": GROUPS_EXCHANGED,
            "crossed": STITCHES_CROSSED}[meeting.wrong]
    if kind is GROUP_REVERSED:
        return [_of(run, meeting, kind, part) for part in meeting.needles]
    return [_of(run, meeting, kind, *meeting.needles)]


def _of(run: Run, meeting: Meeting, kind: Kind, *parts: tuple[Spot, ...]) -> Mishap:
    """Told at the line that hung the stitches."""
    where = " and those on ".join(_words(run, part) for part in parts)
    flat = [place for part in parts for place in part]
    bed = flat[0][0]
    mask = sum(1 << n for on, n in flat if on is bed)
    told = _last_hung(run, meeting.moment, flat)
    # Shown with the beds as they are when it hangs.
    return _mishap(run, kind, told, min(told + 1, meeting.moment), {"where": where}, bed, mask)


def _words(run: Run, part: tuple[Spot, ...]) -> str:
    size = run.engine.profile.needles
    named = []
    for bed in BEDS:
        mask = sum(1 << n for on, n in part if on is bed)
        if mask:
            named.append(f"{needle_ranges(mask, size)} of the {bed.word} bed")
    return " and ".join(named)


def _last_hung(run: Run, moment: int, places: list[Spot]) -> int:
    """The operation that hung something on one of some needles (on any) last before a moment."""
    for index in reversed(range(moment)):
        op = run.moments[index].op
        if isinstance(op, ops.Rehang):
            targets = list(op.targets)
        elif isinstance(op, (ops.Transfer, ops.Fold)):
            targets = [(move[2], move[3]) for move in op.moves]
        else:
            continue
        if not places or not set(places).isdisjoint(targets):
            return index
    return moment


def hems_hung_wrongly(run: Run) -> list[Mishap]:
    """Edges hung onto stitches that do not stand above them."""
    found = []
    for hem in neighbours(run).hems:
        if hem.wrong == "shifted":
            count = abs(hem.shift)
            found.append(_mishap(run, HEM_SHIFTED, hem.moment, hem.moment, {
                "shift": f"{count} stitch" if count == 1 else f"{count} stitches",
                "way": "round the tube" if hem.round else
                "to the right" if hem.shift > 0 else "to the left"}))
        elif hem.wrong:
            kind = HEM_REVERSED if hem.wrong == "reversed" else HEM_CROSSED
            found.append(_mishap(run, kind, hem.moment, hem.moment))
    return found


def _mishap(run: Run, kind: Kind, told: int, moment: int, detail: Mapping[str, Item] | None = None,
            bed: Bed | None = None, needles: int = 0) -> Mishap:
    """``told``: the operation whose line is shown; ``moment``: when to look at the machine."""
    at = run.moments[told]
    return Mishap(kind.fault(bed, needles), at.places, moment, at.instruction, detail or {})
