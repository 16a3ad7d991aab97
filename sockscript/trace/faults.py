"""Faults: what the simulator noticed while it carried out one operation.

A fault is bare fact (which needles, how many); the words for it are in ``findings``.
"""

from __future__ import annotations

from typing import Literal, NewType

from attrs import frozen

from sockscript.operations.beds import Bed

EngineFault = Literal[
    "loop-on-idle-needle", "pass-without-yarn", "transfer-to-idle-needle", "conservation-broken",
    "wrong-carriage-side", "not-set-to-circular", "bed-left-resting", "bed-left-knitting",
    "nothing-knits", "beds-collide", "empty-needle-catches", "yarn-jump", "yarn-not-cut",
    "nothing-to-cut", "added-to-nothing", "third-yarn", "yarn-in-feeder-already",
    "yarn-waits-elsewhere", "yarn-still-waits",
    "transfer-from-empty", "transfer-onto-loop", "nothing-to-join",
    "stack-too-high", "too-many-strands", "double-not-knitted", "fold-with-comb",
    "fold-with-yarn", "wrap-without-yarn", "wrap-on-idle-needle", "wrap-on-empty-needle",
    "cast-on-without-yarn", "cast-on-idle-needle", "cast-on-over-loop", "bind-off-without-yarn",
    "bind-off-from-empty", "scrap-from-empty", "graft-from-empty", "gather-from-empty",
    "drop-from-empty", "unequal-graft", "nothing-to-latch-up", "fill-target-not-free",
    "name-taken", "no-such-group", "slit-grafted", "rehang-count", "mark-on-empty",
    "knit-in-over-empty", "not-an-edge",
    "setting-not-had", "racking-too-far", "size-off-dial", "needle-off-bed", "too-few-needles",
    "no-second-bed", "already-hung", "not-hung", "expectation-not-met", "never-true",
    "technique-out-of-place", "technique-promise-broken", "nothing-there",
]
"""What the simulator tells, and the performing of a line; each has its words in
``findings/kinds``."""

FindingName = NewType("FindingName", str)
"""The name of a finding that a rule tells (``findings.kind`` makes these)."""


@frozen
class Fault:
    """One thing that went wrong in one operation.

    ``kind`` is the stable name of the finding; ``bed`` and ``needles`` (a bit mask) say where;
    ``amount`` is a count whose meaning the kind defines; ``name`` a yarn, group or setting;
    ``leaves`` is the needle where the yarn leaves the work at that moment, for a jump.
    """

    kind: EngineFault | FindingName
    bed: Bed | None = None
    needles: int = 0
    amount: int = 0
    name: str = ""
    leaves: tuple[Bed, int] | None = None
