"""What can stand at a place: the grammar and the names of the script tell."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lark.exceptions import UnexpectedInput, UnexpectedToken
from support.places import START, opened, place
from support.texts import TEXTS

from sockscript.findings.prove import prepare
from sockscript.highlight.word_groups import OPENERS
from sockscript.service.completion import completions
from sockscript.service.document import Document
from sockscript.service.meanings import FUNCTION_HELP
from sockscript.service.mentions import mentions
from sockscript.service.reading import reading
from sockscript.service.templates import TabStop
from sockscript.text.parser import load_parser
from sockscript.text.source import Source
from sockscript.tree.line_kinds import LINE_KINDS, filled_in
from sockscript.tree.line_kinds.header import MACHINE, RANGES

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
SCRIPTS = sorted(EXAMPLES.glob("*.sockscript"))


def offered(text: str, folder: Path | None = None):
    return {one.label: one for one in completions(opened(text, folder), *place(text))}


def labels(text: str):
    return list(offered(text))


OFFERED = [(rule, template, start)
           for kinds, start in ((LINE_KINDS, "line"), (MACHINE, "machine_line"),
                                (RANGES, "range_row"))
           for rule, kind in kinds.items() if start != "line" or rule not in MACHINE | RANGES
           for template in (*kind.at_margin, *kind.inside)]


@pytest.mark.parametrize(("rule", "template", "start"), OFFERED)
def test_every_line_that_is_offered_is_one_of_the_language(rule, template, start):
    first, *rest = filled_in(template).split("\n")

    assert load_parser().parse(first, start=start).data == rule
    assert all(line.startswith("    ") for line in rest)


def test_every_name_in_a_line_is_known_as_one():
    """Else it is not renamed with the others, and pointing at it tells nothing."""
    for rule, template, start in OFFERED:
        line = filled_in(template).partition("\n")[0]
        tree = load_parser().parse(line, start=start)
        names = {str(token).lower() for token in tree.scan_values(
            lambda token: getattr(token, "type", "") == "NAME")}
        # A profile is a file by itself: nothing else names its fabrics.
        if rule != "own_swatch":
            known = {mention.name for mention in mentions(start, line)}
            assert names - known - set(FUNCTION_HELP) == set(), line


def test_lines_that_open_a_block_are_offered_with_it():
    opening = {rule for rule, template, _ in OFFERED if "\n    " in template}

    assert opening == set(OPENERS)


def test_every_kind_of_line_is_offered_but_those_that_begin_with_a_name():
    silent = {rule for rule, kind in LINE_KINDS.items() if not kind.at_margin + kind.inside}

    assert silent == {"measure_row", "feet_row", "range_of_value", "more_words"}


def test_header_lines_stand_at_the_margin_and_instructions_inside():
    top = labels(START + "¦")
    inside = labels(START + 'section "A"\n    ¦')

    assert 'section "Cuff"' in top and "knit 2 rows" not in top
    assert "knit 2 rows" in inside and 'section "Cuff"' not in inside
    assert "otherwise" not in inside


def test_otherwise_follows_when():
    text = START + 'section "A"\n    when size is Small\n        knit 1 row\n    ¦'

    assert "otherwise" in labels(text)
    assert "otherwise" not in labels(text.replace("¦", "knit 1 row\n    ¦"))


@pytest.mark.parametrize(("text", "some", "none"), [
    ('section "A"\n    thread ¦', ["main", "waste"], ["half", "plain"]),
    ('section "A"\n    thread m¦', ["main"], []),
    ('section "A" in ¦', ["plain"], ["main"]),
    ('section "A"\n    do ¦', ["wedge-toe", "tubular-cast-on"], ["half"]),
    ('section "A"\n    do wedge-toe with ¦', ["leave", "edge"], ["half"]),
    ('section "A"\n    do wedge-toe with leave = 8, ¦', ["edge"], ["leave"]),
    ('section "A"\n    do wedge-toe with leave = ¦', ["half", "leg-length"], []),
    ('machine\n    pitches ¦', ["half", "full"], ["half pitch"]),
    ('section "A"\n    do heel on front with leave = 8, way = ¦', ["wrapped-twice"], []),
    ('section "A"\n    when finish is ¦', ["graft", "gather"], []),
    ('section "A"\n    when size is ¦', ["Small", "Large"], ["half"]),
    ('section "A"\n    when size is Small, ¦', ["Large"], ["half"]),
    ('section "A"\n    when ¦', ["finish", "size is Small", "beds equal", "carriage left"], []),
    ('section "A"\n    bring ¦', ["centre 36 of front", "left 1 held of front", "front"], []),
    ('section "A"\n    knit ¦', ["half", "rows(length)"], ["main"]),
    ('section "A"\n    knit 2 ¦', ["rows", "rounds", "to nearest even"], ["half"]),
    ('section "A"\n    knit rows(leg-length, ¦', ["plain"], ["half"]),
    ('section "A"\n    set front to ¦', ["circular", "knit", "rest", "tuck"], ["half"]),
    ('section "A"\n    move carriage to ¦', ["carriage side", "far side", "left"], []),
    ('section "A"\n    step "Lift {¦', ["half", "around"], ["knit 2 rows"]),
    ('section "A"\n    scrap off front as tip\n    rehang ¦', ["tip"], ["half"]),
    ('machine\n    needs ¦', ["circular", "half pitch", "full pitch"], ["half"]),
    ('section "A"\n    do heel on front with ¦', ["leave", "way"], ["bed"]),
    ('section "A"\n    do heel with ¦', ["leave", "bed"], []),
    ('allow ¦', ["weights-not-moved", "short-row-eyelet"], ["half"]),
    ('swatch plain 60 stitches, 84 rows, 16 g of ¦', ["main"], ["half"]),
    ('machine\n    ¦', ["beds 2", "needles 160"], ["knit 2 rows"]),
    ('machine\n    words\n        ¦', ["knit", "half-pitch"], ["beds 2"]),
    ('works for\n    ¦', ["foot-round", "around"], ["knit 2 rows"]),
    ('technique t with depth\n    let more = depth\n    knit ¦', ["depth", "more", "half"], []),
    ('technique t with depth\n    knit 1 row\nsection "A"\n    knit ¦', ["half"], ["depth"]),
])
def test_what_fits_is_offered_and_what_does_not_is_not(text, some, none):
    found = labels(START + text)

    assert [label for label in some if label not in found] == []
    assert [label for label in none if label in found] == []


def test_a_named_value_is_rounded_first_and_others_go_on_first():
    named = labels(START + "let keep = half / 3 ¦")
    used = labels(START + 'section "A"\n    hold left 3 ¦')

    assert named[0] == "to nearest even"
    assert used.index("working") < used.index("to nearest even") < used.index("cm")


def test_rows_of_the_table_have_a_cell_for_every_size():
    found = offered("sizes Small Large\n    ¦")

    assert found["foot-length"].text == "foot-length  20  20 cm"
    assert found["feet"].text == "feet  woman-38  woman-38"


def test_nothing_is_offered_in_comments_words_and_behind_numbers():
    for text in ("# a ¦", 'note "so m¦', "let a = 3¦", 'pattern "La¦'):
        assert labels(text) == []


def test_a_technique_is_offered_with_the_values_that_it_must_be_given():
    found = offered(START + 'section "A"\n    do waste¦')["waste-start"]

    assert found.text.startswith("waste-start")
    assert "yarn = main" in found.text and "waste = waste" in found.text
    assert TabStop("main") in found.parts
    assert found.about


def test_what_was_begun_is_replaced():
    text = START + 'section "A"\n    knit ha¦'
    found = offered(text)["half"]

    assert (found.start, found.end) == (10, 12)
    assert found.about == "A value of this script: 28 (32) stitches."


def test_techniques_of_used_files_are_offered(tmp_path):
    (tmp_path / "toes.sockscript").write_text(
        "technique our-toe with leave\n    # As our club knits it.\n    knit leave rows\n", "utf-8")

    found = offered('use "toes.sockscript"\nsection "A"\n    do ¦', tmp_path)
    files = offered('use "¦', tmp_path)

    assert found["our-toe"].text == "our-toe with leave = leave"
    assert found["our-toe"].about == "As our club knits it."
    assert list(files) == ["toes.sockscript"]


def test_everything_that_is_offered_is_explained():
    for text in ("¦", 'section "A"\n    ¦', 'section "A"\n    knit ¦', "machine\n    ¦",
                 'section "A"\n    bring ¦', 'section "A"\n    do ¦', "works for\n    ¦",
                 'section "A"\n    thread ¦', "sizes A\n    ¦", 'section "A"\n    when ¦'):
        for one in offered(START + text).values():
            assert one.about.endswith((".", "…")), one


def fits(head: str, rule: str) -> bool:
    """Whether a line can begin so."""
    try:
        load_parser().parse(head, start=rule)
    except UnexpectedToken as error:
        return error.token.type == "$END"
    except UnexpectedInput:
        return False
    return True


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.stem)
def test_every_word_of_an_example_is_offered_where_it_stands(path):
    document = Document(path.name, path.parent)
    document.examine(path.read_text("utf-8"))
    lines = reading(document).lines
    whole = list(document.source.lines)
    missing = []

    for line in lines:
        document.source.lines = whole
        for number, piece in enumerate(line.read.pieces):
            new = number == 1 and line.read.pieces[0].kind in (
                "LET", "OPTION", "YARN", "GAUGE", "TECHNIQUE")
            if piece.kind in ("NUMBER", "STRING", "NEEDLE", "VULGAR") or new \
                    or not piece.text[0].isalpha() or line.top_word in ("sizes", "option") \
                    or (line.top_word == "technique" and line.number == line.top):
                continue
            found = completions(document, line.number, piece.start)
            words = {word for one in found for word in one.text.lower().split()[:1]}
            if not any(one.text.lower().startswith(piece.text.lower()) for one in found):
                missing.append((line.text.strip(), piece.text, sorted(words)[:9]))

    assert missing == []


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.stem)
def test_whatever_is_offered_in_an_example_fits_there(path):
    document = Document(path.name, path.parent)
    document.examine(path.read_text("utf-8"))
    wrong = []

    for line in reading(document).lines[::2]:
        for piece in line.read.pieces:
            for one in completions(document, line.number, piece.start):
                first = one.text.partition("\n")[0]
                if not fits(line.text[:one.start - 1] + first, line.rule):
                    wrong.append((line.text[:one.start - 1], first))

    assert wrong == []


def test_a_script_may_be_written_from_what_is_offered():
    # Each line is the first one offered that begins so, as it is offered.
    text = START
    for begun in ('section "Cuff" in', "    bring centre 36 of front into work to",
                  "    thread", "    set front to knit", "    knit 2 rows", "    bind off"):
        indent = begun[:len(begun) - len(begun.lstrip())]
        found = completions(opened(text + indent), text.count("\n") + 1, len(indent) + 1)
        one = next(one for one in found if one.label.startswith(begun.strip()))
        text += indent + one.text.partition("\n")[0] + "\n"

    assert not prepare(Source("test.sockscript", text)).problems


@settings(deadline=None, max_examples=100)
@given(TEXTS, st.integers(1, 4), st.integers(1, 30))
def test_any_place_of_any_text_may_be_asked(text, line, column):
    document = opened("")
    document.source.lines = text.splitlines()
    length = len(document.source.line(line))

    for one in completions(document, line, column):
        assert 1 <= one.start <= one.end <= length + 1


@pytest.mark.parametrize(("line", "first"), [
    ("    knit 2 ", ["rows", "rounds"]), ("    expect 2 ", ["stitches"]),
    ("    transfer ", ["back", "both", "front"]), ("    gather ", ["back", "both", "front"]),
    ("    hold ", ["left 2 of front"]),
    # The yarn is never threaded: that finding is in the script, and it is not a fault.
    ("    allow ", ["yarn-never-used"])])
def test_the_likeliest_comes_first(line, first):
    text = 'pattern "T"\nyarn main "wool"\nsection "A"\n    knit 0 rows\n' + line
    document = opened(text.rpartition("\n")[0])
    document.examine(text)
    found = [one.label for one in completions(document, 5, len(line) + 1)]
    assert found[:len(first)] == first
