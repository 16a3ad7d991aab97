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
    try:
        write_whole(out, text)
    except OSError as error:
        print(f"{out} cannot be written: {error.strerror or error}.\n"
              "Look at the name of the folder and at who may write there.", file=sys.stderr)
        return 2
    return 0


def write_whole(path: Path, text: str) -> None:
    """Write a file by way of a temporary one beside it.  Raises OSError; never leaves a part."""
    handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as stream:
            stream.write(text)
        os.chmod(temporary, 0o644)
        os.replace(temporary, path)
    except BaseException:
        os.unlink(temporary)
        raise
