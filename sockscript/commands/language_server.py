"""``sockscript language-server``: speaks to an editor over standard input and output."""

from __future__ import annotations

import os
import sys

from sockscript.commands.check import CLEAN, UNUSABLE
from sockscript.commands.output import missing_extra


def run() -> int:
    """Serve until the editor says that it is over; returns 0, or 2 without the library."""
    try:
        from sockscript.service.server import make_server
    except ImportError as error:
        print(missing_extra(error, "The language server"), file=sys.stderr)
        return UNUSABLE
    if sys.stdin.isatty():
        print("The language server speaks to an editor, not to a person: the README of your "
              "editor's folder under 'editors' tells how it is started. Ctrl-C ends it.",
              file=sys.stderr)
    # The protocol has a channel of its own: whatever else might be printed goes to the log.
    channel = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    make_server().start_io(sys.stdin.buffer, channel)
    return CLEAN
