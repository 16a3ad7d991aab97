"""Reading one file for the catalogue: its entry, and what it was made from."""

from __future__ import annotations

import gc
import hashlib
import os
import stat
import time
from pathlib import Path
from typing import NamedTuple

from sockscript.catalogue.entry import Entry, entry_of
from sockscript.findings.checked import check
from sockscript.text.source import read_source

MISSING = (-1, -1)


class Stamp(NamedTuple):
    """How a file was when it was looked at: bytes and nanoseconds."""

    size: int
    mtime: int


class Record(NamedTuple):
    """What the index keeps of a file.

    ``path`` from the folder, as the system has it; ``seen``: when it was read (ns since 1970);
    ``digest`` of its bytes; ``used``: the files that it names after ``use``, with their stamps.
    """

    path: bytes
    stamp: Stamp
    seen: int
    digest: str
    used: tuple[tuple[bytes, Stamp], ...]
    entry: Entry


def stamp_of(path: bytes | Path) -> Stamp:
    """Size and time of a file; ``MISSING`` for what is no file."""
    try:
        found = os.stat(path)
    except (OSError, ValueError):
        return Stamp(*MISSING)
    if not stat.S_ISREG(found.st_mode):
        return Stamp(*MISSING)
    return Stamp(found.st_size, found.st_mtime_ns)


def digest_of(path: bytes) -> str:
    """A digest of the bytes of a file; empty if it cannot be read."""
    try:
        with open(path, "rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest()
    except OSError:
        return ""


def read_record(root: bytes, path: bytes) -> Record:
    """Read and check one file.  Never raises for a bad one; a mistake of the program itself is
    told as the entry of that file, so that the others are still listed."""
    whole = os.path.join(root, path)
    seen = time.time_ns()
    stamp, digest = stamp_of(whole), digest_of(whole)
    shown = path.decode("utf-8", "replace")
    used: tuple[tuple[bytes, Stamp], ...] = ()
    try:
        checked = check(read_source(Path(os.fsdecode(whole)), shown))
        if checked.prepared is not None and checked.script.source.folder is not None:
            folder = os.path.dirname(path)
            names = [os.path.join(folder, os.fsencode(name)) for name in checked.library.files]
            used = tuple((name, stamp_of(os.path.join(root, name))) for name in names)
        entry = entry_of(shown, checked)
    except RecursionError:
        entry = Entry(shown, "unusable", "It is nested too deep to be read.")
    except Exception as error:
        if os.environ.get("SOCKSCRIPT_DEBUG"):
            raise
        entry = Entry(shown, "unusable", "A mistake in sockscript itself, not in the script: "
                      f"{type(error).__name__}: {error}")
    return Record(path, stamp, seen, digest, used, entry)


def read_records(root: bytes, paths: list[bytes]) -> list[Record]:
    """As above, for several files in a process of its own; what they took is given back."""
    records = [read_record(root, path) for path in paths]
    gc.collect()
    return records
