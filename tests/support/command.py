"""The command as a person types it: in this process, or as a whole one."""

from __future__ import annotations

import io
import os
import signal
import subprocess
import sys
from contextlib import ExitStack
from functools import cache
from pathlib import Path
from subprocess import CompletedProcess
from unittest.mock import patch

import typer.main

from sockscript import cli
from sockscript.text import width

ROOT = Path(__file__).resolve().parents[2]
ONCE = cache(typer.main.get_command)
"""Commands with their options, which typer would make anew (20 ms) at every call."""
NEEDS_A_PROCESS = ("PYTHON", "LC_", "TZ", "_TYPER")


def sockscript(*arguments, cwd=None, stdin=None, **environment) -> CompletedProcess[str]:
    """Run the command; returns what it printed and its status.

    It runs in this process, which saves the quarter of a second that Python takes to begin; all
    that it sees of the world (arguments, folder, environment, streams) is its own.  What tells
    Python how to begin, or the C library what to speak, needs a process.
    """
    if any(name.startswith(NEEDS_A_PROCESS) for name in environment):
        return process(*arguments, cwd=cwd, stdin=stdin, **environment)
    out, err = (io.TextIOWrapper(io.BytesIO(), "utf-8", newline="\n") for _ in range(2))
    typed = io.TextIOWrapper(io.BytesIO((stdin or "").encode("utf-8")), "utf-8")
    here = os.getcwd()
    with ExitStack() as changed:
        changed.callback(width.settle, None)
        changed.callback(os.chdir, here)
        changed.enter_context(patch.dict(os.environ, environment))
        changed.enter_context(patch.object(typer.main, "get_command", ONCE))
        for name, value in (("argv", ["sockscript", *map(str, arguments)]), ("stdin", typed),
                            ("stdout", out), ("stderr", err)):
            changed.enter_context(patch.object(sys, name, value))
        os.chdir(cwd or ROOT / "tests")
        try:
            status = cli.run()
        except SystemExit as ended:
            status = int(ended.code or 0)
    return CompletedProcess(["sockscript", *arguments], status, *map(_all_of, (out, err)))


def _all_of(stream: io.TextIOWrapper) -> str:
    stream.flush()
    return io.TextIOWrapper(io.BytesIO(stream.buffer.getvalue()), "utf-8").read()


def process(*arguments, cwd=None, stdin=None, **environment) -> CompletedProcess[str]:
    """The same as a process of its own: for what is true of the process itself."""
    return subprocess.run([sys.executable, "-m", "sockscript", *arguments],
                          cwd=cwd or ROOT / "tests", capture_output=True, text=True,
                          timeout=60, input=stdin, env={**os.environ, **environment}, check=False)


def heeds_interrupts() -> None:
    """To be called in a new process before its program begins (``preexec_fn``): a shell lets
    whatever it starts in the background ignore an interrupt, and so the tests' own children."""
    for one in (signal.SIGINT, signal.SIGHUP):
        signal.signal(one, signal.SIG_DFL)
