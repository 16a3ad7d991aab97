"""Sections that are measured as another fabric than they knit."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.expand.sections import SectionRecord
from sockscript.fabric.amounts import gauge_for
from sockscript.fabric.measures import is_rib, rows_knitted
from sockscript.findings.kind import Kind
from sockscript.operations.beds import lowest
from sockscript.operations.ops import LatchUp
from sockscript.trace.state import Snapshot

FEW_ROWS = 4
"""Rows that a section may have of any fabric, such as one before a tube is turned: common practice,
no source."""
PLAIN = ("plain", "stocking", "stockinette", "jersey")
"""What knitters call a fabric knitted on one bed or in rounds."""

FABRIC_NOT_AS_SAID = Kind(
    "fabric-not-as-said", "warning",
    "'{section}' is measured as {fabric}, but {rows} are {knitted}.",
    "Write the fabric that is knitted after the name of the section, such as  in {other}: lengths, "
    "girths and yarn are reckoned with its gauge.")


def fabric_not_as_said(run: Run) -> list[Mishap]:
    """Sections most of whose rows are rib though their gauge is that of plain knitting, or the
    other way round.

    A row over both beds at once is rib; rounds, and rows on one bed, are not, unless needles are
    left out between the stitches or stitches are latched up. Other fabrics than these two may be
    knitted in many ways.
    """
    names = [gauge.fabric for gauge in run.script.gauges]
    ribs = [name for name in names if _rib(name)]
    plains = [name for name in names if name in PLAIN]
    if not (ribs and plains):
        return []
    found = []
    for section in run.sections:
        gauge = gauge_for(run, section)
        if gauge is None or gauge.fabric not in (*ribs, *plains):
            continue
        rib = _rib(gauge.fabric)
        every, other = _rows(run, section, rib)
        if other > FEW_ROWS and other * 2 > every:
            found.append(Mishap(
                FABRIC_NOT_AS_SAID.fault(name=section.title),
                run.moments[section.first].places[:1], detail={
                    "section": section.title, "fabric": gauge.fabric,
                    "rows": f"its {every} rows" if other == every else
                            f"{other} of its {every} rows",
                    "knitted": "rounds or rows on one bed" if rib else
                               "knitted on both beds at once, which is rib",
                    "other": plains[0] if rib else ribs[0]}))
    return found


def _rows(run: Run, section: SectionRecord, meant_as_rib: bool) -> tuple[int, int]:
    """The rows of a section, and those that are surely not of the fabric that is meant."""
    rows_of = rows_knitted(run)
    latched = any(section.first <= change.number < section.last
                  for change in run.changes_by(LatchUp))
    every = other = 0
    for change in run.passes():
        if section.first <= change.number < section.last and change.number in rows_of:
            rows = int(max(rows_of[change.number]))
            every += rows
            if is_rib(change.after) != meant_as_rib and not (
                    meant_as_rib and (latched or _with_gaps(change.before))):
                other += rows
    return every, other


def _rib(fabric: str) -> bool:
    return any(part.startswith("rib") for part in fabric.split("-"))


def _with_gaps(state: Snapshot) -> bool:
    """Whether needles are left out between the stitches of a bed that knits."""
    for bed in (state.front, state.back):
        row = bed.loaded >> lowest(bed.loaded) if bed.loaded and bed.action != "rest" else 0
        if row & row + 1:
            return True
    return False
