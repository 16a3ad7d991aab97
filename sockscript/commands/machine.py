"""``sockscript machine``: which machines there are, and which one is usually meant."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from sockscript.commands.check import CLEAN, UNUSABLE
from sockscript.findings.report import problem_text
from sockscript.machine.load import load_profile
from sockscript.machine.places import (
    ANY,
    SHIPPED,
    find_profile,
    keep_usual,
    known_profiles,
    own_folder,
    usual_machine,
)
from sockscript.text.width import filled, set_in


def run(asked: str | None) -> int:
    """List the machines, or take one as the usual one; returns 0, or 2 for one that is none."""
    if asked is None:
        print(_list())
        return CLEAN
    if asked.lower() == ANY:
        return _keep(None, "Without --machine, scripts are checked on any machine that is as they "
                           "say.")
    profile = load_profile(asked)
    if isinstance(profile, tuple):
        print("\n\n".join(map(problem_text, profile)), file=sys.stderr)
        return UNUSABLE
    path = find_profile(asked)
    assert path is not None
    named = path.parent in (SHIPPED, own_folder())
    return _keep(path.stem if named else os.path.abspath(path),
                 f"{profile.name} is your usual machine now: every command uses it where no other "
                 f"is named.\n--machine {ANY} leaves it out once, 'sockscript machine {ANY}' for "
                 "good.")


def _keep(asked: str | None, said: str) -> int:
    try:
        keep_usual(asked)
    except OSError as error:
        print(f"This cannot be remembered in {own_folder()}: "
              f"{(error.strerror or str(error)).rstrip('.')}.\nLook at who may write there.",
              file=sys.stderr)
        return UNUSABLE
    print(set_in(said))
    return CLEAN


def _list() -> str:
    known = known_profiles()
    usual = usual_machine()
    if usual is not None and usual not in known:
        same = [name for name, path in known.items() if os.path.abspath(path) == usual]
        known |= {} if same else {usual: Path(usual)}
        usual = same[0] if same else usual
    wide = max(map(len, known))
    lines = ["Machines that can be named after --machine:", ""]
    for name, path in sorted(known.items()):
        profile = load_profile(str(path) if path.parent != Path() else name)
        where = "comes with Sockscript" if path.parent == SHIPPED else str(path)
        called = f"{len(profile)} thing{'s' * (len(profile) > 1)} to mend" \
            if isinstance(profile, tuple) else profile.name
        lines.append(filled(f"{called}  ({where})", f"{'*' if name == usual else ' '} "
                            f"{name:<{wide}}  ", " " * (wide + 4)))
    lines += ["", set_in(
        f"* is your usual machine; 'sockscript machine {ANY}' means none." if usual else
        f"'sockscript machine {next(iter(known))}' makes it your usual one."),
              set_in(f"'sockscript new --kind machine' describes your own; yours are kept in "
              f"{own_folder()}.")]
    return "\n".join(lines)
