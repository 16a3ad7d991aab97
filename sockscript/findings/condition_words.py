"""A condition as a reader says it, and what is found where it is not met."""

from __future__ import annotations

from collections.abc import Mapping
from typing import assert_never

from sockscript.expand import described as de
from sockscript.expand.described import ConditionSaid
from sockscript.expand.record import Item
from sockscript.numbers.figures import number_of
from sockscript.numbers.quantity import Quantity

_COMPARED = {"equal": "to be", "unequal": "not to be", "more": "to be more than",
             "less_than": "to be less than", "at_least": "to be at least",
             "at_most": "to be at most", "multiple": "to be a multiple of"}
COUNT_WORDS = {
    "equal": "", "unequal": "anything but ", "more": "more than ", "less_than": "fewer than ",
    "at_least": "at least ", "at_most": "at most ", "multiple": "a multiple of "}
"""The same before a count of stitches."""
WHERE_WORDS = {"": "", "all": "", "work": " in work", "hold": " in hold"}
"""Which stitches are counted."""
_HUNG = {"comb": "the comb to be hung", "weights": "the weights to be hung",
         "yarn": "a yarn in the feeder"}


def condition_words(condition: ConditionSaid) -> str:
    """A condition as a reader says it."""
    match condition:
        case de.Counted(count=count, where=where, end=end, bed=bed):
            text = number_of(count, "stitch", "stitches") + WHERE_WORDS[where]
            text += f" at the {end}" if end else ""
            return text + (f" on the {bed} bed" if bed and bed != "both" else "")
        case de.CarriageStands(side=side):
            return f"the carriage at the {side}"
        case de.CounterShows(value=value):
            return f"the row counter to show {value}"
        case de.TubeHas(count=count):
            return f"a tube of {number_of(count, 'stitch', 'stitches')} a bed"
        case de.Hangs(what=what):
            return _HUNG[what]
        case de.SetTo(bed=bed, action=action):
            return f"the {'beds' if bed == 'both' else f'{bed} bed'} set to {action}"
        case de.AtPitch(pitch=pitch):
            return f"the beds at {pitch} pitch"
        case de.HoldRespected(bed=bed):
            return f"hold to be respected on the {bed} bed" if bed != "both" \
                else "hold to be respected on both beds"
        case de.BedsAlike():
            return "as many stitches on the one bed as on the other"
        case de.SizeIn(names=names):
            return "the size " + " or ".join(names)
        case de.NotSo(part=de.Hangs(what=what)):
            return "no yarn in the feeder" if what == "yarn" else f"the {what} not to be hung"
        case de.NotSo(part=part):
            return f"anything but {condition_words(part)}"
        case de.Several(joined=joined, parts=parts):
            return f" {joined} ".join(map(condition_words, parts))
        case de.Compared(how=how, right=Quantity() as right, where=where, bed=bed) if where:
            text = COUNT_WORDS[how] + number_of(right, "stitch", "stitches") + WHERE_WORDS[where]
            return text + (f" on the {bed} bed" if bed != "both" else "")
        case de.Compared(left=left, how=how, right=right, name=name):
            said = f"'{name}'" if name else left
            return f"{said} {_COMPARED[how]} {right}"
        case _:
            assert_never(condition)


def found_words(wanted: ConditionSaid, detail: Mapping[str, Item]) -> str:
    """What there is instead of what a condition wants."""
    found = detail.get("found", "")
    negated = isinstance(wanted, de.NotSo)
    what = wanted.part if isinstance(wanted, de.NotSo) else wanted
    if isinstance(what, de.Several):  # what was found is that of the first
        what = what.parts[0]
    match found:
        case Quantity():
            if isinstance(what, de.CounterShows):
                return f"it shows {found}"
            if isinstance(what, de.Compared) and not what.where:
                return f"it is {found}"
            return f"there {'is' if found.is_one else 'are'} {found}"
        case de.OnEachBed(front=front, back=back):
            return f"there are {front} on the front bed and {back} on the back bed"
        case de.NotFacing():
            return "the stitches of the two beds do not face each other"
    match what:
        case de.CarriageStands():
            return f"it is at the {found}"
        case de.AtPitch():
            return f"they are at {found}"
        case de.SetTo(bed="both") if found:
            return f"one is {found}"
        case de.Hangs(what="weights"):
            return "they are" if negated else "they are not"
        case de.Hangs(what="yarn"):
            return "there is one" if negated else "there is none"
    return f"it is {found}" if found else "it is" if negated else "it is not"
