"""``sockscript explain``: what a finding means, with a script that shows it and its mend; what a
technique does, takes, needs and leaves; what a word of the language says."""

from __future__ import annotations

import difflib
import sys
import textwrap
from pathlib import Path

from sockscript.commands import explain_technique
from sockscript.commands.check import CLEAN, UNUSABLE
from sockscript.findings.catalogue import KINDS
from sockscript.findings.page import Page, load_page, page_names
from sockscript.findings.report import problem_text
from sockscript.service.technique_help import shipped_help, shipped_names
from sockscript.service.word_help import WordHelp, all_words, word_help
from sockscript.text import width
from sockscript.text.source import Problem
from sockscript.tree.slips import nearest, said_otherwise

_HEADINGS = {
    "fault": "FAULTS: a stitch is lost, or the piece is not what the pattern says",
    "warning": "WARNINGS: most likely not meant",
    "advice": "ADVICE: it knits, but could be better",
    "cannot read": "WHAT KEEPS A SCRIPT FROM BEING CHECKED",
}


def run(name: str | None) -> int:
    """Print all there is to say of a name, or the list of all names; returns 0, or 2 for an
    unknown one.

    ``name``: of a finding, of a shipped technique, a word of the language, or a file whose
    techniques are told.  What is said at the machine and otherwise in a script is told so.
    """
    if name is None:
        print(_list())
        return CLEAN
    if name.endswith(explain_technique.ENDING):
        return _techniques_of(Path(name))
    asked = " ".join(name.lower().split())
    page, technique, word = load_page(asked), explain_technique.shipped(asked), word_help(asked)
    parts = [*([_whole(page)] if page is not None else []),
             *([explain_technique.told(technique)] if technique is not None else []),
             *([_word(word)] if word is not None else [])]
    if not parts:
        otherwise = said_otherwise(asked)
        if otherwise:
            print(width.filled(f"'{name}' is no word of the language. {otherwise}"))
            return CLEAN
        meant = nearest(asked, {*page_names(), *shipped_names(), *all_words()})
        print(width.set_in(
            f"Nothing is called '{name}': no finding, no technique and no word of the language."
            + (f" Did you mean '{meant}'?" if meant else "")
            + "\n'sockscript explain' lists them all."), file=sys.stderr)
        return UNUSABLE
    print("\n\n\n".join(parts))
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
        lines += [width.filled(heading), ""]
        for page in pages:
            if page.severity == severity:
                lines += _beside(page.name, page.means)
        lines.append("")
    lines += [width.filled("TECHNIQUES: pieces of work that a line beginning with 'do' knits"), ""]
    for name in shipped_names():
        told = shipped_help(name)
        assert told is not None
        lines += _beside(name, told.says)
    lines += ["", "WORDS OF THE LANGUAGE", "",
              width.filled(", ".join(all_words()), "  ", "  "), ""]
    lines.append(width.filled(
        "'sockscript explain NAME' shows one with an example; the NAME of a technique, or a FILE "
        "that has some, tells what it needs and leaves."))
    return "\n".join(lines)


def _beside(name: str, text: str) -> list[str]:
    """A name and what it is, beside it where there is room."""
    if width.page() >= 70:
        return [width.filled(text, f"  {name:<26}", " " * 28)]
    return [f"  {name}", width.filled(text, "    ", "    ")]


def _word(told: WordHelp) -> str:
    """All that a word means, and lines in which it stands."""
    several = len({one.words for one in told.meanings}) > 1 or told.meanings[0].words != told.name
    parts = [f"{told.name}   (word of the language)"]
    for one in told.meanings:
        parts.append(width.filled(f"{one.words}: {one.meaning}" if several else one.meaning))
    if told.samples:
        parts.append("For example:\n" + textwrap.indent("\n".join(told.samples), "    "))
    return "\n\n".join(parts)


def _whole(page: Page) -> str:
    kind = KINDS.get(page.name)
    since = f", since version {kind.since}" if kind is not None else ""
    parts = [f"{page.name}   ({page.severity}{since})", width.filled(page.means),
             width.filled(page.why)]
    if page.limit is not None:
        parts.append(width.filled(f"The limit: {page.limit}"))
    if page.broken is not None and page.mended is not None:
        where = f", on the machine {page.machine}" if page.machine else ""
        parts += [f"This script shows it{where}:", textwrap.indent(page.broken.rstrip(), "    "),
                  width.filled("Mended (- the line that goes, + the line that comes):"),
                  textwrap.indent(_change(page.broken, page.mended), "  ")]
    return "\n\n".join(parts)


def _change(broken: str, mended: str) -> str:
    """The changed lines with one line before and after each."""
    changes = difflib.unified_diff(broken.splitlines(), mended.splitlines(), n=1, lineterm="")
    return "\n".join("…" if line.startswith("@@") else line
                     for line in changes if not line.startswith(("---", "+++")))
