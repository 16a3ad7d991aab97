"""Every example in the language reference is read without a problem, and nothing is missing."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from lark import Token, Tree
from support.scripts import prepared

from sockscript.expand.techniques import SHIPPED
from sockscript.machine.load import load_profile
from sockscript.machine.profile import Profile
from sockscript.text.layout import AT_MARGIN, lay_out
from sockscript.text.parser import grammar_file, load_parser
from sockscript.text.source import Source
from sockscript.tree.line_kinds import LINE_KINDS, samples

REFERENCE = Path(__file__).resolve().parents[2] / "grammar" / "README.md"
LANTERN = """gauge plain 30 stitches, 42 rows per 10 cm
section "x"
    note "x"
section "Toe"
    do wedge-toe with leave = 8
"""
BLOCKS = re.findall(r"```sockscript(-\w+)?\n(.*?)```", REFERENCE.read_text("utf-8"), re.S)


def as_script(kind: str, block: str) -> str:
    """A block of the reference as a whole script."""
    if kind == "-lines":
        lines = "\n".join("    " + line for line in block.splitlines())
        return f'pattern "x"\nyarn main "yarn"\nsection "x"\n{lines}\n'
    if kind == "-header":
        return f'{block}\nsection "x"\n    note "x"\n'
    return block


@pytest.mark.parametrize("kind, block", [b for b in BLOCKS if b[0] != "-profile"])
def test_every_example_is_read_without_a_problem(kind, block, tmp_path):
    (tmp_path / "our-toes.sockscript").write_text("# ours\n", "utf-8")
    (tmp_path / "lantern.sockscript").write_text(LANTERN, "utf-8")
    found = prepared(as_script(kind, block), tmp_path).problems

    assert [(p.at.source.line(p.at.line), p.message) for p in found] == []


@pytest.mark.parametrize("kind, block", [b for b in BLOCKS if b[0] == "-profile"])
def test_every_example_profile_is_read(kind, block, tmp_path):
    path = tmp_path / "mine.machine"
    path.write_text(block, "utf-8")

    assert isinstance(load_profile(str(path)), Profile)


def trees():
    """The parses of all lines of all examples."""
    def walk(lines, under):
        for line in lines:
            start = {"machine": "machine_line", "sizes": "size_row", "words": "word_line",
                     "works_for": "range_row"}.get(
                under, "line")
            tree = load_parser().parse(line.text, start=start)
            yield tree
            yield from walk(line.children, str(tree.data))

    for kind, block in BLOCKS:
        text = as_script(kind, block) if kind != "-profile" else block
        yield from walk(lay_out(Source("x", text))[0], "")


def test_every_form_of_the_grammar_has_an_example():
    grammar = grammar_file().read_text("utf-8")
    aliases = set(re.findall(r"-> (\w+)", grammar))
    shown = {str(t.data) for tree in trees() for t in tree.iter_subtrees()}

    assert len(aliases) > 90
    assert aliases - shown == set()


def test_every_word_that_may_begin_a_line_is_known_to_the_messages():
    """The messages suggest words; the list must not drift from the grammar."""
    parser = load_parser()
    begins = set()
    for word in re.findall(r'"([a-z]+)"i', grammar_file().read_text("utf-8")):
        try:
            list(parser.lex(word))
        except Exception:
            continue
        interactive = parser.parse_interactive("", start="line")
        token = Token(word.upper(), word)
        if token.type in interactive.accepts():
            begins.add(word)
    begins -= {"license"}

    assert begins == set(samples())


def test_what_stands_at_the_margin_alone_is_known_to_the_layout():
    """A line that is a column off the margin is taken for one of these."""
    alone = {line.split()[0] for kind in LINE_KINDS.values() if not kind.inside
             for line in kind.at_margin}

    assert alone | {"license"} == AT_MARGIN


def test_every_shipped_technique_is_listed():
    text = REFERENCE.read_text("utf-8")
    names = {name for path in SHIPPED.glob("*.sockscript")
             for name in re.findall(r"^technique ([\w-]+)", path.read_text("utf-8"), re.M)}

    assert len(names) >= 20
    assert {name for name in names if f"`{name}`" not in text} == set()


def test_the_tree_of_a_line_is_a_tree():
    assert isinstance(load_parser().parse("knit 2 rows", start="line"), Tree)
