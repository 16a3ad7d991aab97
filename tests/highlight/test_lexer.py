"""The colours of scripts: every word of the grammar, and nothing lost."""

from __future__ import annotations

from pathlib import Path

import pytest
from pygments.lexers import get_lexer_by_name, get_lexer_for_filename
from pygments.token import Comment, Error, Keyword, Name, Number, String

from sockscript.highlight.lexer import SockscriptLexer, grammar_words
from sockscript.tree.line_kinds import samples

ROOT = Path(__file__).resolve().parents[2]
SCRIPTS = sorted([*ROOT.glob("examples/*.sockscript"), *ROOT.glob("examples/broken/*.sockscript")])


def tokens(text):
    return [(kind, value) for kind, value in SockscriptLexer().get_tokens(text) if value.strip()]


def test_it_is_found_by_name_and_by_file():
    assert isinstance(get_lexer_by_name("sockscript"), SockscriptLexer)
    assert isinstance(get_lexer_for_filename("my.sockscript"), SockscriptLexer)


def test_every_word_of_the_grammar_has_a_colour():
    assert len(grammar_words()) > 100
    for word in {*grammar_words(), *samples()}:
        (kind, value), = tokens(word)
        assert value == word and kind in Keyword, word


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.stem)
def test_nothing_is_lost_and_nothing_is_an_error(path):
    text = path.read_text("utf-8")
    found = list(SockscriptLexer().get_tokens(text))

    assert "".join(value for _, value in found) == text.lstrip("\n").rstrip("\n") + "\n"
    assert not any(kind in Error for kind, _ in found)


@pytest.mark.parametrize("line, value, kind", [
    ("knit 4 rows # so", "# so", Comment.Single),
    ("let half-round = 4", "half-round", Name),
    ("knit 1 1/2 rows", "1 1/2", Number),
    ("wrap L10 of front", "L10", Name.Variable),
    ('step "Knit {half} rows."', "{half}", String.Interpol),
    ("let a = rows(10 cm)", "rows", Name.Function),
    ("KNIT 4 ROWS", "KNIT", Keyword),
])
def test_parts_of_a_line(line, value, kind):
    assert (kind, value) in tokens(line)


def test_an_open_quote_ends_with_its_line():
    assert (Keyword, "knit") in tokens('step "Hang\nknit 4 rows')
