"""Where a state was brought about that a later line stumbles over."""

from __future__ import annotations

from collections.abc import Callable

from sockscript.expand.record import Mishap, Moment
from sockscript.expand.run import Run
from sockscript.operations import ops
from sockscript.operations.beds import Bed
from sockscript.text.source import Span

Test = Callable[[Moment, Mishap], bool]


def _hung(moment: Moment, mishap: Mishap) -> bool:
    op = moment.op
    item = mishap.fault.name if mishap.fault.name in ("comb", "weights") else "comb"
    return isinstance(op, ops.Tackle) and op.action == "hang" and op.item == item


def _held(moment: Moment, mishap: Mishap) -> bool:
    op = moment.op
    if not isinstance(op, ops.Place) or op.position != "hold":
        return False
    return bool((op.front if mishap.fault.bed is Bed.FRONT else op.back) & mishap.fault.needles)


def _set(moment: Moment, mishap: Mishap) -> bool:
    op = moment.op
    return isinstance(op, ops.SetBed) and (mishap.fault.bed is None or op.bed is mishap.fault.bed)


_ORIGINS: dict[str, tuple[Test, str]] = {
    "fold-with-comb": (_hung, "the comb was hung here"),
    "never-comb-off": (_hung, "the comb was hung here"),
    "already-hung": (_hung, "it was hung here"),
    "yarn-not-cut": (lambda m, _: isinstance(m.op, ops.Thread), "the first yarn was threaded here"),
    "fold-with-yarn": (lambda m, _: isinstance(m.op, ops.Thread), "the yarn was threaded here"),
    "yarn-left-in-feeder": (lambda m, _: isinstance(m.op, ops.Thread), "it was threaded here"),
    "pass-without-yarn": (lambda m, _: isinstance(m.op, ops.Cut), "the yarn was cut here"),
    "wrap-without-yarn": (lambda m, _: isinstance(m.op, ops.Cut), "the yarn was cut here"),
    "cast-on-without-yarn": (lambda m, _: isinstance(m.op, ops.Cut), "the yarn was cut here"),
    "bind-off-without-yarn": (lambda m, _: isinstance(m.op, ops.Cut), "the yarn was cut here"),
    "nothing-to-cut": (lambda m, _: isinstance(m.op, ops.Cut), "the yarn was cut here already"),
    "held-never-returned": (_held, "they were put into hold here"),
    "hold-not-set": (_held, "they were put into hold here"),
    "tube-racked": (lambda m, _: isinstance(m.op, ops.Rack), "it was racked here"),
    "held-too-long": (_held, "they were put into hold here"),
    "bed-left-resting": (_set, "it was set here"),
    "bed-left-knitting": (_set, "it was set here"),
    "nothing-knits": (_set, "the bed was set here"),
    "circular-on-one-bed": (_set, "it was set here"),
}
"""For each finding: how the operation is told that led to it, and what to say of its line."""


def origin(mishap: Mishap, run: Run) -> tuple[Span, str] | None:
    """The line of the script that led to a mishap, and what happened there."""
    known = _ORIGINS.get(mishap.fault.kind)
    if known is None:
        return None
    leads, label = known
    for moment in reversed(run.moments[:max(0, mishap.moment)]):
        if leads(moment, mishap):
            own = [place for place in moment.places if place.source is run.script.source]
            return (own[-1] if own else moment.places[-1]), label
    return None
