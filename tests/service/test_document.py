"""A script checked version by version comes to just what a check of the whole script finds."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from service.client import carried_out, editor
from support.smaller import small
from support.versions import assert_same, cold

from sockscript.service.diagnostics import diagnostics, edit_for
from sockscript.service.document import Document
from sockscript.service.lines import line_ends, needles_after

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.sockscript"))
TEXTS = {path.stem: small(path.stem) for path in EXAMPLES}
"""Of every example its first and last size."""
FAMILY = TEXTS["family-sock"]


# ---- random edits

lines = st.integers(0, 200)
edits = st.one_of(
    st.tuples(st.just("insert"), lines, st.sampled_from([
        "", "# a comment", "    knit 2 rows", "    cut", "let more = 3", "    note \"Slowly.\"",
        "\tknit", "section \"Twice\"", "    repeat 2 times", '    step "Here"', "    expect 3"])),
    st.tuples(st.just("delete"), lines),
    st.tuples(st.just("double"), lines),
    st.tuples(st.just("swap"), lines, lines),
    st.tuples(st.just("number"), lines, st.sampled_from([-2, -1, 1, 2, 3, 21, 30])),
    st.tuples(st.just("cut-off"), lines, st.integers(0, 60)),
    st.tuples(st.just("begin-again")),
)


def edited(text, edit, base):
    """The text after one edit."""
    what, *more = edit
    parts = text.split("\n")
    at = more[0] % len(parts) if more else 0
    if what == "begin-again":
        return base
    if what == "insert":
        parts.insert(at, more[1])
    elif what == "delete":
        del parts[at]
    elif what == "double":
        parts.insert(at, parts[at])
    elif what == "swap":
        other = more[1] % len(parts)
        parts[at], parts[other] = parts[other], parts[at]
    elif what == "number":
        parts[at] = re.sub(r"\d+", lambda m: str(max(0, int(m[0]) + more[1])), parts[at], count=1)
    else:
        parts[at] = parts[at][:more[1]]
    return "\n".join(parts)


@settings(max_examples=15, deadline=None)
@given(st.sampled_from(sorted(TEXTS)), st.lists(edits, min_size=1, max_size=6))
def test_after_any_edits_it_is_as_if_checked_from_nothing(name, changes):
    base = text = TEXTS[name]
    document = Document("sock.sockscript")
    document.examine(text)
    for change in changes:
        text = edited(text, change, base)
        document.examine(text)
    assert_same(document, text)
    # Nothing that an editor may ask raises.
    diagnostics(document)
    list(line_ends(document, None, 1, 300))
    needles_after(document, 40, "nobody's size")


@settings(max_examples=15, deadline=None)
@given(st.text(max_size=200), st.integers(0, 3000))
def test_any_text_can_stand_anywhere(more, at):
    base = TEXTS["flat-sock"]
    text = base[:at] + more + base[at:]
    document = Document("sock.sockscript")
    document.examine(base)
    document.examine(text)
    assert_same(document, text)


def test_a_session_with_random_edits_ends_as_a_check_does(tmp_path):
    changes = [("insert", 55, "    knit 2 rows"), ("delete", 70), ("cut-off", 33, 9),
               ("begin-again",), ("number", 52, 1), ("double", 88), ("swap", 60, 95),
               ("insert", 3, "🧦"), ("begin-again",), ("number", 73, 2), ("delete", 98)]

    base = TEXTS["flat-sock"]

    async def whole():
        async with editor(tmp_path) as one:
            await one.open(base)
            for change in changes:
                new = edited(one.text, change, base)
                found = await one.change(0, len(one.text), new)
                assert sorted(d.code for d in found) == sorted(kind for kind, *_ in cold(new)[0])

    carried_out(whole, 100)


# ---- what is not done again


TUBE = """\
pattern "Lantern tube"
yarn main "wool"
gauge plain 30 stitches, 42 rows per 10 cm

section "Begin"
    do tube-cast-on with half = 24, yarn = main
    stitch size 6
    knit 4 rounds
    remove comb

section "Tube"
    knit 30 rounds

section "End"
    knit 2 rounds
    cut
    gather both
"""


@pytest.mark.parametrize("change", [
    ("knit 30 rounds", "knit 44 rounds"),  # looks alike: more rows of the same tube
    ("knit 30 rounds", "remove weights\n    knit 30 rounds"),
    ("knit 30 rounds", "knit 3 rounds"),
    ("    remove comb\n", "\n\n    remove comb\n"),
    ("    remove comb\n", ""),
    ("stitch size 6", "stitch size 3"),
    ('section "Tube"', 'section "Tube"\n    step "Knit 7 rounds"'),
])
@pytest.mark.parametrize("begun", [TUBE, TUBE.replace("knit 30", "remove weights\n    knit 40")])
def test_rows_that_look_alike_are_judged_as_if_from_nothing(begun, change):
    document = Document("sock.sockscript")
    document.examine(begun)
    for text in (begun.replace(*change), begun.replace("2 rounds", "26 rounds"), begun):
        document.examine(text)
        assert_same(document, text)


def test_many_rows_on_one_bed_are_compared_with_those_on_the_other():
    halves = TUBE.replace("    knit 30 rounds", """\
    set back to rest
    set front to knit
    knit 30 rows
    set front to rest
    set back to knit
    knit 30 rows
    set both to circular""")
    document = Document("sock.sockscript")
    for rows in (30, 34, 30, 34):
        document.examine(halves.replace("30 rows", f"{rows} rows", 1))
        assert ("tube-split" in {f.kind for f in document.examined.findings}) == (rows != 30)


def test_flat_rows_before_a_tube_are_compared_with_those_of_the_other_bed():
    flat = """\
yarn waste "string" as waste
section "Flat"
    bring centre 24 of front into work to cast on
    set front to knit
    thread waste
    knit 8 rows
    cut
    mark edge start on front
    thread main
    knit 30 rows
    bring centre 24 of back into work
    rehang start to centre 24 of back
    set front to rest
    set back to knit
    knit 30 rows
"""
    head, _, rest = TUBE.partition('section "Begin"')
    text = head + flat + 'section "Tube"\n    set both to circular' + rest.partition(
        'section "Tube"')[2]
    document = Document("sock.sockscript")
    for rows in (30, 40, 30, 40):
        document.examine(text.replace("30 rows", f"{rows} rows", 1))
        assert ("tube-split" in {f.kind for f in document.examined.findings}) == (rows != 30)


def test_what_is_told_of_many_rows_goes_with_their_number():
    loose = TUBE.replace("    knit 30", "    remove weights\n    knit 30")
    document = Document("sock.sockscript")
    for rounds in (30, 41, 30):
        found = document.examine(loose.replace("30 rounds", f"{rounds} rounds")).findings
        assert [f.message for f in found if f.kind == "tube-without-weights"] == [
            f"{2 * rounds} rows of a tube are knitted with neither comb nor weights: its "
            "stitches climb the needles and drop."]


def performed(document, text):
    before = document.again.performed, document.again.reused
    document.examine(text)
    return (document.again.performed - before[0], document.again.reused - before[1])


def test_a_comment_knits_nothing_again():
    document = Document("sock.sockscript")
    found = document.examine(FAMILY)
    text = FAMILY.replace("    thread main\n", "    thread main  # the ball from the sale\n")

    assert performed(document, text) == (0, 0)
    assert document.examined.proof is found.proof
    assert_same(document, text)


def test_a_slip_that_is_mended_again_costs_nothing():
    document = Document("sock.sockscript")
    found = document.examine(FAMILY)
    document.examine(FAMILY.replace("    thread main\n", "    thread mainn\n"))
    assert document.examined.proof is None

    assert performed(document, FAMILY) == (0, 0)
    assert document.examined.findings == found.findings
    assert_same(document, FAMILY)


def test_a_used_file_that_changed_is_read_anew(tmp_path):
    other = tmp_path / "club.sockscript"
    other.write_text("technique edge\n    knit 2 rows\n", "utf-8")
    first = 'section "Cuff" in rib'
    script = FAMILY.replace(first, f'use "club.sockscript"\n\n{first}')
    document = Document("sock.sockscript", tmp_path)
    document.examine(script)
    assert document.examined.problems == ()
    other.write_text("technique edge\n    knit 2 rowz\n", "utf-8")
    document.forget_files()
    document.examine(script)

    assert [p.at.source.name for p in document.examined.problems] == ["club.sockscript"]


def test_an_edit_in_one_section_knits_only_that_one_again():
    """A foot 5 mm longer changes the totals of the toe, but not what is done in it."""
    document = Document("sock.sockscript")
    document.examine(FAMILY)
    runs = {id(o.run) for outcomes in document.examined.proof.outcomes for o in outcomes}
    text = FAMILY.replace("for a foot length of foot-length",
                          "for a foot length of foot-length plus 5 mm")
    assert text != FAMILY
    knitted, kept = performed(document, text)

    # Once for each size and each of the two choices of the heel before it.
    assert knitted <= len(runs)
    assert kept > 3 * knitted
    assert_same(document, text)


def test_a_new_line_above_moves_what_is_kept():
    document = Document("sock.sockscript")
    document.examine(FAMILY)
    text = FAMILY.replace('section "Leg"', '\n\n# The leg begins here.\nsection "Leg"')

    assert performed(document, text)[0] == 0
    assert_same(document, text)


def test_a_changed_header_is_noticed():
    document = Document("sock.sockscript")
    document.examine(FAMILY)
    for old, new in (("let toe     = half * 2 / 5", "let toe     = half * 1 / 5"),
                     ("30 stitches, 42 rows", "28 stitches, 40 rows"),
                     ("needles 100", "needles 60"), ("beds 2", "beds 1")):
        pattern = re.compile(r"\s+".join(map(re.escape, old.split())))
        text, count = pattern.subn(new, FAMILY)
        assert count, old
        document.examine(text)
        assert_same(document, text)


# ---- mends


@pytest.mark.parametrize("path", sorted(
    (Path(__file__).resolve().parents[2] / "examples" / "broken").glob("*.sockscript")),
    ids=lambda path: path.stem)
def test_a_mend_takes_its_mark_away(path):
    document = Document(path.name, path.parent)
    document.examine(path.read_text("utf-8"))
    for mark in diagnostics(document):
        if mark.mend is None:
            continue
        change = edit_for(mark.mend, document)
        parts = [line + "\n" for line in document.source.lines]
        (l1, c1), (l2, c2) = change.first, change.last
        whole = "".join(parts)
        start = sum(map(len, parts[:l1 - 1])) + c1 - 1
        end = sum(map(len, parts[:l2 - 1])) + c2 - 1
        after = Document(path.name, path.parent)
        after.examine(whole[:start] + change.text + whole[end:])
        same = [m for m in diagnostics(document) if m.kind == mark.kind]
        left = [m for m in diagnostics(after) if m.kind == mark.kind]
        assert len(left) < len(same), mark.kind


# ---- machine profiles


def test_the_usual_machine_of_a_member_is_asked_in_the_editor_too():
    """The sock needs two beds; the cottage machine has one."""
    lacking = Document("sock.sockscript", machine="cottage-single").examine(FAMILY)
    whole = Document("sock.sockscript", machine="harbour-45").examine(FAMILY)

    assert "machine-lacks" in {f.kind for f in lacking.findings}
    assert not whole.findings and whole.profile.name.startswith("Harbour")


def test_a_machine_profile_is_no_pattern():
    document = Document("mine.machine")
    good = 'machine "Mine"\n    beds 2\n    needles 180\n    words\n        rest "slip"\n'

    document.examine(good)
    assert diagnostics(document) == []
    document.examine(good.replace("rest", "rist"))
    assert [(m.at.line, m.kind) for m in diagnostics(document)] == [(5, "bad-profile")]
    document.examine(good.replace("needles 180", "needles many"))
    assert [m.at.line for m in diagnostics(document)] == [3]


@pytest.mark.parametrize("spoiled", ['section"Cuff" in rib', 'SECTION "Cuff" in rib',
                                     'section"Cuff"in rib'])
def test_words_without_a_blank_between_them_stay_a_section(spoiled):
    text = FAMILY.replace('section "Cuff" in rib', spoiled)
    document = Document("sock.sockscript")
    document.examine(FAMILY)
    document.examine(text)

    assert_same(document, text)


def ends(document):
    """The counts, by the text of their lines and how often that text came before."""
    seen, found = {}, {}
    for line, text in enumerate(document.source.lines, start=1):
        seen[text] = seen.get(text, 0) + 1
        found[line] = (text, seen[text])
    return {found[end.line]: end.short for end in line_ends(document, None, 1, 10_000)}


@pytest.mark.parametrize(("old", "new"), [
    # A new line that is not finished, pasted together with others.
    ("    row counter 0\n", "    row counter 0\n    knot\n    note \"so\"\n"),
    # Two lines run together.
    ("    set back to knit\n    stitch size 6", "    set back to knit    stitch size 6"),
    ("version 1\n", ""), ("yarn main", "\n\nyarn mian"),
    (FAMILY[FAMILY.index("# Any foot"):FAMILY.index("let around")], "")])
def test_counts_stay_with_their_lines_while_the_script_has_slips(old, new):
    document = Document("sock.sockscript")
    document.examine(FAMILY)
    before = ends(document)
    assert old in FAMILY
    document.examine("slip\n" + FAMILY)
    assert ends(document) == before
    document.examine("slip\n" + FAMILY.replace(old, new, 1))
    after = ends(document)
    gone = {key for key in before if key[0] in old.split("\n")}
    assert {key: short for key, short in before.items() if key not in gone}.items() \
        <= after.items()
    line = document.source.lines.index("    knit rows(leg-length) to nearest rounds") + 1
    shown = needles_after(document, line, None)
    assert shown is not None
    assert f"after line {line}" in shown.title


def test_needles_after_a_line_far_behind_the_end_are_those_of_the_end():
    document = Document("sock.sockscript")
    document.examine(FAMILY)
    assert needles_after(document, 10**9, None) == needles_after(
        document, len(document.source.lines), None)


@pytest.mark.parametrize(("text", "advice"), [
    ("", "section"), ('pattern "Tide"\n', "section")])
def test_a_script_that_was_only_begun_has_no_fault(text, advice):
    document = Document("sock.sockscript")
    document.examine(text)
    (mark,) = diagnostics(document)
    assert (mark.kind, mark.severity) == ("empty-script", "advice")
    assert advice in mark.words


def test_a_file_of_techniques_has_nothing_to_tell():
    document = Document("sock.sockscript")
    document.examine("technique edge\n    knit 2 rows\n")

    assert list(diagnostics(document)) == []


def test_a_bed_that_the_machine_has_not_is_not_set_to_knit():
    document = Document("sock.sockscript")
    document.examine('pattern "T"\nmachine\n    beds 1\nyarn main "w"\nsection "A"\n'
                     '    thread main\n    knit 2 rows on back\n')
    kinds = [mark.kind for mark in diagnostics(document)]
    assert "no-second-bed" in kinds
    assert "bed-left-resting" not in kinds
