"""The engine's state in the same plain form as the oracle's, and what readers ask of it."""

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
            ways = engine.bed(bed)
            way = "tuck" if ways.tuck >> n & 1 else "slip" if ways.slip >> n & 1 else "knit"
            rows.append((needle.position, needle.loops, needle.strands, wanted, way))
        return rows

    state = engine.snapshot()
    return {
        "needles": {bed.word: needles(bed) for bed in (FRONT, BACK)},
        "settings": [(state.front.action, state.front.hold_respected, engine.sizes[0]),
                     (state.back.action, state.back.hold_respected, engine.sizes[1])],
        "pitch": state.pitch, "racking": state.racking, "carriage": state.carriage,
        "counter": state.counter, "feeder": state.yarns,
        "waiting": {yarn: tuple(one) for yarn, one in state.waiting}, "attached": state.attached,
        "hung": (state.comb, state.weights),
        "groups": {name: (group.kind, group.stacks) for name, group in engine.groups.items()},
        "ladders": {bed.word: dict(engine.ladders(bed)) for bed in (FRONT, BACK)},
        "ends": dict(engine.ends), "yarn_loops": dict(engine.yarn_loops),
        "yarn_strands": dict(engine.yarn_strands),
        "ledger": state.ledger._asdict(),
    }


def check_masks(engine: Engine, plain) -> None:
    """What a snapshot says of the beds is so, needle by needle, on the plain machine."""
    state = engine.snapshot()
    for bed in (FRONT, BACK):
        seen, needles = state.bed(bed), plain.beds[bed]
        assert seen is engine.bed(bed) is (state.front, state.back)[bed]

        def those(test, needles=needles):
            return sum(1 << n for n, needle in enumerate(needles) if test(needle))

        working = those(lambda needle: needle.position in ("work", "upper"))
        assert seen.work == those(lambda needle: needle.position == "work")
        assert seen.upper == those(lambda needle: needle.position == "upper")
        assert seen.hold == those(lambda needle: needle.position == "hold")
        assert seen.in_use == those(lambda needle: needle.position != "out")
        assert seen.working == working
        assert seen.active == sum(1 << n for n in plain.gone_over(bed))
        assert seen.worked == sum(1 << n for n in plain.active(bed))
        assert seen.loaded == those(lambda needle: needle.loops)
        assert seen.double == those(lambda needle: len(needle.loops) > 1)
        assert seen.laid == those(lambda needle: needle.strands)
        assert seen.held == those(lambda needle: needle.loops and needle.position == "hold")
        assert seen.loops == sum(len(needle.loops) for needle in needles)
        assert [seen.stitches(), seen.stitches("work"), seen.stitches("hold")] == [
            sum(bool(needle.loops) and needle.position in where for needle in needles)
            for where in (("out", "work", "upper", "hold"), ("work", "upper"), ("hold",))]
        loaded = [n for n, needle in enumerate(needles) if needle.loops]
        if loaded:
            assert (seen.edge("left"), seen.edge("right")) == (loaded[0], loaded[-1])
        at_work = [n for n in range(len(needles)) if working >> n & 1]
        for side, beyond in (("left", lambda n, work: n < work[0]),
                             ("right", lambda n, work: n > work[-1])):
            assert seen.hold_beyond(side) == sum(
                1 << n for n, needle in enumerate(needles)
                if needle.position == "hold" and (not at_work or beyond(n, at_work)))
    check_turns(engine, plain)


def check_turns(engine: Engine, plain) -> None:
    """Which needles the next passes work: looked at pass by pass."""
    state, way = engine.snapshot(), engine.profile.front_circular
    side, rows = plain.carriage, [0, 0]
    for done in range(5):
        assert state.turns(done, way) == tuple(rows)
        acting = plain.acting(side)
        if not done:
            assert state.acting(way) == tuple(
                sum(1 << n for n in acting.get(bed, ())) for bed in (FRONT, BACK))
        rows = [rows[bed] + (bed in acting) for bed in (FRONT, BACK)]
        side = "left" if side == "right" else "right"
