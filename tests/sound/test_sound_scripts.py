"""Scripts that knit as they are meant: the check has nothing to say of them, not even advice.

They are pieces of many constructions, not only socks, each as near as may be to a mistake that a
rule tells.  A finding here is a false alarm.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from support.scripts import findings_of_text

HERE = Path(__file__).parent

KNOWN: dict[str, str] = {}
"""False alarms still to be mended."""


@pytest.mark.parametrize("script", [
    pytest.param(path, id=path.stem, marks=[pytest.mark.xfail(strict=True, reason=KNOWN[path.stem])]
                 if path.stem in KNOWN else [])
    for path in sorted(HERE.glob("*.sockscript"))])
def test_a_sound_script_is_not_blamed(script: Path) -> None:
    found = findings_of_text(script.read_text("utf-8"))
    assert [(one.severity, one.kind, one.at.line, one.message) for one in found] == []
