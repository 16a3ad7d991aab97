"""Filling in the sentence of a finding with the needles and numbers of a run."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar, assert_never

from sockscript.expand import described as de
from sockscript.expand.described import ConditionSaid
from sockscript.expand.record import Item, Mishap
from sockscript.expand.run import Run
from sockscript.findings.beds_as_set import (
    apart,
    both_set,
    instead,
    or_other,
    racked,
    what_to_set,
)
from sockscript.findings.kind import Kind
from sockscript.numbers.figures import number_of
from sockscript.numbers.quantity import Quantity, show, show_number
from sockscript.operations.beds import Bed, needle_name, needle_ranges
from sockscript.trace.state import BedState, Snapshot

T = TypeVar("T")
Field = Callable[[Mishap, Run], str]


def plural(count: int, thing: str) -> str:
    """``1 stitch``, ``3 stitches``."""
    ending = "es" if thing.endswith(("ch", "s")) else "s"
    return f"{count} {thing}" if count == 1 else f"{count} {thing}{ending}"


class MissingFieldError(Exception):
    """A sentence names a field that its mishap does not give."""


def describe(kind: Kind, mishap: Mishap, run: Run,
             printed: int | None = None) -> tuple[str, str]:
    """The sentence and the advice for a mishap.  Raises MissingFieldError for a slip in them.

    ``printed``: the step in which began what it tells of, if that is known.
    """
    fields = Fields(mishap, run, printed)
    return _capital(kind.sentence.format_map(fields)), _capital(kind.advice.format_map(fields))


def _capital(text: str) -> str:
    text = text.strip()
    return text[:1].upper() + text[1:]


def _before(mishap: Mishap, run: Run) -> BedState | None:
    """The bed concerned, just before the operation."""
    if mishap.fault.bed is None or mishap.moment <= 0 or not run.moments:
        return None
    return run.changes()[mishap.moment].before.bed(mishap.fault.bed)


class Fields:
    """What the sentences of a mishap can name; each is worked out when a sentence does.

    Raises MissingFieldError for what nobody gives.
    """

    def __init__(self, mishap: Mishap, run: Run, printed: int | None = None) -> None:
        self.printed = printed
        self.mishap = mishap
        self.run = run

    def __getitem__(self, key: str) -> str:
        detail = self.mishap.detail
        if key == "since" and "wanted" in detail:
            return _since(self.mishap, self.run, self.printed)
        make = (_OF_CONDITIONS if "wanted" in detail else {}).get(key)
        given = detail.get(key)
        if make is None and isinstance(given, (str, Quantity)):
            return show(given) if isinstance(given, Quantity) else given
        make = make or _OF_FAULTS.get(key)
        try:
            if make is not None:
                return make(self.mishap, self.run)
        except _NotGivenError:
            pass
        raise MissingFieldError(f"A sentence of {self.mishap.fault.kind} names {key}, which its "
                                "mishap does not give.")


class _NotGivenError(Exception):
    """The fault does not say it."""


def _given(value: T | None) -> T:
    if not value:
        raise _NotGivenError
    return value


def _bed(mishap: Mishap) -> Bed:
    if mishap.fault.bed is None:
        raise _NotGivenError
    return mishap.fault.bed


def _needles(mishap: Mishap, run: Run) -> str:
    names = needle_ranges(_given(mishap.fault.needles), run.engine.profile.needles)
    return ("needle " if _one(mishap) else "needles ") + names


def _one(mishap: Mishap) -> bool:
    return (mishap.fault.needles.bit_count() or mishap.fault.amount) == 1


def _by_number(one: str, several: str) -> Field:
    return lambda mishap, run: one if _one(mishap) else several


def _only_so_many(mishap: Mishap, run: Run) -> str:
    there = mishap.fault.needles.bit_count()
    return "is none" if not there else f"{'is' if there == 1 else 'are'} only {there}"


def _lost(mishap: Mishap, run: Run) -> str:
    fault, bed = mishap.fault, _bed(mishap).word
    if not fault.needles:
        return f"nothing on the {bed} bed knits"
    names = needle_ranges(fault.needles, run.engine.profile.needles)
    return (f"{plural(_loops(mishap, run), 'stitch')} on {names} of the {bed} bed "
            f"{'falls' if _one(mishap) else 'fall'} off")


def _name(mishap: Mishap, run: Run) -> str:
    name = _given(mishap.fault.name)
    return run.yarn_words.get(name, name)


def _loops(mishap: Mishap, run: Run) -> int:
    """Loops on the needles concerned before the operation (at least one a needle)."""
    state = _before(mishap, run)
    count = mishap.fault.needles.bit_count()
    return count if state is None else count + (state.double & mishap.fault.needles).bit_count()


def _dial(mishap: Mishap, run: Run) -> str:
    profile = run.engine.profile
    text = f"{show_number(profile.dial_low)} to {show_number(profile.dial_high)}"
    step = profile.dial_step
    if step is None:
        return text
    by = show_number(step) if step.denominator == 1 else f"{step.numerator}/{step.denominator}"
    return f"{text} by {by}"


def _off_bed(mishap: Mishap, run: Run) -> str:
    fault = mishap.fault
    half = run.engine.profile.needles // 2
    bed = _bed(mishap).word
    what = (f"{fault.name} is not on the {bed} bed" if fault.name else
            f"{fault.amount} needles do not fit on the {bed} bed" if fault.amount else
            f"This reaches beyond the end of the {bed} bed")
    return f"{what}, which has L{half} to R{half}"


def _jump(mishap: Mishap, run: Run) -> str:
    fault = mishap.fault
    size = run.engine.profile.needles
    there = needle_name(fault.needles.bit_length() - 1, size)
    bed = _bed(mishap).word
    if not fault.amount:
        return f"it is still attached at {there} of the {bed} bed when the carriage is moved across"
    from_bed, needle = _given(fault.leaves)
    return (f"it leaves the work at {needle_name(needle, size)} of the {from_bed.word} bed, but "
            f"{there} of the {bed} bed is {fault.amount} needles away")


def _to_cast_on(mishap: Mishap, run: Run) -> str:
    bed = f"of the {_bed(mishap).word} bed"
    if not mishap.fault.needles:
        return f"All needles {bed} are"
    return _capital(f"{_needles(mishap, run)} {bed} {'is' if _one(mishap) else 'are'}")


_OF_FAULTS: dict[str, Field] = {
    "what_to_set": what_to_set,
    "Needles_to_cast_on": _to_cast_on,
    "thread_it": lambda m, r: f":  thread {r.first_yarn}" if r.first_yarn else "",
    "such_as": lambda m, r: "" if m.fault.needles else
               f", for example  bring centre 36 of {_bed(m).word} into work",
    "rows": lambda m, r: plural(m.fault.amount, "row"),
    "rounds": lambda m, r: plural(m.fault.amount, "round"),
    "so_many_passes": lambda m, r: plural(m.fault.amount, "pass"),
    "needles": _needles,
    "Needles": lambda m, r: _capital(_needles(m, r)),
    "bed": lambda m, r: _bed(m).word,
    "other": lambda m, r: _bed(m).opposite.word,
    "count": lambda m, r: str(m.fault.needles.bit_count()),
    "only_so_many": _only_so_many,
    "amount": lambda m, r: str(m.fault.amount),
    "name": _name,
    "as_written": lambda m, r: _given(m.fault.name),
    "stitches": lambda m, r: plural(_given(m.fault.amount or m.fault.needles.bit_count()),
                                    "stitch"),
    "Needles_meant": lambda m, r: f"{plural(_given(m.fault.amount), 'needle')} "
                                  f"{'is' if m.fault.amount == 1 else 'are'}",
    "difference": lambda m, r: plural(abs(_given(m.fault.amount)), "stitch"),
    "more_or_less": lambda m, r: "more" if m.fault.amount > 0 else "fewer",
    "come": _by_number("comes", "come"), "are": _by_number("is", "are"),
    "stay": _by_number("stays", "stay"), "lie": _by_number("lies", "lie"),
    "have": _by_number("has", "have"), "get": _by_number("gets", "get"),
    "knit": _by_number("knits", "knit"), "were": _by_number("was", "were"),
    "hold": _by_number("holds", "hold"), "drop": _by_number("drops", "drop"),
    "them": _by_number("it", "them"), "they": _by_number("it", "they"),
    "each": _by_number("it", "each"), "loops_there": _by_number("a loop", "loops"),
    "is_are": lambda m, r: "are" if m.fault.name == "weights" else "is",
    "from_side": lambda m, r: "right" if _given(m.fault.name) == "left" else "left",
    "instead": instead, "both_set": both_set, "or_other": or_other,
    "loops": lambda m, r: plural(_loops(m, r), "stitch"),
    "apart": apart, "racked": racked,
    "dial": _dial, "off_bed": _off_bed, "jump": _jump, "lost": _lost,
}
"""Fields that are read off the fault and the run."""


# ---- conditions in words


_COMPARED = {"equal": "to be", "unequal": "not to be", "more": "to be more than",
             "less_than": "to be less than", "at_least": "to be at least",
             "at_most": "to be at most", "multiple": "to be a multiple of"}
_COUNT = {"equal": "", "unequal": "anything but ", "more": "more than ", "less_than": "fewer than ",
          "at_least": "at least ", "at_most": "at most ", "multiple": "a multiple of "}
"""The same before a count of stitches."""
_WHERE = {"all": "", "work": " in work", "hold": " in hold"}
_HUNG = {"comb": "the comb to be hung", "weights": "the weights to be hung",
         "yarn": "a yarn in the feeder"}


def condition_words(condition: ConditionSaid) -> str:
    """A condition as a reader says it."""
    match condition:
        case de.Counted(count=count, where=where, end=end, bed=bed):
            text = number_of(count, "stitch", "stitches") + _WHERE[where]
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
            return (f"{_COUNT[how]}{number_of(right, 'stitch', 'stitches')}{_WHERE[where]}"
                    + (f" on the {bed} bed" if bed != "both" else ""))
        case de.Compared(left=left, how=how, right=right, name=name):
            said = f"'{name}'" if name else left
            return f"{said} {_COMPARED[how]} {right}"
        case _:
            assert_never(condition)


def _found(wanted: ConditionSaid, detail: Mapping[str, Item]) -> str:
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


def _since(mishap: Mishap, run: Run, printed: int | None) -> str:
    """Which line has made it so."""
    since = mishap.detail.get("since")
    if isinstance(_wanted(mishap), (de.Compared, de.SizeIn)) and since is None:
        return "No row has changed it: look at the lines that give these values."
    if not isinstance(since, Quantity) or not run.moments:
        return "Look at what comes before this line."
    moment = run.moments[int(since.value)]
    own = [place for place in moment.places if run.script.wrote(place)]
    place = own[-1] if own else moment.places[-1]
    if int(since.value) == 0:
        return "It is so from the beginning."
    step = f"printed step {printed}, " if printed is not None else ""
    return f"It is so since {step}line {place.line}: {place.source.line(place.line).strip()}"


_OF_CONDITIONS: dict[str, Field] = {
    "expected": lambda m, r: f"Expected {condition_words(_wanted(m))}",
    "wanted": lambda m, r: condition_words(_wanted(m)),
    "found": lambda m, r: _found(_wanted(m), m.detail),
}
"""Fields of what waits for a condition or expects one."""


def _wanted(mishap: Mishap) -> ConditionSaid:
    wanted = mishap.detail["wanted"]
    assert not isinstance(wanted, (str, Quantity, de.OnEachBed, de.NotFacing))
    return wanted


def counter_of(mishap: Mishap, run: Run) -> int | None:
    """The row counter at the mishap; None for what has nothing to do with a row."""
    if not run.moments or mishap.moment < 0:
        return None
    state: Snapshot = run.moments[mishap.moment].state
    return state.counter
