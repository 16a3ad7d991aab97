"""Every piece of a script is told by what it is; pieces never overlap."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.places import START, opened
from support.texts import FRAGMENTS, TEXTS

from sockscript.service.document import Document
from sockscript.service.tokens import tokens_of


def pieces(text: str):
    """Each piece with its kind."""
    document = opened(text)
    return [(document.source.line(t.line)[t.start - 1:t.end - 1], t.kind)
            for t in tokens_of(document)]


def in_last_line(line: str):
    document = opened(START + line)
    last = len(document.source.lines)
    return [(document.source.line(last)[t.start - 1:t.end - 1], t.kind)
            for t in tokens_of(document) if t.line == last]


@pytest.mark.parametrize(("line", "wanted"), [
    ("let keep = half / 3 to nearest even # as wide as a thumb",
     [("let", "word"), ("keep", "value"), ("=", "sign"), ("half", "value"), ("/", "sign"),
      ("3", "number"), ("to", "word"), ("nearest", "word"), ("even", "word"),
      ("# as wide as a thumb", "comment")]),
    ("    thread Main", [("thread", "word"), ("Main", "yarn")]),
    ("    when finish is gather",
     [("when", "word"), ("finish", "option"), ("is", "word"), ("gather", "choice")]),
    ("    do wedge-toe with leave = half",
     [("do", "word"), ("wedge-toe", "technique"), ("with", "word"), ("leave", "parameter"),
      ("=", "sign"), ("half", "value")]),
    ('    step "Lift {half - 1} stitches."',
     [("step", "word"), ('"Lift {', "text"), ("half", "value"), ("-", "sign"), ("1", "number"),
      ('} stitches."', "text")]),
    ("    target girth foot-round less 1 in within 5 mm",
     [("target", "word"), ("girth", "word"), ("foot-round", "measurement"), ("less", "word"),
      ("1", "number"), ("in", "unit"), ("within", "word"), ("5", "number"), ("mm", "unit")]),
    ("    bring L5 to R(half) of front into work",
     [("bring", "word"), ("L5", "needle"), ("to", "word"), ("R", "needle"), ("(", "sign"),
      ("half", "value"), (")", "sign"), ("of", "word"), ("front", "word"), ("into", "word"),
      ("work", "word")]),
    ("    when size is Small", [("when", "word"), ("size", "word"), ("is", "word"),
                                ("Small", "size")]),
    ("    knit rows(leg-length, plain) rows",
     [("knit", "word"), ("rows", "word"), ("(", "sign"), ("leg-length", "measurement"),
      (",", "sign"), ("plain", "fabric"), (")", "sign"), ("rows", "word")]),
    ("    scrap off front as toe", [("scrap", "word"), ("off", "word"), ("front", "word"),
                                    ("as", "word"), ("toe", "group")]),
])
def test_a_piece_is_told_by_what_it_stands_for(line, wanted):
    assert in_last_line(line) == wanted


def test_a_value_of_a_technique_differs_from_one_of_the_script():
    text = START + "technique my-toe with half\n    knit half rows\n"

    assert pieces(text)[-4:] == [("half", "parameter"), ("knit", "word"), ("half", "parameter"),
                                 ("rows", "word")]


def test_what_follows_a_slip_still_has_its_kinds():
    assert in_last_line("    knit half + + 2 rows on front # slip") == [
        ("knit", "word"), ("half", "value"), ("+", "sign"), ("+", "sign"), ("2", "number"),
        ("rows", "word"), ("on", "word"), ("front", "word"), ("# slip", "comment")]


def test_only_the_line_that_gives_a_name_defines_it():
    tokens = tokens_of(opened("let a = 3\nlet b = a\n"))

    assert [(t.line, t.start) for t in tokens if t.defines] == [(1, 5), (2, 5)]


@settings(deadline=None, max_examples=300)
@given(TEXTS)
def test_pieces_of_any_text_are_in_order_and_lie_inside_their_lines(text):
    document = Document("test.sockscript")
    document.examine(text)
    end = (0, 0)

    for token in tokens_of(document):
        assert end <= (token.line, token.start)
        assert 1 <= token.start < token.end <= len(document.source.line(token.line)) + 1
        end = (token.line, token.end)


@settings(deadline=None, max_examples=60)
@given(st.data())
def test_pieces_of_a_spoiled_example_are_in_order(examples, data):
    path = data.draw(st.sampled_from(sorted(examples.glob("*.sockscript"))))
    text = path.read_text("utf-8")
    cut = data.draw(st.integers(0, len(text)))
    text = text[:cut] + data.draw(st.sampled_from(FRAGMENTS)) + text[cut + data.draw(
        st.integers(0, 3)):]
    document = Document(path.name)
    document.source.lines = text.splitlines()
    end = (0, 0)

    for token in tokens_of(document):
        assert end <= (token.line, token.start)
        assert token.start < token.end <= len(document.source.line(token.line)) + 1
        end = (token.line, token.end)
