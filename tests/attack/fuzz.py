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
import io
import os
import resource
import signal
import sys
import tempfile
import time
import traceback
from collections import Counter
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from attack.corpus import NASTY, any_script, nearly_whole, spoiled
from sockscript import cli
from sockscript.commands import range as range_command
from sockscript.pictures.kinds import KINDS
from sockscript.service import completion, hover, outline, tokens
from sockscript.service.document import Document

LONGEST, LARGEST_MB = 10, 500
MOST_RANGES = 300
"""Combinations of a range that is attacked, so that one does not take all the time."""

OTHERS = ("steps", "needles", "sheet", "picture", "follow", "sizes", "fit", "swatch", "numbers",
          "range", "format", "mend", "new", "editor")


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
        case "sheet":
            return [command, file, *random.choice([size, []]), *random.choice(
                [[], ["--large-print"], ["--with-script"], ["--paper", "letter"],
                 ["--all-choices"]]), "-o", out + random.choice([".html", ".pdf"])]
        case "picture":
            kind = random.choice(list(KINDS))
            step = ["--step", str(random.randrange(30))] if kind == "beds" else []
            return [command, file, "--what", kind, *size, *step,
                    "-o", out + random.choice([".svg", ".svg", ".png"])]
        case "follow":
            return [command, file, *size, "-o", out + ".html"]
        case "sizes":
            return [command, file, "-o", out + random.choice([".txt", ".md", ".csv", ".json"])]
        case "fit":
            return [command, file, *random.choice(
                [["--foot-length", "24.5cm"], ["--gauge", "29x41/10cm"], ["--shoe", "eu 39"],
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


def edit(random: Random, text: str) -> None:
    """Some edits of a script in an editor, with what an editor asks after each."""
    document = Document("attacked.sockscript", Path(tempfile.gettempdir()))
    for _ in range(4):
        document.examine(text)
        lines = document.source.lines
        outline.outline(document)
        tokens.tokens_of(document)
        for _ in range(4):
            line = random.randrange(len(lines)) + 1 if lines else 1
            column = random.randrange(len(document.source.line(line)) + 1) + 1
            hover.hover(document, line, column)
            completion.completions(document, line, column)
        text = spoiled(random, text, 1)


def attacked(command: str, number: int, folder: Path) -> str | None:
    """Run a command on script ``number``; what fell, or None."""
    random = Random(f"{command} {number}")
    path = folder / "attacked.sockscript"
    text = any_script(random) if command in ("check", "format", "editor") else nearly_whole(random)
    data = text.encode("utf-8", "surrogatepass")
    path.write_bytes(data)
    words = arguments(command, random, path) if command != "editor" else []
    out, err = io.StringIO(), io.StringIO()
    fell: str | None = None
    begun = time.process_time()
    signal.alarm(6 * LONGEST)
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            if command == "editor":
                edit(random, text)
                status: object = 0
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
    if fell:
        fell = f"{command} {number}: {words}\n{fell}"
    return fell


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
    fell = Counter[str]()
    runs = Counter[str]()
    begun = time.monotonic()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        os.chdir(folder)
        jobs = [("check", told.scripts), *((one, told.others) for one in told.command or OTHERS)]
        for command, count in jobs:
            for number in range(told.first, told.first + count):
                why = attacked(command, number, folder)
                runs[command] += 1
                if why is not None:
                    fell[command] += 1
                    print(why, flush=True)
                    if told.keep:
                        told.keep.mkdir(parents=True, exist_ok=True)
                        kept = told.keep / f"{command}-{number}.sockscript"
                        kept.write_bytes((folder / "attacked.sockscript").read_bytes())
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    print(f"{sum(runs.values())} runs in {time.monotonic() - begun:.0f} s, at most {most} MB: "
          + ", ".join(f"{command} {count} ({fell[command]} fell)"
                      for command, count in runs.items()))
    return 1 if fell or most > LARGEST_MB else 0


if __name__ == "__main__":
    sys.exit(main())
