"""``sockscript explain``: what a finding, a technique or a word of the language means."""

from __future__ import annotations

import difflib
import sys
import textwrap
from pathlib import Path

from sockscript.commands.check import CLEAN, UNUSABLE
from sockscript.expand.techniques import SHIPPED
from sockscript.findings.page import Page, load_page, page_names
from sockscript.findings.report import WIDTH
from sockscript.service.technique_help import TechniqueHelp, shipped_help, shipped_names
from sockscript.service.word_help import WordHelp, all_words, word_help
from sockscript.tree.slips import nearest

_HEADINGS = {
    "fault": "FAULTS: a stitch is lost, or the piece is not what the pattern says",
    "warning": "WARNINGS: most likely not meant",
    "advice": "ADVICE: it knits, but could be better",
    "cannot read": "WHAT KEEPS A SCRIPT FROM BEING CHECKED",
}


def run(name: str | None) -> int:
    """Print all there is to say of one name, or the list of names; returns 0, or 2 for a name
    that is none."""
    if name is None:
        print(_list())
        return CLEAN
    asked = " ".join(name.lower().replace("_", "-").split())
    page, technique, word = load_page(asked), shipped_help(asked), word_help(asked)
    parts = [*([_whole(page)] if page is not None else []),
             *([_technique(technique)] if technique is not None else []),
             *([_word(word)] if word is not None else [])]
    if not parts:
        meant = nearest(asked, {*page_names(), *shipped_names(), *all_words()})
        print(f"Nothing is called '{name}': no finding, no technique and no word of the language."
              + (f" Did you mean '{meant}'?" if meant else "")
              + "\n'sockscript explain' lists them all.", file=sys.stderr)
        return UNUSABLE
    print("\n\n\n".join(parts))
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
    lines += ["TECHNIQUES: pieces of work that a line beginning with 'do' knits", ""]
    for name in shipped_names():
        told = shipped_help(name)
        assert told is not None
        lines.append(textwrap.fill(told.says, WIDTH, initial_indent=f"  {name:<26}",
                                   subsequent_indent=" " * 28, break_on_hyphens=False))
    lines += ["", "WORDS OF THE LANGUAGE", "", textwrap.fill(
        ", ".join(all_words()), WIDTH, initial_indent="  ", subsequent_indent="  ",
        break_on_hyphens=False), "", "'sockscript explain NAME' shows one with an example."]
    return "\n".join(lines)


def _whole(page: Page) -> str:
    parts = [f"{page.name}   ({page.severity})", _filled(page.means), _filled(page.why)]
    if page.broken is not None and page.mended is not None:
        where = f", on the machine {page.machine}" if page.machine else ""
        parts += [f"This script shows it{where}:", textwrap.indent(page.broken.rstrip(), "    "),
                  "Mended (- the line that goes, + the line that comes):",
                  textwrap.indent(_change(page.broken, page.mended), "  ")]
    return "\n\n".join(parts)


def _technique(told: TechniqueHelp) -> str:
    """What a technique does, its values, and a line that calls it."""
    parts = [f"{told.name}   (technique)", _filled(told.says)]
    if told.values:
        values = []
        for value in told.values:
            given = f" Without it: {value.default}." if value.default else " It must be given."
            values.append(textwrap.fill(
                value.meaning.rstrip(".") + "." + given, WIDTH,
                initial_indent=f"  {value.name:<14}", subsequent_indent=" " * 16,
                break_on_hyphens=False))
        parts.append("Its values:\n" + "\n".join(values))
    parts.append(f"For example:\n    {told.use}")
    parts.append("It is written in the language itself; copy it into your script to change it:\n"
                 f"    {SHIPPED / Path(told.file).name}")
    return "\n\n".join(parts)


def _word(told: WordHelp) -> str:
    """All that a word means, and lines in which it stands."""
    several = len({one.words for one in told.meanings}) > 1 or told.meanings[0].words != told.name
    parts = [f"{told.name}   (word of the language)"]
    for one in told.meanings:
        parts.append(_filled(f"{one.words}: {one.meaning}" if several else one.meaning))
    if told.samples:
        parts.append("For example:\n" + textwrap.indent("\n".join(told.samples), "    "))
    return "\n\n".join(parts)


def _filled(text: str) -> str:
    return textwrap.fill(text, WIDTH, break_long_words=False, break_on_hyphens=False)


def _change(broken: str, mended: str) -> str:
    """The changed lines with one line before and after each."""
    changes = difflib.unified_diff(broken.splitlines(), mended.splitlines(), n=1, lineterm="")
    return "\n".join("…" if line.startswith("@@") else line
                     for line in changes if not line.startswith(("---", "+++")))
