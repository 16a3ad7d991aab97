"""Each script in examples/broken gives the finding it is named for, and no other."""

from __future__ import annotations

from pathlib import Path

import pytest

from sockscript.commands.check import check_file, report
from sockscript.findings.page import load_page, page_names

BROKEN = Path(__file__).resolve().parents[2] / "examples" / "broken"
NAMES = sorted(path.stem for path in BROKEN.glob("*.sockscript"))


def checked(name, monkeypatch):
    monkeypatch.chdir(BROKEN)
    return check_file(Path(f"{name}.sockscript"), load_page(name).machine)


@pytest.mark.parametrize("name", NAMES)
def test_the_script_gives_its_finding_and_no_other_in_the_words_reviewed(name, monkeypatch):
    found = checked(name, monkeypatch)
    expected = (BROKEN / f"{name}.expected.txt").read_text("utf-8")

    assert {p.kind for p in found.problems} | {f.kind for f in found.findings} == {name}
    assert report(found) + "\n" == expected


def test_the_examples_are_those_of_the_pages():
    pages = {name: load_page(name) for name in page_names()}

    assert {name: page.broken for name, page in pages.items() if page.broken is not None} == {
        name: (BROKEN / f"{name}.sockscript").read_text("utf-8") for name in NAMES}


@pytest.mark.parametrize("name", NAMES)
def test_the_message_says_where_what_and_what_to_do(name):
    text = (BROKEN / f"{name}.expected.txt").read_text("utf-8")

    assert "What to do:" in text
    assert f"{name}.sockscript, line " in text
    assert "^" in text
