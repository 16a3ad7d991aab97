"""Tubes: where their edges meet, whether the heel lies there, and whether both faces stay apart."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.fabric.wales.follow import POCKET, neighbours
from sockscript.fabric.wales.told import OFF_CENTRE, seam_at_heel
from sockscript.findings.kind import Kind
from sockscript.findings.origins import CIRCULAR_SET
from sockscript.numbers.quantity import Quantity
from sockscript.operations import ops

SEAM_OFF_CENTRE = Kind(
    "seam-off-centre", "warning",
    "The two edges of the knitting meet beside the middle of the {bed} bed: {left} of its stitches "
    "lie to the left of the seam and {right} to the right.",
    "Turn as many stitches at the left end as at the right.")

SEAM_ON_INSTEP = Kind(
    "seam-on-instep", "warning",
    "The edges of the knitting meet on the {other} bed, but the heel is on the {bed} bed: the seam "
    "runs down the front of the leg and over the instep.",
    "Knit the heel on the bed where the edges meet, or turn the piece onto the other bed.")

TUBE_TURNED_AFTER_HEEL = Kind(
    "tube-turned-after-heel", "warning",
    "Since the heel the tube hangs round by some stitches: {moved} of them are on the other bed "
    "now, so that the toe will not lie straight.",
    "Hang the stitches of the heel on one bed again, and the instep on the other.")

FACES_INTERLEAVED = Kind(
    "faces-interleaved", "fault",
    "The stitches of the two faces of a tube hang here by turns: this row joins front and back.",
    "Where a tubular edge was meant, a row over both beds closes it first (set both to knit). A "
    "tube is laid on one bed only by opening it.",
    led=CIRCULAR_SET)

TUBE_CLOSED_BELOW = Kind(
    "tube-closed-below", "warning",
    "The tube begins straight on {below} rows of rib: the rib closes its lower end.",
    "Turn the rib into a tube first: all stitches to one bed, then a quarter turned over at each "
    "side. For a tubular edge two or three circular rows are enough.",
    led=CIRCULAR_SET)

BARE_ZIGZAG_EDGE = Kind(
    "bare-zigzag-edge", "advice",
    "The rib follows directly on the cast-on row that zigzags between the beds: such an edge is "
    "loose and opens out.",
    "Knit two or three circular rows first (set both to circular, knit 2 rows), as "
    "tubular-cast-on does.")

EDGE_IN_TWO_LAYERS = Kind(
    "edge-in-two-layers", "warning",
    "This row of rib joins two layers that were cast on one on each bed: the edge stays open "
    "between them.",
    "Cast on with one row over both beds (set both to knit, knit 1 row), then knit the circular "
    "rows.",
    led=CIRCULAR_SET)


def seam_places(run: Run) -> list[Mishap]:
    """Seams that do not lie in the middle, or not where the heel is.

    A seam between the beds lies at the side of the sock, which is a design.
    """
    known = neighbours(run)
    found = []
    for seam in known.seams:
        alone = sum(other.moment == seam.moment for other in known.seams) == 1
        if seam.bed is None or not alone:
            continue
        if abs(seam.off) >= OFF_CENTRE:
            turned = _turned(run, seam.moment)
            moment = run.moments[turned]
            count = run.moments[seam.moment].state.bed(seam.bed).loaded.bit_count()
            found.append(Mishap(SEAM_OFF_CENTRE.fault(seam.bed), moment.places, turned,
                                moment.instruction,
                                {"left": Quantity((count + seam.off) // 2),
                                 "right": Quantity((count - seam.off) // 2)}))
    seam_there = seam_at_heel(known)
    heel = known.heels[0] if known.heels else None
    if heel is not None and seam_there is not None and seam_there.bed is heel.bed.opposite:
        moment = run.moments[heel.moment]
        found.append(Mishap(SEAM_ON_INSTEP.fault(heel.bed), moment.places, heel.moment,
                            moment.instruction))
    return found


def _turned(run: Run, moment: int) -> int:
    """The operation that last folded or hung something before a moment."""
    for index in reversed(range(moment)):
        if isinstance(run.moments[index].op, (ops.Fold, ops.Rehang, ops.Transfer)):
            return index
    return moment


def turned_after_heel(run: Run) -> list[Mishap]:
    """A tube hung again so that the columns of its heel no longer share a bed."""
    known = neighbours(run)
    found = []
    for meeting in known.meetings:
        state = run.moments[meeting.moment].state
        whole = state.stitches()
        if not meeting.jumps and 0 < meeting.moved < whole and any(
                heel.moment < meeting.moment for heel in known.heels):
            turned = _turned(run, meeting.moment)
            moment = run.moments[turned]
            found.append(Mishap(TUBE_TURNED_AFTER_HEEL.fault(), moment.places, turned,
                                moment.instruction, {"moved": Quantity(meeting.moved)}))
    return found


def faces_interleaved(run: Run) -> list[Mishap]:
    """A row on one bed over the stitches of both faces of a tube, as they come by turns."""
    return [Mishap(FACES_INTERLEAVED.fault(), run.moments[meeting.moment].places, meeting.moment,
                   run.moments[meeting.moment].instruction)
            for meeting in neighbours(run).meetings
            if meeting.wrong == "interleaved" and meeting.order == "row"]


def layers(run: Run) -> list[Mishap]:
    """Tubes that grow out of a rib, and ribs whose edge lacks its row over both beds or its
    circular rows."""
    known = neighbours(run)
    found = []
    for pocket in known.pockets:
        if any(index < pocket.moment for index in known.shut):
            continue
        moment = run.moments[pocket.moment]
        found.append(Mishap(TUBE_CLOSED_BELOW.fault(), moment.places, pocket.moment,
                            moment.instruction, {"below": Quantity(pocket.below)}))
    for index in known.shut:
        if _cast_on_apart(run, index):
            moment = run.moments[index]
            found.append(Mishap(EDGE_IN_TWO_LAYERS.fault(), moment.places, index,
                                moment.instruction))
    for index in known.bare_edges:
        moment = run.moments[index]
        found.append(Mishap(BARE_ZIGZAG_EDGE.fault(), moment.places, index, moment.instruction))
    return found


def _cast_on_apart(run: Run, index: int) -> bool:
    """Whether the tube that a rib joins was begun with this yarn only a few passes before.

    Of open loops on waste yarn nothing is told; a longer tube is closed, not begun.
    """
    yarn = run.moments[index - 1].state.feeder
    passes = 0
    for before in range(index - 1, 0, -1):
        moment, earlier = run.moments[before], run.moments[before - 1].state
        if isinstance(moment.op, ops.Knit):
            passes += moment.op.passes
            if passes > POCKET or earlier.feeder != yarn:
                return False
        if earlier.bare:
            return yarn in run.main_yarns
    return False
