"""Filling in the sentence of a finding with the needles and numbers of a run."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from sockscript.expand import described as de
from sockscript.expand.described import ConditionSaid
from sockscript.expand.record import Mishap
from sockscript.expand.run import Run
from sockscript.findings.beds_as_set import (
    apart,
    both_set,
    bring_over,
    instead,
    or_other,
    racked,
    straight_across,
    what_to_set,
)
from sockscript.findings.condition_words import condition_words, found_words
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
    if mishap.fault.bed is None or mishap.moment <= 0:
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


def _kind_of_needle(mishap: Mishap) -> str:
    """A needle as the line speaks of it: held, working, or any."""
    return f"{mishap.fault.name} needle".lstrip()


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
    "Needles_meant": lambda m, r: f"{plural(_given(m.fault.amount), _kind_of_needle(m))} "
                                  f"of the {_bed(m).word} bed "
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
    "apart": apart, "racked": racked, "straight_across": straight_across,
    "bring_over": bring_over,
    "dial": _dial, "off_bed": _off_bed, "jump": _jump, "lost": _lost,
}
"""Fields that are read off the fault and the run."""


# ---- conditions in words


def _odd_rows(mishap: Mishap, run: Run, since: int) -> str:
    """Where the last rows are counted after which the carriage is where it was before them."""
    rows = [change for change in run.passes() if since < change.number <= mishap.moment]
    if not rows:
        return ""
    last = rows[-1].moment.places
    own = [place for place in last if run.script.wrote(place)] or last
    at = own[-1]
    return ("A row more or less brings it over; the last rows before this are in line "
            f"{at.line}: {at.source.line(at.line).strip()}")


def _since(mishap: Mishap, run: Run, printed: int | None) -> str:
    """Which line has made it so."""
    since = mishap.detail.get("since")
    if isinstance(_wanted(mishap), (de.Compared, de.SizeIn)) and since is None:
        return "No row has changed it: look at the lines that give these values."
    if not isinstance(since, Quantity) or not run.moments:
        return "Look at what comes before this line."
    if isinstance(_wanted(mishap), de.CarriageStands):
        odd = _odd_rows(mishap, run, int(since.value))
        if odd:
            return odd
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
    "found": lambda m, r: found_words(_wanted(m), m.detail),
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
