"""Build hook: compile the tables of the grammar into the wheel, so that no start builds them."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

ROOT = Path(__file__).resolve().parent.parent


class CustomBuildHook(BuildHookInterface[Any]):
    """Writes ``sockscript/text/tables.bin`` before the files of the wheel are gathered."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Called by hatchling before the build."""
        sys.path.insert(0, str(ROOT))
        try:
            from sockscript.text.parser import compiled_tables
        finally:
            sys.path.remove(str(ROOT))
        grammar = (ROOT / "grammar" / "sockscript.lark").read_text("utf-8")
        (ROOT / "sockscript" / "text" / "tables.bin").write_bytes(compiled_tables(grammar))

    def finalize(self, version: str, build_data: dict[str, Any], artifact_path: str) -> None:
        """Called after the build: leave the source tree as it was."""
        (ROOT / "sockscript" / "text" / "tables.bin").unlink(missing_ok=True)
