"""Filling in the sentence of a finding with the needles and numbers of a run."""

from __future__ import annotations

from collections.abc import Mapping
from typing import assert_never

from sockscript.expand import described as de
from sockscript.expand.described import ConditionSaid
from sockscript.expand.record import Item, Mishap
from sockscript.expand.run import Run
from sockscript.findings.catalogue import KINDS
from sockscript.numbers.figures import number_of
from sockscript.numbers.quantity import Quantity, show, show_number
from sockscript.operations.beds import Bed, needle_name, needle_ranges
from sockscript.trace.state import BedState, Snapshot


def plural(count: int, thing: str) -> str:
    """``1 stitch``, ``3 stitches``."""
    ending = "es" if thing.endswith(("ch", "s")) else "s"
    return f"{count} {thing}" if count == 1 else f"{count} {thing}{ending}"


def describe(mishap: Mishap, run: Run) -> tuple[str, str]:
    """The sentence and the advice for a mishap."""
    kind = KINDS[mishap.fault.kind]
    fields = _fields(mishap, run)
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


class _Fields(dict[str, str]):
    """Sentences may name any field; one that does not apply is empty."""

    def __missing__(self, key: str) -> str:
        return ""


def _fields(mishap: Mishap, run: Run) -> _Fields:
    fault = mishap.fault
    size = run.engine.profile.needles
    count = fault.needles.bit_count()
    one = count == 1
    names = needle_ranges(fault.needles, size)
    bed = fault.bed.word if fault.bed is not None else ""
    detail = mishap.detail
    fields = _Fields(
        needles=("needle " if one else "needles ") + names,
        Needles=("Needle " if one else "Needles ") + names,
        bed=bed, other=fault.bed.opposite.word if fault.bed is not None else "",
        count=str(count), amount=str(fault.amount), name=_yarn_name(fault.name, run),
        stitches=plural(fault.amount or count, "stitch"),
        difference=plural(abs(fault.amount), "stitch"),
        more_or_less="more" if fault.amount > 0 else "fewer",
        come="comes" if one else "come",
        them="it" if one else "them", they="it" if one else "they",
        rows=plural(fault.amount, "row"), rounds=plural(fault.amount, "round"),
        were="was" if one else "were",
        are="is" if one else "are", have="has" if one else "have",
        hold="holds" if one else "hold", drop="drops" if one else "drop",
        knit="knits" if one else "knit",
        each="it" if one else "each", loops_there="a loop" if one else "loops",
        is_are="are" if fault.name == "weights" else "is",
        is_or_are="is" if one else "are",
        from_side="right" if fault.name == "left" else "left",
        loops=plural(_loops(mishap, run), "stitch"),
        dial=_dial(run), off_bed=_off_bed(mishap, run), jump=_jump(mishap, run),
        lost=(f"{plural(_loops(mishap, run), 'stitch')} on {names} of the {bed} bed "
              f"{'falls' if one else 'fall'} off" if count else f"nothing on the {bed} bed knits"),
    )
    for key, value in detail.items():
        if isinstance(value, Quantity):
            fields[key] = show(value)
        elif isinstance(value, str):
            fields[key] = value
    wanted = detail.get("wanted")
    if wanted is not None and not isinstance(
            wanted, (str, Quantity, de.OnEachBed, de.NotFacing)):
        fields["expected"] = f"Expected {condition_words(wanted)}"
        fields["wanted"] = condition_words(wanted)
        fields["found"] = _found(wanted, detail)
    if fault.kind == "expectation-not-met":
        fields["since"] = _since(mishap, run)
    return fields


def _yarn_name(name: str, run: Run) -> str:
    yarn = run.yarns.get(name)
    return yarn.text if yarn is not None else name


def _loops(mishap: Mishap, run: Run) -> int:
    """Loops on the needles concerned before the operation (at least one a needle)."""
    state = _before(mishap, run)
    count = mishap.fault.needles.bit_count()
    return count if state is None else count + (state.double & mishap.fault.needles).bit_count()


def _dial(run: Run) -> str:
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
    bed = fault.bed.word if fault.bed is not None else ""
    what = (f"{fault.name} is not on the {bed} bed" if fault.name else
            f"{fault.amount} needles do not fit on the {bed} bed" if fault.amount else
            f"This reaches beyond the end of the {bed} bed")
    return f"{what}, which has L{half} to R{half}"


def _jump(mishap: Mishap, run: Run) -> str:
    fault = mishap.fault
    if fault.leaves is None:
        return ""
    size = run.engine.profile.needles
    there = needle_name(fault.needles.bit_length() - 1, size)
    bed = fault.bed.word if fault.bed is not None else ""
    if not fault.amount:
        return f"it is still attached at {there} of the {bed} bed when the carriage is moved across"
    from_bed, needle = fault.leaves
    return (f"it leaves the work at {needle_name(needle, size)} of the {from_bed.word} bed, but "
            f"{there} of the {bed} bed is {fault.amount} needles away")


# ---- conditions in words


_COMPARED = {"equal": "to be", "unequal": "not to be", "more": "to be more than",
             "less_than": "to be less than", "at_least": "to be at least",
             "at_most": "to be at most"}
_HUNG = {"comb": "the comb to be hung", "weights": "the weights to be hung",
         "yarn": "a yarn in the feeder"}


def condition_words(condition: ConditionSaid) -> str:
    """A condition as a reader says it."""
    match condition:
        case de.Counted(count=count, where=where, end=end, bed=bed):
            text = number_of(count, "stitch", "stitches")
            text += {"all": "", "work": " in work", "hold": " in hold"}[where]
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
        case de.BedsAlike():
            return "as many stitches on the one bed as on the other"
        case de.SizeIn(names=names):
            return "the size " + " or ".join(names)
        case de.NotSo(part=part):
            return f"anything but {condition_words(part)}"
        case de.Several(joined=joined, parts=parts):
            return f" {joined} ".join(map(condition_words, parts))
        case de.Compared(left=left, how=how, right=right):
            return f"{left} {_COMPARED[how]} {right}"
        case _:
            assert_never(condition)


def _found(wanted: ConditionSaid, detail: Mapping[str, Item]) -> str:
    found = detail.get("found", "")
    match found:
        case Quantity():
            if isinstance(wanted, de.CounterShows):
                return f"it shows {found}"
            if isinstance(wanted, de.Compared):
                return f"it is {found}"
            return f"there {'is' if found.is_one else 'are'} {found}"
        case de.OnEachBed(front=front, back=back):
            return f"there are {front} on the front bed and {back} on the back bed"
        case de.NotFacing():
            return "the stitches of the two beds do not face each other"
    if isinstance(wanted, de.CarriageStands):
        return f"it is at the {found}"
    return f"it is {found or 'not so'}"


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


def counter_of(mishap: Mishap, run: Run) -> int | None:
    """The row counter at the mishap; None for what has nothing to do with a row."""
    if not run.moments or mishap.moment < 0:
        return None
    state: Snapshot = run.moments[mishap.moment].state
    return state.counter
