"""Faults: what the simulator noticed while it carried out one operation.

A fault is bare fact (which needles, how many); the words for it are in ``findings``.
"""

from __future__ import annotations

from attrs import frozen

from sockscript.operations.beds import Bed


@frozen
class Fault:
    """One thing that went wrong in one operation.

    ``kind`` is the stable name of the finding; ``bed`` and ``needles`` (a bit mask) say where;
    ``amount`` is a count whose meaning the kind defines; ``name`` a yarn, group or setting;
    ``leaves`` is the needle where the yarn leaves the work at that moment, for a jump.
    """

    kind: str
    bed: Bed | None = None
    needles: int = 0
    amount: int = 0
    name: str = ""
    leaves: tuple[Bed, int] | None = None
