"""Pack the extension for VS Code into ``vscode/sockscript.vsix``: the same files, the same bytes.

Run it after another version of what ``vscode/package.json`` asks for, where ``npm install`` was run
before: ``python editors/pack.py``.  With ``--check`` it is built and not written, and the exit
status tells whether our own files in the packed one are out of date; those of others may be newer
since.  Our own files ``generate.py`` puts in, without Node.js.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import zipfile
from pathlib import Path

FOLDER = Path(__file__).resolve().parent / "vscode"
PACKED = FOLDER / "sockscript.vsix"
LONG_AGO = (1980, 1, 1, 0, 0, 0)
"""The time of every file in the package: the first that an archive can have."""


def members(package: Path) -> dict[str, bytes]:
    """The files of a package, by name."""
    with zipfile.ZipFile(package) as archive:
        return {name: archive.read(name) for name in sorted(archive.namelist())}


def built() -> dict[str, bytes]:
    """The files that the packaging tool puts together."""
    with tempfile.TemporaryDirectory() as work:
        out = Path(work) / PACKED.name
        subprocess.run(["node_modules/.bin/vsce", "package", "--allow-missing-repository", "--out",
                        str(out)], cwd=FOLDER, check=True, stdout=subprocess.DEVNULL)
        return members(out)


def with_own_files(files: dict[str, bytes]) -> dict[str, bytes]:
    """The files of a package with our own as they stand in the folder."""
    return {name: data if own is None else own for name, data in files.items()
            for own in (_own(name),)}


def _ours(files: dict[str, bytes]) -> list[str]:
    return [name for name in files if _own(name) is not None]


def _own(name: str) -> bytes | None:
    """The file of the folder that is a member of the package, if it is one of ours."""
    place, _, path = name.partition("/")
    if place != "extension" or path.startswith("node_modules/"):
        return None
    return (FOLDER / {"LICENSE.txt": "LICENSE"}.get(path, path)).read_bytes()


def write(files: dict[str, bytes], package: Path) -> None:
    """Write a package: files in order, one time for all."""
    with zipfile.ZipFile(package, "w") as archive:
        for name, data in files.items():
            one = zipfile.ZipInfo(name, LONG_AGO)
            one.compress_type = zipfile.ZIP_DEFLATED
            one.external_attr = 0o644 << 16
            archive.writestr(one, data)


def main() -> int:
    """Write the package, or with ``--check`` say whether it is out of date."""
    files = built()
    if "--check" not in sys.argv[1:]:
        write(files, PACKED)
        print(f"vscode/{PACKED.name}: {PACKED.stat().st_size // 1024} KB written")
        return 0
    there = members(PACKED) if PACKED.exists() else {}
    changed = [name for name in sorted({*_ours(there), *_ours(files)})
               if there.get(name) != files.get(name)]
    for name in changed:
        print(f"vscode/{PACKED.name}: {name} is out of date; run python editors/pack.py")
    return 1 if changed else 0


if __name__ == "__main__":
    sys.exit(main())
