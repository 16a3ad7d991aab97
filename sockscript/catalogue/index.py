"""The index of a folder: an SQLite database in write-ahead mode, which several processes may read
and fill at the same time.

It only holds what can be read again from the files, so one that is broken, of another version, or
not a database at all is thrown away and made anew.
"""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import NamedTuple

from sockscript import __version__
from sockscript.catalogue.entry import Entry, from_json
from sockscript.catalogue.reading import Record, Stamp
from sockscript.sharing.fingerprint import same_pattern
from sockscript.text.visible import json_text

FORM = f"sockscript-catalogue-2 {__version__}"
"""What the tables mean.  Another version of the program may find other things in a script."""
WAIT = 60.0
"""Seconds to wait while another process writes."""

_TABLES = """
CREATE TABLE files (
    id INTEGER PRIMARY KEY, path BLOB NOT NULL UNIQUE, size INTEGER NOT NULL,
    mtime INTEGER NOT NULL, seen INTEGER NOT NULL, digest TEXT NOT NULL, used TEXT NOT NULL,
    status TEXT NOT NULL, name TEXT NOT NULL, author TEXT NOT NULL, licence TEXT NOT NULL,
    mark TEXT NOT NULL, beds INTEGER, racking INTEGER NOT NULL, feet_low REAL, feet_high REAL,
    rounds_low REAL, rounds_high REAL, data TEXT NOT NULL);
CREATE INDEX files_by_name ON files (name COLLATE NOCASE, path);
CREATE TABLE sizes (file INTEGER NOT NULL, name TEXT NOT NULL, foot REAL, round REAL,
    needles INTEGER);
CREATE INDEX sizes_of_file ON sizes (file);
CREATE TABLE gauges (file INTEGER NOT NULL, stitches REAL NOT NULL, rows REAL NOT NULL);
CREATE INDEX gauges_of_file ON gauges (file);
CREATE TABLE yarns (file INTEGER NOT NULL, metres REAL);
CREATE INDEX yarns_of_file ON yarns (file);
CREATE TABLE needs (file INTEGER NOT NULL, what TEXT NOT NULL);
CREATE INDEX needs_of_file ON needs (file);
CREATE TABLE techniques (file INTEGER NOT NULL, name TEXT NOT NULL);
CREATE INDEX techniques_of_file ON techniques (file);
CREATE VIRTUAL TABLE words USING fts5 (name, author, text, prefix='2 3',
    tokenize="unicode61 remove_diacritics 2");
"""
_PARTS = ("sizes", "gauges", "yarns", "needs", "techniques")


class IndexedFile(NamedTuple):
    """What the index has of a file, as far as it is needed to see whether it changed."""

    stamp: Stamp
    seen: int
    digest: str
    used: tuple[tuple[bytes, Stamp], ...]


class SearchResult(NamedTuple):
    """What a search found: how many in all, and those that were wanted."""

    total: int
    entries: tuple[Entry, ...]


class Kept(NamedTuple):
    """An entry with what it was made from: its path as the system has it, the digest of its file,
    and the files that it uses."""

    path: bytes
    digest: str
    used: tuple[bytes, ...]
    entry: Entry


class CannotKeepError(Exception):
    """The index cannot be kept where it should be; says why."""


class Index:
    """The index of one folder; ``file`` None: only in memory.

    Raises CannotKeepError where the file cannot be made or written.  ``rebuilt`` says that what
    was there could not be used.
    """

    def __init__(self, file: Path | None) -> None:
        self.file = file
        self.rebuilt = False
        self._db = self._open()

    def close(self) -> None:
        """Let the file go."""
        self._db.close()

    # ---- opening

    def _open(self) -> sqlite3.Connection:
        with _told():
            if self.file is None:
                return self._with_tables(_connect(":memory:"))
            try:
                self.file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            except OSError as error:
                raise CannotKeepError(error.strerror or str(error)) from None
            try:
                return self._with_tables(_connect(str(self.file)))
            except sqlite3.DatabaseError as error:
                if not is_broken(error):
                    raise
            self._throw_away()
            return self._with_tables(_connect(str(self.file)))

    def _with_tables(self, db: sqlite3.Connection) -> sqlite3.Connection:
        """Make the tables where they are not there, or not those of this version; several
        processes may come to this at the same time."""
        try:
            if _form(db) != FORM:
                db.execute("BEGIN IMMEDIATE")
                if _form(db) != FORM:
                    _make_tables(db)
                db.execute("COMMIT")
        except BaseException:
            db.close()
            raise
        return db

    def _throw_away(self) -> None:
        assert self.file is not None
        self.rebuilt = True
        for ending in ("", "-wal", "-shm", "-journal"):
            with suppress(FileNotFoundError):
                os.unlink(f"{self.file}{ending}")

    def start_anew(self) -> None:
        """Throw away an index that turned out to be broken."""
        self._db.close()
        if self.file is not None:
            with _told():
                self._throw_away()
        self._db = self._open()
        self.rebuilt = True

    # ---- what is in it

    def known(self) -> dict[bytes, IndexedFile]:
        """Every file that the index has."""
        with _told():
            rows = self._db.execute("SELECT path, size, mtime, seen, digest, used FROM files")
            return {path: IndexedFile(Stamp(size, mtime), seen, digest, _used_from(used))
                    for path, size, mtime, seen, digest, used in rows}

    def put(self, records: Sequence[Record]) -> None:
        """Take in what was read of files, instead of what was known of them."""
        with self._writing():
            for record in records:
                self._forget(record.path)
                self._put(record)

    def seen_again(self, files: Iterable[tuple[bytes, Stamp, int]]) -> None:
        """Files that have other times and the same content: path, stamp, when they were read."""
        with self._writing():
            self._db.executemany(
                "UPDATE files SET size = ?2, mtime = ?3, seen = ?4 WHERE path = ?1",
                [(path, *stamp, seen) for path, stamp, seen in files])

    def forget(self, paths: Iterable[bytes]) -> None:
        """Files that are no longer there."""
        with self._writing():
            for path in paths:
                self._forget(path)

    def find(self, where: str, values: Sequence[object], words: str, most: int | None
             ) -> SearchResult:
        """Entries for which a condition holds (see ``search``), those with ``words`` first that
        have them in the title; by name otherwise."""
        tables, where, order, values = _ordered(where, values, words)
        with _told():
            (count,) = self._db.execute(f"SELECT count(*) FROM {tables} WHERE {where}",
                                        values).fetchone()
            rows = self._db.execute(f"SELECT files.data FROM {tables} WHERE {where} "
                                    f"ORDER BY {order} LIMIT ?",
                                    (*values, -1 if most is None else most))
            return SearchResult(count, tuple(from_json(data) for (data,) in rows))

    def everything(self, where: str, values: Sequence[object], words: str) -> list[Kept]:
        """As ``find``, all of it, with what each entry was made from."""
        tables, where, order, values = _ordered(where, values, words)
        with _told():
            rows = self._db.execute("SELECT files.path, files.digest, files.used, files.data "
                                    f"FROM {tables} WHERE {where} ORDER BY {order}", values)
            return [Kept(path, digest, tuple(name for name, _ in _used_from(used)),
                         from_json(data)) for path, digest, used, data in rows]

    # ---- writing

    @contextmanager
    def _writing(self) -> Iterator[None]:
        """All of it or nothing."""
        with _told():
            self._db.execute("BEGIN IMMEDIATE")
            try:
                yield
            except BaseException:
                self._db.execute("ROLLBACK")
                raise
            self._db.execute("COMMIT")

    def _forget(self, path: bytes) -> None:
        row = self._db.execute("SELECT id FROM files WHERE path = ?", (path,)).fetchone()
        if row is None:
            return
        for table in _PARTS:
            self._db.execute(f"DELETE FROM {table} WHERE file = ?", row)
        self._db.execute("DELETE FROM words WHERE rowid = ?", row)
        self._db.execute("DELETE FROM files WHERE id = ?", row)

    def _put(self, record: Record) -> None:
        entry = record.entry
        cursor = self._db.execute(
            "INSERT INTO files (path, size, mtime, seen, digest, used, status, name, author, "
            "licence, mark, beds, racking, feet_low, feet_high, rounds_low, rounds_high, data) "
            f"VALUES ({', '.join('?' * 18)})",
            (record.path, *record.stamp, record.seen, record.digest, _used_to(record.used),
             entry.status, entry.name, entry.author, entry.licence, entry.mark, entry.beds,
             entry.racking, *(entry.feet or (None, None)), *(entry.rounds or (None, None)),
             json_text(entry.as_data())))
        here = cursor.lastrowid
        many = self._db.executemany
        many("INSERT INTO sizes VALUES (?, ?, ?, ?, ?)",
             [(here, one.name, one.foot, one.round, one.needles) for one in entry.sizes])
        many("INSERT INTO gauges VALUES (?, ?, ?)",
             [(here, one.stitches, one.rows) for one in entry.gauges])
        many("INSERT INTO yarns VALUES (?, ?)", [(here, one.metres) for one in entry.yarns])
        many("INSERT INTO needs VALUES (?, ?)", [(here, word) for word in entry.needs])
        many("INSERT INTO techniques VALUES (?, ?)", [(here, name) for name in entry.techniques])
        self._db.execute("INSERT INTO words (rowid, name, author, text) VALUES (?, ?, ?, ?)",
                         (here, entry.name, entry.author,
                          "\n".join((entry.path, *entry.techniques, entry.text))))


def _connect(file: str) -> sqlite3.Connection:
    db = sqlite3.connect(file, timeout=WAIT, isolation_level=None)
    try:
        db.create_function("same_pattern", 2, same_pattern, deterministic=True)
        db.execute("PRAGMA journal_mode = WAL")
        # The index can be made again: it need not outlive a power cut, only stay whole.
        db.execute("PRAGMA synchronous = NORMAL")
    except BaseException:
        db.close()
        raise
    return db


def _ordered(where: str, values: Sequence[object], words: str
             ) -> tuple[str, str, str, Sequence[object]]:
    """Tables, condition, order and values of a search, with words or without."""
    order = "files.name COLLATE NOCASE, files.path"
    if not words:
        return "files", where, order, values
    return ("files JOIN words ON words.rowid = files.id", f"words MATCH ? AND {where}",
            f"bm25(words, 10.0, 5.0, 1.0), {order}", (words, *values))


def _form(db: sqlite3.Connection) -> str:
    try:
        row = db.execute("SELECT form FROM form").fetchone()
    except sqlite3.OperationalError as error:
        if "no such" not in str(error):
            raise
        return ""
    return str(row[0]) if row is not None else ""


def _make_tables(db: sqlite3.Connection) -> None:
    for table in ("form", "files", "words", *_PARTS):
        db.execute(f"DROP TABLE IF EXISTS {table}")
    # executescript would commit first.
    for statement in _TABLES.split(";"):
        if statement.strip():
            db.execute(statement)
    db.execute("CREATE TABLE form (form TEXT)")
    db.execute("INSERT INTO form VALUES (?)", (FORM,))


def is_broken(error: sqlite3.DatabaseError) -> bool:
    """Whether a database is to be made anew: damaged, no database, or without its tables."""
    code = getattr(error, "sqlite_errorcode", 0) & 0xff
    return code in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_FORMAT) or \
        (code == sqlite3.SQLITE_ERROR and "no such" in str(error))


class BrokenIndexError(Exception):
    """The index is damaged."""


@contextmanager
def _told() -> Iterator[None]:
    """What SQLite and what was kept say, as the two errors that callers know."""
    try:
        yield
    except sqlite3.DatabaseError as error:
        if is_broken(error):
            raise BrokenIndexError(str(error)) from None
        raise CannotKeepError(str(error)) from None
    except (ValueError, TypeError, KeyError, AttributeError) as error:
        raise BrokenIndexError(str(error)) from None


def _used_to(used: Sequence[tuple[bytes, Stamp]]) -> str:
    return json.dumps([[path.hex(), *stamp] for path, stamp in used]) if used else ""


def _used_from(text: str) -> tuple[tuple[bytes, Stamp], ...]:
    return tuple((bytes.fromhex(path), Stamp(size, mtime))
                 for path, size, mtime in (json.loads(text) if text else ()))
