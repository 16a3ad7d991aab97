"""The outline of a script, and what of it folds."""

from __future__ import annotations

from hypothesis import given, settings
from support.places import START, opened
from support.texts import TEXTS

from sockscript.service.document import Document
from sockscript.service.outline import FoldableLines, foldings, outline

BODY = '''
# Two lines of comment
# lie here.
technique my-toe with leave = 8, each
    knit each rounds

section "Cuff" in plain
    step "Turn the work"
         "and hang the comb."
        knit 1 row
    note "Two lines"
         "of words."
    knit 4 rows
'''


def test_the_outline_has_header_techniques_and_sections():
    entries = outline(opened(START + BODY))

    assert [(e.kind, e.name, e.first, e.last) for e in entries] == [
        ("yarn", "main", 3, 3), ("yarn", "waste", 4, 4), ("fabric", "plain", 5, 5),
        ("sizes", "sizes", 6, 8), ("option", "finish", 9, 9), ("value", "around", 11, 11),
        ("value", "half", 12, 12), ("technique", "my-toe", 16, 17), ("section", "Cuff", 19, 25)]
    assert entries[3].detail == "Small, Large"
    assert [(c.kind, c.name, c.detail, c.first) for c in entries[3].children] == [
        ("measurement", "foot-round", "20 24 cm", 7), ("measurement", "leg-length", "10 12 cm", 8)]
    assert [(c.kind, c.name, c.start) for c in entries[7].children] == [
        ("parameter", "leave", 23), ("parameter", "each", 34)]
    assert (entries[-1].detail, entries[-1].start, entries[-1].end) == ("in plain", 9, 15)


def test_names_stand_where_the_outline_says():
    document = opened(START + BODY)

    for entry in outline(document):
        assert entry.name in document.source.line(entry.first)[entry.start - 1:entry.end - 1]


def test_a_line_with_a_slip_keeps_its_place():
    entries = outline(opened(
        'let half = = 3\nsection Cuff"\n    knit 3\nyarn\nsizes S "L\n    a 3'))

    assert [(e.kind, e.name, e.first, e.last) for e in entries] == [
        ("value", "half", 1, 1), ("section", "section", 2, 3), ("sizes", "sizes", 5, 6)]


def test_blocks_comments_and_words_fold():
    assert foldings(opened(START + BODY)) == (
        FoldableLines(6, 8, "block"), FoldableLines(14, 15, "comment"),
        FoldableLines(16, 17, "block"), FoldableLines(19, 25, "block"),
        FoldableLines(20, 21, "words"), FoldableLines(20, 22, "block"),
        FoldableLines(23, 24, "words"))


@settings(deadline=None, max_examples=100)
@given(TEXTS)
def test_any_text_has_an_outline_and_foldings_inside_it(text):
    document = Document("test.sockscript")
    document.examine(text)
    count = len(document.source.lines)

    for entry in outline(document):
        assert 1 <= entry.first <= entry.last <= count
        line = document.source.line(entry.first)
        assert 1 <= entry.start < entry.end <= len(line) + 1
    for fold in foldings(document):
        assert 1 <= fold.first < fold.last <= count
