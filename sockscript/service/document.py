"""A script that is being written: every version is read and checked, as little as can be anew."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

from sockscript.expand.after_edit import Again, SectionKey
from sockscript.expand.builds_on import put_together
from sockscript.expand.explore import all_choices
from sockscript.expand.known_names import NamedBefore
from sockscript.expand.looks_alike import Looks
from sockscript.expand.techniques import Library
from sockscript.expand.used import load_library
from sockscript.fabric.finished import reading
from sockscript.findings.checked import Checked, begin_prepared, much_kept, prove_begun
from sockscript.findings.in_one_run import Shapes
from sockscript.findings.prove import Prepared, Proof, looked_over
from sockscript.machine.load import profile_of
from sockscript.machine.profile import Profile
from sockscript.text.layout import Line, without_comment
from sockscript.text.source import Problem, Source
from sockscript.tree.read import read_script
from sockscript.tree.read_before import ReadBefore
from sockscript.tree.script import Script

_NO_MATTER = frozenset({"pattern", "author", "version", "licence", "note", "caution", "allow",
                        "works_for", "section"})
"""Kinds of blocks on which no section depends, and sections themselves."""


class DocumentBlock(NamedTuple):
    """What stands at the left margin, and how far the lines under it go.

    ``word``: its rule in the grammar, empty for a line with a slip.
    """

    word: str
    first: int
    last: int


class Document:
    """One script in an editor.  ``examine`` takes its next version.

    ``last_good`` is the newest version that could be knitted, and ``last_good_lines`` its text.
    ``machine``: the profile to check on; None: any machine that is as the script says.
    ``numbers_in_good``: for each line, the number that it had in that version, 0 for a new line.
    """

    def __init__(self, name: str, folder: Path | None = None, machine: str | None = None) -> None:
        self.machine = machine
        self.source = Source(name, "", folder)
        self.again = Again(reading, Looks())
        self._basis: Hashable = None
        self._shapes = Shapes()
        self._before = ReadBefore()
        self._library: tuple[Hashable, Library, list[Problem]] | None = None
        self._named: NamedBefore = {}
        self.blocks: list[DocumentBlock] = []
        self.last_good: Checked | None = None
        self.last_good_lines: tuple[str, ...] = ()
        self.numbers_in_good: list[int] = []
        self._good_code: tuple[str, ...] | None = None
        self.examined = self.examine("")

    def examine(self, text: str) -> Checked:
        """Read and check a version.  Never raises for a bad script."""
        old = self.source.lines
        with much_kept():
            self.examined = self._examine(text)
        new = self.source.lines
        if self.examined.proof is not None:
            self.last_good = self.examined
            self.last_good_lines = tuple(new)
            self.numbers_in_good = list(range(1, len(new) + 1))
        else:
            self.numbers_in_good = _carried(self.numbers_in_good, old, new)
        return self.examined

    def forget_files(self) -> None:
        """Files that the script uses may have changed: read them anew at the next version."""
        self._library = None
        self._good_code = None

    def _examine(self, text: str) -> Checked:
        # The same Source goes through all versions, so that places in sections that did not
        # change hold good.
        self.source.take(text)
        code = tuple(map(without_comment, self.source.lines))
        if self.last_good is not None and code == self._good_code \
                and not self.source.controls:
            # Only a comment has changed, or a slip is mended again.
            return self.last_good
        self._before.tidy()
        script = read_script(self.source, self._before)
        self.blocks = list(_blocks(self._before))
        if self.source.name.endswith(".machine"):
            profile = profile_of(script)
            found = profile if isinstance(profile, tuple) else ()
            return Checked(self.source.name, found,
                           Prepared(script, Library({}, {}), found))
        script, slips = put_together(script)
        library, problems = self._library_for(script)
        begun = begin_prepared(looked_over(script, library, [*slips, *problems], self._named),
                               self.machine)
        if begun.profile is None:
            return begun
        checked = prove_begun(begun, proving=self._prove, shapes=self._shapes)
        self._good_code = code
        return checked

    def _library_for(self, script: Script) -> tuple[Library, list[Problem]]:
        """The techniques; files are read again only when other ones are used."""
        key = (tuple(text for text, _ in script.uses), tuple(at for _, at in script.uses),
               self._text_of(("technique", "exchange")), *map(id, script.based_on))
        if self._library is None or self._library[0] != key:
            self._library = (key, *load_library(script))
        return self._library[1], self._library[2]

    def _prove(self, prepared: Prepared, profile: Profile) -> Proof:
        script = prepared.script
        basis: Hashable = (id(prepared.library), repr(profile), self._text_of(None))
        keys = [SectionKey(self._block_text(block), block.first) for block in self.blocks
                if block.word == "section"]
        if script.based_on:
            # Sections come from several files: nothing is kept from one version to the next.
            keys = [SectionKey(str(number), 0) for number, _ in enumerate(script.sections)]
            basis = object()
        if basis != self._basis:
            self._basis, self._shapes = basis, Shapes()
        choices = all_choices(script)
        outcomes = self.again.outcomes(script, prepared.library, profile, choices, basis, keys)
        sizes = len(script.sizes.names) if script.sizes is not None else 1
        return Proof(prepared, profile, outcomes, sizes * len(choices))

    def _text_of(self, words: tuple[str, ...] | None) -> Hashable:
        """Blocks that begin with some words (None: all on which sections depend), with their
        places: sections keep places in them."""
        return tuple((block.first, self._block_text(block)) for block in self.blocks
                     if (block.word in words if words is not None
                         else block.word not in _NO_MATTER))

    def _block_text(self, block: DocumentBlock) -> str:
        return "\n".join(without_comment(line)
                         for line in self.source.lines[block.first - 1:block.last])


def _blocks(before: ReadBefore) -> Iterator[DocumentBlock]:
    for top in before.top:
        parse = before.parses.get(("line", top.text))
        yield DocumentBlock(str(parse.data) if parse is not None else "", top.number, _last(top))


def _carried(numbers: list[int], old: list[str], new: list[str]) -> list[int]:
    """The numbers of old lines for the new ones, which differ in one stretch.

    In that stretch a line takes the number of the old one in its place: it may be as it was again
    after the next change.
    """
    shortest = min(len(old), len(new))
    above = _alike(zip(old, new, strict=False))
    below = min(_alike(zip(reversed(old), reversed(new), strict=False)), shortest - above)
    kept = numbers[:shortest - below]
    added = len(new) - below - len(kept)
    return [*kept, *(0 for _ in range(added)), *numbers[len(old) - below:]]


def _alike(pairs: Iterable[tuple[str, str]]) -> int:
    """How many pairs at the beginning are of two equal lines."""
    count = 0
    for one, other in pairs:
        if one != other:
            break
        count += 1
    return count


def _last(line: Line) -> int:
    while line.children:
        line = line.children[-1]
    return line.number
