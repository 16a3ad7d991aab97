"""Writing files: whole or not at all, and only over what may be replaced."""

from __future__ import annotations

import os
import signal
import stat
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

STOPS = ("SIGINT", "SIGTERM", "SIGHUP")


class CannotWriteError(OSError):
    """Something that is not a file to write to; says why."""

    def __init__(self, why: str) -> None:
        super().__init__(None, why)


def write_whole(path: Path, content: str | bytes) -> None:
    """Write a file by way of a temporary one beside it.

    A link is followed to the real file, whose mode is kept; a terminal and the null device are
    written to.  Raises OSError (CannotWriteError for what must not be replaced: a read-only
    file, a folder, a pipe, a device); never leaves a part.
    """
    data = content.encode("utf-8") if isinstance(content, str) else content
    if takes_bytes(path):
        with open(path, "wb", buffering=0) as device:
            while data:
                data = data[device.write(data):]
        return
    real = Path(os.path.realpath(path))
    mode = _mode(real)
    with _to_the_end():
        handle, temporary = tempfile.mkstemp(dir=real.parent, prefix=f".{real.name}."[:100])
        try:
            with os.fdopen(handle, "wb") as stream:
                stream.write(data)
                stream.flush()
                os.fsync(stream.fileno())
            os.chmod(temporary, mode)
            os.replace(temporary, real)
        except BaseException:
            os.unlink(temporary)
            raise


def takes_bytes(path: Path) -> bool:
    """Whether this is a terminal or the null device, which are written to, not replaced."""
    try:
        found = os.stat(path)
        if not stat.S_ISCHR(found.st_mode):
            return False
        if found.st_rdev == os.stat(os.devnull).st_rdev:
            return True
        handle = os.open(path, os.O_WRONLY | getattr(os, "O_NOCTTY", 0))
    except OSError:
        return False
    try:
        return os.isatty(handle)
    finally:
        os.close(handle)


def _mode(real: Path) -> int:
    """The mode that the file is to have.  Raises OSError when it must not be replaced."""
    try:
        found = os.stat(real)
    except FileNotFoundError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask
    if stat.S_ISDIR(found.st_mode):
        raise CannotWriteError("it is a folder")
    if not stat.S_ISREG(found.st_mode):
        raise CannotWriteError("it is a pipe or a device, not a file")
    # The administrator may write everything; what is marked read-only is meant to stay.
    if not found.st_mode & 0o222 or not os.access(real, os.W_OK):
        raise CannotWriteError("it is read-only")
    return stat.S_IMODE(found.st_mode)


@contextmanager
def _to_the_end() -> Iterator[None]:
    """Let a signal to stop wait until the few milliseconds of writing are over."""
    came: list[int] = []

    def note(number: int, _frame: Any) -> None:
        came.append(number)

    numbers = [getattr(signal, name) for name in STOPS if hasattr(signal, name)]
    try:
        before = {number: signal.signal(number, note) for number in numbers}
    except ValueError:
        # Only the main thread may say what a signal does; no other is stopped by one.
        before = {}
    try:
        yield
    finally:
        for number, action in before.items():
            if action is not None:
                signal.signal(number, action)
        for number in came:
            signal.raise_signal(number)
