"""What can hurt someone at the machine or in the finished sock, said where it matters.

All of it is common practice, no source: the manual of the machine comes first, and for feet a
clinician.
"""

from __future__ import annotations

from collections.abc import Sequence

from sockscript.expand.run import Run
from sockscript.fabric.hand import hand_of
from sockscript.operations import ops

AFTER_A_MISHAP = (
    "Latch hooks are sharp, and weights fall when loops come off the needles: hold the work, keep "
    "children away, stop a motor before hands go between the beds, and never force a carriage "
    "that jams. The manual of your machine comes first.")
"""Said where someone puts loops back on the needles."""

_AT_THE_MACHINE = (
    "Latch hooks, transfer tools and the comb are sharp: keep fingers and eyes clear, and never "
    "reach between the beds while the carriage moves. Switch a motor drive off before hands go in, "
    "and never force a carriage that jams. The manual of your machine comes first.")
_RACKING = "Carriages stay clear of the working needles while a bed is racked."
_HANGING = ("Weights fall when knitting comes off: hold the work, keep feet clear, and keep "
            "children away from weights that hang.")
_WEAR = "Wool, nylon and dyes can irritate skin: wash the piece before it is worn."
_WORN = (
    "A cuff must pass easily over the heel and leave no marks; a knitted sock is no medical "
    "compression garment. With poor circulation, diabetes, swelling or numb feet, ask a clinician "
    "before wearing snug socks.",
    "Socks are slippery on smooth floors and stairs: children and old people need non-slip soles. "
    + _WEAR,
)
_ON_HANDS = (
    "A cuff must pass easily over the hand and leave no marks. With poor circulation, diabetes, "
    "swelling or numb hands, ask a clinician before wearing it snug. " + _WEAR,
)


def usual_cautions(runs: Sequence[Run]) -> tuple[str, ...]:
    """The usual cautions: with racking only where a bed is racked, and of hands instead of feet
    for a tube with a thumb.

    Weights are spoken of even where the script hangs none: short rows are rarely knitted without.
    """
    racked = any(isinstance(moment.op, ops.Rack) for run in runs for moment in run.moments)
    return (_AT_THE_MACHINE, *((_RACKING,) if racked else ()), _HANGING,
            *(_ON_HANDS if runs and all(hand_of(run) for run in runs) else _WORN))
