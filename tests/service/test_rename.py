"""A thing is called by another name everywhere it stands, and the script means the same."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.places import CURSOR, START, opened, place

from sockscript.findings.prove import prepare
from sockscript.fit.foot_table import ROWS
from sockscript.service.document import Document
from sockscript.service.files import file_of
from sockscript.service.reading import read_source_lines
from sockscript.service.rename import Refused, rename, rename_place
from sockscript.service.symbols import file_names
from sockscript.text.source import Source

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
SCRIPTS = sorted(EXAMPLES.glob("*.sockscript"))
FRESH = "quay-lamp"


def edited(text: str, edits, path: Path | None = None) -> str:
    """A text with the edits of one file made."""
    lines = text.split("\n")
    for edit in sorted(edits, key=lambda e: (e.line, e.start), reverse=True):
        if edit.path == path:
            line = lines[edit.line - 1]
            lines[edit.line - 1] = line[:edit.start - 1] + edit.text + line[edit.end - 1:]
    return "\n".join(lines)


def renamed(text: str, new: str) -> str:
    """The text with the name at the cursor changed."""
    document = opened(text)
    edits = rename(document, *place(text), new)
    assert not isinstance(edits, Refused), edits.sentence
    return edited(text.replace(CURSOR, ""), edits)


def refusal(text: str, new: str, others=()) -> str:
    found = rename(opened(text), *place(text), new, others)
    assert isinstance(found, Refused)
    return found.sentence


def meaning(document: Document, new: str = FRESH, old: str = FRESH):
    """Findings and moments of a document, with one name put in place of another."""
    examined = document.examined
    findings = [(f.kind, f.at.source.name, f.at.line, f.message.replace(new, old))
                for f in (*examined.problems, *examined.findings)]
    if examined.proof is None:
        return findings, None
    moments = [
        [(repr(moment.op).replace(new, old), repr(moment.state).replace(new, old),
          [(span.source.name, span.line) for span in moment.places])
         for moment in outcome.run.moments]
        for outcomes in examined.proof.outcomes for outcome in outcomes]
    return findings, moments


@cache
def example(path: Path):
    document = Document(path.name, path.parent)
    document.examine(path.read_text("utf-8"))
    return document, meaning(document)


@settings(deadline=None, max_examples=12)
@given(st.data())
def test_a_renamed_example_means_the_same(data):
    path = data.draw(st.sampled_from(SCRIPTS))
    document, before = example(path)
    text = path.read_text("utf-8")
    one = data.draw(st.sampled_from(file_of(document).names.occurrences))

    edits = rename(document, one.line, one.mention.start, FRESH)

    if isinstance(edits, Refused):
        assert one.symbol.name in ROWS or one.symbol.scope.startswith("technique ") \
            or "came with Sockscript" in edits.sentence or one.symbol.space == "finding"
        return
    assert one.mention in {other.mention for other in file_of(document).names.occurrences
                           if (other.line, other.mention.start) in {(e.line, e.start)
                                                                    for e in edits}}
    after = Document(path.name, path.parent)
    after.examine(edited(text, edits, path.resolve()))
    assert meaning(after, FRESH, one.symbol.name) == before


@settings(deadline=None, max_examples=100)
@given(st.data())
def test_a_name_that_is_taken_is_refused_or_makes_no_difference(data):
    # Two names of one script, the one in place of the other.
    path = data.draw(st.sampled_from(SCRIPTS))
    document, _ = example(path)
    names = file_of(document).names
    one = data.draw(st.sampled_from(names.occurrences))
    new = data.draw(st.sampled_from(sorted({o.symbol.name for o in names.occurrences}
                                           | {"front", "rows", "knit", "toe", "yes"})))
    if new == one.symbol.name:
        return
    edits = rename(document, one.line, one.mention.start, new)
    if isinstance(edits, Refused):
        assert edits.sentence.endswith(".")
        return
    after = edited(path.read_text("utf-8"), edits, path.resolve())
    there = file_names(read_source_lines(Source(path.name, after)), str(path.resolve()))
    assert len(there.occurrences) == len(names.occurrences)
    symbol = there.occurrences[names.occurrences.index(one)].symbol
    assert len(there.by_symbol[symbol]) == len(names.by_symbol[one.symbol])
    assert not prepare(Source(path.name, after, path.parent)).problems


def test_a_value_is_renamed_in_words_too():
    text = START + 'note "Lift {half - 1} of {around}."\nlet keep = ha¦lf / 2\n'

    after = renamed(text, "each-side")

    assert "let each-side = around / 2" in after
    assert '"Lift {each-side - 1} of {around}."' in after
    assert "let keep = each-side / 2" in after


LOCAL = '''let here = 3
section "One"
    let there = here + 1
    knit there rows
section "Two"
    let there = 8
    knit there rows
technique my-toe with leave, there = 2
    knit leave + there rows
section "Three"
    do my-toe with leave = 2, there = here
'''


def test_a_value_given_in_a_section_is_renamed_only_there():
    after = renamed(LOCAL.replace("let there = here", "let t¦here = here"), "tall")

    assert after == LOCAL.replace("let there = here + 1\n    knit there",
                                  "let tall = here + 1\n    knit tall")


def test_a_value_of_a_technique_is_renamed_in_its_calls():
    after = renamed(LOCAL.replace("leave + there", "leave + ¦there"), "more")

    assert after == LOCAL.replace("leave, there = 2", "leave, more = 2").replace(
        "leave + there", "leave + more").replace("2, there = here", "2, more = here")


def test_a_technique_is_renamed_with_its_calls():
    after = renamed(LOCAL.replace("do my-toe", "do my-¦toe"), "our-toe")

    assert after == LOCAL.replace("my-toe", "our-toe")


def test_a_yarn_is_renamed_where_a_technique_is_told_of_it():
    text = START + ('section "Toe"\n    thread ma¦in\n    cut main\n'
                    "    do knotted-bind-off with yarn = main\n")

    assert renamed(text, "lambswool") == text.replace("¦", "").replace(
        "main", "lambswool")


def test_a_size_of_two_words_is_put_in_quotation_marks():
    text = START + 'section "Toe"\n    when size is Lar¦ge\n        knit 1 row\n'

    after = renamed(text, "Very large")

    assert 'sizes           Small  "Very large"' in after
    assert 'when size is "Very large"' in after


def test_a_fabric_a_group_and_a_choice_are_renamed():
    text = START + '''section "Toe" in plain
    knit rows(2 cm, plain) rows
    scrap off front as upper
    rehang upper to front
    graft upper to upper
    when finish is graft
        knit 1 row
'''
    assert renamed(text.replace("cm, plain", "cm, pl¦ain"), "smooth") == text.replace(
        "plain", "smooth")
    assert renamed(text.replace("graft upper to", "graft up¦per to"), "toe-upper") == text.replace(
        "upper", "toe-upper")
    after = renamed(text.replace("is graft", "is g¦raft"), "sewn")
    assert after == text.replace("is graft", "is sewn").replace("finish graft", "finish sewn")


@pytest.mark.parametrize(("text", "new", "sentence"), [
    (START + "let ¦keep = 3", "front", "is a word of the language"),
    (START + "let ¦keep = 3", "half", "is a name already (see line 12)"),
    (START + "let ¦keep = 3", "two words", "joined by hyphens"),
    (START + "let ¦keep = 3", "3rd", "begins with a letter"),
    (START + "let ¦keep = 3", "graft", "is a name already (see line 9)"),
    (START + "let ¦keep = 3", "heel-round", "measurement of the foot"),
    (START + "let keep = foot-r¦ound", "ball", "knows 'foot-round' by this name"),
    (START + "let keep = los¦t", "found", "Nothing gives 'lost' a value"),
    (START + 'section "A"\n    do wedge¦-toe with leave = 2', "my-toe", "came with Sockscript"),
    (START + 'section "A"\n    do wedge-toe with lea¦ve = 2', "stay", "came with Sockscript"),
    (START + "technique ¦my-toe\n    knit 1 row", "round-toe", "came with Sockscript"),
    (START + "technique ¦round-toe\n    knit 1 row", "my-toe", "stands in for"),
    (START + "technique t with b¦ed\n    knit 1 row on bed\nsection \"A\"\n    do t on front",
     "place", "'do … on front'"),
    (START + 'allow weights-not-m¦oved because "small"', "x", "what the check calls"),
    (START + "¦# only a comment", "x", "no name here"),
    (LOCAL.replace("let there = here", "let t¦here = here"), "here", "is a name already"),
    ('gauge 30 stitches, 42 rows per 10 cm\nsection "A" in pla¦in\n    knit 1 row', "rib",
     "without a name is called plain"),
    (START + 'section "A"\n    when size is Lar¦ge\n        knit 1 row', "small", "already"),
    (START + 'section "A"\n    when size is Lar¦ge\n        knit 1 row', 'a "b', "size"),
    (START + 'section "A"\n    thread ma¦in', "half-", "joined by hyphens"),
])
def test_a_name_that_cannot_be_changed_so_is_refused_in_plain_words(text, new, sentence):
    assert sentence in refusal(text, new)


def test_the_place_of_a_name_is_told_before_a_new_one_is_asked_for():
    text = START + "let keep = ha¦lf"
    document = opened(text)

    span = rename_place(document, *place(text))

    assert document.source.line(span.line)[span.start - 1:span.end - 1] == "half"
    assert isinstance(rename_place(document, 1, 1), Refused)


def test_a_name_shared_with_used_files_is_renamed_in_them(tmp_path):
    (tmp_path / "toes.sockscript").write_text(
        "let half = 1\ntechnique my-toe with half\n    thread main\n    knit half rows\n", "utf-8")
    text = START + 'use "toes.sockscript"\nsection "A"\n    do my-¦toe with half = 2\n' \
                   "    thread main\n"
    document = opened(text, tmp_path)
    own = (tmp_path / "test.sockscript").resolve()
    toes = (tmp_path / "toes.sockscript").resolve()

    def changes(line: int, column: int):
        edits = rename(document, line, column, FRESH)
        assert not isinstance(edits, Refused), edits
        return {(edit.path, edit.line) for edit in edits}

    assert changes(*place(text)) == {(own, 15), (toes, 2)}
    assert changes(16, 12) == {(own, 3), (own, 16), (toes, 3)}, "a yarn"
    assert changes(15, 20) == {(own, 15), (toes, 2), (toes, 4)}, "a value of the technique"
    assert changes(12, 5) == {(own, 12)}, "the other half is another file's own"


def test_an_open_file_counts_as_it_stands_in_the_editor(tmp_path):
    (tmp_path / "toes.sockscript").write_text("technique my-toe\n    knit 1 row\n", "utf-8")
    toes = opened("# new\n\ntechnique my-toe\n    knit 1 row\n", tmp_path, "toes.sockscript")
    user = opened('use "toes.sockscript"\nsection "A"\n    do my-toe\n', tmp_path)

    edits = rename(toes, 3, 12, FRESH, [user])

    assert not isinstance(edits, Refused)
    assert {(edit.path.name, edit.line) for edit in edits} == {
        ("toes.sockscript", 3), ("test.sockscript", 3)}
    back = rename(user, 3, 8, FRESH, [toes])
    assert set(back) == set(edits)


IN_TURN = START + '''yarn blue "blue wool"

section "Hand"
    bring centre 20 of front into work
    set front to knit
    thread main and blue
    cast on front
    knit 3 rows
    cut blue
    thread blue along
    cut blue
    change to blue
    knit 4 rows
    change to main
    cut blue
    knit in waste over L4 to L1 of front as place
    mark edge brim on front
    sew down brim over 2 rows
    rehang place to L4 to R4 of front
'''


@pytest.mark.parametrize("name, times", [("blue", 7), ("waste", 2), ("place", 2), ("brim", 2)])
def test_yarns_and_edges_are_found_in_every_line_that_names_them(name, times):
    # The cursor stands in the last mention; in words between quotation marks nothing changes.
    at = [found.start() for found in re.finditer(rf'(?<!")\b{name}\b(?! wool)', IN_TURN)][-1]
    changed = renamed(IN_TURN[:at] + CURSOR + IN_TURN[at:], FRESH)

    assert changed.count(FRESH) == times
    # What is left of the word is the role of the yarn ('as waste').
    assert not re.search(rf'(?<!")(?<!as )\b{name}\b(?! wool| yarn)', changed)
