"""Words and numbers that an author writes by hand, against what is really knitted."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from sockscript.expand.printed import Aside, OwnWords
from sockscript.expand.record import Mishap, Moment
from sockscript.expand.run import Run, once_alike
from sockscript.expand.sections import InWords
from sockscript.fabric.side_edges import seams
from sockscript.findings.kind import Kind
from sockscript.operations import ops
from sockscript.operations.beds import BEDS
from sockscript.trace.state import Snapshot

_THING = r"(rows?|rounds?|stitch(?:es)?|needles?)\b"
_NOT_WORKED = (r"(?! together\b)"
               r"(?!(?:,? (?:and )?\d+ rows?)? ?(?:should|must|measure|make|are|over|per|to|in|=) ?"
               r"(?:measure |be )?\d+(?:[.,]\d+)? ?(?:mm|cm|in|inch(?:es)?)\b)")
"""'10 stitches should measure 3 cm' speaks of a swatch, '2 stitches together' of one needle."""
_NUMBER = re.compile(r"(?<![\w.,/-])(?<!every )(?<!each )(?<!per )(?<!about )"
                     rf"(\d+) {_THING}{_NOT_WORKED}"
                     r"( (?:on|of|for) (?:each|either|both|the two|a) beds?\b| (?:a|per) bed\b)?",
                     re.I)
"""A number of rows or stitches that are worked; 'after every 10 rows' is none."""
_OF_EACH_SIZE = re.compile(r"(?<![\w.,/-])(?<!every )(?<!each )(?<!per )(?<!about )"
                           rf"(\d+(?: ?[(\[][\d ,;:/–-]+[)\]])+) {_THING}", re.I)
"""A number for every size, as printed patterns have it: '20 (24, 28) rounds'."""
_PACE = re.compile(r"\b(?:de|in)creas\w{0,5}[^.;:]{0,90}? every (\d+)(?:st|nd|rd|th) "
                   r"(rows?|rounds?)\b",
                   re.I)
_FIGURE = re.compile(r"\d")
_FINISHING = re.compile(r"\bfinish|\bmaking up\b|\bmake up\b", re.I)
_ENDS = re.compile(r"\bweave|\bdarn|\bend\b|\bends\b|\bfasten", re.I)
_SEAMS = re.compile(r"\bsew|\bseam|\bjoin", re.I)


NUMBER_IN_WORDS = Kind(
    "number-in-words", "warning",
    "The words say {said}, but {fits}.",
    "Write the number as a value, such as {{half}}, so that it follows the table.")

FINISHING_INCOMPLETE = Kind(
    "finishing-incomplete", "advice",
    "The section on finishing does not mention {missing}.",
    "Add it, or leave the section out: the printed sheet tells what is left to do.")


def number_in_words(run: Run) -> list[Mishap]:
    """A number in the words of a step that nothing done under it agrees with, in a repeat at no
    time round."""
    found = []
    for index in _sections_with_numbers(run):
        for said in run.sections[index].in_words():
            times = [time for time in said.times if time[0] < time[1]]
            if isinstance(said.printed, Aside) or not times:
                continue
            for number, words, otherwise in _wrong_numbers(run, said, times):
                found.append(Mishap(
                    NUMBER_IN_WORDS.fault(amount=number), (said.at,), times[0][1] - 1,
                    detail={"said": words, "fits": otherwise}))
    return found


@once_alike
def _sections_with_numbers(run: Run) -> tuple[int, ...]:
    """The sections in which the words of any step have a number in figures."""
    return tuple(index for index, section in enumerate(run.sections)
                 if any(isinstance(said.printed, OwnWords) and any(map(_FIGURE.search, said.parts))
                        for said in section.in_words()))


def _wrong_numbers(run: Run, said: InWords, times: list[tuple[int, int]]
                   ) -> Iterator[tuple[int, str, str]]:
    """The numbers that do not fit, as the words have them, and what is so instead."""
    for number, thing, each_bed in _numbers(said):
        fits = {fit for first, last in times for fit in _counts(run, first, last, thing)}
        if each_bed:
            fits |= {fit // 2 for fit in fits}
        if number not in fits:
            yield number, f"{number} {thing}", _come_to(fits)
    for number, thing in _paces(said):
        fits = {fit for first, last in times for fit in _between_shapings(run, first, last, thing)}
        if fits and number not in fits:
            yield number, f"every {number} {thing}", _come_to(fits)
    sizes = run.script.sizes.names if run.script.sizes else ()
    for numbers, words, thing in _numbers_of_sizes(said):
        fits = {fit for first, last in times for fit in _counts(run, first, last, thing)}
        if len(sizes) > 1 and len(numbers) != len(sizes):
            yield len(numbers), f"{words} {thing}", f"there are {len(sizes)} sizes"
        elif len(sizes) > 1 and numbers[run.size] not in fits:
            number = numbers[run.size]
            yield number, f"{number} {thing} for {run.size_name}", _come_to(fits)


def _numbers(said: InWords) -> Iterator[tuple[int, str, bool]]:
    """A number, what it counts, and whether it is that of each bed."""
    for part in said.parts:
        for match in _NUMBER.finditer(part):
            yield int(match.group(1)), match.group(2).lower(), bool(match.group(3))


def _numbers_of_sizes(said: InWords) -> Iterator[tuple[list[int], str, str]]:
    for part in said.parts:
        for match in _OF_EACH_SIZE.finditer(part):
            numbers = [int(number) for number in re.findall(r"\d+", match.group(1))]
            yield numbers, match.group(1), match.group(2).lower()


def _paces(said: InWords) -> Iterator[tuple[int, str]]:
    for part in said.parts:
        for match in _PACE.finditer(part):
            yield int(match.group(1)), match.group(2).lower().rstrip("s") + "s"


def _between_shapings(run: Run, first: int, last: int, thing: str) -> set[int]:
    """Rows or rounds from one decrease or increase to the next, to the next but one (where both
    ends take turns), and after the last."""
    per = 2 if thing.startswith("round") else 1
    rows, counts = 0, []
    shaped = False
    for before, moment in pairwise(run.moments[max(first - 1, 0):last]):
        if isinstance(moment.op, ops.Knit):
            rows += moment.op.passes
        elif _apart(before.state, moment.state) != {0}:
            counts += [rows] if shaped and rows else []
            rows, shaped = 0, True
    alternate = [one + two for one, two in pairwise(counts)]
    return {rows // per for rows in (*counts, *alternate, rows) if shaped and rows}


def _counts(run: Run, first: int, last: int, thing: str) -> set[int]:
    """The numbers of rows, rounds, stitches or needles that the lines of a step deal with."""
    moments = run.moments[first:last]
    if thing.startswith("ro"):
        passes = [moment.op.passes for moment in moments if isinstance(moment.op, ops.Knit)]
        if thing.startswith("round"):
            return {count // 2 for count in (*passes, sum(passes))} - {0}
        return {*passes, sum(passes)} - {0}
    found: set[int] = set()
    before = run.moments[first - 1] if first else None
    for moment in ([before] if before else []) + moments:
        found |= _stitches(moment.state)
        found |= _handled(moment)
    if before is not None:
        found |= _taken_away(before.state, moments)
    return found - {0}


def _taken_away(before: Snapshot, moments: list[Moment]) -> set[int]:
    """How many stitches fewer (or more) there are by each thing done by hand, by all between two
    rows, and by all the lines: on a bed and on both."""
    found: set[int] = set()
    begun = last = before
    for moment in moments:
        if isinstance(moment.op, ops.Knit):
            begun = moment.state
        else:
            found |= _apart(last, moment.state) | _apart(begun, moment.state)
        last = moment.state
    return found | _apart(before, last)


def _apart(one: Snapshot, other: Snapshot) -> set[int]:
    front, back = (one.bed(bed).loaded.bit_count() - other.bed(bed).loaded.bit_count()
                   for bed in BEDS)
    return {abs(front), abs(back), abs(front + back)}


def _stitches(state: Snapshot) -> set[int]:
    counts = []
    for bed in (state.front, state.back):
        working = bed.working
        counts.append([bed.loaded.bit_count(), (bed.loaded & working).bit_count(),
                       bed.held.bit_count(), working.bit_count()])
    return {*counts[0], *counts[1], *(a + b for a, b in zip(*counts, strict=True))}


def _handled(moment: Moment) -> set[int]:
    op = moment.op
    if isinstance(op, (ops.Transfer, ops.Fold, ops.Fashion)):
        return {len(op.moves)}
    if isinstance(op, ops.Rehang):
        return {len(op.targets), *(sum(bed is one for one, _ in op.targets) for bed in BEDS)}
    named = [getattr(op, name, None) for name in ("front", "back", "needles")]
    masks = [mask for mask in named if isinstance(mask, int)]
    counts = {mask.bit_count() for mask in masks} | {sum(mask.bit_count() for mask in masks)}
    return counts | ({1} if isinstance(op, (ops.Wrap, ops.Fill)) else set())


def _come_to(fits: set[int]) -> str:
    numbers = [str(number) for number in sorted(fits)] or ["none"]
    some = " or ".join(numbers) if len(numbers) < 5 else f"{', '.join(numbers[:4])} …"
    return f"the lines under them come to {some}"


def finishing_incomplete(run: Run) -> list[Mishap]:
    """A section on finishing that forgets the ends or a seam."""
    if run.stopped is not None:
        return []
    for section in run.sections:
        if not _FINISHING.search(section.title) or section.last > section.first \
                or not section.instructions:
            continue
        text = " ".join(part for said in section.in_words() for part in said.parts)
        missing = []
        ends = sum(count for yarn, count in run.engine.ends.items() if yarn in run.main_yarns)
        if ends and not _ENDS.search(text):
            missing.append(f"{ends} ends to weave in")
        titles = [title for title, _ in seams(run)]
        if titles and not _SEAMS.search(text):
            missing.append("the seam of the " + " and of the ".join(t.lower() for t in titles))
        if missing:
            return [Mishap(FINISHING_INCOMPLETE.fault(), (section.instructions[0].span,),
                           detail={"missing": " and ".join(missing)})]
    return []
