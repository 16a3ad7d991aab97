"""Filling in the sentence of a finding with the needles and numbers of a run."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from sockscript.expand.record import Item, Mishap
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind
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


def describe(kind: Kind, mishap: Mishap, run: Run) -> tuple[str, str]:
    """The sentence and the advice for a mishap.  Raises MissingFieldError for a slip in them."""
    fields = Fields(mishap, run)
    return _capital(kind.sentence.format_map(fields)), _capital(kind.advice.format_map(fields))


def _capital(text: str) -> str:
    text = text.strip()
    return text[:1].upper() + text[1:]


def _before(mishap: Mishap, run: Run) -> BedState | None:
    """The bed concerned, just before the operation."""
    if mishap.fault.bed is None or mishap.moment <= 0 or not run.moments:
        return None
    state = run.moments[mishap.moment - 1].state
    return state.front if mishap.fault.bed is Bed.FRONT else state.back


class Fields:
    """What the sentences of a mishap can name; each is worked out when a sentence does.

    Raises MissingFieldError for what nobody gives.
    """

    def __init__(self, mishap: Mishap, run: Run) -> None:
        self.mishap = mishap
        self.run = run

    def __getitem__(self, key: str) -> str:
        detail = self.mishap.detail
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


def _given(value: T) -> T:
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
    return mishap.fault.needles.bit_count() == 1


def _by_number(one: str, several: str) -> Field:
    return lambda mishap, run: one if _one(mishap) else several


def _lost(mishap: Mishap, run: Run) -> str:
    fault, bed = mishap.fault, _bed(mishap).word
    if not fault.needles:
        return f"nothing on the {bed} bed knits"
    names = needle_ranges(fault.needles, run.engine.profile.needles)
    return (f"{plural(_loops(mishap, run), 'stitch')} on {names} of the {bed} bed "
            f"{'falls' if _one(mishap) else 'fall'} off")


def _name(mishap: Mishap, run: Run) -> str:
    name = _given(mishap.fault.name)
    yarn = run.yarns.get(name)
    return yarn.text if yarn is not None else name


def _loops(mishap: Mishap, run: Run) -> int:
    """Loops on the needles concerned before the operation (at least one a needle)."""
    state = _before(mishap, run)
    count = mishap.fault.needles.bit_count()
    return count if state is None else count + (state.double & mishap.fault.needles).bit_count()


def _dial(mishap: Mishap, run: Run) -> str:
    profile = run.engine.profile
    step = profile.dial_step
    by = show_number(step) if step.denominator == 1 else f"{step.numerator}/{step.denominator}"
    return f"{show_number(profile.dial_low)} to {show_number(profile.dial_high)} by {by}"


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
    before = run.moments[mishap.moment - 1].state if mishap.moment else None
    if before is None or before.attached is None:
        return f"over {fault.amount} needles to {there} of the {bed} bed"
    from_bed, needle = before.attached
    return (f"it leaves the work at {needle_name(needle, size)} of the {from_bed.word} bed, but "
            f"{there} of the {bed} bed is {fault.amount} needles away")


_OF_FAULTS: dict[str, Field] = {
    "needles": _needles,
    "Needles": lambda m, r: _capital(_needles(m, r)),
    "bed": lambda m, r: _bed(m).word,
    "other": lambda m, r: _bed(m).opposite.word,
    "count": lambda m, r: str(m.fault.needles.bit_count()),
    "amount": lambda m, r: str(m.fault.amount),
    "name": _name,
    "stitches": lambda m, r: plural(_given(m.fault.amount or m.fault.needles.bit_count()),
                                    "stitch"),
    "difference": lambda m, r: plural(abs(_given(m.fault.amount)), "stitch"),
    "more_or_less": lambda m, r: "more" if m.fault.amount > 0 else "fewer",
    "come": _by_number("comes", "come"), "are": _by_number("is", "are"),
    "is_or_are": _by_number("is", "are"), "have": _by_number("has", "have"),
    "hold": _by_number("holds", "hold"), "drop": _by_number("drops", "drop"),
    "them": _by_number("it", "them"), "they": _by_number("it", "they"),
    "each": _by_number("it", "each"), "loops_there": _by_number("a loop", "loops"),
    "is_are": lambda m, r: "are" if m.fault.name == "weights" else "is",
    "from_side": lambda m, r: "right" if _given(m.fault.name) == "left" else "left",
    "loops": lambda m, r: plural(_loops(m, r), "stitch"),
    "dial": _dial, "off_bed": _off_bed, "jump": _jump, "lost": _lost,
}
"""Fields that are read off the fault and the run."""


# ---- conditions in words


def condition_words(words: Item) -> str:
    """A condition as a reader says it."""
    if isinstance(words, str):
        return words
    if isinstance(words, Quantity):
        return show(words)
    head = words[0]
    rest: tuple[Item, ...] = words[1:]
    if head == "count":
        count, where, end, bed = rest
        text = plural(_int(count), "stitch")
        text += {"work": " in work", "hold": " in hold"}.get(str(where), "")
        text += f" at the {end}" if end else ""
        return text + (f" on the {bed} bed" if bed and bed != "both" else "")
    if head == "carriage":
        return f"the carriage at the {rest[0]}"
    if head == "counter":
        return f"the row counter to show {condition_words(rest[0])}"
    if head == "tube":
        return f"a tube of {plural(_int(rest[0]), 'stitch')} a bed"
    if head == "hung":
        return {"comb": "the comb to be hung", "weights": "the weights to be hung",
                "yarn": "a yarn in the feeder"}[str(rest[0])]
    if head == "equal":
        return "as many stitches on the one bed as on the other"
    if head == "size":
        return "the size " + " or ".join(condition_words(r) for r in rest)
    if head == "not":
        return f"anything but {condition_words(rest[0])}"
    if head in ("and", "or"):
        return f" {head} ".join(condition_words(r) for r in rest)
    left, how, right = rest[0], rest[1], rest[2]
    text = {"equal": "to be", "unequal": "not to be", "more": "to be more than",
            "less_than": "to be less than", "at_least": "to be at least",
            "at_most": "to be at most"}[str(how)]
    return f"{condition_words(left)} {text} {condition_words(right)}"


def _int(item: Item) -> int:
    return int(item.value) if isinstance(item, Quantity) else 0


def _found(detail: Mapping[str, Item]) -> str:
    found: Any = detail.get("found", "")
    wanted = detail["wanted"]
    head = wanted[0] if isinstance(wanted, tuple) and not isinstance(wanted, Quantity) else ""
    if isinstance(found, Quantity):
        if head == "counter":
            return f"it shows {show(found)}"
        if head == "compare":
            return f"it is {show(found)}"
        return f"there {'is' if found.value == 1 else 'are'} {show(found)}"
    if isinstance(found, tuple) and found[:1] == ("pair",):
        return f"there are {_int(found[1])} on the front bed and {_int(found[2])} on the back bed"
    if isinstance(found, tuple):
        return "the stitches of the two beds do not face each other"
    return f"it is at the {found}" if head == "carriage" else f"it is {found or 'not so'}"


def _since(mishap: Mishap, run: Run) -> str:
    """Which line has made it so."""
    since = mishap.detail.get("since")
    if not isinstance(since, Quantity) or not run.moments:
        return "Look at what comes before this line."
    moment = run.moments[int(since.value)]
    own = [place for place in moment.places if place.source is run.script.source]
    place = own[-1] if own else moment.places[-1]
    if int(since.value) == 0:
        return "It is so from the beginning."
    return f"It is so since line {place.line}: {place.source.line(place.line).strip()}"


_OF_CONDITIONS: dict[str, Field] = {
    "expected": lambda m, r: f"Expected {condition_words(m.detail['wanted'])}",
    "wanted": lambda m, r: condition_words(m.detail["wanted"]),
    "found": lambda m, r: _found(m.detail),
    "since": lambda m, r: _since(m, r),
}
"""Fields of what waits for a condition or expects one."""


def counter_of(mishap: Mishap, run: Run) -> int | None:
    """The row counter at the mishap; None for what has nothing to do with a row."""
    if not run.moments or mishap.moment < 0:
        return None
    state: Snapshot = run.moments[mishap.moment].state
    return state.counter
