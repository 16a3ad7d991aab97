"""Write broken scripts and all reviewed output anew: ``python tests/support/regenerate.py``.

Then read what has changed (``git diff``) before it is committed: it is what people will read.
"""

from __future__ import annotations

import contextlib
import importlib.util
import io
import os
import sys
from pathlib import Path

from sockscript.commands.check import check_file, report
from sockscript.findings.page import load_page, page_names

ROOT = Path(__file__).resolve().parents[2]
BROKEN = ROOT / "examples" / "broken"


def broken_examples() -> None:
    """Each page's first script, and what the check says of it."""
    for old in BROKEN.iterdir():
        old.unlink()
    os.chdir(BROKEN)
    for name in page_names():
        page = load_page(name)
        assert page is not None
        if page.broken is not None:
            path = Path(f"{name}.sockscript")
            path.write_text(page.broken, "utf-8")
            Path(f"{name}.expected.txt").write_text(
                report(check_file(path, page.machine)) + "\n", "utf-8")


def sheets() -> None:
    """The printed sheets."""
    os.chdir(ROOT)
    sys.path.append(str(ROOT / "tests"))
    spec = importlib.util.spec_from_file_location("sheets", ROOT / "tests/sheet/test_steps.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    for name, (file, options) in module.SHEETS.items():
        text = io.StringIO()
        with contextlib.redirect_stdout(text):
            module.steps.run(file=file, **{**module.PLAIN, **options})
        (module.GOLDEN / name).write_text(text.getvalue(), "utf-8")


if __name__ == "__main__":
    broken_examples()
    sheets()
