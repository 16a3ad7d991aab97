"""Where names are given, and where they are used."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.places import CURSOR, START, opened, place
from support.texts import TEXTS

from sockscript.service.document import Document
from sockscript.service.names import definition, references


def given_at(text: str):
    """Line and word of what the name at the cursor leads to."""
    return [(found.span.line, found.span.source.line(found.span.line)[
        found.span.start - 1:found.span.end - 1])
        for found in definition(opened(text), *place(text))]


def used_at(text: str):
    found = references(opened(text), *place(text))
    return [(one.span.line, one.span.start) for one in found]


SECTION = START + '''technique my-toe with leave, yarn
    thread yarn
    knit leave rows
section "Toe" in plain
    let tall = 3
    let tall = tall + 1
    thread main
    scrap off front as tip
    rehang tip to front
    do my-toe with leave = half, yarn = main
    when finish is graft
        note "Row {tall} of {leg-length}."
    when size is Large
        knit half rows
'''


@pytest.mark.parametrize(("line", "wanted"), [
    ("    do my-toe with leave = ha¦lf", (12, "half")),
    ("    do my-to¦e with leave", (13, "my-toe")),
    ("with lea¦ve = half", (13, "leave")),
    ("half, yarn = m¦ain", (3, "main")),
    ("    thread ma¦in", (3, "main")),
    ("    thread ya¦rn", (13, "yarn")),
    ('"Toe" in pl¦ain', (5, "plain")),
    ("rehang ti¦p", (20, "tip")),
    ("is gra¦ft", (9, "graft")),
    ("size is La¦rge", (6, "Large")),
    ("when fi¦nish", (9, "finish")),
    ("Row {ta¦ll}", (18, "tall")),
    ("of {leg¦-length}", (8, "leg-length")),
    ("let tall = ta¦ll", (17, "tall")),
    ("knit lea¦ve", (13, "leave")),
])
def test_a_name_leads_to_the_line_that_gives_it(line, wanted):
    plain = line.replace(CURSOR, "")
    assert plain in SECTION

    assert given_at(SECTION.replace(plain, line, 1)) == [wanted]


def test_all_places_of_a_name_are_found():
    assert used_at(SECTION.replace("{tall}", "{ta¦ll}")) == [(17, 9), (18, 9), (18, 16), (24, 20)]
    assert used_at(SECTION.replace("thread main", "thread m¦ain")) == [
        (3, 6), (19, 12), (22, 41)]
    assert used_at(SECTION.replace("knit leave", "knit ¦leave")) == [
        (13, 23), (15, 10), (22, 20)]


def test_places_without_the_line_that_gives_the_name():
    text = SECTION.replace("{tall}", "{ta¦ll}")

    found = references(opened(text), *place(text), with_definition=False)

    assert [one.span.line for one in found] == [18, 24]


def test_a_shipped_technique_leads_to_its_file():
    text = START + 'section "A"\n    do wedge-to¦e with leave = 8\n'

    (found,) = definition(opened(text), *place(text))

    assert found.path is not None and found.path.name == "toes.sockscript"
    assert found.span.source.line(found.span.line).startswith("technique wedge-toe")


def test_a_value_of_a_shipped_technique_leads_to_its_file():
    text = START + 'section "A"\n    do wedge-toe with lea¦ve = 8\n'

    (found,) = definition(opened(text), *place(text))

    line = found.span.source.line(found.span.line)
    assert line[found.span.start - 1:found.span.end - 1] == "leave"


def test_used_files_are_looked_into_in_their_order(tmp_path):
    (tmp_path / "toes.sockscript").write_text('use "more.sockscript"\n', "utf-8")
    (tmp_path / "more.sockscript").write_text("\ntechnique my-toe\n    knit 1 row\n", "utf-8")
    text = 'use "toes.sockscript"\nsection "A"\n    do my-t¦oe\n'
    document = opened(text, tmp_path)

    (found,) = definition(document, *place(text))
    (file,) = definition(document, 1, 8)

    assert (found.path, found.span.line) == (tmp_path.resolve() / "more.sockscript", 2)
    assert file.path == tmp_path.resolve() / "toes.sockscript"
    assert len(references(document, *place(text))) == 2


def test_no_file_outside_the_folder_is_read(tmp_path):
    (tmp_path / "inside").mkdir()
    (tmp_path / "outside.sockscript").write_text("technique my-toe\n    knit 1 row\n", "utf-8")
    text = 'use "../outside.sockscript"\nsection "A"\n    do my-t¦oe\n'
    document = opened(text, tmp_path / "inside")

    assert definition(document, *place(text)) == ()
    assert definition(document, 1, 8) == ()


def test_a_measurement_from_the_table_of_feet_leads_to_its_row():
    text = "sizes A\n    feet adult-24\nlet x = heel-ro¦und\n"

    assert given_at(text)[0][0] == 2


def test_names_in_a_line_with_a_slip_are_found():
    text = START + 'section "A"\n    knit ha¦lf + + 3 rows\n'

    assert given_at(text) == [(12, "half")]
    assert used_at(text) == [(12, 5), (14, 10)]


@settings(deadline=None, max_examples=100)
@given(TEXTS, st.integers(1, 5), st.integers(1, 30))
def test_any_place_of_any_text_may_be_asked(text, line, column):
    document = Document("test.sockscript")
    document.source.lines = text.splitlines()

    for found in (*definition(document, line, column), *references(document, line, column)):
        assert 1 <= found.span.start < found.span.end
