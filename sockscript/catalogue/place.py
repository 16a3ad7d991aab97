"""Where the index of a folder is kept: with the member, never in the folder."""

from __future__ import annotations

import hashlib
import os
import sys
from collections.abc import Mapping
from pathlib import Path


def cache_folder(environment: Mapping[str, str], platform: str = sys.platform) -> Path:
    """The usual place for what can be made again: ``%LOCALAPPDATA%`` on Windows,
    ``~/Library/Caches`` on macOS, elsewhere ``$XDG_CACHE_HOME`` or ``~/.cache`` (XDG Base
    Directory Specification 0.8)."""
    if platform == "win32":
        base = Path(environment.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local")
        return base / "sockscript" / "Cache"
    if platform == "darwin":
        return Path.home() / "Library" / "Caches" / "sockscript"
    named = environment.get("XDG_CACHE_HOME", "")
    # A relative path there is invalid and to be ignored, says the specification.
    return (Path(named) if os.path.isabs(named) else Path.home() / ".cache") / "sockscript"


def index_file(folder: Path, environment: Mapping[str, str]) -> Path:
    """The index of a folder, by a mark of its real path.  Raises OSError or RuntimeError where
    there is no place for it."""
    mark = hashlib.sha256(os.fsencode(os.path.realpath(folder))).hexdigest()[:24]
    return cache_folder(environment) / "catalogues" / f"{mark}.sqlite"
