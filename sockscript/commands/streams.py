"""Standard output and error, as the last place through which all that is printed goes."""

from __future__ import annotations

import os
import re
import sys
from typing import Any

from sockscript.text.visible import visible
from sockscript.text.width import set_in

_OWN = re.compile("(\x1b\\[(?:0|1|2|32|36|1;31|1;33|1;36)m)")
"""The escape codes that ``findings.report`` colours with; to a terminal they go as they are."""


_KEPT = re.compile(r"\s*\d* \||\s{4}|For example:")
"""Lines of a script, with the place under them, and commands to copy: they stay whole."""


class OutputError(Exception):
    """What was printed did not arrive: the disk is full, or nobody takes it."""


class VisibleStream:
    """A stream that shows what is not seen as marks.

    Raises OutputError when it takes nothing more, BrokenPipeError when its reader went away.
    """

    def __init__(self, stream: Any, sentences: bool = False) -> None:
        """``stream`` is None for one that was closed before the program began; ``sentences``:
        whether lines that are wider than the screen go on in the next."""
        self._stream = stream
        self._sentences = sentences
        self._coloured = stream is not None and stream.isatty()

    def write(self, text: str) -> int:
        """Print a text."""
        if self._sentences and "\r" not in text and "\x1b" not in text:
            text = "\n".join(line if _KEPT.match(line) else set_in(line)
                             for line in text.split("\n"))
        if self._coloured and "\x1b" in text:
            parts = _OWN.split(text)
            text = "".join(part if n % 2 else visible(part) for n, part in enumerate(parts))
        else:
            text = visible(text)
        if self._stream is None:
            raise OutputError("it is closed")
        try:
            self._stream.write(text)
        except BrokenPipeError:
            raise
        except OSError as error:
            raise OutputError(error.strerror or str(error)) from None
        return len(text)

    def flush(self) -> None:
        """Let all arrive."""
        try:
            if self._stream is not None:
                self._stream.flush()
        except BrokenPipeError:
            raise
        except OSError as error:
            raise OutputError(error.strerror or str(error)) from None

    def isatty(self) -> bool:
        """Whether it is a terminal."""
        return self._stream is not None and self._stream.isatty()

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)


def show_what_is_not_seen() -> None:
    """Put both streams behind ``VisibleStream``; they write UTF-8."""
    for name in ("stdout", "stderr"):
        stream = getattr(sys, name)
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="backslashreplace")
        if stream is None and name == "stderr":
            stream = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115
        # What is said beside the page is set in for who reads it, not for a program.
        read = name == "stderr" and stream is not None and stream.isatty()
        setattr(sys, name, VisibleStream(stream, sentences=read))


def give_up_output() -> None:
    """Nothing more is printed, and what waits to be is forgotten."""
    if sys.__stdout__ is not None:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.__stdout__.fileno())
