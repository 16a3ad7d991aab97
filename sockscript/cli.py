"""The command line.

``check`` is run at every save, so its plain form (files, perhaps ``--machine``) goes straight
to work; everything else, and every slip, goes through typer, whose handling of parameters alone
takes longer than a check.
"""

from __future__ import annotations

import gc
import os
import re
import sys
from contextlib import suppress
from pathlib import Path
from typing import Any, NoReturn

from sockscript.commands import SAMPLES
from sockscript.commands.streams import OutputError, give_up_output, show_what_is_not_seen
from sockscript.text import width

UNUSABLE, INTERNAL = 2, 70
LONG = frozenset({"--watch", "language-server", "range", "numbers", "catalogue"})
"""Words on a command line that mean a process that runs long or knits very often."""
MOST_DIGITS = 40
"""In one word of a command line."""


def plain_check(arguments: list[str]) -> tuple[list[Path], str | None] | None:
    """The files and machine of a plain ``check``, or None when typer should look at it."""
    if arguments[:1] != ["check"]:
        return None
    rest, machine = arguments[1:], None
    if len(rest) > 2 and rest[-2] == "--machine":
        rest, machine = rest[:-2], rest[-1]
    if not rest or any(word.startswith("-") for word in rest):
        return None
    return [Path(word) for word in rest], machine


def main() -> None:
    """The program: run the command line and end the process."""
    runs_long = not LONG.isdisjoint(sys.argv[1:])
    # Almost all that a short command makes is kept to its end: looking for garbage only takes time.
    if not runs_long:
        gc.disable()
    status = run()
    if runs_long:
        sys.exit(status)
    _leave_all(status)


def _leave_all(status: int) -> NoReturn:
    """End the process as it stands: to take apart all that a check made is 6 % of its time."""
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, OutputError):
            stream.flush()
    os._exit(status)


def run() -> int:
    """Run the command line and return the exit status; never shows a traceback."""
    width.settle(width.columns_of(sys.stdout), not {"-o", "--out"}.isdisjoint(sys.argv[1:]))
    show_what_is_not_seen()
    try:
        status = _dispatch(sys.argv[1:])
        sys.stdout.flush()
    except KeyboardInterrupt:
        status = 130
    except BrokenPipeError:
        # The reader went away (a pager was closed): nothing is wrong.
        give_up_output()
        status = 141
    except OutputError as error:
        give_up_output()
        print(f"What is printed does not arrive: {str(error).rstrip('.')}.\nLook at the room that "
              "is left on the disk, or at where the output is sent.", file=sys.stderr)
        status = UNUSABLE
    except Exception as error:
        if os.environ.get("SOCKSCRIPT_DEBUG"):
            raise
        print("This is a mistake in sockscript itself, not in your script: "
              f"{type(error).__name__}: {error}\nPlease report it, with the script and this line. "
              "(SOCKSCRIPT_DEBUG=1 shows where it happened.)", file=sys.stderr)
        status = INTERNAL
    return status


def _dispatch(arguments: list[str]) -> int:
    # Version control hands compare the marks of its files, which may be 40 digits.
    for word in arguments if arguments[:1] != ["compare"] else ():
        if MOST_DIGITS * "0" in re.sub(r"\d", "0", word):
            print(f"A number of so many digits is no measurement: '{word[:MOST_DIGITS]}…'",
                  file=sys.stderr)
            return UNUSABLE
    plain = plain_check(arguments)
    if plain is not None:
        from sockscript.commands import check

        return check.run(files=plain[0], machine=plain[1])
    return _typer(arguments)


def _typer(arguments: list[str]) -> int:
    os.environ.setdefault("TYPER_USE_RICH", "0")
    import typer

    from sockscript.commands.app import app
    from sockscript.commands.given_once import Once

    for command in app.registered_commands:
        command.cls = Once
    try:
        result = app(arguments, prog_name="sockscript", standalone_mode=False)
    except typer.Abort:
        return 130
    except Exception as error:
        # Every usage error of typer says what it is in format_message().
        if not hasattr(error, "format_message"):
            raise
        print(_usage(error, arguments), file=sys.stderr)
        return 2
    return int(result or 0)


def _usage(error: Any, arguments: list[str]) -> str:
    """A slip on the command line in plain words."""
    from sockscript.tree.slips import nearest

    text = error.format_message().rstrip(".") + "."
    command = next((word for word in arguments if word in SAMPLES), None)
    if command is None and arguments and not arguments[0].startswith("-"):
        meant = nearest(arguments[0], set(SAMPLES))
        text = f"There is no command '{arguments[0]}'."
        text += f" Did you mean '{meant}'?" if meant else ""
        return f"{text}\nThere are {', '.join(sorted(SAMPLES))}; 'sockscript --help' tells more."
    sample = SAMPLES.get(command or "", "sockscript --help")
    return f"{text}\nFor example:  {sample}"
