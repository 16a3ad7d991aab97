"""Each instruction as the sentence that a knitter would write."""

from __future__ import annotations

from collections.abc import Sequence
from typing import assert_never

from sockscript.expand import printed as pr
from sockscript.expand.described import ConditionSaid
from sockscript.expand.printed import HandWord, Leaf, WordPart
from sockscript.expand.record import Instruction
from sockscript.expand.run import Run
from sockscript.machine.profile import Profile
from sockscript.numbers.figures import Figure, figure, number_of
from sockscript.operations import ops
from sockscript.operations.ops import NeedleAction
from sockscript.sheet.needle_words import (
    bed_words,
    condition_clause,
    needle_words,
    told_by_the_machine,
)


def sentence(printed: Leaf, profile: Profile) -> str:
    """An instruction in words; the settings that this machine calls by a name of its own have it
    behind them in brackets."""
    match printed:
        case pr.Pitching(pitch=pitch):
            return _setting(f"Set the beds to {pitch} pitch", f"{pitch}-pitch", profile)
        case pr.Racking(steps=steps, side=side):
            return "Rack back to the middle." if str(steps) == "0" else \
                f"Rack the back bed {steps} to the {side}."
        case pr.Placing():
            return _placing(printed)
        case pr.BedSetting(bed=bed, action=action):
            return _setting(f"Set {bed_words(bed)} to {action}", action, profile)
        case pr.NeedleSetting(needles=needles, action=action):
            return _needle_setting(needle_words(needles, "all needles"), action, profile)
        case pr.HoldSetting(bed=bed, respected=True):
            return _setting(f"Set {bed_words(bed)} so that held needles do not knit",
                            "hold-respected", profile)
        case pr.HoldSetting(bed=bed):
            return _setting(f"Cancel hold on {bed_words(bed)}", "hold-cancelled", profile)
        case pr.Dialling(size=size, bed=bed):
            where = f" on {bed_words(bed)}" if bed else ""
            return _setting(f"Stitch size {size}{where}", "stitch-size", profile)
        case pr.Threading(yarn=yarn, along=along):
            return f"Thread the {yarn} and the {along} together." if along else \
                f"Thread the {yarn}."
        case pr.Adding(yarn=yarn):
            return f"Thread the {yarn} along with the yarn in the feeder: knit with both together."
        case pr.Changing():
            return _changing(printed)
        case pr.Cutting():
            return _cutting(printed)
        case pr.CarriageMove(side=side):
            return f"Move the carriage to the {side} without knitting."
        case pr.Knitting():
            return _knitting(printed)
        case pr.Counting(value=value):
            return f"Set the row counter to {value}."
        case pr.Transferring():
            return _transferring(printed)
        case pr.Folding(needles=needles, bed=bed):
            return (f"Lift {needle_words(needles, 'all stitches')}, turn them round and hang them "
                    f"on {bed_words(bed)}, each facing a stitch that stayed.")
        case pr.EdgeMove():
            return _edge_move(printed)
        case pr.ByHand(work=work, needles=needles):
            bare = "all needles" if work == "wrap" else "all stitches"
            return _by_hand(work, needle_words(needles, bare))
        case pr.Scrapping(needles=needles, name=name):
            return (f"Scrap {needle_words(needles, 'all stitches')} off onto waste yarn "
                    f"(the {_plain(name)}).")
        case pr.Rehanging(name=name, targets=targets, onto=onto, turned=turned):
            goals = " and ".join(needle_words(target, "all needles") for target in targets)
            return (f"Hang the stitches of the {_plain(name)} {'onto' if onto else 'on'} {goals}"
                    f"{', turned round' if turned else ''}.")
        case pr.Grafting(first=one, second=two):
            return f"Graft {needle_words(one, 'the stitches')} to {needle_words(two, 'those')}."
        case pr.GraftingGroups():
            return _grafting_groups(printed)
        case pr.Tackling(item=item, action=way):
            verb = {"hang": "Hang", "move": "Move", "remove": "Remove"}[way]
            return f"{verb} the {item}{' up' if way == 'move' else ''}."
        case pr.Marking(what="slit", name=name):
            return f"This row of waste yarn marks the place of the {_plain(name)}."
        case pr.Marking(name=name, bed=bed):
            return (f"On {bed_words(bed)} the next row begins with open loops: the "
                    f"{_plain(name)}.")
        case pr.KnittingIn(yarn=yarn, needles=needles, name=name):
            return (f"Knit a length of {yarn} over {needle_words(needles, 'all stitches')} by "
                    f"hand: the place of the {_plain(name)}. The yarn in the feeder goes on.")
        case pr.SewingDown():
            return _sewing_down(printed)
        case pr.PickingUp():
            return _picking_up(printed)
        case pr.SewingSides():
            return "The two side edges are sewn together when the piece is finished."
        case pr.Filling(needles=needles, end=end):
            return (f"Fill {needle_words(needles, 'all needles')}: lift the loop below the "
                    f"neighbouring stitch on the {end} onto it.")
        case pr.OwnWords(words=parts) | pr.Aside(words=parts):
            return words(parts)
        case _:
            assert_never(printed)


def _needle_setting(needles: str, action: NeedleAction, profile: Profile) -> str:
    match action:
        case "tuck":
            return _setting(f"Set {needles} to tuck: the yarn is laid over their stitches", "tuck",
                            profile)
        case "slip":
            return f"Set {needles} to slip: the yarn passes behind them."
        case "knit":
            return f"Set {needles} to knit as their bed does."
        case _:
            assert_never(action)


def _grafting_groups(graft: pr.GraftingGroups) -> str:
    one, two = ("open loops" if name in graft.edges else "stitches"
                for name in (graft.first, graft.second))
    return (f"Graft the {one} of the {_plain(graft.first)} to "
            f"{'those' if one == two else f'the {two}'} of the {_plain(graft.second)}, then draw "
            "out the waste yarn.")


def _changing(change: pr.Changing) -> str:
    text = f"Change to the {change.yarn}"
    return f"{text}; the {change.waits} waits at this edge, uncut." if change.waits else f"{text}."


def _cutting(cut: pr.Cutting) -> str:
    what = f"the {cut.yarn or 'yarn'}"
    if cut.along:
        return f"Cut {what} and the {cut.along}."
    return f"Cut {what} and go on with the {cut.left} alone." if cut.left else f"Cut {what}."


def _setting(text: str, setting: str, profile: Profile) -> str:
    """Add what this machine calls a setting, if its profile says."""
    own = profile.words.get(setting)
    return f"{text} ({own})." if own else f"{text}."


def _plain(name: str) -> str:
    """The name of a group of stitches without hyphens."""
    return name.replace("-", " ")


def _placing(placing: pr.Placing) -> str:
    needles = needle_words(placing.needles, "all needles")
    match placing.position:
        case "out":
            return f"Take {needles} out of work."
        case "hold":
            return f"Put {needles} into hold."
        case "upper":
            return f"Push {needles} to upper working position."
        case "work":
            if placing.returning:
                return f"Return {needles} to work."
            why = " to increase" if placing.purpose == "increase" else ""
            return f"Bring {needles} into work{why}."
        case _:
            assert_never(placing.position)


def _knitting(knit: pr.Knitting) -> str:
    one, many = ("round", "rounds") if knit.rounds else ("row", "rows")
    text = f"Knit {number_of(knit.count, one, many)}"
    text += f" on {bed_words(knit.bed)}" if knit.bed else ""
    text += f", starting from the {knit.start}" if knit.start else ""
    return f"{text}."


def _transferring(transfer: pr.Transferring) -> str:
    source = needle_words(transfer.needles, "all stitches")
    if transfer.target.pieces:
        goal = needle_words(transfer.target, "the needles")
        return f"Transfer {source} {'onto' if transfer.onto else 'to'} {goal}."
    onto = "onto the stitches that face them on" if transfer.onto else \
        "to the needles that face them on"
    return f"Transfer {source} {onto} {bed_words(transfer.target.bed)}."


def _edge_move(move: pr.EdgeMove) -> str:
    group = "edge stitch" if move.count.is_one else f"{move.count} outer stitches"
    by = "one needle" if move.by.is_one else f"{move.by} needles"
    each = " of each bed" if move.bed == "both" else f" of {bed_words(move.bed)}"
    where = f"{'at' if move.end in ('left', 'right') else 'on'} the {move.end}{each}"
    return f"Move the {group} {where} {'in' if move.inwards else 'out'} by {by}."


def _sewing_down(sewing: pr.SewingDown) -> str:
    count = number_of(sewing.count, "row", "rows")
    if sewing.name:
        return (f"Fold the first {count} to the inside and sew the open loops of the "
                f"{_plain(sewing.name)} down there, one by one.")
    edge = "their edge" if sewing.part == "first" else "their stitches or edge"
    return f"Fold the {sewing.part} {count} to the inside and sew {edge} down there, loosely."


def _picking_up(picking: pr.PickingUp) -> str:
    loops = number_of(picking.loops, "loop", "loops")
    rows = number_of(picking.count, "row", "rows")
    edge = f"the {picking.end} edge" if picking.end in ("left", "right") else \
        f"the edge on the {picking.end}"
    return (f"Pick up {loops} along {edge} of {bed_words(picking.bed)}, spread evenly over the "
            f"last {rows} there, and hang them {'onto' if picking.onto else 'on'} "
            f"{needle_words(picking.needles, 'all needles')}.")


def _by_hand(work: HandWord, needles: str) -> str:
    match work:
        case "wrap":
            return f"Lay the yarn round {needles}."
        case "cast-on":
            return f"Cast on by hand over {needles}."
        case "bind-off":
            return f"Bind off {needles} loosely."
        case "gather":
            return f"Draw the yarn end through {needles}, pull up and fasten."
        case "drop":
            return f"Drop {needles} on purpose."
        case "latch-up":
            return f"Latch up {needles}."
        case _:
            assert_never(work)


def words(parts: Sequence[WordPart]) -> str:
    """Printed words with their values put in."""
    return "".join(map(str, parts))


def repeat_ending(until: ConditionSaid | None, passes: Figure, in_rounds: bool,
                  times: tuple[int | None, ...], falling: bool) -> str:
    """``Repeat these 2 rows until 10 stitches are left in work: 11 times in all.``

    ``passes`` are those of one time round; ``until`` is None where only the times are said, as they
    are where nothing on the machine tells when it is so.
    """
    if all(n in (1, None) for n in times):
        return ""
    row, rows = ("round", "rounds") if in_rounds else ("row", "rows")
    count = figure([None if n is None else int(n) // 2 for n in passes.values]) if in_rounds \
        else passes
    these = "this" if set(passes.values) <= {0, None} else \
        f"this {row}" if count.is_one else f"these {count} {rows}"
    total = number_of(figure(times), "time", "times")
    if until is not None and told_by_the_machine(until):
        return f"Repeat {these} until {condition_clause(until, falling)}: {total} in all."
    return f"Work {these} {total} in all."


def settings_of(run: Run, step: Instruction, profile: Profile) -> str:
    """This machine's words for the settings that a ``step`` changes; empty if it has none."""
    found: dict[str, None] = {}
    for op in [moment.op for moment in run.moments[step.first:step.last]] if profile.words else ():
        setting = {ops.SetBed: getattr(op, "action", ""),
                   ops.SetPitch: f"{getattr(op, 'pitch', '')}-pitch",
                   ops.SetHold: "hold-respected" if getattr(op, "respected", False)
                   else "hold-cancelled"}.get(type(op))
        if setting and setting in profile.words:
            found[f"{setting.replace('-', ' ')}: {profile.words[setting]}"] = None
    return f" ({'; '.join(found)}.)" if found else ""
