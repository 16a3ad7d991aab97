"""Where a command may write, and what it says about it."""

from __future__ import annotations

import os
import shlex
import sys
from collections.abc import Collection
from contextlib import suppress
from pathlib import Path

from sockscript.commands.streams import OutputError
from sockscript.commands.writing import CannotWriteError, takes_bytes, write_whole
from sockscript.text.visible import visible

ENDINGS = {"text": ".txt", "markdown": ".md", "csv": ".csv", "json": ".json"}
"""How the name of a file ends, by the form that is in it."""

WORKS = (".sockscript", ".machine")
"""Endings of what members write themselves: no printed thing is ever written over these."""

WRITERS = {".pdf": "sheet", ".html": "sheet", ".svg": "picture", ".png": "picture",
           ".csv": "sizes", ".md": "steps", ".json": "steps", ".txt": "steps",
           ".sockscript": "new", ".machine": "new", ".sockpack": "pack"}
"""The command to look at for an ending."""


def form_asked(format: str | None, forms: Collection[str], out: Path | None, *inputs: Path
               ) -> str | None:
    """The form to print in: the one asked for, else the one that the ending of ``out`` means.

    None, after saying why, when there is no such form or it cannot be written there.
    """
    if format is not None and format not in forms:
        print(f"There is no format '{format}'. Choose from {', '.join(forms)}.",
              file=sys.stderr)
        return None
    meant = {ENDINGS[form]: form for form in forms}
    if not may_write(out, tuple(meant), *inputs):
        return None
    ending = out.suffix.lower() if out is not None else ""
    if out is None or ending not in meant:
        return format or next(iter(forms))
    if format is not None and meant[ending] != format:
        print(f"The format {format} goes into a file that ends in {ENDINGS[format]}, for example "
              f"{out.with_suffix(ENDINGS[format])}.\nFor a file that ends in {ending}, say "
              f"--format {meant[ending]} or leave --format out.", file=sys.stderr)
        return None
    return meant[ending]


def may_write(out: Path | None, endings: Collection[str], *inputs: Path) -> bool:
    """Whether a command that writes ``endings`` and reads ``inputs`` may write ``out``; says why
    not.  ``None`` (standard output), a terminal and the null device may always be written to.
    """
    if out is None or takes_bytes(out):
        return True
    why = _refusal(out, endings, inputs)
    if why is not None:
        print(why, file=sys.stderr)
    return why is None


def may_begin(out: Path | None, ending: str = ".sockscript") -> bool:
    """Whether ``out`` may be a new script or profile: no file is there that it would replace."""
    if not may_write(out, (ending,)):
        return False
    if out is None or not out.exists() or takes_bytes(out):
        return True
    print(f"{out} is there already; it is not written over.", file=sys.stderr)
    return False


def _refusal(out: Path, endings: Collection[str], inputs: Collection[Path]) -> str | None:
    """Why nothing is written there (None: it may be)."""
    real = Path(os.path.realpath(out))
    listed = " or ".join(endings)
    for path in (out, real):
        ending = path.suffix.lower()
        if ending in WORKS and ending not in endings:
            what = "patterns" if ending == WORKS[0] else "machines"
            meant = f" (it is a link to {real})" if path is real != out else ""
            return (f"{out} is not written{meant}: names that end in {ending} are for {what} that "
                    f"are written by hand.\nGive the file another name, one that ends in {listed}.")
    if any(_same(out, path) for path in inputs):
        return (f"{out} is the pattern itself; it is not written over.\n"
                f"Give the file another name, one that ends in {listed}.")
    ending = out.suffix.lower()
    if ending in endings:
        return None
    other = WRITERS.get(ending)
    return (f"{out} is not written: the name of what this command writes ends in {listed}"
            + (f", not in {ending}." if ending else ".")
            + (f"\nFor {ending} look at 'sockscript {other} --help'." if other else ""))


def _same(one: Path, other: Path) -> bool:
    try:
        return one.samefile(other)
    except OSError:
        return False


def deliver(text: str, out: Path | None) -> int:
    """Print ``text``, or write it to a file and say so; returns the exit status."""
    if out is None:
        sys.stdout.write(text)
        return 0
    return tell_written(text, out)


def write_out(content: str | bytes, out: Path, as_is: bool = False) -> int:
    """Write a file, or say why it cannot be written; returns the exit status.

    Text shows marks for what is not seen; a member's script is written back ``as_is``.
    """
    if isinstance(content, str) and not as_is:
        content = visible(content)
    try:
        write_whole(out, content)
    except OSError as error:
        hint = ("" if isinstance(error, CannotWriteError) else
                "\nLook at the name of the folder, at who may write there, and at the room left.")
        print(f"{out} cannot be written: {(error.strerror or str(error)).rstrip('.')}.{hint}",
              file=sys.stderr)
        return 2
    return 0


def tell_written(content: str | bytes, out: Path) -> int:
    """Write a file and say so, or why it cannot be written; returns the exit status."""
    status = write_out(content, out)
    if not status:
        # The file is there, whether or not anybody hears of it.
        with suppress(OutputError):
            print(f"Written: {out}")
    return status


INSTALLED_BY = {"typst": "typst", "numpy": "numpy scipy", "scipy": "numpy scipy",
                "cryptography": "cryptography", "pygls": "pygls", "lsprotocol": "pygls",
                "fontpkg_atkinson_hyperlegible": "fontpkg-atkinson-hyperlegible"}
"""Optional libraries, and what is installed to have each; tests compare it with the extras."""


def missing_extra(error: ImportError, what: str) -> str:
    """What to install when an optional library is not there; it need not be a source tree."""
    wanted = INSTALLED_BY.get(error.name or "")
    if wanted is None:
        raise error
    return (f"{what} needs a library that is not installed ({error.name}).\n"
            f"This installs it beside Sockscript:  {_python()} -m pip install {wanted}")


def _python() -> str:
    """The Python that runs this program, as it is typed; short where it is in this folder."""
    python = Path(sys.executable)
    with suppress(OSError, ValueError):
        python = python.relative_to(Path.cwd())
    if os.name == "posix":
        return shlex.quote(str(python))
    return f'"{python}"' if " " in str(python) else str(python)
