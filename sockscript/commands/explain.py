"""``sockscript explain``: what a finding means, with a script that shows it and its mend; what a
technique does, needs and leaves."""

from __future__ import annotations

import difflib
import sys
import textwrap
from pathlib import Path

from sockscript.commands import explain_technique
from sockscript.commands.check import CLEAN, UNUSABLE
from sockscript.expand.techniques import Library
from sockscript.findings.page import Page, load_page, page_names
from sockscript.findings.report import WIDTH, problem_text
from sockscript.text.source import Problem
from sockscript.tree.slips import nearest

_HEADINGS = {
    "fault": "FAULTS: a stitch is lost, or the piece is not what the pattern says",
    "warning": "WARNINGS: most likely not meant",
    "advice": "ADVICE: it knits, but could be better",
    "cannot read": "WHAT KEEPS A SCRIPT FROM BEING CHECKED",
}


def run(name: str | None) -> int:
    """Print the page of a finding, what a technique does, or the list of all findings; returns
    0, or 2 for an unknown name.

    ``name``: of a finding, of a shipped technique, or a file whose techniques are told.
    """
    if name is None:
        print(_list())
        return CLEAN
    if name.endswith(explain_technique.ENDING):
        return _techniques_of(Path(name))
    technique = explain_technique.shipped(name.strip().lower())
    if technique is not None:
        print(explain_technique.told(technique))
        return CLEAN
    page = load_page(name.strip().lower())
    if page is None:
        meant = nearest(name, {*page_names(), *Library({}, {}).all_names()})
        print(f"No finding and no technique is called '{name}'."
              + (f" Did you mean '{meant}'?" if meant else "")
              + "\n'sockscript explain' lists them all.", file=sys.stderr)
        return UNUSABLE
    print(_whole(page))
    return CLEAN


def _techniques_of(path: Path) -> int:
    found = explain_technique.of_file(path)
    if isinstance(found, Problem):
        print(problem_text(found), file=sys.stderr)
        return UNUSABLE
    print("\n\n\n".join(map(explain_technique.told, found))
          or f"There is no technique in {path}.")
    return CLEAN


def _list() -> str:
    pages = [page for page in map(load_page, page_names()) if page is not None]
    lines = []
    for severity, heading in _HEADINGS.items():
        lines += [heading, ""]
        for page in pages:
            if page.severity == severity:
                lines.append(textwrap.fill(
                    page.means, WIDTH, initial_indent=f"  {page.name:<26}",
                    subsequent_indent=" " * 28, break_on_hyphens=False))
        lines.append("")
    lines.append("'sockscript explain NAME' shows one with an example; the NAME of a technique, or "
                 "a FILE that\nhas some, tells what it needs and leaves.")
    return "\n".join(lines)


def _whole(page: Page) -> str:
    parts = [f"{page.name}   ({page.severity})", _filled(page.means), _filled(page.why)]
    if page.broken is not None and page.mended is not None:
        where = f", on the machine {page.machine}" if page.machine else ""
        parts += [f"This script shows it{where}:", textwrap.indent(page.broken.rstrip(), "    "),
                  "Mended (- the line that goes, + the line that comes):",
                  textwrap.indent(_change(page.broken, page.mended), "  ")]
    return "\n\n".join(parts)


def _filled(text: str) -> str:
    return textwrap.fill(text, WIDTH, break_long_words=False, break_on_hyphens=False)


def _change(broken: str, mended: str) -> str:
    """The changed lines with one line before and after each."""
    changes = difflib.unified_diff(broken.splitlines(), mended.splitlines(), n=1, lineterm="")
    return "\n".join("…" if line.startswith("@@") else line
                     for line in changes if not line.startswith(("---", "+++")))
