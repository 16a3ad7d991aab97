"""The command as a person types it: a whole process."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def sockscript(*arguments, cwd=None, stdin=None, **environment):
    """Run the command; returns what it printed and its status."""
    return subprocess.run([sys.executable, "-m", "sockscript", *arguments],
                          cwd=cwd or ROOT / "tests", capture_output=True, text=True,
                          timeout=60, input=stdin, env={**os.environ, **environment}, check=False)
