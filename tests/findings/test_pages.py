"""Every finding has a page, whose second script gives none."""

from __future__ import annotations

import subprocess
import sys

import pytest

from sockscript.commands import explain
from sockscript.commands.check import check_file
from sockscript.findings.catalogue import KINDS
from sockscript.findings.page import load_page, page_names

PAGES = {name: load_page(name) for name in page_names()}

# What no text of one script can show: files that cannot be read, other files, the machine's own
# profile, a mistake of the simulator; and depth, which would fill pages.
WITHOUT_SCRIPT = {
    "conservation-broken", "unreadable-file", "not-text", "not-utf-8", "file-too-large",
    "control-character", "line-too-long", "use-not-a-script", "use-too-many",
    "circular-use", "bad-profile", "unknown-machine",
    "nested-too-deep", "not-a-log", "not-a-pack", "foreign-log"}


def test_there_are_at_least_45_findings_about_knitting():
    assert len(KINDS) >= 45


def test_only_these_have_no_script():
    assert {name for name, page in PAGES.items() if page.broken is None} == WITHOUT_SCRIPT


@pytest.mark.parametrize("name", sorted(set(PAGES) - WITHOUT_SCRIPT))
def test_the_second_script_gives_nothing(name, tmp_path):
    """What the first gives is tried with the broken examples, which are the same scripts."""
    page = PAGES[name]
    path = tmp_path / "script.sockscript"
    path.write_text(page.mended, "utf-8")
    checked = check_file(path, page.machine)

    assert [*checked.problems, *checked.findings] == []


@pytest.mark.parametrize("name", sorted(PAGES))
def test_a_page_is_in_plain_words(name):
    page = PAGES[name]

    assert len(page.means.split()) >= 5 and page.means.endswith(".")
    assert len(page.why.split()) >= 4 and page.why.endswith(".")


def test_explain_prints_a_page_and_lists_all(capsys):
    assert explain.run("fold-with-comb") == 0
    out = capsys.readouterr().out
    assert "comb still hangs" in out and "+    remove comb" in out

    assert explain.run(None) == 0
    out = capsys.readouterr().out
    assert all(name in out for name in PAGES)


def test_an_unknown_name_gets_a_suggestion(capsys):
    assert explain.run("fold-with-comp") == 2
    assert "fold-with-comb" in capsys.readouterr().err


def test_a_check_does_not_read_the_pages():
    code = ("import sys\nfrom sockscript.commands import check\n"
            "print('sockscript.findings.page' in sys.modules)")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert done.stdout.strip() == "False"
