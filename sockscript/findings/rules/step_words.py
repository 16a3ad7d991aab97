"""What the words of a step say of bed, side, repeats, stitch size and row counter, against what
the lines under it do."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from fractions import Fraction

from sockscript.expand.printed import Aside, OwnWords
from sockscript.expand.record import Change, Mishap
from sockscript.expand.run import Run
from sockscript.findings.kind import Kind
from sockscript.numbers.quantity import Exact, Quantity, show
from sockscript.operations import ops
from sockscript.operations.beds import BEDS, Bed, highest, lowest

_BED = re.compile(r"\b(front|back) bed\b", re.I)
_SIDE = re.compile(r"\b(left|right)\b", re.I)
_TIMES = re.compile(r"(?<![\w.,/-])(\d+) times\b", re.I)
_SIZE = re.compile(r"\bstitch size (\d+)(?![\w/⁄½⅓⅔¼¾]|[.,]\d| \d)", re.I)
_COUNTER = re.compile(r"\brow counter (?:at |to |shows |reads )?(\d+)\b", re.I)

_NAMED = re.compile(r"\bbed\b|\bleft\b|\bright\b|\btimes\b|\bstitch size\b", re.I)

WORDS_SAY_OTHERWISE = Kind(
    "words-say-otherwise", "warning",
    "The words say {said}, but {fits}.",
    "Change the words or the lines, so that a reader at the machine does what is checked here.")


def words_of_steps(run: Run) -> list[Mishap]:
    """Words of a step (and stitch sizes in notes) that the lines under it do not do."""
    return _found(run, counters=False)


def counters_in_words(run: Run) -> list[Mishap]:
    """Row counters named in the words of a step that it does not come to."""
    return _found(run, counters=True)


def _found(run: Run, counters: bool) -> list[Mishap]:
    found = []
    for section in run.sections:
        for told in section.instructions:
            if isinstance(told.printed, (OwnWords, Aside)):
                text = " ".join(part for part in told.printed.words if isinstance(part, str))
                if (_COUNTER.search(text) is None) if counters else not _NAMED.search(text):
                    continue
                first, last = told.first + section.offset, told.last + section.offset
                own = isinstance(told.printed, OwnWords)
                said = _counter(text, run.changes()[first:last] if own else []) if counters \
                    else _otherwise(run, text, first, last) if own \
                    else _size(run, text, first, section.last)
                found += [Mishap(WORDS_SAY_OTHERWISE.fault(name=words), (told.span,),
                                 max(first, last - 1), -1, {"said": words, "fits": fits})
                          for words, fits in said]
    return found


def _otherwise(run: Run, text: str, first: int, last: int) -> Iterator[tuple[str, str]]:
    changes = run.changes()[first:last]
    if changes:
        yield from _bed(text, changes)
        yield from _side(text, changes)
        yield from _times(text, changes)
        yield from _size(run, text, first, last)


def _bed(text: str, changes: list[Change]) -> Iterator[tuple[str, str]]:
    named = {word.lower() for word in _BED.findall(text)}
    worked = {bed.word for change in changes for bed in BEDS if _hands_on(change, bed)}
    if len(named) == 1 and len(worked) == 1 and named != worked:
        yield f"the {named.pop()} bed", f"the lines under them work on the {worked.pop()} bed"


def _side(text: str, changes: list[Change]) -> Iterator[tuple[str, str]]:
    named = {word.lower() for word in _SIDE.findall(text)}
    worked = {side for change in changes for bed in BEDS for side in _sides(change, bed)}
    if len(named) == 1 and len(worked) == 1 and named != worked:
        yield named.pop(), f"the lines under them work at the {worked.pop()}"


def _times(text: str, changes: list[Change]) -> Iterator[tuple[str, str]]:
    counts = set(Counter(change.moment.places for change in changes).values())
    for number in map(int, _TIMES.findall(text)):
        if number not in counts and max(counts) > 1:
            yield f"{number} times", f"the lines under them are done {_either(counts)} times"


def _counter(text: str, changes: list[Change]) -> Iterator[tuple[str, str]]:
    if not changes:
        return
    shown = {changes[0].before.counter, *(change.after.counter for change in changes)}
    for change in changes:
        if isinstance(change.op, ops.Knit):
            shown.update(range(change.before.counter, change.after.counter))
    for number in map(int, _COUNTER.findall(text)):
        if number not in shown:
            yield (f"row counter {number}",
                   f"it goes from {min(shown)} to {max(shown)} in the lines under them")


def _size(run: Run, text: str, first: int, last: int) -> Iterator[tuple[str, str]]:
    """Stitch sizes against those that are set in the lines, and the one set before."""
    asked = [Fraction(number) for number in _SIZE.findall(text)]
    if not asked:
        return
    before = [c.op.size for c in run.changes()[:first] if isinstance(c.op, ops.SetSize)][-2:]
    sizes = {*before, *(change.op.size for change in run.changes()[first:last]
                        if isinstance(change.op, ops.SetSize))}
    for size in asked:
        if sizes and size not in sizes:
            yield (f"stitch size {show(Quantity(size))}",
                   f"the lines set {_either(sizes)}")


def _hands_on(change: Change, bed: Bed) -> bool:
    """Whether an operation by hand or a setting is of a bed."""
    op = change.op
    if isinstance(op, ops.OnBeds):
        return bool(op.on(bed))
    if isinstance(op, (ops.Transfer, ops.Fold)):
        return any(bed in (move[0], move[2]) for move in op.moves)
    return getattr(op, "bed", None) is bed


def _sides(change: Change, bed: Bed) -> Iterator[str]:
    """The ends of the stitches at which needles of a bed are put into hold, fetched back, wrapped
    or moved; nothing where both halves are concerned."""
    op, loaded = change.op, change.before.bed(bed).loaded
    mask = 0
    if isinstance(op, ops.Place) and op.position in ("hold", "work"):
        mask = op.on(bed)
    elif isinstance(op, ops.Wrap) and op.bed is bed:
        mask = 1 << op.needle
    elif isinstance(op, ops.Fashion) and op.bed is bed:
        mask = sum(1 << move[0] for move in op.moves)
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
