"""Spoiled scripts through whole commands, in one process.

``python tests/attack/fuzz.py --scripts 200000 --others 20000`` runs ``check`` on so many spoiled
scripts and every other command on so many.  A number begins the random choices of each script, so
that a run can be repeated: ``--first 4711 --scripts 1``.  What falls is
kept in ``--keep`` (a folder) and told; the last lines are the results.  The status is 1 when
anything fell: an exception, an odd status, over 10 seconds, over 500 MB.
"""

from __future__ import annotations

import argparse
import contextlib
import gc
import io
import os
import resource
import signal
import sys
import tempfile
import time
import traceback
from functools import cache
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from attack.corpus import NASTY, any_script, nearly_whole, of_a_range
from attack.editing import session
from sockscript import cli
from sockscript.commands import range as range_command
from sockscript.pictures.kinds import KINDS
from sockscript.text.source import Source
from sockscript.tree.script import Script

LONGEST, LARGEST_MB = 10, 500
MOST_RANGES = 300
"""Combinations of a range that is attacked, so that one does not take all the time."""
PARTS = 100
"""All commands take turns, so that a run that is ended early has tried them all."""

OTHERS = ("steps", "needles", "html", "pdf", "picture", "sock", "png", "follow", "sizes", "fit",
          "swatch", "numbers", "range", "format", "mend", "new", "editor")
SHARES = {"html": 2, "pdf": 2, "picture": 3, "sock": 3, "png": 3}
"""One command makes several of these forms: all of them together try so many scripts as another
command."""


class _TooLongError(Exception):
    pass


def _stop(*_: object) -> None:
    raise _TooLongError


def arguments(command: str, random: Random, path: Path) -> list[str]:
    """A command line for a script."""
    text = path.read_text("utf-8", "replace")
    sizes = next((line.split()[1:] for line in text.split("\n") if line.startswith("sizes ")), [])
    size = ["--size", random.choice(sizes)] if sizes and random.random() < 0.9 else []
    odd = random.choice(NASTY)
    named = random.choice(["harbour-45", "any", odd])
    extra = ["--machine", named] if random.random() < 0.1 else []
    out = str(path.with_name("out"))
    file = str(path)
    match command:
        case "check":
            return [command, file, *extra, *random.choice(
                [[], [], ["--format", "json"], ["--format", "sarif"], ["--format", "lines"]])]
        case "steps":
            return [command, file, *extra, *random.choice(
                [size, [], ["--every-row"], ["--all-choices"], ["-o", out + ".md"],
                 ["-o", out + ".json"], ["-o", out + ".txt"], ["--size", odd],
                 ["--choose", odd + "=" + odd]])]
        case "needles":
            return [command, file, *size, *random.choice(
                [["--step", str(random.randrange(40))], ["--row", str(random.randrange(90))]])]
        case "html" | "pdf":
            return ["sheet", file, *random.choice([size, []]), *random.choice(
                [[], ["--large-print"], ["--with-script"], ["--paper", "letter"],
                 ["--all-choices"]]), "-o", f"{out}.{command}"]
        case "picture" | "sock" | "png":
            kind = "sock" if command == "sock" else random.choice(list(KINDS))
            step = ["--step", str(random.randrange(30))] if kind == "beds" else []
            return ["picture", file, "--what", kind, *size, *step,
                    "-o", out + (".png" if command == "png" else ".svg")]
        case "follow":
            return [command, file, *size, "-o", out + ".html"]
        case "sizes":
            return [command, file, "-o", out + random.choice([".txt", ".md", ".csv", ".json"])]
        case "fit":
            return [command, file, *random.choice(
                [["--foot-length", "24.5cm"], ["--gauge", "29x41/10cm"], ["--shoe", "eu 39"],
                 ["--foot-round", "22cm", "--foot-length", "24cm"], ["--gauge", "10x14/10cm"],
                 ["--gauge", "8x11/10cm", "--foot-round", f"{random.randrange(10, 30)}cm"],
                 ["--foot-round", odd], ["--gauge", odd], ["--shoe", odd], ["--" + odd, "1"],
                 ["--gauge", "9" * random.randrange(1, 5000) + "x40"],
                 ["--foot-length", "1" * random.randrange(1, 5000) + "cm"]])]
        case "swatch":
            return [command, random.choice(["60x84/20x20cm", odd, "0x0/0x0cm", "60x84/" + odd,
                                            "9" * 5000 + "x84/20x20cm", "60x84/20x20in"]),
                    *random.choice([[], ["--washed", "60x84/19x18.5cm"], ["--washed", odd],
                                    ["--fabric", odd]])]
        case "numbers" | "range":
            return [command, file, *(random.choice(
                [[], ["--format", "csv"], ["--format", "json"]]) if command == "range" else [])]
        case "format":
            return [command, file, *random.choice([[], ["--check"], ["--diff"]])]
        case "mend":
            return ["check", "--mend", "--yes", file]
        case _:
            return ["new", "--title", odd * 3, "--author", odd, "--kind",
                    random.choice(["sock", "leg-warmer", odd]), "--gauge",
                    random.choice(["30x42", odd, "10x10", "90x90", "9" * 5000 + "x40"])]


def once_only() -> None:
    """Do once what is the same for every script: the parts of the command line are put together,
    and the shipped techniques are read."""
    import typer.main

    from sockscript.expand import used

    typer.main.get_command = cache(typer.main.get_command)
    plainly = used.read_script
    kept: dict[str, Script] = {}

    def read(source: Source) -> Script:
        if not source.name.startswith("techniques/"):
            return plainly(source)
        if source.name not in kept:
            kept[source.name] = plainly(source)
        return kept[source.name]

    used.read_script = read


class Results:
    """What came of the runs of one command; ``done`` are those whose script was taken."""

    def __init__(self) -> None:
        self.runs = self.done = self.fell = 0
        self.slowest = self.took = 0.0

    def __str__(self) -> str:
        return (f"{self.runs} runs, {self.done} taken, {self.fell} fell, slowest "
                f"{self.slowest:.1f} s, all {self.took:.0f} s")


def attacked(command: str, number: int, folder: Path, results: Results | None = None
             ) -> str | None:
    """Run a command on script ``number``; what fell, or None."""
    random = Random(f"{command} {number}")
    path = folder / "attacked.sockscript"
    if command in ("check", "format") or (command == "editor" and random.random() < 0.5):
        text = any_script(random)
    else:
        text = of_a_range(random) if command == "range" else nearly_whole(random)
    data = text.encode("utf-8", "surrogatepass")
    path.write_bytes(data)
    words = arguments(command, random, path) if command != "editor" else []
    out, err = io.StringIO(), io.StringIO()
    fell: str | None = None
    status: object = 0
    begun = time.process_time()
    signal.alarm(6 * LONGEST)
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            if command == "editor":
                session(random, folder, text)
            else:
                status = cli._dispatch(words)
        if status not in (0, 1, 2):
            fell = f"status {status}"
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
    range_command.MOST_COMBINATIONS = MOST_RANGES
    range_command.WORTH_SHARING = MOST_RANGES + 1
    once_only()
    # A command itself never looks for garbage; so many of them have to, now and then.
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 20, 20)
    counts = {"check": told.scripts, **{
        one: told.others // SHARES.get(one, 1) for one in told.command or OTHERS}}
    results = {command: Results() for command, count in counts.items() if count}
    begun = time.monotonic()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        os.chdir(folder)
        for part in range(PARTS):
            for command, result in results.items():
                count = counts[command]
                for number in range(count * part // PARTS, count * (part + 1) // PARTS):
                    why = attacked(command, told.first + number, folder, result)
                    if why is not None:
                        print(why, flush=True)
                        _keep(told.keep, folder, f"{command}-{told.first + number}.sockscript")
            if part % 10 == 9:
                print(_told(results, begun), flush=True)
    print(_told(results, begun))
    return 1 if any(one.fell for one in results.values()) or _largest() > LARGEST_MB else 0


def _keep(kept: Path | None, folder: Path, name: str) -> None:
    if kept is not None:
        kept.mkdir(parents=True, exist_ok=True)
        (kept / name).write_bytes((folder / "attacked.sockscript").read_bytes())


def _largest() -> int:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024


def _told(results: dict[str, Results], begun: float) -> str:
    total = sum(one.runs for one in results.values())
    return "\n".join([*(f"{command}: {one}" for command, one in results.items()),
                      f"in all {total} runs in {time.monotonic() - begun:.0f} s, at most "
                      f"{_largest()} MB at any time"])


if __name__ == "__main__":
    sys.exit(main())
