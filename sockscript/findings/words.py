"""Filling in the sentence of a finding with the needles and numbers of a run."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sockscript.expand.record import Item, Mishap
from sockscript.expand.run import Run
from sockscript.findings.catalogue import KINDS
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
    if "wanted" in detail:
        fields["expected"] = f"Expected {condition_words(detail['wanted'])}"
        fields["wanted"] = condition_words(detail["wanted"])
        fields["found"] = _found(detail)
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
    step = profile.dial_step
    by = show_number(step) if step.denominator == 1 else f"{step.numerator}/{step.denominator}"
    return f"{show_number(profile.dial_low)} to {show_number(profile.dial_high)} by {by}"


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
    size = run.engine.profile.needles
    there = needle_name(fault.needles.bit_length() - 1, size)
    bed = fault.bed.word if fault.bed is not None else ""
    if not fault.amount:
        return f"it is still attached at {there} of the {bed} bed when the carriage is moved across"
    before = run.moments[mishap.moment - 1].state if mishap.moment else None
    if before is None or before.attached is None:
        return f"over {fault.amount} needles to {there} of the {bed} bed"
    from_bed, needle = before.attached
    return (f"it leaves the work at {needle_name(needle, size)} of the {from_bed.word} bed, but "
            f"{there} of the {bed} bed is {fault.amount} needles away")


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


def counter_of(mishap: Mishap, run: Run) -> int | None:
    """The row counter at the mishap; None for what has nothing to do with a row."""
    if not run.moments or mishap.moment < 0:
        return None
    state: Snapshot = run.moments[mishap.moment].state
    return state.counter
