"""Side edges of what is knitted flat, and which of them are sewn to each other."""

from __future__ import annotations

from typing import NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.begun import piece_at
from sockscript.fabric.sock import sock_of
from sockscript.fabric.wales.follow import POCKET, neighbours
from sockscript.operations import ops
from sockscript.trace.state import BedState, Snapshot

_EdgePlace = tuple[int, int]
"""A section and a piece, by their numbers."""


class EdgeRows(NamedTuple):
    """Rows by which the left and the right open edge grow in a section of one piece."""

    title: str
    piece: int
    left: int
    right: int


def edge_rows(run: Run) -> list[EdgeRows]:
    """Open side edges, section by section and piece by piece.

    A row is flat if both beds knit in it, or if the other bed has no stitches.  The few circular
    passes of a tubular edge are two to a row; the rows over both beds that begin or close a tube
    are its ends, not its sides.  Waste yarn does not count, nor rows that are picked up along.  A
    short row on one bed alone reaches an edge only if it knits the outermost stitch there.
    """
    found: dict[_EdgePlace, list[int]] = {}
    waiting: list[tuple[_EdgePlace, int]] = []
    circular, tube, piece = 0, False, -1
    for number, section in enumerate(run.sections):
        for index, op, before, _, _ in run.changes()[section.first:section.last]:
            if isinstance(op, (ops.Fold, ops.Rehang, ops.Transfer)):
                tube = False
            elif isinstance(op, ops.PickUp):
                _count(found, waiting)
                _picked_up(found, op, before, piece)
            if not isinstance(op, ops.Knit) or before.feeder in run.waste:
                continue
            here = number, piece_at(run, index)
            if here[1] != piece:
                waiting.clear()
                circular, tube, piece = 0, False, here[1]
            if before.both_circular:
                circular += op.passes
                waiting.append((here, op.passes // 2))
                if circular > POCKET:
                    tube = True
                    waiting.clear()
                continue
            circular = 0
            if tube and _both_knit(before):
                continue
            if _both_knit(before) and before.bare:
                waiting.append((here, op.passes))
                continue
            _count(found, waiting)
            for side, reached in enumerate(_edges(before)):
                found.setdefault(here, [0, 0])[side] += op.passes * reached
    return [EdgeRows(run.sections[section].title, piece, left, right)
            for (section, piece), (left, right) in found.items() if left or right]


def _picked_up(found: dict[_EdgePlace, list[int]], op: ops.PickUp, before: Snapshot, piece: int
               ) -> None:
    """Rows along which loops are picked up grow on there, and are not sewn; those of a flap in a
    tube are no open edge anyway."""
    left = 0 if before.bed(op.bed.opposite).loaded else op.rows
    for (_, of), rows in reversed(found.items()):
        if of == piece:
            taken = min(left, rows[op.side == "right"])
            rows[op.side == "right"] -= taken
            left -= taken


def _count(found: dict[_EdgePlace, list[int]], waiting: list[tuple[_EdgePlace, int]]) -> None:
    """The rows that waited for what they belong to are rows of a flat piece."""
    for place, rows in waiting:
        sides = found.setdefault(place, [0, 0])
        sides[0] += rows
        sides[1] += rows
    waiting.clear()


def _both_knit(state: Snapshot) -> bool:
    return state.front.action != "rest" and state.back.action != "rest"


def _edges(state: Snapshot) -> tuple[bool, bool]:
    """Which open edges a pass reaches, if it knits flat at all."""
    front, back = state.front, state.back
    alone = not state.on_both
    if not (alone or _both_knit(state)):
        return False, False
    if front.set_aside or back.set_aside:
        return _reached(front if front.loaded else back) if alone else (False, False)
    return True, True


def _reached(state: BedState) -> tuple[bool, bool]:
    """Whether a short row knits the leftmost and the rightmost stitch of its bed."""
    working = state.in_work
    return (bool(working & -state.loaded),
            working.bit_length() == state.loaded.bit_length())


def sewn_edges(run: Run) -> list[EdgeRows]:
    """The side edges that are sewn: those of a piece that the script sews, that meet in a tube,
    or that make a sock."""
    sewn = {piece_at(run, change.number) for change in run.changes()
            if isinstance(change.op, ops.SewSides)}
    sewn |= {piece_at(run, seam.moment) for seam in neighbours(run).seams}
    sock = sock_of(run)
    if sock is not None and sock.is_one:
        sewn.add(piece_at(run, sock.piece.first))
    return [one for one in edge_rows(run) if one.piece in sewn]


def bands(run: Run) -> list[str]:
    """Sections of flat rows that are picked up into a tube: their first row meets their last."""
    found = []
    for change in run.changes_by(ops.PickUp):
        op = change.op
        if isinstance(op, ops.PickUp) and len({bed for bed, _ in op.targets}) == 2 \
                and change.before.bare:
            last = max(one.number for one in run.passes() if one.number < change.number)
            found += [section.title for section in run.sections
                      if section.first <= last < section.last]
    return found


def seams(run: Run) -> list[tuple[str, int]]:
    """Rows that are sewn at both side edges, section by section."""
    return [(one.title, min(one.left, one.right)) for one in sewn_edges(run)
            if min(one.left, one.right)]
