"""What a pattern asks that a member's machine cannot do, and what she can do instead.

Told from the knitting itself, on the machine that the pattern describes: how many needles each
size takes, on one bed and on both together, which settings and stitch sizes it uses.  That a tube
can be knitted flat and sewn, that stitches wait on waste yarn where there is no hold, and that
dials do not agree is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from sockscript.expand.run import Run
from sockscript.findings.checked import Checked
from sockscript.findings.prove import Proof, prove
from sockscript.machine.load import script_profile
from sockscript.machine.profile import Profile
from sockscript.numbers.quantity import Quantity, show
from sockscript.operations import ops

OF_THE_MACHINE = frozenset({
    "machine-lacks", "setting-not-had", "racking-too-far", "size-off-dial", "needle-off-bed",
    "too-few-needles", "no-second-bed"})
"""Findings that are of the machine and not of the pattern."""
_INSTEAD = {
    "hold": "It cannot hold needles: stitches that wait in a short-row heel are scrapped off onto "
            "waste yarn and hung back, one a row; an afterthought heel needs no hold at all.",
    "tuck": "It has no tuck: an occasional tuck is laid over the needle by hand, as a wrap.",
}


def instead(checked: Checked) -> list[str]:
    """Paragraphs for a machine that was asked for and lacks something; else none."""
    if checked.machine is None or checked.profile is None or checked.proof is None \
            or not any(one.kind in OF_THE_MACHINE for one in checked.findings):
        return []
    meant = prove(checked.proof.prepared, script_profile(checked.script))
    sizes = checked.script.sizes
    return list(_told(checked.profile, meant,
                      sizes.names if sizes is not None else ("one size",)))


def _told(profile: Profile, meant: Proof, names: Sequence[str]) -> Iterator[str]:
    """A sentence for each thing in which a machine differs from the one that is meant."""
    runs = [[outcome.run for outcome in outcomes] for outcomes in meant.outcomes]
    every = [run for of_size in runs for run in of_size]
    two = any(moment.state.back.loaded for run in every for moment in run.moments)
    actions = {moment.op.action for run in every for moment in run.moments
               if isinstance(moment.op, ops.SetBed)}
    holds = any(moment.state.front.hold_respected or moment.state.back.hold_respected
                for run in every for moment in run.moments)
    flat = two and (profile.beds < 2 or ("circular" in actions
                                         and "circular" not in profile.settings))
    if flat:
        yield (("It has one bed" if profile.beds < 2 else "It cannot knit in rounds")
               + ", and this is knitted on two: knit each section flat on one bed, over all its "
               "stitches and two more for the seam, and sew it; a rib is dropped and latched up by "
               "hand, or has every third needle out of work.")
    yield from _needles(profile, [max(map(_both if flat else _one, of_size)) + 2 * flat
                                  for of_size in runs], names, flat)
    for setting, words in _INSTEAD.items():
        wanted = holds if setting == "hold" else setting in actions
        if wanted and setting not in profile.settings:
            yield words
    racked = max((abs(moment.op.steps) for run in every for moment in run.moments
                  if isinstance(moment.op, ops.Rack)), default=0)
    if racked > profile.racking and not flat:
        yield (f"It is racked by {profile.racking} at most and this asks {racked}: move the "
               "stitches to those needles by hand.")
    yield from _dial(profile, every)


def _one(run: Run) -> int:
    """The most needles that one bed needs: out to the outermost, both ways from the centre."""
    return max((max(_reach(moment.state.front.in_use, run), _reach(moment.state.back.in_use, run))
                for moment in run.moments), default=0)


def _reach(mask: int, run: Run) -> int:
    if not mask:
        return 0
    middle = run.engine.profile.needles // 2
    left = middle - ((mask & -mask).bit_length() - 1)
    return 2 * max(left, mask.bit_length() - middle)


def _both(run: Run) -> int:
    """The most stitches that hang on both beds together."""
    return max((moment.state.stitches() for moment in run.moments), default=0)


def _needles(profile: Profile, wanted: Sequence[int], names: Sequence[str], flat: bool
             ) -> Iterator[str]:
    wide = [f"{name} ({count})" for name, count in zip(names, wanted, strict=False)
            if count > profile.needles]
    if not wide:
        return
    fits = [name for name, count in zip(names, wanted, strict=False) if count <= profile.needles]
    yield (f"Its bed has {profile.needles} needles. "
           + ("Too wide for it, knitted flat: " if flat else "Too wide for it: ")
           + f"{', '.join(wide)}. "
           + (f"These fit: {', '.join(fits)}. " if fits else "No size fits. ")
           + "A thicker yarn makes the same foot of fewer stitches: swatch it and let "
           "'sockscript fit' reckon with its gauge.")


def _dial(profile: Profile, every: Sequence[Run]) -> Iterator[str]:
    off = [size for size in sizes_used(every) if not profile.dial_low <= size <= profile.dial_high
           or (profile.dial_step is not None
               and (size - profile.dial_low) % profile.dial_step)]
    if off:
        yield (f"Its dial has no {', '.join(show(Quantity(one)) for one in off)}: it runs from "
               f"{show(Quantity(profile.dial_low))} to {show(Quantity(profile.dial_high))}. No two "
               "dials agree: find your own number for each with a swatch that has the gauge of "
               "the pattern. The sheet for your machine leaves a box for it.")


def sizes_used(every: Sequence[Run]) -> list[Fraction]:
    """The stitch sizes that a pattern sets, in order."""
    return sorted({moment.op.size for run in every for moment in run.moments
                   if isinstance(moment.op, ops.SetSize)})
