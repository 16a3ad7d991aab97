"""What the words of a step say of bed, side, repeats, stitch size and row counter, against what
the lines under it do; what else they name is looked at by ``settings_in_words``."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import lru_cache
from itertools import chain
from typing import NamedTuple

from sockscript.expand.printed import OwnWords
from sockscript.expand.record import Mishap, Transition
from sockscript.expand.run import Run, once_alike
from sockscript.findings.kind import Kind
from sockscript.findings.rules.settings_in_words import CARRIAGE, last_counter, settings
from sockscript.numbers.quantity import Exact, Quantity, show
from sockscript.operations import ops
from sockscript.operations.beds import BEDS, Bed, highest, lowest

_BED = re.compile(r"\b(front|back) bed\b", re.I)
_SIDE = re.compile(r"\b(left|right)\b", re.I)
_SETTING = re.compile(r"\b(front|back|both) beds? to (knit|rest|tuck|circular)\b", re.I)
_NEIGHBOUR = re.compile(r"\b(left|right)(?=(?:-hand)? neighbour)"
                        r"|(?<=\bneighbour )(?:at|on|to) (?:the|its) (left|right)\b", re.I)
_TIMES = re.compile(r"(?<![\w.,/-])(\d+) times\b", re.I)
_SIZE = re.compile(r"\bstitch size (\d+)(?![\w/⁄½⅓⅔¼¾]|[.,]\d| \d)", re.I)
_COUNTER = re.compile(
    r"\brow counter (?:now )?(?:at |to |shows |reads |is at |stands at )?(\d+)\b", re.I)

WORDS_SAY_OTHERWISE = Kind(
    "words-say-otherwise", "warning",
    "The words say {said}, but {fits}.",
    "Change the words or the lines, so that a reader at the machine does what is checked here.")


def words_of_steps(run: Run) -> list[Mishap]:
    """Words of a step (and stitch sizes in notes) that the lines under it do not do."""
    return _found(run, counters=False)


def counters_in_words(run: Run) -> list[Mishap]:
    """Row counters named in the words of a step that it does not come to."""
    return _found(run, counters=True) if _counters_in_steps(run) else []


@once_alike
def _counters_in_steps(run: Run) -> bool:
    """Whether the words of any step tell what the row counter shows."""
    return any(isinstance(said.printed, OwnWords) and _said(tuple(said.parts)).counters
               for section in run.sections for said in section.in_words())


class _Said(NamedTuple):
    """What words name: the one bed and the one side among them, what beds are set to, at which side
    a neighbour is, and all numbers."""

    bed: str
    side: str
    settings: tuple[tuple[str, str], ...]
    neighbour: str
    times: tuple[int, ...]
    sizes: tuple[Fraction, ...]
    counters: tuple[int, ...]
    text: str


@lru_cache(maxsize=1000)
def _said(words: tuple[str, ...]) -> _Said:
    """What the words of a step name; every size and choice has the same words."""
    text = " ".join(words)
    return _Said(_only(_BED, text), _only(_SIDE, CARRIAGE.sub(" ", text)), _settings(text),
                 _only(_NEIGHBOUR, text), tuple(map(int, _TIMES.findall(text))),
                 tuple(map(Fraction, _SIZE.findall(text))),
                 tuple(map(int, _COUNTER.findall(text))), text)


def _settings(text: str) -> tuple[tuple[str, str], ...]:
    return tuple((bed, action.lower()) for words, action in _SETTING.findall(text)
                 for bed in (("front", "back") if words.lower() == "both" else (words.lower(),)))


def _only(pattern: re.Pattern[str], text: str) -> str:
    found = {next(filter(None, match.groups())).lower() for match in pattern.finditer(text)}
    return found.pop() if len(found) == 1 else ""


def _found(run: Run, counters: bool) -> list[Mishap]:
    found = []
    for section in run.sections:
        for words_of in section.in_words():
            said = _said(tuple(words_of.parts))
            if counters and not said.counters:
                continue
            first, last = words_of.times[0][0], words_of.times[-1][1]
            if isinstance(words_of.printed, OwnWords):
                times = [run.changes()[begun:ended] for begun, ended in words_of.times]
                otherwise = _counter(said, [*chain(*times)]) if counters \
                    else _otherwise(run, said, times, first, last)
            else:
                otherwise = iter(()) if counters else _size(run, said, first, section.last)
            found += [Mishap(WORDS_SAY_OTHERWISE.fault(name=words), (words_of.at,),
                             max(first, words_of.times[0][1] - 1),
                             detail={"said": words, "fits": fits})
                      for words, fits in otherwise]
    return found


def _otherwise(run: Run, said: _Said, times: list[list[Transition]], first: int, last: int
               ) -> Iterator[tuple[str, str]]:
    """``times``: what is done under the words, each time round if they stand in a repeat."""
    changes = [*chain(*times)]
    if changes:
        yield from _bed(said, changes)
        yield from _side(said, changes)
        yield from _set_to(said, changes)
        yield from _beside(said, changes)
        yield from _times(said, times)
        yield from _size(run, said, first, last)
        yield from settings(run, said.text, changes)


def _bed(said: _Said, changes: list[Transition]) -> Iterator[tuple[str, str]]:
    if said.bed:
        worked = {bed.word for change in changes for bed in BEDS if _hands_on(change, bed)}
        if len(worked) == 1 and said.bed not in worked:
            yield f"the {said.bed} bed", f"the lines under them work on the {worked.pop()} bed"


def _side(said: _Said, changes: list[Transition]) -> Iterator[tuple[str, str]]:
    if said.side:
        worked = {side for change in changes for bed in BEDS for side in _sides(change, bed)}
        if len(worked) == 1 and said.side not in worked:
            yield said.side, f"the lines under them work at the {worked.pop()}"


def _set_to(said: _Said, changes: list[Transition]) -> Iterator[tuple[str, str]]:
    """What a bed is set to, where the lines set it."""
    for bed, action in said.settings:
        made = [change.op.action for change in changes
                if isinstance(change.op, ops.SetBed) and change.op.bed.word == bed]
        if made and action not in made:
            yield f"the {bed} bed to {action}", f"the lines under them set it to {made[-1]}"


def _beside(said: _Said, changes: list[Transition]) -> Iterator[tuple[str, str]]:
    """At which side the neighbour is that a stitch is laid onto or a loop is lifted from."""
    if said.neighbour:
        sides = {"left" if there < here else "right"
                 for change in changes for here, there in _neighbours(change.op)}
        if len(sides) == 1 and said.neighbour not in sides:
            yield (f"the neighbour at the {said.neighbour}",
                   f"the lines under them take the one at the {sides.pop()}")


def _neighbours(op: ops.Op) -> Iterator[tuple[int, int]]:
    if isinstance(op, ops.Fill):
        yield op.needle, op.neighbour
    elif isinstance(op, ops.Transfer):
        yield from ((source, target) for bed, source, to, target in op.moves if bed is to)


def _times(said: _Said, times: list[list[Transition]]) -> Iterator[tuple[str, str]]:
    if said.times:
        counts = {count for changes in times
                  for count in Counter(change.moment.places for change in changes).values()}
        for number in said.times:
            if number not in counts and max(counts) > 1:
                yield f"{number} times", f"the lines under them are done {_either(counts)} times"


def _counter(said: _Said, changes: list[Transition]) -> Iterator[tuple[str, str]]:
    if not changes:
        return
    shown = {changes[0].before.counter, *(change.after.counter for change in changes)}
    for change in changes:
        if isinstance(change.op, ops.Knit):
            shown.update(range(change.before.counter, change.after.counter))
    for number in said.counters:
        if number not in shown:
            yield (f"row counter {number}",
                   f"it goes from {min(shown)} to {max(shown)} in the lines under them")
            return
    yield from last_counter(said.text, changes)


def _size(run: Run, said: _Said, first: int, last: int) -> Iterator[tuple[str, str]]:
    """Stitch sizes against those that are set in the lines, and the two set before."""
    if not said.sizes:
        return
    set_ = [(change.number, change.op.size) for change in run.changes_by(ops.SetSize)
            if isinstance(change.op, ops.SetSize)]
    before = [size for index, size in set_ if index < first][-2:]
    under = {size for index, size in set_ if first <= index < last}
    for size in said.sizes:
        if (before or under) and size not in {*before, *under}:
            yield (f"stitch size {show(Quantity(size))}",
                   f"the lines set {_either(under)}" if under
                   else f"the dial stands at {_either(before[-1:])}")


def _hands_on(change: Transition, bed: Bed) -> bool:
    """Whether an operation by hand or a setting is of a bed."""
    op = change.op
    if isinstance(op, ops.OnBeds):
        return bool(op.on(bed))
    if isinstance(op, (ops.Transfer, ops.Fold)):
        return any(bed in (move[0], move[2]) for move in op.moves)
    return getattr(op, "bed", None) is bed


def _sides(change: Transition, bed: Bed) -> Iterator[str]:
    """The ends of the stitches at which needles of a bed are put into hold, fetched back, wrapped
    or moved; nothing where both halves are concerned."""
    op, loaded = change.op, change.before.bed(bed).loaded
    if isinstance(op, ops.Place) and op.position in ("hold", "work"):
        mask = op.on(bed)
    elif isinstance(op, ops.Wrap) and op.bed is bed:
        mask = 1 << op.needle
    elif isinstance(op, ops.Fashion) and op.bed is bed:
        mask = sum(1 << move[0] for move in op.moves)
    else:
        return
    mask &= loaded
    if mask:
        middle = lowest(loaded) + highest(loaded)
        if 2 * highest(mask) < middle:
            yield "left"
        elif 2 * lowest(mask) > middle:
            yield "right"
        else:
            yield from ("left", "right")


def _either(numbers: Iterable[Exact]) -> str:
    return " or ".join(show(Quantity(number)) for number in sorted(numbers))
