"""Writing files: whole or not at all."""

from __future__ import annotations

import os
import shlex
import sys
import tempfile
from contextlib import suppress
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


INSTALLED_BY = {"typst": "typst", "numpy": "numpy scipy", "scipy": "numpy scipy",
                "pygls": "pygls", "lsprotocol": "pygls"}
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
