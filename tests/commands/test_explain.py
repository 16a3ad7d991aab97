"""``explain``: every technique, every value of it, and every word of the language."""

from __future__ import annotations

import re

import pytest
from support.command import ROOT, sockscript
from support.scripts import prepared

from sockscript.commands.explain import run
from sockscript.findings.page import page_names
from sockscript.service.technique_help import meanings, shipped_help, shipped_names
from sockscript.service.word_help import all_words, word_help

GUIDE = (ROOT / "grammar" / "README.md").read_text("utf-8")


def told(name, capsys):
    """What is printed about a name."""
    assert run(name) == 0
    return capsys.readouterr().out


@pytest.mark.parametrize("name", shipped_names())
def test_every_technique_tells_all_its_values_and_a_use(name, capsys):
    help = shipped_help(name)
    out = " ".join(told(name, capsys).split())

    assert re.match(r"[A-Z].+[.]$", help.says), "say what it does, in sentences"
    for value in help.values:
        assert value.meaning, f"the comment of {name} lacks '{value.name}: …'"
        given = f"Without it: {value.default}." if value.default else "It must be given."
        assert f" {value.name} {value.meaning.rstrip('.')}. {given}" in out
    assert f"For example: {help.use}" in out


@pytest.mark.parametrize("name", shipped_names())
def test_the_use_of_every_technique_can_be_written_so(name):
    use = shipped_help(name).use
    assert re.match(rf"do {name}(?![\w-])", use), f"the comment of {name} lacks 'For example: do …'"
    script = ('yarn main "wool" 400 m per 100 g\nyarn waste "cotton" as waste\n'
              'yarn cord "cord" as ravel cord\nsection "x"\n    ' + use + "\n")

    assert prepared(script).problems == ()


def test_the_guide_lists_every_technique_with_its_values():
    rows = re.findall(r"^\| `([\w-]+)` \| (.*?) \| \S.* \|$", GUIDE.split(
        "## Shipped techniques")[1], re.M)

    assert sorted(name for name, _ in rows) == shipped_names()
    for name, values in rows:
        assert values.split(", ") == [
            f"`{v.name} = {v.default}`" if v.default else f"`{v.name}`"
            for v in shipped_help(name).values] or not values, name


@pytest.mark.parametrize("word", all_words())
def test_every_word_of_the_language_is_explained(word):
    help = word_help(word)

    assert help is not None
    assert all(re.match(r"['A-Z\d].+[.…]$", one.meaning) for one in help.meanings)


@pytest.mark.parametrize("asked, says", [
    ("stitch size", "A smaller number is tighter."), ("CAST  ON", "Casts on by hand"),
    ("onto", "transfer L1 of back onto L2 of back"), ("count-on", "count-on(bed)"),
    ("heel", "corners are closed"), ("heel", "The heel of the finished sock"),
    ("hold", "Pulls needles right out")])
def test_what_a_name_means_everywhere(asked, says, capsys):
    assert says in " ".join(told(asked, capsys).split())


def test_words_need_no_quotation_marks_and_a_slip_is_seen():
    assert "Sets the stitch-size dial" in sockscript("explain", "stitch", "size").stdout
    done = sockscript("explain", "wegde-toe")

    assert done.returncode == 2 and "Did you mean 'wedge-toe'" in " ".join(done.stderr.split())


def test_the_list_has_findings_techniques_and_words(capsys):
    assert run(None) == 0
    out = capsys.readouterr().out
    first = re.findall(r"(?m)^  ([\w-]+)", out)

    assert {*page_names(), *shipped_names()} <= set(first)
    listed = out.split("WORDS OF THE LANGUAGE")[1]
    assert set(all_words()) <= set(re.findall(r"[\w-]+", listed))


def test_a_comment_is_taken_apart_where_a_value_is_named():
    """Not at a word with a colon that is no value, and not within a sentence."""
    comment = ("Does a thing. Mind: it pulls. half: stitches, whole: both beds; leave: those left. "
               "For example: do it")

    assert meanings(comment, ["half", "leave", "whole"]) == {
        "": "Does a thing. Mind: it pulls.", "half": "stitches, whole: both beds",
        "leave": "those left.", "For example": "do it"}


@pytest.mark.parametrize("said, told", [
    ("tension", "stitch size"), ("COL", "expect carriage left"), ("cast off", "bind off front"),
    ("short rows", "do heel on front"), ("ribber", "front"), ("1x1 rib", "do rib-1x1")])
def test_what_is_said_otherwise_in_a_script_is_told_so(said, told, capsys):
    assert run(said) == 0
    out = " ".join(capsys.readouterr().out.split())

    assert out.startswith(f"'{said}' is no word of the language. ") and told in out
