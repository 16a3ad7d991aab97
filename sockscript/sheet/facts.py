"""What is printed round the steps, read off the simulation: tools, measurements, finishing."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from sockscript.expand.run import Run
from sockscript.fabric.halves import halves_of
from sockscript.fabric.hand import hand_of
from sockscript.fabric.side_edges import bands, seams, sewn_edges
from sockscript.fabric.sock import sock_of
from sockscript.fit.yarn import GRAMS_PER_UNIT, YARD_METRES
from sockscript.numbers.figures import Figure, figure, number_of
from sockscript.numbers.quantity import Exact, Quantity, show, with_fraction
from sockscript.operations import ops
from sockscript.trace.state import BedState, Ledger
from sockscript.tree.script import Yarn


def tools(runs: Sequence[Run]) -> list[str]:
    """The tools that the operations of the pattern ask for."""
    done = {type(moment.op) for run in runs for moment in run.moments}
    hung = {moment.op.item for run in runs for moment in run.moments
            if isinstance(moment.op, ops.Tackle)}
    found = []
    if "comb" in hung:
        found.append("cast-on comb")
    if "weights" in hung:
        found.append("weights")
    if any(bed.set_aside for run in runs for moment in run.moments
           for bed in (moment.state.front, moment.state.back)):
        found.append("claw weights for the short rows")
    prongs = sorted({len(moment.op.moves) for run in runs for moment in run.moments
                     if isinstance(moment.op, ops.Fashion)} - {0})
    if len(prongs) > 3:
        found.append(f"transfer tools with up to {prongs[-1]} prongs")
    elif prongs:
        found.append("transfer tool with " + " and ".join(
            number_of(figure([n]), "prong", "prongs") for n in prongs))
    elif done & {ops.Transfer, ops.Fill, ops.PickUp}:
        found.append("transfer tool")
    if ops.Fold in done:
        found.append("multi-prong transfer tool or thin circular needle for turning stitches")
    if done & {ops.LatchUp, ops.BindOff}:
        found.append("latch tool")
    if done & {ops.Graft, ops.GraftGroups, ops.Gather, ops.SewDown} \
            or any(seams(run) or bands(run) for run in runs):
        found.append("blunt darning needle")
    else:
        found.append("darning needle for the ends")
    return found


def is_scrapped(runs: Sequence[Run]) -> bool:
    """Whether stitches are taken off the needles onto waste yarn."""
    return any(run.changes_by(ops.ScrapOff) for run in runs)


class Needed(NamedTuple):
    """What the operations of a pattern ask of a machine.

    ``needles`` a bed, size by size; ``abilities``: ``circular``, ``tuck``, ``hold``,
    ``half-pitch``, ``full-pitch``; ``racking``: by how many needles either way.
    """

    beds: int
    needles: tuple[int, ...]
    abilities: tuple[str, ...]
    racking: int


def needed(runs: Sequence[Run]) -> Needed:
    """What the machine must have and be able to do, from what is used."""
    operations = [moment.op for run in runs for moment in run.moments]
    two = any(moment.state.back.in_use for run in runs for moment in run.moments)
    actions: set[str] = {op.action for op in operations
                         if isinstance(op, (ops.SetBed, ops.SetNeedles))}
    pitches = {op.pitch for op in operations if isinstance(op, ops.SetPitch)}
    hold = any(isinstance(op, ops.SetHold) and op.respected for op in operations)
    return Needed(
        2 if two else 1,
        tuple(max((max(_needles(m.state.front), _needles(m.state.back)) for m in run.moments),
                  default=0) for run in runs),
        (*(word for word in ("circular", "tuck") if word in actions), *(("hold",) if hold else ()),
         *(f"{pitch}-pitch" for pitch in ("half", "full") if two and pitch in pitches)),
        max((abs(op.steps) for op in operations if isinstance(op, ops.Rack)), default=0))


def machine_needs(runs: Sequence[Run]) -> list[str]:
    """The same in words."""
    needs = needed(runs)
    return ["two beds" if needs.beds == 2 else "one bed",
            f"{figure(needs.needles)} needles a bed",
            *abilities_in_words(needs.abilities, needs.racking)]


def abilities_in_words(abilities: Sequence[str], racking: int) -> list[str]:
    """``circular knitting``, ``half pitch``, ``racking by 2``."""
    return [*("circular knitting" if one == "circular" else one.replace("-", " ")
              for one in abilities), *([f"racking by {racking}"] if racking else [])]


def _needles(state: BedState) -> int:
    return state.in_use.bit_count()


def _edges_of_two_sections(runs: Sequence[Run]) -> list[str]:
    """The edges of short rows: the left one of a section goes to the right one of another."""
    by_size = [{one.title: one.left - one.right for one in sewn_edges(run)} for run in runs]
    over = {title: [found.get(title, 0) for found in by_size]
            for title in dict.fromkeys(title for found in by_size for title in found)}
    lefts = [title for title, rows in over.items() if max(rows) > 0]
    rights = [title for title, rows in over.items() if min(rows) < 0]

    def rows_of(title: str) -> str:
        return number_of(figure([abs(n) for n in over[title]]), "row", "rows")

    return [f"Sew the left edge of “{left}” ({rows_of(left)}) to the right edge of "
            f"“{right}” ({rows_of(right)})."
            for left, right in zip(lefts, rights, strict=False)]


def finishing(runs: Sequence[Run]) -> list[str]:
    """What is left to do by hand, counted by the simulation."""
    lines = []
    script = runs[0].script
    roles = {yarn.name: yarn.role for yarn in script.yarns}
    ends = [sum(count for yarn, count in run.engine.ends.items() if roles.get(yarn) == "main")
            for run in runs]
    sewn = [seams(run) for run in runs]
    titles = list(dict.fromkeys(title for one in sewn for title, _ in one))
    along = []
    for title in titles:
        rows = [dict(one).get(title, 0) for one in sewn]
        along.append(f"“{title}”, {number_of(figure(rows), 'row', 'rows')}")
    if len(along) == 1:
        lines.append(f"Sew the two side edges together: {along[0]}.")
    elif along:
        lines.append(f"Sew the two side edges together, one section after the other: "
                     f"{'; '.join(along)}.")
    lines += _edges_of_two_sections(runs)
    used = {yarn for run in runs for yarn in (*run.engine.yarn_loops,
                                               *run.engine.yarn_strands)}
    if any(roles.get(yarn) == "cord" for yarn in used):
        lines.append("Draw the ravel cord out; the waste yarn comes away with it.")
    elif any(roles.get(yarn) == "waste" for yarn in used) or is_scrapped(runs):
        lines.append("Take off all waste yarn once the stitches beside it are secured.")
    open_edges = list(dict.fromkeys(name for run in runs for name, group
                                    in run.engine.groups.items() if group.kind == "edge"))
    for name in open_edges:
        lines.append(f"Secure the open loops of the {name.replace('-', ' ')} with a row of "
                     "crochet or by sewing them down.")
    for title in dict.fromkeys(title for run in runs for title in bands(run)):
        lines.append(f"Sew the first row of “{title}” to its last row.")
    if max(ends):
        why = ": inside a mitten a loose end can wind round a finger" \
            if all(hand_of(run) for run in runs) else \
            ": inside a sock a loose end can wind round a toe" \
            if any(sock_of(run) or halves_of(run) for run in runs) else ""
        lines.append(f"Weave in {number_of(figure(ends), 'end', 'ends')} and cut off what is "
                     f"left{why}.")
    lines.append("Wash and rest the piece before you measure or wear it.")
    return lines


class LedgerLine(NamedTuple):
    """The bank book of one section: what came in, what went out, what is on the needles."""

    title: str
    entries: tuple[tuple[str, Figure], ...]


def ledger(runs: Sequence[Run]) -> list[LedgerLine]:
    """The stitch ledger section by section; entries that are 0 in every size are left out."""
    lines = []
    for index in range(min(len(run.sections) for run in runs)):
        before = [_ledger_at(run, run.sections[index].first) for run in runs]
        after = [_ledger_at(run, run.sections[index].last) for run in runs]
        entries = []
        for field in Ledger._fields:
            values = [getattr(b, field) - getattr(a, field)
                      for a, b in zip(before, after, strict=True)]
            if any(values):
                entries.append((field.replace("_", " "), figure(values)))
        left = [_loops_at(run, run.sections[index].last) for run in runs]
        entries.append(("on the needles", figure(left)))
        lines.append(LedgerLine(runs[0].sections[index].title, tuple(entries)))
    return lines


def _ledger_at(run: Run, moment: int) -> Ledger:
    return run.moments[moment - 1].state.ledger if moment else Ledger()


def _loops_at(run: Run, moment: int) -> int:
    if not moment:
        return 0
    state = run.moments[moment - 1].state
    return state.front.loops + state.back.loops


def band(yarn: Yarn, inches: bool) -> str:
    """How far a yarn runs: ``380 m per 100 g``, or first in yards and ounces."""
    if yarn.metres_per_gram is None:
        return ""
    metres = yarn.metres_per_gram * 100
    if not inches and metres.denominator != 1 and yarn.ball_grams is not None:
        return f"{show(Quantity(yarn.metres_per_gram * yarn.ball_grams))} m per " \
               f"{show(Quantity(yarn.ball_grams))} g"
    if not inches:
        return f"{show(Quantity(metres))} m per 100 g"
    grams = yarn.ball_grams or 100
    yards = round(yarn.metres_per_gram * grams / YARD_METRES)
    return f"{yards} yards per {ounces(grams)} oz ({round(metres)} m per 100 g)"


def ounces(grams: Exact | float) -> str:
    """Grams as ounces, to the quarter, as bands have them."""
    return with_fraction(Fraction(round(4 * float(grams) / float(GRAMS_PER_UNIT["oz"])), 4))
