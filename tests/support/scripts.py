"""Proving a script given as text, the way the commands do."""

from __future__ import annotations

import re
from pathlib import Path

from sockscript.findings.checked import check
from sockscript.findings.prove import prepare
from sockscript.text.source import Source

HEADER = '''pattern "Test piece"
author "Quayside Knitting Circle"
yarn main "four-ply sock wool"
gauge plain 30 stitches, 42 rows per 10 cm
'''


YARNS = {
    "main": 'yarn main "four-ply sock wool"\n',
    "waste": 'yarn waste "smooth waste yarn" as waste\n',
    "cord": 'yarn cord "strong cord" as ravel cord\n',
}


def prepared(text: str, folder: Path | None = None):
    """The script read and looked over."""
    return prepare(Source("test.sockscript", text, folder))


def problems(text: str, folder: Path | None = None):
    """What keeps a script from being performed."""
    return list(prepared(text, folder).problems)


def checked(text: str):
    """The whole verdict on a script that can be performed."""
    found = check(Source("test.sockscript", text))
    assert not found.problems, [(p.at.line, p.message) for p in found.problems]
    return found


def proof(text: str):
    """All runs of a script that can be performed."""
    return checked(text).proof


def findings_of_text(text: str):
    """The findings of a whole script that can be performed."""
    return list(checked(text).findings)


def run(body: str, header: str = HEADER):
    """The only run of a section with these lines."""
    return proof(_section(body, header)).outcomes[0][0].run


def _section(body: str, header: str) -> str:
    """A script of one section, whose header has the yarns that it uses and no others."""
    lines = "\n".join("    " + line for line in body.strip("\n").splitlines())
    for name, yarn in YARNS.items() if header.startswith(HEADER) else ():
        if yarn in header and name not in body:
            header = header.replace(yarn, "")
        elif yarn not in header and re.search(rf"\b{name}\b", body):
            header += yarn
    return f'{header}section "Test"\n{lines}\n'


def findings(body: str, header: str = HEADER):
    """The findings of a section with these lines; the header may offer techniques to other cases of
    a test, so that one that is not called is not among them."""
    return [one for one in checked(_section(body, header)).findings
            if one.kind != "technique-never-called"]


def kinds(body: str, header: str = HEADER):
    """Only their names."""
    return [finding.kind for finding in findings(body, header)]


FLAT = '''bring centre 20 of front into work
set front to knit
thread main
cast on front
knit 1 row'''

TUBE = '''bring centre 36 of both into work to cast on
set both to knit
thread main
knit 1 row
hang weights
set both to circular
knit 4 rounds'''
TUBE_64 = TUBE.replace("centre 36", "centre 32")
"""The tube of the trade's check values: 64 stitches, 32 to 10, 64 to 24."""


def passes(run) -> int:
    """Carriage passes in a run."""
    return sum(getattr(moment.op, "passes", 0) for moment in run.moments)
