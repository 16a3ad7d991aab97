"""The page of each finding: what it means, why it matters, its limit, a script that shows it, its
mend.

Pages are Markdown files in ``pages``, one for each stable name.  They are read only when somebody
asks.
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import NamedTuple

from sockscript.findings.catalogue import KINDS

PAGES = Path(__file__).parent / "pages"

_PAGE = re.compile(
    r"# (?P<name>[a-z0-9-]+)\n\n"
    r"\*\*At the machine\.\*\* (?P<means>.+?)\n\n"
    r"\*\*Why it matters\.\*\* (?P<why>.+?)\n"
    r"(?:\n\*\*The limit\.\*\* (?P<limit>.+?)\n)?"
    r"(?:\nChecked for the machine `(?P<machine>[\w-]+)`\.\n)?"
    r"(?:\n## This script shows it\n\n```sockscript\n(?P<broken>.+?)```\n"
    r"\n## Mended\n\n```sockscript\n(?P<mended>.+?)```\n)?", re.S)


class Page(NamedTuple):
    """What there is to say about a finding.

    ``severity``: fault, warning, advice, or ``cannot read`` for what keeps a script from being
    checked.  ``limit``: from what number on it is told, and where that number comes from (None: it
    is told of every such case).  ``broken`` and ``mended`` are whole scripts (None: no script of
    its own shows it); ``machine`` is the profile that they are checked for.
    """

    name: str
    severity: str
    means: str
    why: str
    limit: str | None
    machine: str | None
    broken: str | None
    mended: str | None


@cache
def page_names() -> tuple[str, ...]:
    """The names of all findings."""
    return tuple(sorted(path.stem for path in PAGES.glob("*.md")))


def load_page(name: str) -> Page | None:
    """The page of a finding, or None if there is no such finding."""
    if name not in page_names():
        return None
    match = _PAGE.fullmatch((PAGES / f"{name}.md").read_text("utf-8"))
    assert match is not None, name
    kind = KINDS.get(name)
    return Page(name, kind.severity if kind is not None else "cannot read",
                _joined(match["means"]), _joined(match["why"]),
                _joined(match["limit"]) if match["limit"] else None, match["machine"],
                match["broken"], match["mended"])


def _joined(text: str) -> str:
    return " ".join(text.split())
