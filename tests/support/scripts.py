"""Proving a script given as text, the way the commands do."""

from __future__ import annotations

import re
from pathlib import Path

from sockscript.findings.prove import findings_of, prepare, prove
from sockscript.machine.load import script_profile
from sockscript.text.source import Source

HEADER = '''pattern "Test piece"
author "Quayside Knitting Circle"
yarn main "four-ply sock wool"
gauge plain 30 stitches, 42 rows per 10 cm
'''


EXTRA_YARNS = '''yarn waste "smooth waste yarn" as waste
yarn cord "strong cord" as ravel cord
'''


def prepared(text: str, folder: Path | None = None):
    """The script read and looked over."""
    return prepare(Source("test.sockscript", text, folder))


def problems(text: str, folder: Path | None = None):
    """What keeps a script from being performed."""
    return list(prepared(text, folder).problems)


def proof(text: str):
    """All runs of a script that can be performed."""
    ready = prepared(text)
    assert not ready.problems, [(p.at.line, p.message) for p in ready.problems]
    return prove(ready, script_profile(ready.script))


def run(body: str, header: str = HEADER):
    """The only run of a section with these lines."""
    lines = "\n".join("    " + line for line in body.strip("\n").splitlines())
    if re.search(r"\b(waste|cord)\b", body) and header == HEADER:
        header += EXTRA_YARNS
    return proof(f'{header}section "Test"\n{lines}\n').outcomes[0][0].run


def findings(body: str, header: str = HEADER):
    """The findings of a section with these lines."""
    lines = "\n".join("    " + line for line in body.strip("\n").splitlines())
    return findings_of(proof(f'{header}section "Test"\n{lines}\n'))


def kinds(body: str, header: str = HEADER):
    """Only their names."""
    return [finding.kind for finding in findings(body, header)]


FLAT = '''bring centre 20 of front into work to cast on
set front to knit
thread main
knit 1 row'''

TUBE_64 = '''bring centre 32 of both into work to cast on
set both to knit
thread main
knit 1 row
set both to circular
knit 4 rounds'''


def passes(run) -> int:
    """Carriage passes in a run."""
    return sum(getattr(moment.op, "passes", 0) for moment in run.moments)
