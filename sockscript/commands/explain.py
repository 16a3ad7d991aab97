"""``sockscript explain``: what a finding means, with a script that shows it and its mend."""

from __future__ import annotations

import difflib
import sys
import textwrap

from sockscript.commands.check import CLEAN, UNUSABLE
from sockscript.findings.page import Page, load_page, page_names
from sockscript.text import width
from sockscript.tree.slips import nearest

_HEADINGS = {
    "fault": "FAULTS: a stitch is lost, or the piece is not what the pattern says",
    "warning": "WARNINGS: most likely not meant",
    "advice": "ADVICE: it knits, but could be better",
    "cannot read": "WHAT KEEPS A SCRIPT FROM BEING CHECKED",
}


def run(name: str | None) -> int:
    """Print one page, or the list of all findings; returns 0, or 2 for an unknown name."""
    if name is None:
        print(_list())
        return CLEAN
    page = load_page(name.strip().lower())
    if page is None:
        meant = nearest(name, set(page_names()))
        print(f"No finding is called '{name}'."
              + (f" Did you mean '{meant}'?" if meant else "")
              + "\n'sockscript explain' lists them all.", file=sys.stderr)
        return UNUSABLE
    print(_whole(page))
    return CLEAN


def _list() -> str:
    pages = [page for page in map(load_page, page_names()) if page is not None]
    lines = []
    for severity, heading in _HEADINGS.items():
        lines += [width.filled(heading), ""]
        for page in pages:
            if page.severity == severity:
                beside = width.page() >= 70
                lines += [] if beside else [f"  {page.name}"]
                lines.append(width.filled(page.means, f"  {page.name:<26}", " " * 28) if beside
                             else width.filled(page.means, "    "))
        lines.append("")
    lines.append(width.filled("'sockscript explain NAME' shows one with an example."))
    return "\n".join(lines)


def _whole(page: Page) -> str:
    parts = [f"{page.name}   ({page.severity})", _filled(page.means), _filled(page.why)]
    if page.broken is not None and page.mended is not None:
        where = f", on the machine {page.machine}" if page.machine else ""
        parts += [f"This script shows it{where}:", textwrap.indent(page.broken.rstrip(), "    "),
                  _filled("Mended (- the line that goes, + the line that comes):"),
                  textwrap.indent(_change(page.broken, page.mended), "  ")]
    return "\n\n".join(parts)


def _filled(text: str) -> str:
    return width.filled(text)


def _change(broken: str, mended: str) -> str:
    """The changed lines with one line before and after each."""
    changes = difflib.unified_diff(broken.splitlines(), mended.splitlines(), n=1, lineterm="")
    return "\n".join("…" if line.startswith("@@") else line
                     for line in changes if not line.startswith(("---", "+++")))
