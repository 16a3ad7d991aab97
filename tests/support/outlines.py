"""Outlines of scripts given as text, and all words that stand in one."""

from __future__ import annotations

from sockscript.commands.chosen import sheet_asked
from sockscript.numbers.figures import shown
from sockscript.sheet.outline import Listing, Prose, ScriptText, Steps, Table
from support.scripts import checked


def outline_of(script, *, sizes=(), choose=(), every_choice=False, my_size=None, bank_book=False,
               with_script=False, with_pictures=False, every_row=False):
    """What is printed of a script."""
    return sheet_asked(checked(script), sizes=list(sizes), choose=list(choose),
                       every_choice=every_choice, named_machine=False, my_size=my_size,
                       bank_book=bank_book, with_script=with_script, with_pictures=with_pictures,
                       every_row=every_row)


def texts_of(outline):
    """Every text of an outline as it is read, block by block."""
    yield outline.title
    yield from (words for _, words in outline.about())
    for block in outline.blocks:
        match block:
            case Prose():
                yield from map(shown, block.paragraphs)
            case Listing():
                yield block.title
                yield from map(shown, block.items)
                yield from (value for row in block.letters for value in row.values)
            case Table():
                yield block.title
                yield from (text for row in block.rows for cell in row.cells
                            for text in (row.name, cell.words, cell.below))
            case Steps():
                yield block.title
                yield from (value for row in block.letters for value in row.values)
                for line in block.lines:
                    yield shown(line.words)
                    yield from map(shown, line.shows)
            case ScriptText():
                yield from ("".join(run.letters for run in line).strip() for line in block.lines)


def items(outline, name):
    """The texts of a list."""
    block = outline.listing(name)
    return [shown(item) for item in block.items] if block is not None else []
