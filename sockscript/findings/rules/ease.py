"""A sock that is as wide as the foot in every size, or far narrower."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.expand.values import no_counts
from sockscript.fabric.sock import sock_of
from sockscript.fabric.worn import measured_as
from sockscript.findings.kind import Kind
from sockscript.findings.rules.size_table import asked
from sockscript.numbers.quantity import Quantity, length
from sockscript.text.source import Span
from sockscript.tree import expressions as ex
from sockscript.tree.walk import nodes

AS_WIDE = Fraction(97, 100)
"""From this share of the foot's girth on a sock has no ease that would hold it: common practice
(plain knit a tenth narrower: a handbook for sock knitters; what rounding leaves of it, no
source)."""
FOOT = "foot-round"

NO_EASE = Kind(
    "no-ease", "advice",
    "The foot of the sock comes to {comes} for a foot that is {aim} round: it is not knitted "
    "narrower, and slides.",
    "Socks stay up because they are narrower than the foot, plain knit by a tenth: write for "
    "example  foot-round less 10%. If it should be loose, say so in its section: "
    "target girth foot-round.",
    follows_anywhere=("ease-left-out", "size-missed", "unlikely-foot", "measurements-contradict"))

TIGHTEST = Fraction(75, 100)
"""Rib is made up to a quarter narrower than the foot, plain knit a tenth: a handbook for sock
knitters."""

EASE_TOO_LARGE = Kind(
    "ease-too-large", "warning",
    "The foot of the sock comes to {comes} for a foot that is {aim} round: it cuts in, and hardly "
    "goes over the heel.",
    "Plain knit is made about a tenth narrower than the foot, rib up to a quarter: look at what is "
    "taken off, and whether it is taken off twice. If it is meant, say so in its section: "
    "target girth …. A sock must never cut in: with poor circulation, diabetes or swelling, ask a "
    "clinician.",
    follows_anywhere=("size-missed", "cuff-too-tight", "unlikely-foot", "measurements-contradict"))


def ease_too_large(run: Run) -> list[Mishap]:
    """A sock whose foot is more than a quarter narrower than the foot of the table."""
    found = _width(run)
    if found is None or found[1] >= found[0] * TIGHTEST:
        return []
    inches = run.script.inches
    return [Mishap(EASE_TOO_LARGE.fault(), (_place(run),), detail={
        "comes": length(round(found[1]), inches), "aim": length(found[0], inches)})]


def no_ease(by_size: Sequence[Sequence[Run]]) -> list[Mishap]:
    """Socks whose foot is as wide as the foot of the table in every size and with every choice."""
    runs = [run for size in by_size for run in size]
    widths = []
    for run in runs:
        found = _width(run)
        if found is None or found[1] < found[0] * AS_WIDE:
            return []
        widths.append(found)
    if not widths:
        return []
    (aim, comes), run = widths[0], runs[0]
    inches = run.script.inches
    return [Mishap(NO_EASE.fault(), (_place(run),), detail={
        "comes": length(round(comes), inches), "aim": length(aim, inches)})]


def _width(run: Run) -> tuple[Fraction, Fraction] | None:
    """The girth of the foot in the table, and of the finished sock; None where there is no sock, or
    the script says itself what is meant."""
    sizes = run.script.sizes
    if sizes is None or run.stopped is not None or FOOT not in sizes.measures:
        return None
    if sock_of(run) is None or asked(run.script, FOOT).settled:
        return None
    aim = run.names.get(FOOT, sizes.places[FOOT], no_counts)
    comes = measured_as(run, FOOT)
    if not comes or not isinstance(aim, Quantity) or aim.unit != "mm":
        return None
    return Fraction(aim.value), min(comes)


def _place(run: Run) -> Span:
    """Where the girth is turned into stitches, or else its row of the table."""
    assert run.script.sizes is not None
    calls = [node.at for root in (*run.script.lets, *run.script.sections) for node, _ in nodes(root)
             if isinstance(node, ex.Call) and node.function == "stitches"
             and any(isinstance(one, ex.Name) and one.name == FOOT
                     for one, _ in nodes(node.arguments))]
    return calls[0] if calls else run.script.sizes.places[FOOT]
