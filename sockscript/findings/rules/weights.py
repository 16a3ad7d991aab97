"""Comb and weights: on rib from the start, and where the stitches still knit."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run, SectionRecord
from sockscript.fabric.measures import held_stitches, is_rib
from sockscript.findings.kind import Kind
from sockscript.operations.ops import Knit, Tackle
from sockscript.trace.state import Snapshot

RIB_ROWS_UNWEIGHTED = 4
"""Rows of rib that may pass before comb or weights hang: common practice, no source."""
ROWS_BEFORE_WEIGHTS_MOVE = 20
"""Short rows after which the weights have left the stitches that knit: common practice."""


RIB_WITHOUT_WEIGHTS = Kind(
    "rib-without-weights", "warning",
    "{amount} rows of rib are knitted with neither comb nor weights: its stitches ride up and "
    "drop.",
    "Hang the comb after the zigzag row and weights on it:  hang comb  and  hang weights.")

WEIGHTS_NOT_MOVED = Kind(
    "weights-not-moved", "advice",
    "{amount} short rows are knitted with the weights where they were.",
    "Move them under the needles still knitting every few rows (move weights), or tell the reader "
    "to in a note.")


def rib_unweighted(run: Run) -> list[Mishap]:
    """Rib that is knitted with neither comb nor weights: its stitches ride up and drop."""
    rows = 0
    before: Snapshot | None = None
    for index, moment in enumerate(run.moments):
        op = moment.op
        if before is not None and type(op) is Knit and before.feeder is not None:
            if not is_rib(before):
                rows = 0
            elif not (before.comb or before.weights):
                rows += op.passes
                if rows > RIB_ROWS_UNWEIGHTED:
                    return [Mishap(RIB_WITHOUT_WEIGHTS.fault(amount=rows), moment.places,
                                   index, moment.instruction)]
        before = moment.state
    return []


def weights_not_moved(run: Run) -> list[Mishap]:
    """Many short rows with the weights where they were, and no word about moving them."""
    found = []
    for section in run.sections:
        rows = 0
        for index in range(section.first, section.last):
            moment = run.moments[index]
            op = moment.op
            if type(op) is Tackle and op.item == "weights":
                rows = 0
            elif type(op) is Knit:
                held = any(held_stitches(state) and state.action != "rest"
                           for state in (moment.state.front, moment.state.back))
                rows = rows + op.passes if held and moment.state.weights else 0
                if rows > ROWS_BEFORE_WEIGHTS_MOVE:
                    if not _told(section):
                        found.append(Mishap(WEIGHTS_NOT_MOVED.fault(amount=rows),
                                            moment.places[:1], index, moment.instruction))
                    break
    return found


def _told(section: SectionRecord) -> bool:
    """Whether the words of a section speak of the weights."""
    return any(isinstance(part, str) and "weight" in part.lower()
               for told in section.instructions if "words" in told.values
               for part in told.values["words"])
