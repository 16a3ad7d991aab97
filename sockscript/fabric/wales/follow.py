"""Which column of cloth hangs beside which, followed through a run.

The model is in ``model.md``.  Rows change nothing here, so the cost grows with what hands do: that
is put off and carried out only when the next row, or a graft, has to know the order.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sockscript.expand.run import Run, once
from sockscript.fabric.wales.facts import Heel, Neighbours, Pocket, Seam, seam_at
from sockscript.fabric.wales.handwork import CLOSING, MOVING, NOTED, Hands
from sockscript.fabric.wales.meetings import Meeting, Order, free, joints, meeting, without_cables
from sockscript.fabric.wales.ring import Ring
from sockscript.operations import ops
from sockscript.operations.beds import BACK, BEDS, FRONT, Bed, highest, lowest
from sockscript.trace.state import Snapshot

POCKET = 6
"""Circular passes over a rib that may still be a tubular edge, at its beginning or its end: two or
three, some four; common practice, no source."""


@once
def neighbours(run: Run) -> Neighbours:
    """Follow the columns of a run."""
    return _WaleFollower(run).follow()


class _WaleFollower:
    """What is known so far.

    ``known``: loaded needles after the last moment; ``laid``: after the last pass. ``loose``: hands
    have moved columns since; ``grown``: they have cast some on. ``way`` and ``kind``: how the last
    pass went, and what it depended on. ``shape``: how the cloth was last knitted. ``met``: edges
    that met; ``unplaced``: where on the needles is not put down yet.
    """

    def __init__(self, run: Run) -> None:
        self.run = run
        self.hands = Hands()
        self.cloth = self.hands.cloth
        self.ring = Ring()
        self.put_off: list[int] = []
        self.known = self.laid = (0, 0)
        self.loose = self.grown = False
        self.kind: object = None
        self.way: tuple[Order | None, Bed] = (None, FRONT)
        self.shape: Order | None = None
        self.below = 0
        self.pocket: tuple[int, int] | None = None
        self.zigzag: int | None = None
        self.met: list[tuple[int, int]] = []
        self.unplaced = False
        self.waste = run.waste
        self.meetings: list[Meeting] = []
        self.seams: list[Seam] = []
        self.heels: list[Heel] = []
        self.pockets: list[Pocket] = []
        self.shut: list[int] = []
        self.bare_edges: list[int] = []
        self.first_round: int | None = None

    def follow(self) -> Neighbours:
        """Go through all moments."""
        before: Snapshot | None = None
        for index, moment in enumerate(self.run.moments):
            op, after = moment.op, moment.state
            kind = type(op)
            if kind is ops.Knit:
                if before is not None:
                    self.knit(index, op.passes, before, after)  # type: ignore[union-attr]
            elif kind in NOTED:
                self.by_hand(index, op)
                self.known = (after.front.loaded, after.back.loaded)
                if self.shape == "rib" and not all(self.known):
                    self.shape = "row"  # taken to one bed it is a flat piece like any other
            elif (after.front.loaded, after.back.loaded) != self.known:
                self.put_off.append(index)
                self.known = (after.front.loaded, after.back.loaded)
                self.grown = self.grown or kind is ops.CastOn
            before = after
        if self.loose:
            self.catch_up()
        return Neighbours(tuple(self.meetings), tuple(self.seams), tuple(self.heels),
                          tuple(self.hands.hems), tuple(self.pockets), tuple(self.shut),
                          tuple(self.bare_edges), self.first_round)

    # ---- rows

    def knit(self, index: int, passes: int, before: Snapshot, after: Snapshot) -> None:
        """Look at a pass only if something has changed since the last one."""
        front, back = before.front, before.back
        kind = (front.action, back.action, not front.work, not back.work, after.front.loaded,
                after.back.loaded)
        if kind != self.kind or self.loose:
            self.kind = kind
            self.way = way(before, after)
        shape, bed = self.way
        if shape == "row" and (front.hold or back.hold):
            self.note_heel(index, bed, before)
        if shape is None:
            return
        if self.loose or self.grown or (after.front.loaded, after.back.loaded) != self.known:
            self.look(index, passes, shape, bed, before, after)
        elif shape == "round" and self.shape == "rib":
            self.in_pocket(index, passes)
        elif shape == "rib" and self.shape == "rib":
            self.rib_goes_on(passes)
        elif shape != self.shape and not (shape == "row" and after.front.loaded
                                          and after.back.loaded):
            self.look(index, passes, shape, bed, before, after)
        self.laid = self.known

    def look(self, index: int, passes: int, shape: Order, bed: Bed, before: Snapshot,
             after: Snapshot) -> None:
        """The first pass along an order that is new."""
        self.catch_up()
        fresh = self.hands.fresh(after)
        self.known = (after.front.loaded, after.back.loaded)
        if before.feeder is None or not any(self.cloth.on):
            return
        changed = bool(fresh) or self.loose
        self.loose = self.grown = False
        if shape == "round" and self.shape == "rib" and len(fresh) < sum(map(len, self.cloth.on)):
            self.in_pocket(index, passes)
            if self.pocket is not None:
                self.open_pocket()
        elif shape == "rib" and self.shape == "round" and not changed:
            self.shut.append(index)
            self.cloth.link_anew(self.order("rib", bed, before), False)
            self.below = passes
        else:
            self.judge(index, shape, bed, before, fresh)
            self.begin(index, passes, shape, before, fresh)
        if shape != "row" or not after.on_both:
            self.shape = shape

    def begin(self, index: int, passes: int, shape: Order, before: Snapshot,
              fresh: set[int]) -> None:
        """What the next pass has to know of this one: is it a cast-on, a rib, an edge?"""
        self.pocket = self.zigzag = None
        if shape != "rib":
            return
        begun = len(fresh) == sum(map(len, self.cloth.on))
        self.below = passes if self.shape != "rib" or begun else self.below + passes
        if begun and before.feeder not in self.waste:
            self.zigzag = index
            if passes > 1:
                self.rib_goes_on(0)

    def order(self, shape: Order, bed: Bed, state: Snapshot) -> list[int]:
        """The columns in the order of the yarn."""
        if shape == "round":
            return self.cloth.round()
        if shape == "rib":
            return self.cloth.rib(state.racking)
        return self.cloth.row(bed)

    def judge(self, index: int, shape: Order, bed: Bed, state: Snapshot,
              fresh: set[int]) -> None:
        """What lies beside what; then the yarn makes neighbours of them."""
        cloth = self.cloth
        order = self.order(shape, bed, state)
        closed = shape == "round"
        if len(fresh) == len(order):
            cloth.link_anew(order, closed)
            if closed:
                self.close_ring(index, order)
            return
        worked = self.worked(state)
        places = cloth.places()
        seen = order
        found = list(joints(cloth, order, closed, places, fresh, worked))
        if found and not fresh and self.laid == self.known:
            # On the same needles as before: strands that changed places are a cable.
            seen = without_cables(cloth, order, closed)
            found = list(joints(cloth, seen, closed, places, (), worked))
        if found:
            met = [(one, two) for kind, one, two in found if kind == "edges"]
            self.met += met
            self.unplaced = self.unplaced or bool(met)
            self.meetings.append(meeting(index, shape, cloth, seen, found, places, self.ring,
                                         self.hands.touched))
        elif closed:
            again = list(self.ring.hung_again(index, order, cloth))
            self.meetings += again
            self.unplaced = self.unplaced or bool(again)
        self.hands.touched.clear()
        if found or fresh or seen is not order:
            cloth.sew(order, closed, worked)
        if closed:
            self.close_ring(index, order)
        elif shape == "row" and all(cloth.on) and self.shape != "rib":
            self.loose = any(True for _ in joints(cloth, cloth.round(), True, places))

    def worked(self, state: Snapshot) -> set[int] | None:
        """The columns that passes work; None for all of them."""
        held = [bed.held if bed.hold_respected else 0 for bed in (state.front, state.back)]
        if not any(held):
            return None
        return {column for bed in BEDS for n, column in self.cloth.on[bed].items()
                if not held[bed] >> n & 1}

    def close_ring(self, index: int, order: Sequence[int]) -> None:
        """A round has closed what hangs: where are its seams?"""
        if self.unplaced:
            places = self.cloth.places()
            whole = [(one, two) for one, two in self.met
                     if one in places and two in places and self.cloth.linked(one, two)]
            # Kept: a tube that is hung again may have its seam elsewhere.
            self.seams += [seam_at(index, places[one], places[two], self.cloth)
                           for one, two in whole]
            self.met, self.unplaced = whole, False
        if self.first_round is None:
            self.first_round = index
        self.ring.remember(order, self.cloth)

    # ---- two layers

    def rib_goes_on(self, passes: int) -> None:
        """Rows of a rib; on the bare row of a cast-on they leave it as it is."""
        self.below += passes
        self.pocket = None
        if self.zigzag is not None:
            self.bare_edges.append(self.zigzag)
            self.zigzag = None

    def in_pocket(self, index: int, passes: int) -> None:
        """Circular passes over a rib: an edge, as long as they are few."""
        first, before = self.pocket or (index, 0)
        self.pocket = (first, before + passes)
        self.zigzag = None
        if before + passes > POCKET:
            self.open_pocket()

    def open_pocket(self) -> None:
        """The pocket is no edge any more: each bed is a face of a tube."""
        assert self.pocket is not None
        if self.below > 1:
            self.pockets.append(Pocket(self.pocket[0], self.below))
        self.catch_up()
        order = self.cloth.round()
        self.cloth.link_anew(order, True)
        self.hands.made.clear()
        self.close_ring(self.pocket[0], order)
        self.shape, self.pocket = "round", None

    def note_heel(self, index: int, bed: Bed, before: Snapshot) -> None:
        """Short rows on one bed of a tube, held at both ends, while the other bed rests."""
        if self.heels and self.heels[-1].bed is bed:
            return
        here, there = before.bed(bed), before.bed(bed.opposite)
        if not here.hold_respected or there.action != "rest" or not there.loaded:
            return
        held = here.held
        working = here.loaded & ~held
        if (held and working and lowest(held) < lowest(working)
                and highest(held) > highest(working)):
            self.heels.append(Heel(index, bed, "short rows"))

    # ---- hands

    def catch_up(self) -> None:
        """Carry out what was put off."""
        for index in self.put_off:
            self.hands.carry_out(index, self.run.moments[index], self.shape == "rib")
        self.put_off.clear()

    def by_hand(self, index: int, op: ops.Op) -> None:
        """Put off what hands do until somebody needs to know the order."""
        if isinstance(op, (ops.Graft, ops.GraftGroups)):
            self.meetings += self.grafted(index, op)
        elif isinstance(op, CLOSING):
            self.closed(index)
        elif isinstance(op, MOVING):
            self.loose = True
        elif isinstance(op, (ops.Mark, ops.KnitIn)) and all(self.known) and self.heel_slit(op):
            self.heels.append(Heel(index, op.bed, "slit"))
        self.put_off.append(index)

    def heel_slit(self, op: ops.Mark | ops.KnitIn) -> bool:
        """Whether a slit takes a whole bed; over part of it, it is a thumb or a pocket."""
        if isinstance(op, ops.Mark):
            return op.kind == "slit"
        return not self.known[op.bed] & ~op.needles

    def closed(self, index: int) -> None:
        """What hands have hung is bound off or gathered without a row over it.

        In which order is known for one bed, and for both if they were a tube or a rib before.
        """
        if not self.loose or (all(self.known) and self.shape == "row"):
            return
        self.catch_up()
        self.loose = False
        state = self.run.moments[index - 1].state
        if all(self.cloth.on):
            self.judge(index, self.shape or "round", FRONT, state, set())
        else:
            self.judge(index, "row", FRONT if self.cloth.on[FRONT] else BACK, state, set())

    def grafted(self, index: int, op: ops.Graft | ops.GraftGroups) -> Iterator[Meeting]:
        """Do the stitches that are grafted lie beside each other on both sides?"""
        cloth = self.cloth
        if isinstance(op, ops.Graft):
            if not self.loose:
                return
            self.catch_up()
            sides = [[column for n, column in sorted(cloth.on[bed].items()) if mask >> n & 1]
                     for bed, mask in ((FRONT, op.front), (BACK, op.back))]
            whole = sum(map(len, sides)) == sum(map(len, cloth.on))
        else:
            self.catch_up()
            sides = [self.hands.groups.get(name, []) if self.hands.freed.get(name) != "slit" else []
                     for name in dict.fromkeys((op.first, op.second))]
            whole = len(sides) == 2
        if (not whole and isinstance(op, ops.GraftGroups)) or not all(sides):
            return
        places = cloth.places()
        hanging = {*places, *sides[0], *sides[1]}
        for order in [[*sides[0], *sides[1][::-1]]] if whole else sides:
            found = [joint for joint in joints(cloth, order, whole, hanging) if joint[0] == "jump"]
            if isinstance(op, ops.GraftGroups):
                # An open edge lies opposite what it is grafted to: any two ends may meet.
                found = [(kind, one, two) for kind, one, two in found
                         if not (free(cloth, one, hanging) and free(cloth, two, hanging))]
            if found:
                yield meeting(index, "graft", cloth, order, found, places, self.ring,
                              self.hands.touched, hanging)


def way(before: Snapshot, after: Snapshot) -> tuple[Order | None, Bed]:
    """How passes go over what is on the needles afterwards, and for a row on which bed.

    Where only one bed is set to circular, both act in every other pass: that joins them as a rib.
    """
    front, back = before.front, before.back
    ready = [state.action != "rest" and bool(state.worked) for state in (front, back)]
    if not any(ready):
        return None, FRONT
    if not all(ready):
        return "row", FRONT if ready[FRONT] else BACK
    return "round" if before.both_circular else "rib", FRONT
