"""The beds at one moment in a few characters, for the pictures that the page draws itself."""

from __future__ import annotations

from itertools import groupby
from typing import NamedTuple

from sockscript.trace.state import BedState, Snapshot

FIRST = ord("a")


class Settings(NamedTuple):
    """How the machine is set; ``off`` counts live stitches that wait off the needles."""

    front_action: str
    back_action: str
    front_holds: bool
    back_holds: bool
    pitch: str
    racking: int
    comb: bool
    weights: bool
    yarn: str
    off: int


class States:
    """Beds and settings that occur, each kept once.  States are numbered as they come."""

    def __init__(self, needles: int) -> None:
        self.needles = needles
        self.settings: list[Settings] = []
        self.beds: list[tuple[str, str, int]] = []
        self._settings: dict[Settings, int] = {}
        self._beds: dict[tuple[str, str, int], int] = {}
        self._letters: dict[tuple[int, ...], str] = {}

    def number(self, state: Snapshot, yarn: str, off: int) -> int:
        """The number of a state of the machine.  ``yarn``: what is in the feeder, in words."""
        settings = Settings(_set_to(state.front), _set_to(state.back), state.front.hold_respected,
                            state.back.hold_respected, state.pitch, state.racking, state.comb,
                            state.weights, yarn, off)
        which = self._settings.setdefault(settings, len(self.settings))
        if which == len(self.settings):
            self.settings.append(settings)
        beds = self._bed(state.front), self._bed(state.back), which
        found = self._beds.setdefault(beds, len(self.beds))
        if found == len(self.beds):
            self.beds.append(beds)
        return found

    def _bed(self, bed: BedState) -> str:
        # Rows without hand work leave a bed as they find it.
        key = bed.work, bed.upper, bed.hold, bed.loaded, bed.double, bed.laid
        if key not in self._letters:
            self._letters[key] = bed_letters(bed, self.needles)
        return self._letters[key]


def _set_to(bed: BedState) -> str:
    """``circular``, or ``circular, 15 needles tuck``."""
    single = ((mask & bed.in_use).bit_count() for mask in (bed.tuck, bed.slip))
    return ", ".join([bed.action, *(f"{count} needle{'s' * (count != 1)} {way}{'s' * (count == 1)}"
                                    for way, count in zip(("tuck", "slip"), single, strict=True)
                                    if count)])


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
