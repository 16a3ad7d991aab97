"""Numbers of many sizes under letters: a small table a section, so that nobody counts commas."""

from __future__ import annotations

from collections.abc import Sequence

from sockscript.numbers.figures import BySize, PrintedWords
from sockscript.sheet.outline import LetterRow

MOST_IN_BRACKETS = 5
"""Sizes whose numbers are still found at a glance in ``48 (52, 56)``: a house rule."""

_LETTERS = "bcdefghkmnpqrstuvwxyz"
"""Without those that are words or look like figures."""


class Letters:
    """Letters of one section, in the order in which its numbers come."""

    def __init__(self, sizes: int) -> None:
        self.needed = sizes > MOST_IN_BRACKETS
        self._known: dict[tuple[str, ...], str] = {}

    def put_into(self, words: PrintedWords) -> PrintedWords:
        """The same words with a letter for each number that differs from size to size."""
        if not self.needed:
            return words
        return tuple(BySize(part.texts, self._letter(part.texts)) if isinstance(part, BySize)
                     else part for part in words)

    def rows(self) -> tuple[LetterRow, ...]:
        """The table of the letters that were used."""
        return tuple(LetterRow(letter, values) for values, letter in self._known.items())

    def _letter(self, texts: tuple[str, ...]) -> str:
        return self._known.setdefault(texts, letter_name(len(self._known)))


def letter_name(number: int) -> str:
    """b, c … z, then b2, c2 …"""
    again, here = divmod(number, len(_LETTERS))
    return _LETTERS[here] + (str(again + 1) if again else "")


def lettered(items: Sequence[PrintedWords], sizes: int) -> tuple[tuple[PrintedWords, ...],
                                                                 tuple[LetterRow, ...]]:
    """A list of texts with its letters."""
    letters = Letters(sizes)
    found = tuple(letters.put_into(item) for item in items)
    return found, letters.rows()
