"""A script that is spoiled anywhere may be asked anything: answers lie inside it."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from support.texts import FRAGMENTS

from sockscript.service.completion import completions
from sockscript.service.document import Document
from sockscript.service.hover import hover
from sockscript.service.names import definition, references
from sockscript.service.outline import foldings, outline
from sockscript.service.rename import Refused, rename, rename_place
from sockscript.service.tokens import tokens_of

ROOT = Path(__file__).parent.parent.parent
SCRIPTS = sorted([*(ROOT / "examples").glob("*.sockscript"),
                  *(ROOT / "examples" / "broken").glob("*.sockscript")])


@settings(deadline=None, max_examples=80)
@given(st.data())
def test_a_spoiled_script_answers_everything(data):
    path = data.draw(st.sampled_from(SCRIPTS))
    text = path.read_text("utf-8")
    cut = data.draw(st.integers(0, len(text)))
    text = text[:cut] + data.draw(st.sampled_from(FRAGMENTS)) + text[
        cut + data.draw(st.integers(0, 9)):]
    document = Document(path.name, path.parent)
    document.source.lines = text.split("\n")
    lines = document.source.lines
    line = min(len(lines), text[:cut].count("\n") + 1 + data.draw(st.integers(0, 2)))
    column = data.draw(st.integers(1, len(document.source.line(line)) + 1))

    def inside(source, number: int, start: int, end: int) -> bool:
        return 1 <= start <= end <= len(source.line(number)) + 1

    assert all(inside(document.source, t.line, t.start, t.end) for t in tokens_of(document))
    assert all(inside(document.source, e.first, e.start, e.end) for e in outline(document))
    assert all(fold.first < fold.last <= len(lines) for fold in foldings(document))
    for place in (*definition(document, line, column), *references(document, line, column)):
        assert inside(place.span.source, place.span.line, place.span.start, place.span.end)
    told = hover(document, line, column)
    assert told is None or inside(document.source, line, told.start, told.end)
    for one in completions(document, line, column):
        assert inside(document.source, line, one.start, one.end)
        assert one.end == column
    where = rename_place(document, line, column)
    edits = rename(document, line, column, "quay-lamp")
    if isinstance(where, Refused):
        assert isinstance(edits, Refused)
    elif not isinstance(edits, Refused):
        assert (where.line, where.start) in {(edit.line, edit.start) for edit in edits}
