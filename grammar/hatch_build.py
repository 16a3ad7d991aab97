"""Build hook: what the wheel has and the source tree has not, or elsewhere.

The tables of the grammar are compiled, so that no start builds them; the examples are put beside
the program, so that ``sockscript new --from`` has them where there is no source tree.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

ROOT = Path(__file__).resolve().parent.parent


class CustomBuildHook(BuildHookInterface[Any]):
    """Puts ``text/tables.bin`` and ``examples`` into the wheel; the source tree is only read."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Called by hatchling before the files of the wheel are gathered."""
        sys.path.insert(0, str(ROOT))
        writes = sys.dont_write_bytecode
        sys.dont_write_bytecode = True
        try:
            from sockscript.text.parser import compiled_tables
        finally:
            sys.dont_write_bytecode = writes
            sys.path.remove(str(ROOT))
        grammar = (ROOT / "grammar" / "sockscript.lark").read_text("utf-8")
        self.folder = tempfile.TemporaryDirectory(prefix="sockscript-tables-")
        tables = Path(self.folder.name) / "tables.bin"
        tables.write_bytes(compiled_tables(grammar))
        inside = build_data["force_include"]
        inside[str(tables)] = "sockscript/text/tables.bin"
        for example in (ROOT / "examples").glob("*.sockscript"):
            inside[str(example)] = f"sockscript/examples/{example.name}"

    def finalize(self, version: str, build_data: dict[str, Any], artifact_path: str) -> None:
        """Called after the build."""
        self.folder.cleanup()
