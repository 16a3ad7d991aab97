"""``sockscript new --from``: a copy of an example that came with the program."""

from __future__ import annotations

import re
import sys
from pathlib import Path

from sockscript.commands.check import UNUSABLE
from sockscript.commands.output import deliver, may_begin
from sockscript.tree.slips import nearest

_PACKAGE = Path(__file__).parent.parent


def example_files() -> dict[str, Path]:
    """The examples by name: in the installed package, or beside it in a source tree."""
    packaged = _PACKAGE / "examples"
    folder = packaged if packaged.is_dir() else _PACKAGE.parent / "examples"
    return {path.stem: path for path in sorted(folder.glob("*.sockscript"))}


def run(*, name: str, out: Path | None) -> int:
    """Print an example word for word, or write it to a new file."""
    files = example_files()
    path = files.get(name.strip().lower().removesuffix(".sockscript"))
    if path is None:
        meant = nearest(name.lower(), set(files))
        lines = [f"No example is called '{name}'." + (f" Did you mean '{meant}'?" if meant else ""),
                 "There are:", *(f"  {one:<20}{_title(at)}" for one, at in files.items())]
        print("\n".join(lines), file=sys.stderr)
        return UNUSABLE
    if not may_begin(out):
        return UNUSABLE
    return deliver(path.read_text("utf-8"), out)


def _title(path: Path) -> str:
    """What an example calls itself."""
    found = re.search(r'^pattern "(.*)"', path.read_text("utf-8"), re.M)
    return found.group(1) if found else ""
