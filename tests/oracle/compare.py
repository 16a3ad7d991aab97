"""The engine's state in the same plain form as the oracle's."""

from __future__ import annotations

from sockscript.operations.beds import BACK, FRONT
from sockscript.trace.engine import Engine


def describe_engine(engine: Engine) -> dict:
    """The whole state of an engine as plain data, read through its public interface."""
    def needles(bed):
        increase, cast_on = engine.wanted(bed)
        rows = []
        for n in range(engine.profile.needles):
            needle = engine.needle(bed, n)
            wanted = "increase" if increase >> n & 1 else "cast-on" if cast_on >> n & 1 else None
            rows.append((needle.position, needle.loops, needle.strands, wanted))
        return rows

    state = engine.snapshot()
    return {
        "needles": {bed.word: needles(bed) for bed in (FRONT, BACK)},
        "settings": [(state.front.action, state.front.hold_respected, engine.sizes[0]),
                     (state.back.action, state.back.hold_respected, engine.sizes[1])],
        "pitch": state.pitch, "racking": state.racking, "carriage": state.carriage,
        "counter": state.counter, "feeder": state.feeder, "attached": state.attached,
        "hung": (state.comb, state.weights),
        "groups": {name: (group.kind, group.stacks) for name, group in engine.groups.items()},
        "ladders": {bed.word: dict(engine.ladders(bed)) for bed in (FRONT, BACK)},
        "ends": dict(engine.ends), "yarn_loops": dict(engine.yarn_loops),
        "yarn_strands": dict(engine.yarn_strands),
        "ledger": state.ledger._asdict(),
    }


def check_masks(engine: Engine) -> None:
    """The derived sets of a snapshot say the same as the needles one by one."""
    state = engine.snapshot()
    for bed, seen in ((FRONT, state.front), (BACK, state.back)):
        loops = 0
        for n in range(engine.profile.needles):
            needle = engine.needle(bed, n)
            assert bool(seen.loaded >> n & 1) == bool(needle.loops)
            assert bool(seen.double >> n & 1) == (len(needle.loops) > 1)
            assert bool(seen.laid >> n & 1) == bool(needle.strands)
            loops += len(needle.loops)
        assert seen.loops == loops
