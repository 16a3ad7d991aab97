"""Reading scripts: layout, slips in plain words, and input that is no script at all."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest
from support.scripts import FLAT, HEADER, checked, findings, prepared, problems

from sockscript.commands.check import check_file, report
from sockscript.findings.report import finding_text
from sockscript.text.layout import without_comment
from sockscript.text.source import Problem, Source, read_source


def section(*lines):
    return HEADER + 'section "x"\n' + "".join(f"    {line}\n" for line in lines)


# ---- layout


@pytest.mark.parametrize("line, kept", [
    ("knit 2 rows # two", "knit 2 rows"), ('note "no # comment"', 'note "no # comment"'),
    ('note "a" # "b" # c', 'note "a"'), ("# all of it", ""), ("note “a # b” # c", "note “a # b”"),
])
def test_comments_end_a_line_but_not_inside_quotes(line, kept):
    assert without_comment(line) == kept


def test_words_go_on_under_their_step():
    script = prepared(section('step "One"', '     "two"', "    half pitch")).script
    step = script.sections[0].body[0]

    assert "".join(step.words.parts) == "One two"
    assert len(step.body) == 1


def test_words_of_the_language_are_read_in_any_case():
    assert not problems(section("SET Front TO Rest", "Half Pitch"))


def test_quotation_marks_of_a_word_processor_are_fine():
    assert not problems('pattern “Lantern Sock”\nsection “x”\n    note “é ü ½”\n')


def test_one_unit_at_the_end_of_a_row_is_for_all():
    sizes = prepared("sizes A B C\n    foot 8 9 1/2 10½ in\n").script.sizes

    assert [float(q.value) for q in sizes.measures["foot"]] == pytest.approx(
        [203.2, 241.3, 266.7])


def test_several_slips_are_told_in_one_run_each_at_its_place():
    text = 'pattern "x"\nauthr "y"\nsection "z"\n    kint 2 rows\n    set front too rest\n    cut\n'
    found = problems(text)

    assert [(p.at.line, p.at.start, p.at.end) for p in found] == [(2, 1, 6), (4, 5, 9), (5, 15, 18)]
    assert "'author'" in found[0].hint
    assert "'knit'" in found[1].hint
    assert "'to'" in found[2].hint


@pytest.mark.parametrize("line, says", [
    ('step "Hang it', "never closed"),
    ("knit larger(2,5, 1) rows", "one number or two"),
    ("let a is 4", "given with ="),
    ("repeat 3 times:", "colon"),
    ("when half == 4", "compared in words"),
    ("expect 4 > 3", "compared in words"),
    ("knit 4 roes", "'roes'"),
    ("knit", "stops too early"),
    ("transfer front back", "'back' does not fit"),
    ("stitch size", "stops too early"),
    ("fold left 4 of back", "stops too early"),
    ("move 3 stitches at left of front", "stops too early"),
    ('step "a {b c} d"', "does not fit"),
    ('step "a {b"', "no }"),
    ('"words alone"', "stand by themselves"),
    ("otherwise", "no 'when'"),
    ("pattern \"inside\"", "belongs at the top"),
    ("knit ½½ rows", "does not fit"),
    ("let front = 3", "word of the language"),
    ("set front to  rset", "'rset'"),
    ("note Hang it", "between quotation marks"),
    ("let a = 4 minus 2", "'minus'"),
    ("let a = 4 divided by 2", "'divided by'"),
    ("let a = 4 multiplied by 2", "'multiplied by'"),
    ("let a = 17 to nearest 4", "names what it rounds to"),
    ("do wedge toe with leave = 4", "joined by hyphens"),
    ("do heel with leave = 10 on front", "before the values"),
    ("do wedge-toe leave = 10", "after 'with'"),
    ("graft front and back", "grafted to the other"),
    ("knit 20 sts", "rows or rounds"),
])
def test_typical_slips_have_a_plain_sentence(line, says):
    found = problems(section("note \"before\"", line, "note \"after\""))

    assert len(found) == 1
    assert says in found[0].message
    assert "Token" not in found[0].message and "__" not in found[0].message


@pytest.mark.parametrize("lines", [
    ["when 1 is 1", "    knit 2 rows", "otherwise", "knit 4 rows"],
    ["when 1 is 1", "    knit 2 rows", "otherwise", "otherwise", "    knit 4 rows"],
    ["repeat 2 times", "    when 1 is 1", "        knit 2 rows", "    otherwise"]])
def test_an_otherwise_without_lines_is_told(lines):
    """Left empty it would knit for every size what stands below it."""
    assert [one.kind for one in problems(section(*lines))] == ["empty-block"]
    assert problems(section("when 1 is 1", "    knit 2 rows", "otherwise", "    knit 4 rows")) == []


# ---- values


def test_adding_a_length_to_a_count_says_so():
    found = findings("knit 10 cm + 4 rows\n")

    assert "A plain number (4) cannot be added to a length (10 cm)" in found[0].message


def test_division_by_zero_is_told():
    assert "divides by 0" in findings("knit 4 / 0 rows\n")[0].message


def test_a_word_where_a_number_belongs_is_told():
    assert "is a word" in findings("let a = front\nknit a rows\n".replace(
        "let a = front\n", "do t with n = front\n").replace("knit a rows\n", ""),
        HEADER + "technique t with n\n    knit n rows\n")[0].message


# ---- input that is no script


def checked_text(path: Path) -> str:
    before = sorted(path.parent.iterdir())
    start = time.process_time()
    text = report(check_file(path, None))

    assert time.process_time() - start < 10, "a limit must stop it"
    assert sorted(path.parent.iterdir()) == before, "nothing is written"
    assert "Traceback" not in text
    return text


BAD_FILES = {
    "empty": (b"", "nothing to knit"),
    "only-comments": (b"# nothing\n\n", "nothing to knit"),
    "binary": (b"\x00\x01\x02" * 100, "not a text file"),
    "latin-1": ('note "é"\n'.encode("latin-1"), "not UTF-8"),
    "utf-16": ('pattern "x"\n'.encode("utf-16"), "not"),
    "tabs-and-spaces": (b'section "x"\n\tknit 1 row\n        knit 2 rows\n', "Tabs and spaces"),
    "nested": (b"".join(b" " * n + b"repeat 2 times\n" for n in range(10_000)), "nested"),
    "long-line": (b'section "x"\n    note "' + b"x" * 1_900 + b"\n", "never closed"),
    "longer-line": (b'section "x"\n    note "' + b"x" * 500_000 + b"\n", "500010 letters"),
    "many-slips": (b'section "x"\n' + b"    kint\n" * 20_000, "No instruction begins"),
    "control": (b'section "\x1b[31mred"\n    kint \x1b[31m\n', "No instruction begins"),
    "deep-brackets": (b'section "x"\n    knit ' + b"(" * 900 + b"1" + b")" * 900 + b" rows\n",
                      "nothing-knits"),
    "deep-signs": (b'section "x"\n    knit ' + b"- " * 900 + b"1 rows\n", "stand in one another"),
    "deep-not": (b'section "x"\n    when ' + b"not " * 400 + b"1 is 1\n        half pitch\n",
                 "stand in one another"),
    "deep-brace": (b'section "x"\n    note "{' + b"1 + " * 400 + b'1}"\n',
                   "stand in one another"),
    "every-other": (b'section "x"\n    hold ' + b"every other of " * 100 + b"left 4 of front\n",
                    "stand in one another"),
    "chain-of-lets": (b"let a0 = 1\n" + b"".join(b"let a%d = a%d + 1\n" % (n, n - 1)
                                                for n in range(1, 5000))
                      + b'section "x"\n    knit a4999 rows\n', "nothing-knits"),
    "backward-chain": (b"let a5000 = 1\n" + b"".join(b"let a%d = a%d + 1\n" % (n, n + 1)
                                                    for n in range(5000))
                       + b'section "x"\n    knit a0 rows\n', "nothing-knits"),
    "ring-of-lets": (b"".join(b"let a%d = a%d + 1\n" % (n, (n + 1) % 5000) for n in range(5000))
                     + b'section "x"\n    knit a0 rows\n', "is worked out from itself"),
    "many-sections": (b'section "x"\n    half pitch\n' * 12_000, "no stitch is lost"),
    "sizes-and-options": (b"sizes " + b" ".join(b"S%d" % n for n in range(40)) + b"\n    foot "
                          + b"20 " * 40 + b"cm\n" + b"".join(b"option o%d a, b\n" % n
                                                            for n in range(12))
                          + b'section "x"\n    half pitch\n', "options and sizes give more than"),
    "repeat": (b'section "x"\n    repeat 1000000000000 times\n        half pitch\n',
               "more than a sock needs"),
    "repeat-in-repeat": (b'section "x"\n    repeat 100000 times\n        repeat 100000 times\n'
                         b"            half pitch\n", "goes on for more than 100000 lines"),
    "long-in-every-choice": (
        b"".join(b"option o%d a, b\n" % n for n in range(10)) + b'section "x"\n'
        + b"".join(b"    when o%d is a\n        half pitch\n" % n for n in range(10))
        + b"    repeat 90000 times\n        let a = 1\n", "goes on for more than"),
    "endless-until": (b'section "x"\n    let a = 1\n    repeat until a is 0\n'
                      b"        let a = a + 1\n", "never"),
    "calls-itself": (b'technique a\n    do a\nsection "x"\n    do a\n', "calling itself"),
    "huge-number": (b'section "x"\n    let a = ' + b"9" * 1_900 + b"\n    knit a rows\n",
                    "too large"),
    "huge-power": (b"let a = 10\n" + b"".join(b"let a%d = a%s * a%s\n" % (
        n, b"" if n == 1 else b"%d" % (n - 1), b"" if n == 1 else b"%d" % (n - 1))
        for n in range(1, 60)) + b'section "x"\n    knit a59 rows\n', "too large"),
    "division": (b'let a = 1 / 0\nsection "x"\n    knit a rows\n', "divides by 0"),
    "missing-cells": (b"sizes A B C\n    foot 1 2 cm\n", "2 values, but there are 3 sizes"),
    "undefined": (b'section "x"\n    knit missing rows\n', "Nothing is called 'missing'"),
    "no-file-used": (b'use "nowhere.sockscript"\nsection "x"\n    half pitch\n', "no such file"),
    "absolute-use": (b'use "/etc/passwd"\nsection "x"\n    half pitch\n', "outside the folder"),
    "use-above": (b'use "../x.sockscript"\nsection "x"\n    half pitch\n', "outside the folder"),
    "use-other": (b'use "notes.txt"\nsection "x"\n    half pitch\n', "not a .sockscript file"),
    "many-options": (b"".join(b"option o%d a, b, c, d\n" % n for n in range(12))
                     + b'section "x"\n    half pitch\n', "more than 2000 combinations"),
    "wide": (b'section "x"\n    bring centre 5000 of front into work\n', "do not fit"),
}


@pytest.mark.parametrize("name", sorted(BAD_FILES))
def test_bad_input_is_told_in_plain_words(name, tmp_path):
    data, says = BAD_FILES[name]
    path = tmp_path / f"{name}.sockscript"
    path.write_bytes(data)

    assert says in checked_text(path)


def test_a_file_of_100_megabytes_is_not_read(tmp_path):
    path = tmp_path / "large.sockscript"
    with path.open("wb") as stream:
        stream.truncate(100_000_000)

    assert "larger than" in checked_text(path)


def test_missing_files_and_folders_are_told(tmp_path):
    assert "no such file" in checked_text(tmp_path / "nowhere.sockscript")
    assert "a folder" in report(check_file(tmp_path, None))


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_a_file_that_may_not_be_read_is_told(tmp_path):
    path = tmp_path / "closed.sockscript"
    path.write_text("x")
    path.chmod(0)

    assert "cannot be read" in checked_text(path)


def test_files_that_use_each_other_are_told(tmp_path):
    (tmp_path / "a.sockscript").write_text('use "b.sockscript"\nsection "x"\n    half pitch\n')
    (tmp_path / "b.sockscript").write_text('use "c.sockscript"\n')
    (tmp_path / "c.sockscript").write_text('use "b.sockscript"\n')

    assert "use each other" in checked_text(tmp_path / "a.sockscript")


def test_a_link_out_of_the_folder_is_not_followed(tmp_path):
    inside = tmp_path / "inside"
    inside.mkdir()
    (tmp_path / "secret.sockscript").write_text("technique secret\n    half pitch\n")
    (inside / "link.sockscript").symlink_to(tmp_path / "secret.sockscript")
    (inside / "a.sockscript").write_text('use "link.sockscript"\nsection "x"\n    do secret\n')

    assert "outside the folder" in checked_text(inside / "a.sockscript")


def test_techniques_of_a_used_file_are_found(tmp_path):
    (tmp_path / "ours.sockscript").write_text(
        "technique two-rows with bed\n    knit 2 rows on bed\n")
    path = tmp_path / "a.sockscript"
    path.write_text(f'{HEADER}use "ours.sockscript"\nsection "x"\n'
                    + "".join(f"    {line}\n" for line in FLAT.splitlines())
                    + "    do two-rows on front\n    cut\n    gather front\n")

    assert "no stitch is lost" in checked_text(path)


def test_a_technique_of_another_file_does_not_see_the_names_of_the_script(tmp_path):
    (tmp_path / "ours.sockscript").write_text("technique peek\n    knit around rows\n")
    path = tmp_path / "a.sockscript"
    path.write_text(f'{HEADER}use "ours.sockscript"\nlet around = 4\nsection "x"\n    do peek\n')

    assert "Nothing is called 'around'" in checked_text(path)


def test_the_same_input_gives_the_same_output():
    text = section(*FLAT.splitlines(), "cut", "knit 1 row")
    one, two = (checked(text).findings for _ in range(2))

    assert [finding_text(f) for f in one] == [finding_text(f) for f in two]


def test_a_source_is_read_with_or_without_a_mark_at_its_start(tmp_path):
    path = tmp_path / "bom.sockscript"
    path.write_bytes(b"\xef\xbb\xbfpattern \"x\"\n")

    source = read_source(path)
    assert isinstance(source, Source) and not isinstance(source, Problem)
    assert source.lines == ['pattern "x"']


def test_a_first_line_that_is_indented_is_one_slip():
    text = '    pattern "Test"\nauthor "Club"\nyarn main "wool"\nsection "A"\n    knit 1 row\n'

    assert [(p.kind, p.at.line) for p in problems(text)] == [("ragged-indentation", 1)]
