"""Where machine profiles are looked for, and which one a member usually means.

Beside the script, in the current folder, in the member's own folder, and last among those that
come with the program: a profile of one's own may have the name of a shipped one.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from pathlib import Path

SHIPPED = Path(__file__).parent.parent / "machines"
ENDING = ".machine"
ANY = "any"
"""Asked for by a member who has a usual machine and wants none: any that is as the script says."""
_USUAL = "usual-machine.txt"
_LONGEST = 2_000


def own_folder(platform: str = sys.platform, environ: Mapping[str, str] = os.environ) -> Path:
    """Where the platform keeps settings of a user.

    A library for this costs more than a check may take: it is asked at every start.  Sources: the
    XDG base directory specification (a path that is not absolute is ignored), Apple's file system
    guide, Microsoft's known folders; a test compares with platformdirs.
    """
    if platform == "win32":
        base = environ.get("APPDATA") or os.path.expanduser("~\\AppData\\Roaming")
    elif platform == "darwin":
        base = os.path.expanduser("~/Library/Application Support")
    else:
        base = environ.get("XDG_CONFIG_HOME", "")
        base = base if os.path.isabs(base) else os.path.expanduser("~/.config")
    return Path(base) / "sockscript"


def shipped_profiles() -> dict[str, Path]:
    """The profiles that come with the program, by name."""
    return {path.stem: path for path in sorted(SHIPPED.glob(f"*{ENDING}"))}


def places(beside: Path | None = None) -> list[Path]:
    """The folders that are searched for a name, first to last, apart from the shipped ones."""
    return [*([beside] if beside is not None else []), Path(), own_folder()]


def known_profiles(beside: Path | None = None) -> dict[str, Path]:
    """All profiles that have a name, by name, as they are found."""
    found: dict[str, Path] = {}
    for folder in places(beside):
        try:
            paths = sorted(folder.glob(f"*{ENDING}"))
        except OSError:
            continue
        for path in paths:
            found.setdefault(path.stem, path)
    for name, path in shipped_profiles().items():
        found.setdefault(name, path)
    return found


def find_profile(asked: str, beside: Path | None = None) -> Path | None:
    """The file of a profile that is asked for by its name or its path; None: there is none."""
    if not asked.strip():
        return None
    if os.path.basename(asked) != asked:
        return Path(asked) if asked.endswith(ENDING) else None
    name = asked.removesuffix(ENDING)
    for folder in places(beside):
        path = folder / f"{name}{ENDING}"
        if os.path.isfile(path):
            return path
    return shipped_profiles().get(name.lower())


def usual_machine() -> str | None:
    """The name or path of the machine that a member has said she usually means."""
    try:
        with open(own_folder() / _USUAL, encoding="utf-8") as file:
            return file.read(_LONGEST).strip() or None
    except (OSError, ValueError):
        return None


def keep_usual(asked: str | None) -> Path:
    """Remember the usual machine (None: none), and say in which file.  Raises OSError."""
    path = own_folder() / _USUAL
    if asked is None:
        path.unlink(missing_ok=True)
    else:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(f"{asked}\n", "utf-8")
    return path
