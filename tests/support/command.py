"""The command as a person types it: a whole process, or, much sooner, within this one."""

from __future__ import annotations

import contextlib
import io
import os
import subprocess
import sys
from pathlib import Path
from unittest import mock

from sockscript import cli

ROOT = Path(__file__).resolve().parents[2]


def sockscript(*arguments, cwd=None, stdin=None, **environment):
    """Run the command; returns what it printed and its status."""
    return subprocess.run([sys.executable, "-m", "sockscript", *arguments],
                          cwd=cwd or ROOT / "tests", capture_output=True, text=True,
                          timeout=60, input=stdin, env={**os.environ, **environment}, check=False)


def here(*arguments, cwd=None, **environment):
    """The same without a process of its own: for what does not depend on how a process begins or
    ends."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.chdir(cwd or ROOT / "tests"), mock.patch.dict(
                os.environ, {"COLUMNS": "80", **environment}), \
            mock.patch.object(sys, "argv", ["sockscript", *arguments]), \
            contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = cli.run()
    return subprocess.CompletedProcess(arguments, status, out.getvalue(), err.getvalue())
