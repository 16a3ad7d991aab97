"""Slips that any knitter sees and puts right on the spot, so that the work goes on as it was meant.

A slip is told once, where it happens; what follows is performed as if it had been right.  Only
what is plain is put right: a bed that is not set as the line says, a feeder without yarn, a comb or
a yarn that a fold cannot do with.  A stitch that is lost stays lost.
"""

from __future__ import annotations

from collections.abc import Iterator

from sockscript.operations import ops
from sockscript.operations.beds import BEDS
from sockscript.trace.faults import Fault
from sockscript.trace.machine import Machine

YARN, CUT, COMB = "yarn", "cut", "comb"
"""What has been put right and will be met again in the script: a yarn threaded, cut, a comb off."""


SEEN_AT_ONCE = frozenset({ops.Knit, ops.CastOn, ops.BindOff, ops.Fold, ops.Thread, ops.Add,
                          ops.Change, ops.Cut, ops.Tackle})
"""Operations before which there may be something to put right, or to leave out."""


def put_right(machine: Machine, op: ops.Op, first_yarn: str
              ) -> Iterator[tuple[Fault, ops.Op]]:
    """The slips before an operation, each with the operation that puts it right.

    That is to be carried out before the next is asked for.  ``first_yarn``: what is knitted with
    where no yarn was threaded before.
    """
    if type(op) is ops.Knit:
        yield from _beds(machine, op)
        yield from _yarn_for_pass(machine, first_yarn)
    elif type(op) is ops.CastOn:
        if machine.feeder is None:
            yield from _threaded(machine, Fault("cast-on-without-yarn"), first_yarn)
    elif type(op) is ops.BindOff:
        if machine.feeder is None:
            yield from _threaded(machine, Fault("bind-off-without-yarn"), first_yarn)
    elif type(op) is ops.Add:
        if machine.feeder is None:
            yield from _threaded(machine, Fault("added-to-nothing", name=op.yarn), first_yarn)
    elif type(op) is ops.Fold and op.moves:
        if machine.comb:
            machine.put_right |= {COMB}
            yield Fault("fold-with-comb"), ops.Tackle("comb", "remove")
        if machine.feeder is not None and machine.attached is not None \
                and machine.attached in [(move[0], move[1]) for move in op.moves]:
            bed, needle = machine.attached
            machine.put_right |= {CUT}
            yield Fault("fold-with-yarn", bed, 1 << needle), ops.Cut()


def as_it_is_now(machine: Machine, op: ops.Op) -> list[ops.Op]:
    """What an operation of the script comes to, where a slip before it was put right: nothing if
    it was done already, and a yarn that nobody threaded is cut first."""
    if type(op) in (ops.Thread, ops.Change):
        machine.put_right -= {CUT}
        if YARN in machine.put_right:
            machine.put_right -= {YARN}
            return [ops.Cut(), op] if machine.feeder is not None else [op]
    elif type(op) is ops.Cut:
        if CUT in machine.put_right:
            machine.put_right -= {CUT}
            return [op] if machine.feeder is not None else []
    elif type(op) is ops.Tackle and op.item == "comb" and COMB in machine.put_right:
        machine.put_right -= {COMB}
        return [op] if op.action != "remove" or machine.comb else []
    return [op]


def _beds(machine: Machine, op: ops.Knit) -> Iterator[tuple[Fault, ops.Op]]:
    """Beds that are not set as a line of rows or rounds says, with what sets them so."""
    intent = op.intent
    if intent.beds and not any(machine.beds[bed].worked for bed in intent.beds):
        # The other bed is meant, or its stitches should hang here: nothing is plain.
        return
    for bed in BEDS:
        stacks = machine.beds[bed]
        if intent.rounds:
            if stacks.action != "circular" and "circular" in machine.profile.settings:
                yield Fault("not-set-to-circular", bed), ops.SetBed(bed, "circular")
        elif bed in intent.beds:
            if stacks.action == "rest":
                yield Fault("bed-left-resting", bed), ops.SetBed(bed, "knit")
        elif intent.beds and stacks.action != "rest" and stacks.worked:
            yield Fault("bed-left-knitting", bed), ops.SetBed(bed, "rest")


def _yarn_for_pass(machine: Machine, first_yarn: str) -> Iterator[tuple[Fault, ops.Op]]:
    """A yarn, if stitches would fall off the first bed that the pass works, or none be made."""
    if machine.feeder is not None:
        return
    state = machine.snapshot()
    acting = state.acting(machine.profile.front_circular)
    for bed in BEDS:
        if acting[bed]:
            lost = acting[bed] & state.bed(bed).loaded & ~state.bed(bed).tuck \
                if state.bed(bed).action != "tuck" else 0
            yield from _threaded(machine, Fault("pass-without-yarn", bed, lost), first_yarn)
            return


def _threaded(machine: Machine, fault: Fault, first_yarn: str
              ) -> Iterator[tuple[Fault, ops.Op]]:
    yarn = machine.last_yarn or first_yarn
    if yarn:
        machine.put_right |= {YARN}
        yield fault, ops.Thread(yarn)
