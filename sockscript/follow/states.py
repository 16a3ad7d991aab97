"""The beds at one moment in a few characters, for the pictures that the page draws itself."""

from __future__ import annotations

from itertools import groupby
from typing import NamedTuple, TypeVar

from sockscript.trace.in_words import set_words, whole_bed, yarn_words
from sockscript.trace.state import BedState, Snapshot

FIRST = ord("a")

T = TypeVar("T")


class Settings(NamedTuple):
    """How the machine is set, for the drawing and in ``words``."""

    racking: int
    yarn: str
    words: str


class States:
    """Beds and settings that occur, each kept once.  States are numbered as they come.

    ``beds``: the letters of both beds, the number of the settings, and those of what ``words``
    say of the front and the back bed.
    """

    def __init__(self, needles: int, bed_count: int) -> None:
        self.needles = needles
        self.bed_count = bed_count
        self.settings: list[Settings] = []
        self.beds: list[tuple[str, str, int, int, int]] = []
        self.words: list[str] = []
        self._settings: dict[Settings, int] = {}
        self._beds: dict[tuple[str, str, int, int, int], int] = {}
        self._words: dict[str, int] = {}
        self._letters: dict[tuple[int, ...], str] = {}

    def number(self, state: Snapshot, yarn: str, off: int) -> int:
        """The number of a state of the machine.

        ``yarn``: what is in the feeder, in words; ``off``: live stitches that wait off the needles.
        """
        waits = f"{off} {'stitch waits' if off == 1 else 'stitches wait'} off the needles"
        parts = [set_words(state, self.bed_count), yarn_words(yarn), waits if off else ""]
        words = " · ".join(filter(None, parts))
        which = _numbered(self._settings, self.settings,
                          Settings(state.racking, yarn, words[0].upper() + words[1:]))
        front, back = (_numbered(self._words, self.words, whole_bed(name, bed))
                       for name, bed in (("front", state.front), ("back", state.back)))
        return _numbered(self._beds, self.beds, (self._bed(state.front), self._bed(state.back),
                                                 which, front, back))

    def _bed(self, bed: BedState) -> str:
        # Rows without hand work leave a bed as they find it.
        key = bed.work, bed.upper, bed.hold, bed.loaded, bed.double, bed.laid
        if key not in self._letters:
            self._letters[key] = bed_letters(bed, self.needles)
        return self._letters[key]


def _numbered(numbers: dict[T, int], every: list[T], one: T) -> int:
    """The place of something in a list of all, at the end of which it is put if it is new."""
    number = numbers.setdefault(one, len(every))
    if number == len(every):
        every.append(one)
    return number


def needle_letter(bed: BedState, needle: int) -> str:
    """One needle as a letter: six for each position (out of work, working, upper working,
    hold), of which two for each of no loop, one, and two or more: without and with yarn laid
    over it."""
    bit = 1 << needle
    position = 1 if bed.work & bit else 2 if bed.upper & bit else 3 if bed.hold & bit else 0
    loops = 2 if bed.double & bit else int(bool(bed.loaded & bit))
    return chr(FIRST + position * 6 + loops * 2 + int(bool(bed.laid & bit)))


def bed_letters(bed: BedState, needles: int) -> str:
    """A bed from left to right, with how often each letter stands: ``64a72i64a``.

    Needles out of work at the right end are left out.
    """
    letters = "".join(needle_letter(bed, n) for n in range(needles)).rstrip("a")
    runs = ((letter, len(list(group))) for letter, group in groupby(letters))
    return "".join(f"{count if count > 1 else ''}{letter}" for letter, count in runs)
