"""Spoiled scripts through whole commands, in one process.

``python tests/attack/fuzz.py --scripts 200000 --others 20000`` runs ``check`` on so many spoiled
scripts and every other command on so many.  A number begins the random choices of each script, so
that a run can be repeated: ``--first 4711 --scripts 1``.  What falls is
kept in ``--keep`` (a folder) and told; the last lines are the results, also when it is ended with
Ctrl-C.  The status is 1 when anything fell: an exception, an odd status, over 10 seconds, over 500
MB.
"""

from __future__ import annotations

import argparse
import contextlib
import gc
import io
import os
import resource
import shutil
import signal
import sys
import tempfile
import time
import traceback
from collections.abc import Callable, Iterator
from functools import cache, lru_cache
from pathlib import Path
from random import Random
from types import SimpleNamespace

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from attack.command_lines import OTHERS, arguments, written_for
from attack.editing import session
from sockscript import cli
from sockscript.commands import range as range_command
from sockscript.text.source import Source
from sockscript.tree.script import Script

LONGEST, LARGEST_MB = 10, 500
MOST_RANGES = 300
"""Combinations of a range that is attacked, so that one does not take all the time."""
PARTS = 1000
"""All commands take turns, so that a run that is ended early has tried them all."""
SHOWN_EVERY = 300
"""Seconds between results on the way."""

SHARES = {"html": 2, "pdf": 2, "picture": 3, "sock": 3, "png": 3, "open": 3, "unpack": 3,
          "of-pack": 3, "catalogue": 2, "site": 2}
"""One command makes several of these forms: all of them together try so many scripts as another
command."""


class _TooLongError(Exception):
    pass


def _stop(*_: object) -> None:
    raise _TooLongError


def once_only(put: Callable[[object, str, object], None] = setattr) -> None:
    """Do once what is the same for every script: the parts of the command line are put together,
    the shipped techniques and lines that were read before are read.  A leaflet is set in fewer
    ways.  ``put`` puts the other function in its place."""
    import typer.main

    from sockscript.catalogue import reading
    from sockscript.commands import club, sharing
    from sockscript.expand import used
    from sockscript.sheet import pdf_form
    from sockscript.tree import line_reader

    put(typer.main, "get_command", cache(typer.main.get_command))
    for more in (club, sharing):
        put(more, "register", cache(more.register))
    plainly = used.read_script
    kept: dict[str, Script] = {}

    def read(source: Source) -> Script:
        if not source.name.startswith("techniques/"):
            return plainly(source)
        if source.name not in kept:
            kept[source.name] = plainly(source)
        return kept[source.name]

    put(used, "read_script", read)
    put(line_reader, "parse_text", lru_cache(maxsize=30_000)(line_reader.parse_text))
    put(pdf_form, "CLOSER", pdf_form.CLOSER[::3])
    # Among all that is kept here, garbage takes longer to look for than a folder to read.
    put(reading, "gc", SimpleNamespace(collect=lambda: 0))
    put(range_command, "MOST_COMBINATIONS", MOST_RANGES)
    put(range_command, "WORTH_SHARING", MOST_RANGES + 1)


class Results:
    """What came of the runs of one command; ``done`` are those whose script was taken."""

    def __init__(self) -> None:
        self.runs = self.done = self.fell = 0
        self.slowest = self.took = 0.0

    def __str__(self) -> str:
        return (f"{self.runs} runs, {self.done} taken, {self.fell} fell, slowest "
                f"{self.slowest:.1f} s, all {self.took:.0f} s")


def own_places(folder: Path) -> dict[str, str]:
    """Where commands keep what is the member's own, so that nothing of the attacker's is there."""
    return {"XDG_CACHE_HOME": str(folder / "cache"), "SOCKSCRIPT_KEYS": str(folder / "keys"),
            "XDG_CONFIG_HOME": str(folder / "own"),
            # A mistake of the program is not kept as a line of a catalogue.
            "SOCKSCRIPT_DEBUG": "1"}


def attacked(command: str, number: int, folder: Path, results: Results | None = None
             ) -> str | None:
    """Run a command on script ``number``; what fell, or None."""
    random = Random(f"{command} {number}")
    path = folder / "attacked.sockscript"
    words: list[str] = []
    out, err = io.StringIO(), io.StringIO()
    fell: str | None = None
    status: object = 0
    begun = time.process_time()
    signal.alarm(6 * LONGEST)
    try:
        text = written_for(command, random, path)
        if command != "editor":
            words = arguments(command, random, path, text)
        begun = time.process_time()
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            if command == "editor":
                session(random, folder, text)
            else:
                status = cli._dispatch(words)
        if status not in (0, 1, 2):
            fell = f"status {status}"
        elif list(folder.parent.glob("up.*")) + list(folder.glob("up.*")):
            fell = "a member was written outside the folder"
    except (_TooLongError, Exception):
        fell = traceback.format_exc(limit=-6)
    finally:
        signal.alarm(0)
    took = time.process_time() - begun
    if took > LONGEST:
        fell = f"{took:.1f} s\n{fell or ''}"
    if results is not None:
        results.runs += 1
        results.done += not fell and status != 2
        results.fell += bool(fell)
        results.took += took
        results.slowest = max(results.slowest, took)
    return f"{command} {number}: {words}\n{fell}" if fell else None


_ended: list[int] = []
"""The signal that ends the run after the script it is at."""


def _turns(counts: dict[str, int]) -> Iterator[tuple[str, int]]:
    """Commands with the numbers of scripts, a part of each in turn."""
    for part in range(PARTS):
        for command, count in counts.items():
            for number in range(count * part // PARTS, count * (part + 1) // PARTS):
                yield command, number


def main() -> int:
    """Attack; returns the exit status."""
    reader = argparse.ArgumentParser(description=__doc__)
    reader.add_argument("--scripts", type=int, default=0, help="scripts for check")
    reader.add_argument("--others", type=int, default=0, help="scripts for every other command")
    reader.add_argument("--command", action="append", choices=OTHERS, help="only this other one")
    reader.add_argument("--first", type=int, default=0)
    reader.add_argument("--keep", type=Path, help="a folder for scripts that bring something down")
    told = reader.parse_args()
    signal.signal(signal.SIGALRM, _stop)
    for end in (signal.SIGINT, signal.SIGTERM):
        signal.signal(end, lambda number, _: _ended.append(number))
    once_only()
    # A command itself never looks for garbage; so many of them have to, now and then.
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 20, 20)
    counts = {"check": told.scripts, **{
        one: told.others // SHARES.get(one, 1) for one in told.command or OTHERS}}
    results = {command: Results() for command in counts}
    begun = time.monotonic()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "here"
        folder.mkdir()
        os.chdir(folder)
        os.environ.update(own_places(folder))
        shown = begun
        for command, number in _turns(counts):
            if _ended:
                break
            why = attacked(command, told.first + number, folder, results[command])
            if why is not None:
                print(why, flush=True)
                _keep(told.keep, folder, f"{command}-{told.first + number}")
            if time.monotonic() - shown > SHOWN_EVERY:
                shown = time.monotonic()
                print(_told(results, begun), flush=True)
    print(_told(results, begun))
    return 1 if any(one.fell for one in results.values()) or _largest() > LARGEST_MB else 0


def _keep(kept: Path | None, folder: Path, name: str) -> None:
    """Keep all that was written for an attack."""
    if kept is not None:
        (kept / name).mkdir(parents=True, exist_ok=True)
        for path in folder.glob("attacked*"):
            if path.is_file():
                shutil.copy(path, kept / name)


def _largest() -> int:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024


def _told(results: dict[str, Results], begun: float) -> str:
    total = sum(one.runs for one in results.values())
    return "\n".join([*(f"{command}: {one}" for command, one in results.items()),
                      f"in all {total} runs in {time.monotonic() - begun:.0f} s, at most "
                      f"{_largest()} MB at any time"])


if __name__ == "__main__":
    sys.exit(main())
