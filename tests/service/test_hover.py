"""Whoever points at a word is told what it means at the machine."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.places import START, opened, place
from support.texts import TEXTS

from sockscript.expand.values import FUNCTIONS
from sockscript.findings.page import page_names
from sockscript.service.document import Document
from sockscript.service.hover import hover, statement_of
from sockscript.service.meanings import FUNCTION_HELP, WORDS
from sockscript.service.reading import language_words, read_source_lines
from sockscript.text.parser import load_parser
from sockscript.text.source import Source
from sockscript.tree.line_kinds import LINE_KINDS, samples

STARTS = {"line", "header", "glue", "setup", "carriage", "hands", "machine_line", "size_row",
          "range_row"}


def told(text: str):
    return hover(opened(text), *place(text))


def test_every_kind_of_line_of_the_grammar_has_a_sentence():
    kinds = {rule.alias for rule in load_parser().rules if rule.origin.name in STARTS
             and rule.alias}

    assert len(kinds) > 60
    assert kinds == set(LINE_KINDS)


def test_every_function_has_a_sentence():
    assert set(FUNCTION_HELP) == set(FUNCTIONS)


def test_words_that_are_explained_are_words_of_the_language():
    assert set(WORDS) <= language_words()


@pytest.mark.parametrize("meaning", [
    *(s.meaning for s in LINE_KINDS.values()), *(s.meaning for s in FUNCTION_HELP.values()),
    *WORDS.values()])
def test_explanations_are_sentences(meaning):
    assert re.fullmatch(r"['A-Z].*(\.|…)", meaning)


@pytest.mark.parametrize("sample", [line for lines in samples().values() for line in lines])
def test_the_first_word_of_every_sample_is_explained(sample):
    document = Document("test.sockscript")
    document.source.lines = [sample]
    found = hover(document, 1, 1)
    line = read_source_lines(Source("test", sample)).lines[0]

    assert found is not None
    assert found.text == LINE_KINDS[statement_of(line)].meaning


SECTION = '''technique my-toe with leave, deep = rows(5 cm, plain), way = plain
    # A toe of our own. leave: stitches on each bed.
    let rest = leave / 2
    knit leave rows
    knit deep rows
section "Toe" in plain
    # As high as a thumb is wide.
    let tall = 3
    repeat 2 times
        let again = tall + 1
        knit again rows
    do my-toe with leave = half, deep = 4
    do wedge-toe with leave = half
    when finish is graft
        note "Row {tall} of {leg-length}."
    let now = count-on(front)
    knit now rows
'''


@pytest.mark.parametrize(("marked", "title", "text"), [
    ("do my-toe with leave = ha¦lf", "half: 28 (32) stitches", "A value of this script."),
    ("{ta¦ll}", "tall: 3", "A value of this section. As high as a thumb is wide."),
    ("{leg¦-length}", "leg-length: 10 (12) cm", "A measurement from the table of sizes."),
    ("knit ag¦ain", "again", "worked out as the section is knitted"),
    ("knit n¦ow", "now", "worked out as the section is knitted"),
    ("do my-¦toe", "my-toe", "A technique. A toe of our own. leave: stitches on each bed."),
    ("do wedge-¦toe", "wedge-toe", "It came with Sockscript."),
    ("my-toe with le¦ave = half", "leave", "It must be given."),
    ("de¦ep = 4", "deep", "Where it is not given it is rows(5 cm, plain). A toe"),
    ("w¦ay = plain", "way", "Where it is not given it is plain."),
    ("is gra¦ft", "graft", "One of the choices of an option."),
    ("when fin¦ish", "finish", "A choice left to the knitter."),
    ("let re¦st", "rest", "worked out in 'my-toe'"),
    ("count-¦on(front)", "count-on(bed)", "have stitches at this moment"),
    ('"Toe" ¦in', "in", "A part of the sock with a title"),
])
def test_a_name_is_told_with_its_value_and_its_comment(marked, title, text):
    plain = marked.replace("¦", "")
    assert plain in SECTION

    found = told(START + SECTION.replace(plain, marked, 1))

    assert found is not None
    assert found.title == title
    assert text in found.text


def test_a_value_has_a_row_for_every_size():
    found = told(START + "let keep = aro¦und / 4")

    assert found.title == "around: 56 (64) stitches"
    assert found.text == "A value of this script. The stitches of the leg."
    assert found.code == "let around = stitches(foot-round less 10%) to nearest multiple of 4"
    assert found.table == (("Small", "56 stitches"), ("Large", "64 stitches"))


def test_a_value_that_depends_on_a_choice_says_so():
    found = told("option keep 10, 12\nlet ¦wide = keep * 2\n")

    assert found.title == "wide: 20"
    assert found.text.endswith("Worked out with keep 10.")


def test_while_a_line_has_a_slip_the_value_of_the_last_version_is_told():
    good = START + 'section "A"\n    bring centre half of front into work to cast on\n'
    document = opened(good)
    document.examine(good.replace("let around =", "let around = ="))

    found = hover(document, 14, 18)

    assert found.title == "half: 28 (32) stitches"


def test_a_size_is_told_with_its_measurements():
    found = told(START + 'section "A"\n    when size is La¦rge\n        knit 1 row\n')

    assert found.table == (("foot-round", "24 cm"), ("leg-length", "12 cm"))


def test_a_yarn_is_told_with_its_line():
    found = told(START + 'section "A"\n    thread m¦ain\n')

    assert found.code == 'yarn main "four-ply sock wool" 400 m per 100 g'


@pytest.mark.parametrize("name", page_names())
def test_every_finding_is_told_where_it_is_allowed(name):
    found = told(f'allow ¦{name} because "it is so"\n')

    assert found.title == name
    assert not re.search(r"\{\w", found.text) and found.text.endswith((".", ".)"))


def test_words_mean_what_their_neighbours_say():
    assert told("let a = 3 ¦in").text == "Inches of 25.4 mm."
    assert "smaller" in told('section "A"\n    expect 3 is ¦at most 4').text
    assert told('section "A"\n    set front to kn¦it').text.startswith("Every needle")


def test_nothing_is_told_of_numbers_signs_and_printed_words():
    for text in ("let a = ¦3", "let a ¦= 3", 'note "Some w¦ords."', "¦# comment", "let a = 3 ¦"):
        assert told(text) is None


@settings(deadline=None, max_examples=100)
@given(TEXTS, st.integers(1, 4), st.integers(1, 30))
def test_any_place_of_any_text_may_be_pointed_at(text, line, column):
    document = opened("")
    document.source.lines = text.splitlines()

    found = hover(document, line, column)

    assert found is None or (found.start <= column <= found.end and found.text)
