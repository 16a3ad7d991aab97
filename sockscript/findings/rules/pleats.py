"""Short rows of one bed in a fabric that both beds knit together."""

from __future__ import annotations

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.fabric.measures import is_rib
from sockscript.fabric.sock import sock_of
from sockscript.findings.kind import Kind
from sockscript.findings.origins import SHORT_ROWS_BEGIN

HEEL_IN_ONE_LAYER = Kind(
    "heel-in-one-layer", "warning",
    "The rows before and after these short rows go over both beds at once: leg and foot are one "
    "layer of rib there, and no heel but a pleat comes of it.",
    "Turn the rib to a tube before the leg (do rib-to-one-bed, a row, do turn-to-tube), and knit "
    "leg and foot in circular.",
    led=SHORT_ROWS_BEGIN,
    follows_anywhere=("tube-knitted-shut",))


def heel_in_one_layer(run: Run) -> list[Mishap]:
    """Cups of one bed between rows over both beds."""
    sock = sock_of(run)
    found = []
    for cup in sock.heel if sock is not None else ():
        before = [change for change in run.passes() if change.number < cup.first]
        after = [change for change in run.passes() if change.number >= cup.last]
        if before and after and is_rib(before[-1].before) and is_rib(after[0].before):
            found.append(run.changes()[cup.first].mishap(HEEL_IN_ONE_LAYER.fault()))
    return found
