"""What is generated is up to date, and has every word of the grammar."""

from __future__ import annotations

import shutil
import subprocess
import sys

import pytest
from support.coloured import EDITORS, ROOT

from sockscript.highlight.lexer import MACHINE_WORDS, grammar_words
from sockscript.highlight.word_groups import word_groups
from sockscript.tree.line_kinds import samples

UNCOLOURED = {"a"}
"""'tube of 32 stitches a bed': by itself it may as well be a name."""


def test_the_groups_have_every_word_of_the_grammar():
    words = {word for group in word_groups() for word in group}

    assert set(grammar_words()) - words == UNCOLOURED
    assert set(samples()) | set(MACHINE_WORDS) <= set(word_groups().first)


@pytest.mark.parametrize("group, some, not_these", [
    ("first", {"knit", "sizes", "dial", "where"}, {"rows", "wet", "left", "cm"}),
    ("later", {"rows", "in", "hung", "nearest"}, {"section", "front", "cm", "bind"}),
    ("units", {"mm", "in", "g", "tex"}, {"rows", "per"}),
    ("beds", {"front", "back", "both"}, {"other"}),
    ("ends", {"left", "right"}, {"side"}),
    ("opening", {"section", "step", "sizes", "works", "words"}, {"note", "knit", "do"}),
])
def test_a_word_is_in_its_group(group, some, not_these):
    found = set(getattr(word_groups(), group))

    assert some <= found and not not_these & found


def generate(folder, *arguments):
    return subprocess.run([sys.executable, str(folder / "generate.py"), *arguments],
                          capture_output=True, text=True, timeout=60, check=False)


def test_the_generated_files_are_up_to_date():
    done = generate(EDITORS, "--check")

    assert done.returncode == 0, f"{done.stdout}\nrun  python editors/generate.py"


def test_a_stale_file_is_told_and_written_anew(tmp_path):
    shutil.copytree(EDITORS, tmp_path / "editors",
                    ignore=shutil.ignore_patterns("node_modules"))
    syntax = tmp_path / "editors" / "vim" / "syntax" / "sockscript.vim"
    fresh = syntax.read_text("utf-8")
    syntax.write_text(fresh.replace("knit", "knot"), "utf-8")

    checked = generate(tmp_path / "editors", "--check")
    assert checked.returncode == 1 and "sockscript.vim: out of date" in checked.stdout
    assert generate(tmp_path / "editors").returncode == 0
    assert syntax.read_text("utf-8") == fresh


@pytest.mark.parametrize("name", ["vscode", "vim", "emacs", "kate", "sublime"])
def test_every_editor_has_its_page(name):
    page = (EDITORS / name / "README.md").read_text("utf-8")

    assert "```sh" in page
    assert f"`{name}/`" in (EDITORS / "README.md").read_text("utf-8")
    assert str(ROOT) not in page
