"""Writing files: whole or not at all."""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path


def deliver(text: str, out: Path | None) -> int:
    """Print ``text`` or write it to a file; returns the exit status."""
    if out is None:
        sys.stdout.write(text)
        return 0
    return write_out(text, out)


def write_out(content: str | bytes, out: Path) -> int:
    """Write a file, or say why it cannot be written; returns the exit status."""
    try:
        write_whole(out, content)
    except OSError as error:
        print(f"{out} cannot be written: {error.strerror or error}.\n"
              "Look at the name of the folder and at who may write there.", file=sys.stderr)
        return 2
    return 0


def tell_written(content: str | bytes, out: Path) -> int:
    """Write a file and say so, or why it cannot be written; returns the exit status."""
    status = write_out(content, out)
    if not status:
        print(f"Written: {out}")
    return status


EXTRAS = {"typst": "print", "numpy": "shape", "scipy": "shape",
          "pygls": "language-server", "lsprotocol": "language-server"}
"""Optional libraries and the extra that brings each."""


def missing_extra(error: ImportError, what: str) -> str:
    """What to install when an optional library is not there."""
    extra = EXTRAS.get(error.name or "", "")
    if not extra:
        raise error
    return (f"{what} needs a library that is not installed ({error.name}).\n"
            f"In the folder of Sockscript:  pip install '.[{extra}]'")


def write_whole(path: Path, content: str | bytes) -> None:
    """Write a file by way of a temporary one beside it.  Raises OSError; never leaves a part."""
    handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content.encode("utf-8") if isinstance(content, str) else content)
        os.chmod(temporary, 0o644)
        os.replace(temporary, path)
    except BaseException:
        os.unlink(temporary)
        raise
