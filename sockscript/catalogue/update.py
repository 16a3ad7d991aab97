"""Bringing an index up to date: only what is new or changed in the folder is read."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing import connection
from typing import NamedTuple, TypeVar

from sockscript.catalogue.index import Index, IndexedFile
from sockscript.catalogue.reading import (
    Stamp,
    digest_of,
    read_records,
    stamp_of,
)

T = TypeVar("T")

MANIFEST = "sockscript-site.json"
"""The file in which a folder of pages has what was written there; its patterns are copies."""
ENDINGS = (b".sockscript", b".sockpack")
FEW = 12
"""Files that are read sooner than other processes are started."""
TOGETHER = 8
"""Files that a process reads at a time."""
JUST_NOW = 2_000_000_000
"""Nanoseconds within which a file may be changed twice and keep its time and size (two seconds on
FAT, the coarsest file system that USB sticks have)."""
DEEPEST = 40
"""Folders within folders that are looked into."""


class Changes(NamedTuple):
    """Files that are to be read, those that are the same with another time, and those that are
    gone; and how many there are in all."""

    read: list[bytes]
    touched: list[tuple[bytes, Stamp, int]]
    gone: list[bytes]
    total: int


def files_in(root: bytes) -> Iterator[tuple[bytes, Stamp]]:
    """Scripts and packs in a folder and below it, with their stamps, by name.

    Hidden folders are left out, folders of pages, and links to folders, which may lead round in
    circles.  A folder that may not be looked into has none.
    """
    waiting = [(b"", 0)]
    while waiting:
        folder, depth = waiting.pop()
        try:
            found = sorted(os.scandir(os.path.join(root, folder)), key=lambda one: one.name)
        except OSError:
            continue
        if any(one.name == os.fsencode(MANIFEST) for one in found):
            continue
        for one in found:
            path = os.path.join(folder, one.name)
            try:
                if one.is_dir(follow_symlinks=False):
                    if not one.name.startswith(b".") and depth < DEEPEST:
                        waiting.append((path, depth + 1))
                elif one.name.lower().endswith(ENDINGS) and not one.name.startswith(b".") \
                        and (one.is_file() or one.is_symlink()):
                    stat = one.stat()
                    yield path, Stamp(stat.st_size, stat.st_mtime_ns)
            except OSError:
                yield path, Stamp(-1, -1)


def changes(root: bytes, known: dict[bytes, IndexedFile]) -> Changes:
    """What is otherwise in the folder than in the index."""
    here = dict(files_in(root))
    stamps: dict[bytes, Stamp] = {}
    read: list[bytes] = []
    touched: list[tuple[bytes, Stamp, int]] = []

    def used_stand_as_before(one: IndexedFile) -> bool:
        for name, stamp in one.used:
            if name not in stamps:
                stamps[name] = stamp_of(os.path.join(root, name))
            if stamps[name] != stamp or stamp.mtime > one.seen - JUST_NOW:
                return False
        return True

    for path, stamp in here.items():
        one = known.get(path)
        if one is None or not used_stand_as_before(one):
            read.append(path)
        elif one.stamp != stamp or stamp.mtime > one.seen - JUST_NOW:
            now = time.time_ns()
            if one.digest and digest_of(os.path.join(root, path)) == one.digest:
                touched.append((path, stamp, now))
            else:
                read.append(path)
    # Another process may have put in what came after we looked.
    gone = [path for path in known if path not in here
            and stamp_of(os.path.join(root, path)).size < 0]
    return Changes(read, touched, gone, len(here))


def update(index: Index, root: bytes, found: Changes, jobs: int | None = None,
           done: Callable[[int], None] = lambda count: None) -> None:
    """Bring the index up to date; ``done`` is told how many files were read.

    What was read is kept at once, so that nothing is lost when it is stopped.  ``jobs``: processes
    that read (None: one for each core).
    """
    if found.touched:
        index.seen_again(found.touched)
    if found.gone:
        index.forget(found.gone)
    for records in in_processes(read_records, root, found.read, jobs):
        index.put(records)
        done(len(records))


def _cores() -> int:
    affinity = getattr(os, "sched_getaffinity", None)
    return len(affinity(0)) if affinity is not None else os.cpu_count() or 1


def in_processes(work: Callable[[bytes, list[bytes]], list[T]], root: bytes,
                 paths: Sequence[bytes], jobs: int | None = None) -> Iterator[list[T]]:
    """Some work on files of a folder, done on all cores; what it gave comes as it is ready.

    ``jobs``: processes (None: one for each core).
    """
    jobs = jobs or _cores()
    parts = [list(paths[start:start + TOGETHER]) for start in range(0, len(paths), TOGETHER)]
    if len(paths) <= FEW or jobs < 2:
        yield from (work(root, part) for part in parts)
        return
    left = dict(enumerate(parts))
    # Processes that are started fresh have nothing open that is ours.
    pool = ProcessPoolExecutor(jobs, multiprocessing.get_context("spawn"), _let_the_first_stop)
    try:
        with _interrupts_waiting():
            waiting: dict[Future[list[T]], int] = {
                pool.submit(work, root, part): number for number, part in left.items()}
        for future in as_completed(waiting):
            done = future.result()
            del left[waiting.pop(future)]
            yield done
    except BrokenProcessPool:
        # A process was killed, perhaps for want of memory: one file after the other then.
        yield from (work(root, [path]) for part in left.values() for path in part)
    finally:
        pool.shutdown(wait=False, cancel_futures=True)


@contextmanager
def _interrupts_waiting() -> Iterator[None]:
    """Ctrl-C waits in here; a process that is started in here never takes it, also while Python
    begins in it."""
    mask = getattr(signal, "pthread_sigmask", None)
    if mask is None:
        yield
        return
    before = mask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        mask(signal.SIG_SETMASK, before)


def _let_the_first_stop() -> None:
    """Ctrl-C reaches every process at once; only the one that was started by hand answers it.  When
    that one is gone, however it was ended, so is this."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_the_first, daemon=True).start()


def _end_with_the_first() -> None:
    first = multiprocessing.parent_process()
    if first is not None:
        connection.wait([first.sentinel])
        os._exit(1)
