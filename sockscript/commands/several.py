"""Several scripts at once: those of a folder, how far the check has come, and the total."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import TypeVar

T = TypeVar("T")

WORTH_A_BAR = 3
"""With fewer scripts a bar is gone before it is seen."""


def scripts_in(paths: Iterable[Path]) -> list[Path]:
    """Every path that is no folder, and for a folder the scripts and packs in it and below it, by
    name.

    Hidden folders are left out.  An empty folder gives nothing.
    """
    found: list[Path] = []
    for path in paths:
        if path.is_dir():
            found += sorted(script for ending in (".sockscript", ".sockpack")
                            for script in path.rglob(f"*{ending}")
                            if not any(part.startswith(".")
                                       for part in script.relative_to(path).parts))
        else:
            found.append(path)
    return found


def none_found(paths: Sequence[Path]) -> int:
    """Say that no script is there; returns the exit status."""
    print(f"There is no script in {' or in '.join(map(str, paths))}.\n"
          "Scripts are files that end in .sockscript.", file=sys.stderr)
    return 2


def with_progress(items: Sequence[T]) -> Iterator[T]:
    """The items, with a bar on the terminal where they take a while and nothing else is there."""
    if len(items) < WORTH_A_BAR or not sys.stderr.isatty() or sys.stdout.isatty():
        yield from items
        return
    import typer

    with typer.progressbar(items, label="Knitting in thought", file=sys.stderr) as bar:
        yield from bar


def total(clean: int, found: Sequence[Path], unusable: Sequence[Path]) -> str:
    """``12 scripts: 10 clean; to look at: a.sockscript; cannot be read: b.sockscript.``"""
    count = clean + len(found) + len(unusable)
    parts = [f"all {count} scripts are clean" if clean == count else f"{clean} clean"]
    if found:
        parts.append(f"something was found in {', '.join(map(str, found))}")
    if unusable:
        parts.append(f"not checked: {', '.join(map(str, unusable))}")
    return ("" if clean == count else f"{count} scripts: ") + "; ".join(parts) + "."
