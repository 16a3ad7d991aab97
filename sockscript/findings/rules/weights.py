"""Comb and weights: on rib from the start, and where the stitches still knit."""

from __future__ import annotations

from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run, once_alike
from sockscript.expand.sections import SectionRecord
from sockscript.fabric.measures import is_rib
from sockscript.fabric.tubes import tubes_of
from sockscript.findings.kind import Kind
from sockscript.operations.ops import Knit, Tackle

RIB_ROWS_UNWEIGHTED = 4
"""Rows of rib that may pass before comb or weights hang: common practice, no source."""
TUBE_ROWS_UNWEIGHTED = 16
"""Passes round a tube that may be knitted before comb or weights hang: common practice, no
source."""
ROWS_BEFORE_WEIGHTS_MOVE = 20
"""Short rows after which the weights have left the stitches that knit: common practice,
no source."""


RIB_WITHOUT_WEIGHTS = Kind(
    "rib-without-weights", "warning",
    "{amount} rows of rib are knitted with neither comb nor weights: its stitches climb "
    "the needles and drop.",
    "Hang the comb after the zigzag row and weights on it:  hang comb  and  hang weights.")

RIB_WITHOUT_COMB = Kind(
    "rib-without-comb", "warning",
    "The weights are hung on {rows} of a rib without the comb: the strands that zigzag "
    "between the beds have nothing yet for them to hang in.",
    "Write  hang comb  before this line, and  remove comb  where the weights come off.")

WEIGHTS_NOT_MOVED = Kind(
    "weights-not-moved", "advice",
    "{amount} short rows are knitted with the weights where they were.",
    "Move them under the needles still knitting every few rows (move weights), or tell the reader "
    "to in a note.")

TUBE_WITHOUT_WEIGHTS = Kind(
    "tube-without-weights", "warning",
    "{amount} rows of a tube are knitted with neither comb nor weights: its stitches climb the "
    "needles and drop.",
    "Write  hang weights  before the rounds.")

HUNG_ON_NOTHING = Kind(
    "hung-on-nothing", "warning",
    "The {name} {is_are} hung before there is any knitting on the needles.",
    "Knit the first row, then hang the {name}.")


def rib_unweighted(run: Run) -> list[Mishap]:
    """Rib that is knitted with neither comb nor weights: its stitches climb and drop."""
    rows = 0
    for change in run.passes():
        op, before = change.op, change.before
        if before.feeder is not None:
            if not is_rib(before):
                rows = 0
            elif not (before.comb or before.weights):
                rows += op.passes
                if rows > RIB_ROWS_UNWEIGHTED:
                    return [change.mishap(RIB_WITHOUT_WEIGHTS.fault(amount=rows))]
    return []


def rib_without_comb(run: Run) -> list[Mishap]:
    """Weights on the zigzag row of a rib, where only the comb can carry them."""
    rows: int | None = None
    hung: tuple[Transition, int] | None = None
    rib = 0
    for change in run.changes_by(Knit, Tackle):
        op, before, after = change.op, change.before, change.after
        if isinstance(op, Tackle):
            if op.action == "hang" and op.item == "comb":
                rows = hung = None
            elif op.action == "hang" and rows is not None and rows <= RIB_ROWS_UNWEIGHTED:
                hung, rib = (change, rows), 0
        elif isinstance(op, Knit) and before.feeder is not None:
            if before.bare:
                rows, hung = (0 if is_rib(after) else None), None
            if rows is not None:
                rows += op.passes
            rib += op.passes if is_rib(before) else 0
            if hung is not None and rib > RIB_ROWS_UNWEIGHTED:
                return [hung[0].mishap(RIB_WITHOUT_COMB.fault(amount=hung[1]))]
    return []


def weights_not_moved(run: Run) -> list[Mishap]:
    """Many short rows with the weights where they were, and no word about moving them."""
    found = []
    for section in run.sections:
        rows = 0
        late: Transition | None = None
        for change in run.changes()[section.first:section.last]:
            op = change.op
            if type(op) is Tackle and op.item == "weights":
                if late is not None:
                    break
                rows = 0
            elif type(op) is Knit:
                held = any(state.set_aside and state.action != "rest"
                           for state in (change.after.front, change.after.back))
                if late is not None and not held:
                    break
                rows = rows + op.passes if held and change.after.weights else 0
                if rows > ROWS_BEFORE_WEIGHTS_MOVE and late is None:
                    late = change
        if late is not None and not _told(section):
            found.append(late.mishap(WEIGHTS_NOT_MOVED.fault(amount=rows))._replace(
                places=late.moment.places[:1]))
    return found


def tube_unweighted(run: Run) -> list[Mishap]:
    """A tube that is knitted with neither comb nor weights: its stitches climb the needles."""
    found = []
    for tube in tubes_of(run) if _passes_unweighted(run) else ():
        rows = 0
        for change in run.passes():
            op, before = change.op, change.before
            if not tube.first <= change.number < tube.last or before.feeder is None:
                continue
            rows = 0 if before.comb or before.weights else rows + op.passes
            if rows > TUBE_ROWS_UNWEIGHTED:
                found.append(change.mishap(TUBE_WITHOUT_WEIGHTS.fault(amount=rows)))
                break
    return found


@once_alike
def _passes_unweighted(run: Run) -> bool:
    """Whether any rows of a tube are knitted with neither comb nor weights."""
    spans = [(tube.first, tube.last) for tube in tubes_of(run)]
    return any(first <= change.number < last
               and not (change.before.comb or change.before.weights)
               for change in run.passes() for first, last in spans)


def hung_on_nothing(run: Run) -> list[Mishap]:
    """A comb or weights hung where there is no knitting yet to hang them on."""
    found = []
    for change in run.changes_by(Tackle):
        op = change.op
        if type(op) is Tackle and op.action == "hang" \
                and change.after.bare:
            found.append(change.mishap(HUNG_ON_NOTHING.fault(name=op.item)))
    return found


def _told(section: SectionRecord) -> bool:
    """Whether the words of a section speak of the weights."""
    return any("weight" in part.lower() for said in section.in_words() for part in said.parts)
