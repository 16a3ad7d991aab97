"""What is kept of a section of a run."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from sockscript.expand.printed import Aside, OwnWords
from sockscript.expand.record import Instruction
from sockscript.numbers.quantity import Exact
from sockscript.text.source import Span


class SectionRecord:
    """What one section did: its title, fabric and instructions, and which moments it took.

    ``offset``: what to add to the moments that its instructions name.  ``wanted``: lengths for
    which it was to find the rows.  ``loops`` and ``strands``: those that it took of each yarn.
    ``look``: the same for sections that look alike (see ``Looks``); None where nobody looked.
    """

    __slots__ = ("_in_words", "fabric", "first", "instructions", "last", "look", "loops", "offset",
                 "strands", "targets", "title", "wanted")

    def __init__(self, title: str, fabric: str | None, first: int) -> None:
        self.title = title
        self.fabric = fabric
        self.first = first
        self.last = first
        self.offset = 0
        self.look: int | None = None
        self.instructions: list[Instruction] = []
        self.targets: list[SectionTarget] = []
        self.wanted: list[WantedLength] = []
        self.loops: dict[str, int] = {}
        self.strands: dict[str, int] = {}
        self._in_words: list[InWords] | None = None

    def in_words(self) -> list[InWords]:
        """What the author says in words of her own, with what lies under it; of a finished section.

        Words inside a repeat are said once, of every time round.
        """
        if self._in_words is None:
            self._in_words = self._looked_for()
        return self._in_words

    def _looked_for(self) -> list[InWords]:
        found: list[InWords] = []
        for told in self.instructions:
            if type(told.printed) in (OwnWords, Aside):
                found.append(self._said([told]))
            elif told.rounds:
                found += map(self._said, _said_inside(told))
        return found

    def _said(self, times: list[Instruction]) -> InWords:
        printed = times[0].printed
        assert isinstance(printed, (OwnWords, Aside))
        return InWords(printed, times[0].span, tuple(
            (told.first + self.offset, told.last + self.offset) for told in times))


def _said_inside(repeat: Instruction) -> list[list[Instruction]]:
    if repeat.said is None:
        same: dict[object, list[Instruction]] = {}
        for told in _inside(repeat):
            if isinstance(told.printed, (OwnWords, Aside)):
                same.setdefault((told.places, type(told.printed)), []).append(told)
        repeat.said = [*same.values()]
    return repeat.said


def _inside(repeat: Instruction) -> Iterator[Instruction]:
    for body in repeat.rounds:
        for told in body:
            yield told
            yield from _inside(told)


class InWords(NamedTuple):
    """The words of a step or a note, and the moments of the run under them (the last one past).

    ``times``: more than one where the words stand in a repeat.
    """

    printed: OwnWords | Aside
    at: Span
    times: tuple[tuple[int, int], ...]

    @property
    def parts(self) -> list[str]:
        """The words themselves, without the values between them."""
        return [part for part in self.printed.words if isinstance(part, str)]


class SectionTarget(NamedTuple):
    """What a section should measure, in mm, and how far off it may be."""

    what: str
    value: Exact
    within: Exact
    places: tuple[Span, ...]


class WantedLength(NamedTuple):
    """A length in mm that a line finds its rows for, and the number that it knitted.

    ``name``: by which that number is settled; ``guessed``: it was not, and a number was taken for
    granted.  ``step``: multiples of this are tried.  ``moment`` counts from the beginning of the
    section.
    """

    name: str
    what: str
    aim: Exact
    step: int
    rows: int
    guessed: bool
    moment: int
    places: tuple[Span, ...]
