"""``sockscript catalogue``: what scripts are in a folder, and which of them fits."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TypeVar

from sockscript.catalogue import report
from sockscript.catalogue.index import BrokenIndexError, CannotKeepError, Index
from sockscript.catalogue.place import index_file
from sockscript.catalogue.search import Query, condition, words_wanted
from sockscript.catalogue.update import FEW, changes, update
from sockscript.commands.check import CLEAN, UNUSABLE
from sockscript.commands.output import deliver, form_asked

T = TypeVar("T")

NONE = 1
"""The exit status where nothing is found."""
TIMES = 3
"""An index is damaged and made anew, and then the disk is full."""
FORMATS = {"text": report.as_text, "markdown": report.as_markdown, "csv": report.as_csv,
           "json": report.as_json}
MOST_SHOWN = 100
"""Entries that are read through; whoever wants all says so."""


def run(*, folder: Path, wanted: Query, everything: bool, format: str | None, out: Path | None
        ) -> int:
    """Print or write the entries that are wanted; returns 0, 1 if there is none, 2 if the folder
    cannot be used."""
    form = form_asked(format, FORMATS, out)
    if form is None:
        return UNUSABLE
    if not folder.is_dir():
        print(f"{folder} is no folder.\nName the folder in which the scripts are.",
              file=sys.stderr)
        return UNUSABLE
    where, values = condition(wanted)
    most = MOST_SHOWN if form == "text" and out is None and not everything else None

    def find(index: Index, files: int) -> report.CatalogueList:
        found = index.find(where, values, words_wanted(wanted.words), most)
        return report.CatalogueList(str(folder), files, found.total, found.entries)

    answer = with_index(folder, find)
    return deliver(FORMATS[form](answer), out) or (CLEAN if answer.found else NONE)


def with_index(folder: Path, work: Callable[[Index, int], T]) -> T:
    """Do something with the index of a folder, which has everything that is there now, and with
    the number of files that these are.

    An index that cannot be used is made anew; one that cannot be kept is made for this time only.
    """
    root = os.fsencode(os.path.realpath(folder))
    index = _opened(folder)
    try:
        for times in range(TIMES):
            try:
                answer = work(index, _update(index, root))
                break
            except BrokenIndexError:
                if times == TIMES - 1:
                    raise
                index.start_anew()
            except CannotKeepError as error:
                index.close()
                index = _in_memory(error)
        if index.rebuilt:
            print("The index of this folder was damaged; it has been made anew.", file=sys.stderr)
        return answer
    finally:
        index.close()


def _opened(folder: Path) -> Index:
    try:
        return Index(index_file(folder, os.environ))
    except (OSError, RuntimeError, CannotKeepError) as error:
        return _in_memory(error)


def _in_memory(why: Exception) -> Index:
    print(f"The index cannot be kept ({why}); all files are read again each time.",
          file=sys.stderr)
    return Index(None)


def _update(index: Index, root: bytes) -> int:
    found = changes(root, index.known())
    with progress(len(found.read), "Knitting in thought") as done:
        update(index, root, found, done=done)
    return found.total


@contextmanager
def progress(count: int, words: str) -> Iterator[Callable[[int], None]]:
    """A bar on the terminal where reading takes a while."""
    if count <= FEW or not sys.stderr.isatty():
        yield lambda files: None
        return
    import typer

    with typer.progressbar(length=count, label=words, file=sys.stderr) as bar:
        yield bar.update
