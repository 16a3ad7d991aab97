"""The pieces of a run read from end to end: rows all the way round, and cups of short rows.

Nothing here looks at sections or at how a line is worded: only at what the carriage passes knit
and where hands take the stitches.
"""

from __future__ import annotations

from fractions import Fraction

from sockscript.expand.run import Run, once
from sockscript.fabric.amounts import gauge_for
from sockscript.fabric.measures import rows_that_show
from sockscript.fabric.piece import Cup, Piece, Rows, Zone
from sockscript.fabric.tubes import CAST_ON_PASSES, ROUNDS_BEFORE_SHUT
from sockscript.numbers.quantity import Exact
from sockscript.operations import ops
from sockscript.trace.state import Snapshot

SEAM = 2
"""So many rows on both beds at once close the end of a tube; more of them are a rib:
common practice, no source."""


@once
def pieces(run: Run) -> list[Piece]:
    """Every piece of a run, in the order in which they are begun."""
    return _Walk(run).pieces()


class _Walk:
    def __init__(self, run: Run) -> None:
        self.run = run
        self.width = run.engine.profile.needles
        self.showing = rows_that_show(run)
        self.found: list[Piece] = []
        self.piece: Piece | None = None
        self.groups: dict[str, tuple[Piece, str]] = {}
        self.per_mm: Exact | None = None
        self.lengths: dict[Exact, Fraction] = {}

    def pieces(self) -> list[Piece]:
        """Go through all moments."""
        for section in self.run.sections:
            gauge = gauge_for(self.run, section)
            self.per_mm = gauge.rows_per_mm if gauge is not None else None
            self.lengths = {}
            for index, op, before, after, _ in self.run.changes()[section.first:section.last]:
                if type(op) is ops.Knit:
                    if index in self.showing:
                        self._knit(index, before, after)
                elif type(op) in _BY_HAND or (type(op) is ops.Place and op.position == "out"):
                    self._by_hand(index, op, before, after)
        if self.piece is not None:
            last = self.run.changes()[-1]
            self._close(self.piece, last.number + 1, self._loaded(last.after))
        return self.found

    def _loaded(self, state: Snapshot) -> int:
        return state.front.loaded | state.back.loaded << self.width

    def _begin(self, index: int) -> Piece:
        self.piece = Piece(index)
        self.found.append(self.piece)
        return self.piece

    # ---- passes

    def _knit(self, index: int, before: Snapshot, after: Snapshot) -> None:
        piece = self.piece or self._begin(index)
        rows = self.showing[index]
        loaded = after.front.loaded, after.back.loaded
        working = before.front.active, before.back.active
        held = bool((rows[0] and loaded[0] & ~working[0]) or (rows[1] and loaded[1] & ~working[1]))
        idle = bool((loaded[0] and not rows[0]) or (loaded[1] and not rows[1]))
        circular = before.both_circular
        if held or (idle and not circular):
            zone = piece.zone
            if zone is None:
                zone = piece.zone = Zone(index)
            # Rounds over a part of both beds are a branch of the tube, no short rows.
            if held and not circular and not zone.short:
                zone.short, zone.flap = True, sum(zone.rows)
                zone.wide = max(state.bit_count() for bed, state in enumerate(loaded) if rows[bed])
            for bed in (0, 1):
                if rows[bed]:
                    zone.masks.append((working[bed] & loaded[bed]) << bed * self.width)
                    zone.rows.append(rows[bed])
            return
        self._close(piece, index, self._loaded(before))
        joint = bool(all(loaded) and all(rows) and not circular)
        top = max(piece.level)
        for bed in (0, 1):
            piece.level[bed] += rows[bed]
        gained = max(piece.level) - top
        if gained:
            self._add(piece, index, loaded[0].bit_count() + loaded[1].bit_count(), gained, joint)
        if joint:
            piece.cast_on_shut = len(piece.rows) == 1
            # A few rounds between the cast-on row and another row on both beds are a welt, no toe.
            if top <= ROUNDS_BEFORE_SHUT:
                piece.began, piece.tube = "open", False
            piece.around = 0
            piece.shut += gained
            piece.ended = "closed" if piece.rounds and piece.shut <= SEAM else "open"
        elif all(loaded):
            piece.rounds, piece.shut = True, 0
            # Two or three passes make the edge of a rib.
            piece.around += sum(rows)
            piece.tube = piece.tube or piece.around > CAST_ON_PASSES
            piece.ended = "open"
            if piece.cast_on_shut:
                piece.began = "closed"

    def _add(self, piece: Piece, index: int, stitches: int, rows: Exact, rib: bool) -> None:
        piece.rows.append(Rows(index, stitches, rows, self._mm(rows), rib))

    def _mm(self, rows: Exact) -> Fraction | None:
        if self.per_mm is None:
            return None
        if rows not in self.lengths:
            self.lengths[rows] = Fraction(rows) / self.per_mm
        return self.lengths[rows]

    def _close(self, piece: Piece, index: int, loaded: int) -> None:
        """The stitches that waited are knitted again, or the piece ends."""
        zone, piece.zone = piece.zone, None
        if zone is None:
            return
        for mask in zone.masks:
            loaded |= mask
        fewest, most, core = zone.spread(loaded)
        if fewest:
            self._add(piece, zone.first, loaded.bit_count(), fewest, False)
        if zone.short and zone.picked_up:
            self._add_gusset_heel(piece, zone, index, most, core)
        elif zone.short and most > fewest:
            self._add_cup(piece, zone.first, index, most - fewest, core)
        piece.level = [max(piece.level) + fewest] * 2

    def _add_cup(self, piece: Piece, first: int, last: int, rows: Exact, core: int) -> None:
        piece.cups.append(Cup(first, last, rows, self._mm(Fraction(rows) / 2), core))

    def _add_gusset_heel(self, piece: Piece, zone: Zone, last: int, most: Exact,
                         core: int) -> None:
        """A flap hangs down the back; what lies along the foot begins with its turn.

        A turn that takes in the stitches at its sides runs along the sole with all its rows; one
        that comes back to them is folded in half, as is a heel without a flap.
        """
        rows = most - zone.flap
        along = Fraction(rows)
        if zone.turned >= zone.wide:
            along -= Fraction(zone.up_at - zone.flap) / 2
        piece.cups.append(Cup(zone.first, last, rows, self._mm(along), core, zone.flap,
                              zone.picked_up, self._mm(zone.flap)))

    # ---- hands

    def _picked_up(self, op: ops.PickUp, before: Snapshot) -> None:
        """Loops of the edges of a flap: they belong to its heel."""
        zone = self.piece.zone if self.piece is not None else None
        if zone is not None and zone.short:
            if not zone.picked_up:
                zone.up_at = sum(zone.rows)
                zone.turned = before.bed(op.bed).loaded.bit_count()
            zone.picked_up += len(op.targets)

    def _by_hand(self, index: int, op: ops.Op, before: Snapshot, after: Snapshot) -> None:
        if isinstance(op, ops.PickUp):
            self._picked_up(op, before)
        if isinstance(op, ops.Rehang):
            self._rehang(index, op, before)
        elif isinstance(op, ops.GraftGroups):
            self._grafted([self.groups[name] for name in (op.first, op.second)
                           if name in self.groups])
        piece = self.piece
        if piece is None and isinstance(op, (ops.Mark, ops.PickUp)):
            piece = self._begin(index)
        if piece is None:
            return
        if isinstance(op, ops.Mark):
            self.groups[op.name] = piece, op.kind
            if op.kind == "slit":
                piece.slits[op.name] = index
            else:
                piece.edges[op.name] = len(piece.rows), len(piece.cups)
        elif isinstance(op, ops.KnitIn):
            self.groups[op.name] = piece, "slit"
            piece.slits[op.name] = index
        elif isinstance(op, ops.ScrapOff):
            self.groups[op.name] = piece, "scrap"
        elif isinstance(op, (ops.Graft, ops.Gather)):
            if isinstance(op, ops.Graft):
                _unfold(piece)
            if not piece.ring:
                self._end_closed({piece})
        elif isinstance(op, (ops.Fold, ops.Rehang)) or (isinstance(op, ops.Transfer) and any(
                source != target for source, _, target, _ in op.moves)):
            piece.cast_on_shut, piece.rounds, piece.shut = False, False, 0
            piece.tube, piece.around = False, CAST_ON_PASSES
            piece.ended = "closed" if _joined(before, after) else "open"
        for bed, was, now in ((0, before.front, after.front), (1, before.back, after.back)):
            if now.loaded and not was.loaded:
                piece.level[bed] = max(piece.level)
        if after.bare:
            self._close(piece, index, self._loaded(before))
            self.piece = None

    def _grafted(self, groups: list[tuple[Piece, str]]) -> None:
        """Two ends of pieces grafted off the machine: of one piece they are one end, which is shut
        by that, or its first row and its last, which make it a ring."""
        if len(set(groups)) > 1 and len({piece for piece, _ in groups}) == 1:
            piece = groups[0][0]
            piece.ring = (0, 0) in piece.edges.values() and "edge" in {kind for _, kind in groups}
            return
        self._end_closed({piece for piece, kind in groups if kind == "scrap"})
        for piece, kind in groups:
            if kind == "edge":
                piece.began = "closed"

    def _end_closed(self, ended: set[Piece]) -> None:
        for piece in ended:
            piece.ended = "closed"
            if piece.taken_up is not None and piece.taken_up[1] == "edge":
                piece.taken_up[0].began = "closed"

    def _rehang(self, index: int, op: ops.Rehang, before: Snapshot) -> None:
        source, kind = self.groups.get(op.name, (None, ""))
        if source is None:
            return
        piece = self.piece
        if piece is None:
            if kind == "scrap":
                self.piece = source
            else:
                self._begin(index).taken_up = source, kind, op.name
            return
        loaded = before.front.loaded, before.back.loaded
        if kind == "edge" and op.name in piece.edges \
                and not any(loaded[bed] for bed, _ in op.targets):
            self._fold_in_two(piece, index, *piece.edges[op.name], self._loaded(before))

    def _fold_in_two(self, piece: Piece, index: int, rows: int, cups: int, loaded: int) -> None:
        """A cup whose first row is hung on the other bed: the two halves lie on each other."""
        self._close(piece, index, loaded)
        if not rows and not cups:
            piece.folded = piece.rows[:], piece.cups[:], index
        if len(piece.cups) == cups:
            return
        taken = sum(one.rows for one in piece.rows[rows:]) \
            + sum(one.rows for one in piece.cups[cups:])
        first = min(piece.cups[cups].first, *(one.moment for one in piece.rows[rows:]), index)
        core = piece.cups[cups].core
        del piece.rows[rows:], piece.cups[cups:]
        self._add_cup(piece, first, index, taken, core)
        piece.began = "closed"


def _unfold(piece: Piece) -> None:
    """A piece whose first row was hung on the other bed and grafted to its last is a ring."""
    if piece.folded is not None and all(one.moment < piece.folded[2] for one in piece.rows):
        piece.rows, piece.cups, _ = piece.folded
        piece.began, piece.ring = "open", True


def _joined(before: Snapshot, after: Snapshot) -> bool:
    """Whether every stitch of one bed has come to lie on a stitch of the other."""
    pairs = (before.front, after.front, before.back, after.back)
    for left, stayed, was, now in (pairs[:2] + pairs[2:], pairs[2:] + pairs[:2]):
        if left.loaded and not stayed.loaded and was.loaded == now.loaded \
                and now.double.bit_count() > was.double.bit_count():
            return True
    return False


_BY_HAND = {ops.Transfer, ops.Fold, ops.Rehang, ops.Mark, ops.KnitIn, ops.ScrapOff, ops.Graft,
            ops.GraftGroups, ops.Gather, ops.BindOff, ops.CastOn, ops.Drop, ops.PickUp, ops.SewDown}
"""Operations that may take stitches from bed to bed, off the needles, or onto them again; needles
pushed out of work beside them."""
