"""``sockscript check --watch``: check again at every save."""

from __future__ import annotations

import sys
import time
from pathlib import Path

from sockscript.commands import check
from sockscript.commands.several import scripts_in

PAUSE = 0.3
"""Seconds between two looks at the files: a save is noticed at once, and nothing is worn out."""


def run(*, files: list[Path], machine: str | None) -> int:
    """Check whenever a file changes, until Ctrl-C; returns the status of the last check."""
    seen: object = None
    status = check.CLEAN
    try:
        while True:
            now = _looks(files)
            if now != seen:
                if seen is not None:
                    print(f"\n---- saved {time.strftime('%H:%M:%S')} ----\n")
                seen = now
                status = check.run(files=files, machine=machine)
                print("\nWaiting for the next save; Ctrl-C ends it.", file=sys.stderr)
                sys.stdout.flush()
            time.sleep(PAUSE)
    except KeyboardInterrupt:
        return status


def _looks(files: list[Path]) -> list[tuple[int, int]]:
    """When each file, and each script beside it, was saved, and how large it is."""
    scripts = scripts_in(files)
    beside = {other for path in scripts for other in path.parent.glob("*.sockscript")}
    found = []
    for path in sorted({*scripts, *beside}):
        try:
            stat = path.stat()
            found.append((stat.st_mtime_ns, stat.st_size))
        except OSError:
            found.append((0, 0))
    return found
