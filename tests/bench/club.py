"""Speed of what members of a club do with each other's patterns: ``python tests/bench/club.py``.

Ratios against a baseline of the same run, as in ``ratios.py``.  Not a test: nothing fails here.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

from ratios import SOCK, inside, line, whole

from sockscript.compare.comparison import compare
from sockscript.compare.told import as_text
from sockscript.findings.checked import Checked, check
from sockscript.text.source import Source


def comparison() -> None:
    """The family sock and the same with other ease: every number differs."""
    text = SOCK.read_text("utf-8")
    other = text.replace("less 10%", "less 5%")

    def checked(words: str) -> Checked:
        return check(Source("sock.sockscript", words, SOCK.parent))

    line("compare two versions / check, family sock, nine sizes, warm",
         inside(lambda: as_text(compare(checked(text), checked(other)))),
         inside(lambda: checked(text)), "<= 2.5")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "other.sockscript"
        path.write_text(other, "utf-8")
        line("compare two versions / check, as whole commands",
             whole("-m", "sockscript", "compare", str(SOCK), str(path)),
             whole("-m", "sockscript", "check", str(SOCK)), "<= 2.5")


if __name__ == "__main__":
    comparison()
