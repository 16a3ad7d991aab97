"""The sheet as JSON, for other tools.

The keys are those of ``Sheet``; ``form`` names this layout and changes when a key changes its
meaning.  Texts hold all sizes together, as they are printed.
"""

from __future__ import annotations

from typing import Any

from sockscript.sheet.sheet import Sheet
from sockscript.text.visible import json_text

FORM = "sockscript-steps-1"


def render(sheet: Sheet) -> str:
    """The whole sheet as one JSON object."""
    data: dict[str, Any] = {"form": FORM}
    data.update({name: _plain(value) for name, value in sheet._asdict().items()})
    data["ledger"] = [{"section": line.title, "entries": {n: str(v) for n, v in line.entries}}
                      for line in sheet.ledger]
    return json_text(data, indent=2) + "\n"


def _plain(value: Any) -> Any:
    if isinstance(value, str) or value is None or isinstance(value, int):
        return str(value) if isinstance(value, str) else value
    if hasattr(value, "_asdict"):
        return {name: _plain(part) for name, part in value._asdict().items()}
    return [_plain(part) for part in value]
