"""The outline of a printed pattern: what stands on it, block by block, in reading order.

``sheet.sheet`` makes it; text, Markdown, HTML, PDF, JSON and the page to knit from only lay it
out.  A new kind of block goes into ``PrintedBlock``; mypy names every form that has to learn it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, Union

from attrs import frozen

from sockscript.highlight.text_runs import TextRun as Coloured
from sockscript.numbers.figures import BySize, PrintedWords, shown
from sockscript.pictures.svg import Picture


@frozen
class LetterRow:
    """What a letter in the texts of a block stands for: a value for each size."""

    letter: str
    values: tuple[str, ...]


@frozen
class Prose:
    """Paragraphs without a heading."""

    name: str
    paragraphs: tuple[PrintedWords, ...]


@frozen
class Listing:
    """Short items under a heading; ``boxed``: set off from the rest."""

    name: str
    title: str
    items: tuple[PrintedWords, ...]
    letters: tuple[LetterRow, ...] = ()
    boxed: bool = False


@frozen
class Cell:
    """A cell of a table: what it says, and something smaller below it."""

    words: str
    below: str = ""


@frozen
class TableRow:
    """A line of a table of sizes; ``letter``: the one it has on the picture."""

    name: str
    cells: tuple[Cell, ...]
    letter: str = ""


@frozen
class Figured:
    """A picture that belongs to a block; ``step``: the one where what it shows begins."""

    drawing: Picture
    caption: str
    step: int | None = None


@frozen
class Table:
    """A table with a column for each size; ``note`` says how it is meant."""

    name: str
    title: str
    note: str
    rows: tuple[TableRow, ...]
    picture: Figured | None = None


@frozen
class StepLine:
    """A step, or (``number`` None) a remark.

    ``only``: the sizes that have it, when not all do.  ``shows``: what the machine shows after it,
    in parts: counts of stitches (none where they are as before), then carriage and row counter.
    ``boxes``: how many small boxes it has, one for each time something is done.
    """

    number: int | None
    kind: str
    only: tuple[str, ...]
    words: PrintedWords
    shows: tuple[PrintedWords, ...]
    boxes: int = 0


LETTERS_BESIDE = 1100
"""Letters that take as much height beside a square picture as it does, with its caption."""


def _size(line: StepLine) -> int:
    """Letters of a line, with what it leaves free at its end."""
    return 40 + sum(len(part) if isinstance(part, str) else len(str(part))
                    for words in (line.words, *line.shows) for part in words)


@frozen
class Steps:
    """A section of the pattern, or one choice of it as a whole."""

    title: str
    lines: tuple[StepLine, ...]
    letters: tuple[LetterRow, ...] = ()
    pictures: tuple[Figured, ...] = ()

    def alone(self) -> int:
        """How many lines come before those that the pictures stand beside: as many as leave
        words enough beside them."""
        steps = [picture.step for picture in self.pictures if picture.step is not None]
        first = next((n for n, line in enumerate(self.lines)
                      if steps and line.number is not None and line.number >= min(steps)), 0)
        high = sum(picture.drawing.height / picture.drawing.width for picture in self.pictures)
        while first and sum(map(_size, self.lines[first:])) < high * LETTERS_BESIDE:
            first -= 1
        return first


@frozen
class Blanks:
    """What the reader writes down by hand, each with room beside it."""

    names: tuple[str, ...]


@frozen
class ScriptText:
    """The script itself, line by line."""

    title: str
    lines: tuple[tuple[Coloured, ...], ...]


PrintedBlock = Union[Prose, Blanks, Listing, Table, Steps, ScriptText]


@frozen
class Outline:
    """A pattern ready to be laid out.  ``mine``: the position of the reader's own size;
    ``stamp``: what the check found, and the fingerprint, for the foot of the page."""

    title: str
    author: str
    version: str
    licence: str
    machine: str
    sizes: tuple[str, ...]
    choices: str
    other_choices: str
    mine: int | None
    blocks: tuple[PrintedBlock, ...]
    language: str = "en"
    stamp: str = ""

    def listing(self, name: str) -> Listing | None:
        """The list of that name, if the pattern has it."""
        return next((block for block in self.blocks
                     if isinstance(block, Listing) and block.name == name), None)

    def table(self, name: str) -> Table | None:
        """The table of that name, if the pattern has it."""
        return next((block for block in self.blocks
                     if isinstance(block, Table) and block.name == name), None)

    def steps(self) -> Iterator[Steps]:
        """The sections of the pattern."""
        return (block for block in self.blocks if isinstance(block, Steps))

    def about(self) -> list[tuple[Literal["by", "sizes", "quiet"], str]]:
        """The lines under the title."""
        sizes = "" if self.sizes == ("one size",) else f"Size: {self.sizes[0]}" \
            if len(self.sizes) == 1 else f"Sizes: {shown((BySize(self.sizes),))}"
        lines: list[tuple[Literal["by", "sizes", "quiet"], str]] = [
            ("by", f"by {self.author}" if self.author else ""),
            ("sizes", sizes),
            ("quiet", ", ".join(part for part in (
                f"version {self.version}" if self.version else "", self.licence) if part)),
            ("quiet", f"for this machine: {self.machine}" if self.machine else ""),
            ("quiet", f"with {self.choices}" if self.choices else ""),
            ("quiet", self.other_choices)]
        return [(kind, words) for kind, words in lines if words]

    def footer(self) -> str:
        """What stands at the foot of every page beside its number."""
        return " · ".join(part for part in (
            self.title, f"version {self.version}" if self.version else "", self.licence,
            self.stamp) if part)
