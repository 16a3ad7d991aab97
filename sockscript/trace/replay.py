"""The machine at any point of a run: the operations up to there carried out again."""

from __future__ import annotations

from collections.abc import Iterable

from sockscript.machine.profile import Profile
from sockscript.operations.ops import Op
from sockscript.trace.engine import Engine


def replay(operations: Iterable[Op], profile: Profile) -> Engine:
    """An engine that has carried out ``operations`` in order; every needle can be asked for."""
    engine = Engine(profile)
    for operation in operations:
        engine.apply(operation)
    return engine
