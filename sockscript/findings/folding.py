"""The order in which findings are told, and which of them may only follow from an earlier one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sockscript.findings.finding import Cause, Finding

DERAILING = frozenset({
    "loop-on-idle-needle", "transfer-to-idle-needle", "nothing-knits", "empty-needle-catches",
    "transfer-from-empty", "transfer-onto-loop", "stack-too-high", "cast-on-idle-needle",
    "cast-on-over-loop", "wrap-on-empty-needle", "rehang-count", "no-such-group", "name-taken",
    "mark-on-empty", "fill-target-not-free", "needle-off-bed", "too-few-needles", "no-second-bed",
    "hold-not-set", "hold-on-wrong-bed", "circular-on-one-bed", "tube-knitted-shut", "tube-split",
    "odd-pass-in-tube", "yarn-jump", "decreases-not-mirrored", "increases-not-mirrored",
    "group-reversed", "groups-exchanged", "stitches-crossed", "stitches-out-of-order",
    "faces-interleaved", "expectation-not-met", "never-true",
    "technique-out-of-place", "technique-promise-broken", "wrong-mark", "picked-up-astray",
    "pass-without-yarn", "held-never-returned", "unequal-short-rows"})
"""After one of these other stitches hang on other needles than the author thought."""

ON_THEIR_OWN = frozenset({
    "number-in-words", "sizes-reversed", "size-unchanged-after-rib", "cast-on-size-unchanged",
    "stitch-size-differs", "rib-without-weights", "rib-without-comb", "weights-not-moved",
    "tube-without-weights",
    "fold-with-weights", "already-hung", "not-hung", "yarn-not-cut",
    "yarn-still-waits",
    "nothing-to-cut", "yarn-and-gauge-apart", "unlikely-foot", "measurements-contradict",
    "sizes-alike", "yarn-never-used", "option-without-effect", "row-never-used",
    "technique-never-called",
    "finishing-incomplete", "allow-without-effect",
    "ravel-cord-missing", "edge-will-run", "edge-left-open", "waste-knitted-in", "size-off-dial",
    "racking-too-far", "setting-not-had", "not-set-to-circular", "bed-left-resting",
    "bed-left-knitting", "pass-without-yarn", "cast-on-without-yarn", "bind-off-without-yarn",
    "fold-with-comb", "fold-with-yarn", "never-comb-off", "never-weights-off",
    "yarn-left-in-feeder", "bare-strand"})
"""These do not come of stitches that hang elsewhere: they are always told."""

OF_A_SETTING = frozenset({"beds-collide", "too-many-strands"})
"""These come in every row since one line has set the machine so; the first tells of all."""

OF_THE_HEADER = ("unlikely-foot", "measurements-contradict", "yarn-and-gauge-apart",
                 "grading-uneven")
"""Numbers above the sections that can hardly be right; what is worked out from them goes wrong
everywhere, so that they are told first."""
CERTAIN = frozenset({"unlikely-foot", "measurements-contradict", "yarn-and-gauge-apart"})
"""Those of them that are wrong whatever else was meant."""
OF_NUMBERS = frozenset({
    "size-missed", "off-target", "no-rows-fit", "negative-count", "toe-too-blunt",
    "toe-too-pointed", "toe-depth-unusual", "heel-point-unusual", "no-way-in", "ease-too-large",
    "stack-too-high", "double-not-knitted", "decreases-unlike", "transfer-to-idle-needle",
    "too-few-needles", "technique-out-of-place", "never-true"})
"""These come of too many or too few stitches or rows."""

Cases = Mapping[int, frozenset[tuple[int, int]]]
"""By the identity of a finding: in which sizes and combinations of choices it is found."""


def with_causes(findings: Sequence[Finding], cases: Cases) -> list[Finding]:
    """Each finding that may only follow from an earlier one, with the first such one.

    It may if the earlier one leaves the needles otherwise than meant, or is a number that what
    comes is worked out from, in all the cases in which the later one is found.  Whether it does
    only the next check can tell.
    """
    found: list[Finding] = []
    causes: list[Finding] = []
    for one in _header_first(findings):
        cause = None
        if one.kind not in ON_THEIR_OWN:
            where = cases.get(id(one), frozenset())
            cause = next((earlier for earlier in causes
                          if where and where <= cases.get(id(earlier), frozenset())
                          and (earlier.kind not in OF_A_SETTING or _as(earlier, one))
                          and (earlier.kind not in CERTAIN or one.kind in OF_NUMBERS)
                          and not _left_before(one, earlier)), None)
        if cause is not None:
            found.append(one._replace(cause=Cause(cause.kind, cause.at)))
            continue
        found.append(one)
        if one.kind in DERAILING or one.kind in OF_A_SETTING or one.kind in CERTAIN or one.stops:
            causes.append(one)
    return found


def _header_first(findings: Sequence[Finding]) -> list[Finding]:
    """A yarn and a gauge that do not fit may also come of a yarn that knits alone by mistake: they
    are told where they are seen, unless something comes of the numbers."""
    kinds = {one.kind for one in findings}
    early = [kind for kind in OF_THE_HEADER
             if kind != "yarn-and-gauge-apart" or kinds & OF_NUMBERS]
    return sorted(findings, key=lambda one: early.index(one.kind) if one.kind in early
                  else len(early))


def _left_before(one: Finding, cause: Finding) -> bool:
    """Whether stitches that are left on the needles were knitted before what might have led to
    that, by the lines: those of a piece that was never taken off."""
    return one.kind == "live-stitches-left" and any(
        place.at.source is cause.at.source and place.at.line < cause.at.line
        for place in one.others)


def _as(earlier: Finding, one: Finding) -> bool:
    """Whether a setting that has led to a finding has led to another one too."""
    return earlier.kind == one.kind and bool({*earlier.others} & {*one.others})
