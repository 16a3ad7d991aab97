"""Slips that any knitter sees and puts right on the spot, so that the work goes on as it was meant.

A slip is told once, where it happens; what follows is performed as if it had been right.  Only
what is plain is put right: a bed that is not set as the line says, a feeder without yarn, a comb or
a yarn that a fold cannot do with.  A stitch that is lost stays lost.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from sockscript.operations import ops
from sockscript.operations.beds import BEDS
from sockscript.trace.faults import Fault

if TYPE_CHECKING:
    from sockscript.expand.run import Run

YARN, CUT, COMB = "yarn", "cut", "comb"
"""What has been put right and will be met again in the script: a yarn threaded, cut, a comb off."""


SEEN_AT_ONCE = frozenset({ops.Knit, ops.CastOn, ops.BindOff, ops.Fold, ops.Thread, ops.Cut,
                          ops.Tackle})
"""Operations before which there may be something to put right, or to leave out."""


def put_right(run: Run, op: ops.Op) -> Iterator[tuple[Fault, ops.Op]]:
    """The slips before an operation, each with the operation that puts it right."""
    if type(op) is ops.Knit:
        yield from _beds(run, op)
        yield from _yarn_for_pass(run)
    elif isinstance(op, (ops.CastOn, ops.BindOff)):
        if run.engine.feeder is None and (op.front or op.back):
            kind = "cast-on-without-yarn" if isinstance(op, ops.CastOn) else \
                "bind-off-without-yarn"
            yield from _threaded(run, Fault(kind))  # type: ignore[arg-type]
    elif type(op) is ops.Fold and op.moves:
        engine = run.engine
        if engine.comb:
            engine.put_right |= {COMB}
            yield Fault("fold-with-comb"), ops.Tackle("comb", "remove")
        if engine.feeder is not None and engine.attached is not None \
                and engine.attached in [(move[0], move[1]) for move in op.moves]:
            bed, needle = engine.attached
            engine.put_right |= {CUT}
            yield Fault("fold-with-yarn", bed, 1 << needle), ops.Cut()


def done_already(run: Run, op: ops.Op) -> bool:
    """Whether an operation of the script was done before it stood there, to put a slip right."""
    engine = run.engine
    if type(op) is ops.Thread:
        engine.put_right -= {CUT}
        if YARN in engine.put_right and engine.feeder is not None:
            engine.put_right -= {YARN}
            run.record(ops.Cut())
    elif type(op) is ops.Cut:
        engine.put_right -= {YARN}
        if CUT in engine.put_right and engine.feeder is None:
            engine.put_right -= {CUT}
            return True
    elif type(op) is ops.Tackle and op.item == "comb" and COMB in engine.put_right:
        engine.put_right -= {COMB}
        return op.action == "remove" and not engine.comb
    return False


def _beds(run: Run, op: ops.Knit) -> Iterator[tuple[Fault, ops.Op]]:
    engine, intent = run.engine, op.intent
    if intent.beds and not any(engine.beds[bed].active for bed in intent.beds):
        # The other bed is meant, or its stitches should hang here: nothing is plain.
        return
    for bed in BEDS:
        stacks = engine.beds[bed]
        if intent.rounds:
            if stacks.action != "circular" and "circular" in engine.profile.settings:
                yield Fault("not-set-to-circular", bed), ops.SetBed(bed, "circular")
        elif bed in intent.beds:
            if stacks.action == "rest":
                yield Fault("bed-left-resting", bed), ops.SetBed(bed, "knit")
        elif intent.beds and stacks.action != "rest" and stacks.active:
            yield Fault("bed-left-knitting", bed), ops.SetBed(bed, "rest")


def _yarn_for_pass(run: Run) -> Iterator[tuple[Fault, ops.Op]]:
    """A yarn, if stitches would fall off the first bed that the pass works, or none be made."""
    engine = run.engine
    if engine.feeder is not None:
        return
    state = engine.snapshot()
    acting = state.acting(engine.profile.front_circular)
    for bed in BEDS:
        if acting[bed]:
            lost = acting[bed] & state.bed(bed).loaded if state.bed(bed).action != "tuck" else 0
            yield from _threaded(run, Fault("pass-without-yarn", bed, lost))
            return


def _threaded(run: Run, fault: Fault) -> Iterator[tuple[Fault, ops.Op]]:
    yarn = _yarn_meant(run)
    if yarn is not None:
        run.engine.put_right |= {YARN}
        yield fault, ops.Thread(yarn)


def _yarn_meant(run: Run) -> str | None:
    """The yarn knitted with before, or the script's first if none was."""
    if run.engine.last_yarn is not None:
        return run.engine.last_yarn
    return next((yarn.name for yarn in run.script.yarns if yarn.role == "main"), None)
