"""Each instruction as the sentence that a knitter would write."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from sockscript.machine.profile import Profile
from sockscript.operations import ops
from sockscript.sheet.figures import Figure, figure, number_of
from sockscript.sheet.merge import Told
from sockscript.sheet.needle_words import bed_words, condition_clause, needle_words

Values = Mapping[str, Any]


def _in_machine_words(text: str, setting: str, profile: Profile) -> str:
    """Add what this machine calls a setting, if its profile says."""
    own = profile.words.get(setting)
    return f"{text} ({own})." if own else f"{text}."


def _plain(name: str) -> str:
    """The name of a group of stitches without hyphens."""
    return name.replace("-", " ")


def _pitch(v: Values, p: Profile) -> str:
    return _in_machine_words(f"Set the beds to {v['pitch']} pitch", f"{v['pitch']}-pitch", p)


def _rack(v: Values, p: Profile) -> str:
    if str(v["steps"]) == "0":
        return "Rack back to the middle."
    return f"Rack the back bed {v['steps']} to the {v['side']}."


def _place(v: Values, p: Profile) -> str:
    needles = needle_words(v["needles"], "all needles")
    position = v["position"]
    if position == "out":
        return f"Take {needles} out of work."
    if position == "hold":
        return f"Put {needles} into hold."
    if position == "upper":
        return f"Push {needles} to upper working position."
    if v["returning"]:
        return f"Return {needles} to work."
    why = {"increase": " to increase"}.get(v["purpose"], "")
    return f"Bring {needles} into work{why}."


def _set_bed(v: Values, p: Profile) -> str:
    return _in_machine_words(f"Set {bed_words(v['bed'])} to {v['action']}", v["action"], p)


def _hold_switch(v: Values, p: Profile) -> str:
    if v["respected"]:
        return _in_machine_words(f"Set {bed_words(v['bed'])} so that held needles do not knit",
                                 "hold-respected", p)
    return _in_machine_words(f"Cancel hold on {bed_words(v['bed'])}", "hold-cancelled", p)


def _stitch_size(v: Values, p: Profile) -> str:
    where = f" on {bed_words(v['bed'])}" if v["bed"] else ""
    return _in_machine_words(f"Stitch size {v['size']}{where}", "stitch-size", p)


def _thread(v: Values, p: Profile) -> str:
    return f"Thread the {v['yarn']}."


def _cut(v: Values, p: Profile) -> str:
    return f"Cut the {v['yarn']}." if v["yarn"] else "Cut the yarn."


def _move_carriage(v: Values, p: Profile) -> str:
    return f"Move the carriage to the {v['side']} without knitting."


def _knit(v: Values, p: Profile) -> str:
    what = number_of(v["count"], "round", "rounds") if v["rounds"] else \
        number_of(v["count"], "row", "rows")
    text = f"Knit {what}"
    text += f" on {bed_words(v['bed'])}" if v["bed"] else ""
    text += f", starting from the {v['start']}" if v["start"] else ""
    return f"{text}."


def _counter(v: Values, p: Profile) -> str:
    return f"Set the row counter to {v['value']}."


def _transfer(v: Values, p: Profile) -> str:
    source = needle_words(v["needles"], "all stitches")
    target = v["target"]
    if target[2]:
        goal = needle_words(target, "the needles")
        return f"Transfer {source} {'onto' if v['onto'] else 'to'} {goal}."
    onto = "onto the stitches that face them on" if v["onto"] else \
        "to the needles that face them on"
    return f"Transfer {source} {onto} {bed_words(target[1])}."


def _fold(v: Values, p: Profile) -> str:
    return (f"Lift {needle_words(v['needles'], 'all stitches')}, turn them round and hang them on "
            f"{bed_words(v['bed'])}, each facing a stitch that stayed.")


def _move_edge(v: Values, p: Profile) -> str:
    group = "edge stitch" if v["count"].is_one else f"{v['count']} outer stitches"
    by = "one needle" if v["by"].is_one else f"{v['by']} needles"
    end = {"left": "left", "right": "right"}.get(v["end"], v["end"])
    where = f"at the {end} of {bed_words(v['bed'])}"
    each = " of each bed" if v["bed"] == "both" else f" of {bed_words(v['bed'])}"
    where = f"at the {end}{each}" if end in ("left", "right") else f"on the {end}{each}"
    return f"Move the {group} {where} {v['way']} by {by}."


def _wrap(v: Values, p: Profile) -> str:
    return f"Lay the yarn round {needle_words(v['needles'], 'all needles')}."


def _hand(text: str) -> Callable[[Values, Profile], str]:
    return lambda v, p: text.format(needle_words(v["needles"], "all stitches"))


def _scrap_off(v: Values, p: Profile) -> str:
    return (f"Scrap {needle_words(v['needles'], 'all stitches')} off onto waste yarn "
            f"(the {_plain(v['name'])}).")


def _rehang(v: Values, p: Profile) -> str:
    targets = " and ".join(needle_words(t, "all needles") for t in v["targets"])
    turned = ", turned round" if v["turned"] else ""
    return (f"Hang the stitches of the {_plain(v['name'])} {'onto' if v['onto'] else 'on'} "
            f"{targets}{turned}.")


def _graft(v: Values, p: Profile) -> str:
    return (f"Graft {needle_words(v['first'], 'the stitches')} to "
            f"{needle_words(v['second'], 'those')}.")


def _graft_groups(v: Values, p: Profile) -> str:
    return (f"Graft the stitches of the {_plain(v['first'])} to those of the "
            f"{_plain(v['second'])}.")


def _tackle(v: Values, p: Profile) -> str:
    verb = {"hang": "Hang", "move": "Move", "remove": "Remove"}[v["action"]]
    return f"{verb} the {v['item']}{' up' if v['action'] == 'move' else ''}."


def _mark(v: Values, p: Profile) -> str:
    if v["kind"] == "slit":
        return f"This row of waste yarn marks the place of the {_plain(v['name'])}."
    return f"The next row begins with open loops: the {_plain(v['name'])}."


def _fill(v: Values, p: Profile) -> str:
    side = v["end"]
    return (f"Fill {needle_words(v['needles'], 'all needles')}: lift the loop below the "
            f"neighbouring stitch on the {side} onto it.")


_SENTENCES: dict[str, Callable[[Values, Profile], str]] = {
    "pitch": _pitch, "rack": _rack, "place": _place, "set-bed": _set_bed,
    "hold-switch": _hold_switch, "stitch-size": _stitch_size, "thread": _thread, "cut": _cut,
    "move-carriage": _move_carriage, "knit": _knit, "counter": _counter, "transfer": _transfer,
    "fold": _fold, "move-edge": _move_edge, "wrap": _wrap,
    "cast_on": _hand("Cast on by hand over {0}."), "bind_off": _hand("Bind off {0} loosely."),
    "gather": _hand("Draw the yarn end through {0}, pull up and fasten."),
    "drop": _hand("Drop {0} on purpose."), "latch_up": _hand("Latch up {0}."),
    "scrap-off": _scrap_off, "rehang": _rehang, "graft": _graft, "graft-groups": _graft_groups,
    "tackle": _tackle, "mark": _mark, "fill": _fill,
}


def sentence(told: Told, profile: Profile, settings: str = "") -> str:
    """An instruction in words (without the repeats and remarks, see ``numbering``)."""
    if told.kind in ("step", "note", "caution"):
        return words(told.values["words"]) + settings
    return _SENTENCES[told.kind](told.values, profile)


def words(parts: Any) -> str:
    """Printed words with their values put in."""
    return "".join(str(part) for part in parts)


def repeat_ending(told: Told, passes: Figure, in_rounds: bool, times: tuple[int, ...],
                  falling: bool) -> str:
    """``Repeat these 2 rows until 10 stitches are left in work (11 times in all).``"""
    ending: Any = told.values["ending"]
    if all(n <= 1 for n in times):
        return ""
    row, rows = ("round", "rounds") if in_rounds else ("row", "rows")
    count = figure([int(n) // 2 for n in passes.values]) if in_rounds else passes
    these = "this" if set(passes.values) == {0} else \
        f"this {row}" if count.is_one else f"these {count} {rows}"
    total = number_of(figure(times), "time", "times")
    if ending[0] == "until" and len(told.rounds) == 1:
        return f"Repeat {these} until {condition_clause(ending[1], falling)} ({total} in all)."
    return f"Work {these} {total} in all."


def settings_in(operations: list[ops.Op], profile: Profile) -> str:
    """This machine's words for the settings that a ``step`` changes; empty if it has none."""
    found: dict[str, None] = {}
    for op in operations:
        setting = {ops.SetBed: getattr(op, "action", ""),
                   ops.SetPitch: f"{getattr(op, 'pitch', '')}-pitch",
                   ops.SetHold: "hold-respected" if getattr(op, "respected", False)
                   else "hold-cancelled"}.get(type(op))
        if setting and setting in profile.words:
            found[f"{setting.replace('-', ' ')}: {profile.words[setting]}"] = None
    return f" ({'; '.join(found)}.)" if found else ""
