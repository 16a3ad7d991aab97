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



def flat(stitches: int | str, bed: str = "front") -> str:
    """The first lines of a flat piece on one bed: it is cast on."""
    return (f"bring centre {stitches} of {bed} into work\nset {bed} to knit\nthread main\n"
            f"cast on {bed}\n")


def on_both(stitches: int | str) -> str:
    """The first lines of a piece on all needles of both beds: a row over both casts it on."""
    return (f"bring centre {stitches} of both into work to cast on\nset both to knit\n"
            "thread main\nknit 1 row\n")


def rib(needles: int | str) -> str:
    """The first lines of a rib: every second needle of each bed, at full pitch."""
    return ("full pitch\n"
            f"bring every 2nd from 1 of centre {needles} of front into work to cast on\n"
            f"bring every 2nd from 2 of centre {needles} of back into work to cast on\n"
            "set both to knit\nthread main\n")


def tube(stitches: int | str) -> str:
    """The first lines of a tube that begins with its first round, so many stitches a bed."""
    return (f"half pitch\nbring centre {stitches} of both into work to cast on\n"
            "set both to circular\nthread main\n")


FLAT = flat(20) + "knit 1 row"
TUBE = on_both(36) + "hang weights\nset both to circular\nknit 4 rounds"
TUBE_64 = on_both(32) + "hang weights\nset both to circular\nknit 4 rounds"
"""The tube of the trade's check values: 64 stitches, 32 to 10, 64 to 24."""


def passes(run) -> int:
    """Carriage passes in a run."""
    return sum(getattr(moment.op, "passes", 0) for moment in run.moments)
