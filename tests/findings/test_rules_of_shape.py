"""Rules of shape say the same however many more than a few rows are knitted in one go.

An edit and a range ask them only of one of the runs that look alike (``expand.looks_alike``); the
scripts are those of all pages, so that each rule has something to say in some of them.
"""

from __future__ import annotations

import re

from sockscript.expand.looks_alike import MANY_ROWS, Looks
from sockscript.expand.run import Run
from sockscript.findings.checked import check
from sockscript.findings.page import load_page, page_names
from sockscript.findings.rules import MEASURE_RULES, SHAPE_RULES
from sockscript.text.source import Source

TEXTS = [text for page in map(load_page, page_names()) for text in (page.broken, page.mended)
         if text is not None]
BEGUN = """pattern "A rib"
yarn main "wool"
section "Rib"
    full pitch
    bring centre 20 of front into work to cast on
    bring centre 20 of back into work to cast on
    set both to knit
    thread main
    knit 1 row
    set both to circular
    knit 2 rows
    set both to knit
"""
AT_LIMITS = [
    # The last number of rows of which rib-without-weights and tube-closed-below say nothing.
    BEGUN + "    knit 4 rows\n    bind off front\n    bind off back\n    cut\n",
    BEGUN + "    knit 3 rows\n    hang weights\n    set both to circular\n    knit 6 rows\n"
    "    remove weights\n    bind off front\n    bind off back\n    cut\n"]
ROWS = re.compile(r"(\bknit )(\d+)( (?:row|round)s?\b)")


def runs(text: str) -> list[Run]:
    proof = check(Source("page", text)).proof
    assert proof is not None
    return [outcome.run for outcomes in proof.outcomes for outcome in outcomes]


def stretched(text: str, more: int) -> str:
    """With so many more rows wherever many are knitted in one go."""
    def longer(found: re.Match[str]) -> str:
        rounds = "round" in found[3]
        many = int(found[2]) * (1 + rounds) > MANY_ROWS
        return f"{found[1]}{int(found[2]) + many * more // (1 + rounds)}{found[3]}"

    return ROWS.sub(longer, text)


def look(run: Run, looks: Looks) -> list[int]:
    return [looks.number(section, run.moments[section.first:section.last], run.script.source, 0)
            for section in run.sections]


def said(run: Run) -> dict[str, list[object]]:
    return {rule.__name__: [(one.fault.kind, one.fault.name, one.fault.bed, one.fault.needles,
                             [(at.source.name, at.line) for at in one.places], one.moment)
                            for one in rule(run)]
            for rule in SHAPE_RULES}


def test_they_and_the_facts_that_are_kept_do_not_see_how_many_rows_there_are():
    alike, spoke = 0, set()
    for text in TEXTS + AT_LIMITS:
        longer = stretched(text, 14)
        if longer == text or check(Source("page", text)).proof is None:
            continue
        for one, other in zip(runs(text), runs(longer), strict=True):
            looks = Looks()
            if look(one, looks) != look(other, looks):
                continue  # stitches are left alone: the number of rows matters
            alike += 1
            told = said(one)
            assert told == said(other), text
            spoke |= {name for name, found in told.items() if found}
            for run in (one, other):
                for rule in MEASURE_RULES:
                    rule(run)
            assert one.alike == other.alike, text
    assert alike > 200
    assert len(spoke) > len(SHAPE_RULES) / 2
