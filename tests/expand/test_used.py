"""Files that a script uses: how many, and which not."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, prepared, problems

from sockscript.expand.called import borrowed
from sockscript.findings.checked import check
from sockscript.text.source import Source


def files(folder, number):
    """So many files of one technique each, and the lines that use them."""
    for one in range(number):
        (folder / f"f{one}.sockscript").write_text(f"technique do-{one}\n    half pitch\n")
    return "".join(f'use "f{one}.sockscript"\n' for one in range(number))


@pytest.mark.parametrize("number, told", [(40, []), (41, [45]), (42, [45, 46])])
def test_forty_files_may_be_used(number, told, tmp_path):
    used = files(tmp_path, number)
    calls = "".join(f"    do do-{one}\n" for one in range(40))
    found = problems(f'{HEADER}{used}section "A"\n{calls}', tmp_path)

    assert [(one.kind, one.at.line) for one in found] == [("use-too-many", line) for line in told]


@pytest.mark.parametrize("name, told", [
    ("f0.txt", "is not a .sockscript file"), ("../f0.sockscript", "lies outside the folder"),
    ("{folder}/f0.sockscript", "lies outside the folder"),
    ("sub\\\\f0.sockscript", "lies outside the folder"), ("gone.sockscript", "no such file"),
    ("test.sockscript", "and this file use each other"),
    ("round.sockscript", "'round.sockscript' and this file use each other")])
def test_what_cannot_be_used(name, told, tmp_path):
    files(tmp_path, 1)
    (tmp_path / "round.sockscript").write_text('use "again.sockscript"\n')
    (tmp_path / "again.sockscript").write_text('use "round.sockscript"\n')
    found = problems(f'{HEADER}use "{name.format(folder=tmp_path)}"\nuse "f0.sockscript"\n'
                     'section "A"\n    do do-0\n', tmp_path)

    assert len(found) == 1 and told in found[0].message


def test_a_link_is_followed_to_see_where_it_leads(tmp_path):
    inside, outside = tmp_path / "inside", tmp_path / "outside"
    for folder in (inside, outside):
        folder.mkdir()
        files(folder, 1)
    (inside / "here.sockscript").symlink_to(inside / "f0.sockscript")
    (inside / "there.sockscript").symlink_to(outside / "f0.sockscript")
    (tmp_path / "way").symlink_to(inside)
    script = HEADER + 'use "{}.sockscript"\nsection "A"\n    do do-0\n'

    assert problems(script.format("here"), inside) == []
    assert problems(script.format("here"), tmp_path / "way") == []
    assert "lies outside the folder" in problems(script.format("there"), inside)[0].message


def test_a_file_that_two_use_is_read_once_and_its_technique_is_that_of_the_first(tmp_path):
    files(tmp_path, 1)
    (tmp_path / "one.sockscript").write_text(
        'use "f0.sockscript"\ntechnique do-1\n    do do-0\n')
    (tmp_path / "two.sockscript").write_text(
        'use "f0.sockscript"\ntechnique do-0\n    knit 3 cm rows\n')

    assert problems(f'{HEADER}use "one.sockscript"\nuse "two.sockscript"\n'
                    'section "A"\n    do do-1\n    do do-0\n', tmp_path) == []


def test_a_script_that_is_in_no_file_uses_none():
    found, = problems(f'{HEADER}use "f0.sockscript"\nsection "A"\n    half pitch\n')

    assert found.kind == "use-outside-folder" and "not in a file" in found.message


def test_a_technique_of_a_file_that_calls_what_is_not_there_is_told_in_its_line(tmp_path):
    (tmp_path / "f0.sockscript").write_text("technique do-0\n    half pitch\n    do nowhere\n")
    text = f'{HEADER}use "f0.sockscript"\nsection "A"\n    do do-0\n'
    run = check(Source("test.sockscript", text, tmp_path)).proof.outcomes[0][0].run

    assert run.stopped.kind == "unknown-technique"
    assert [(at.source.name, at.line) for at in (run.stopped.at, *run.stopped_places)] == [
        ("f0.sockscript", 3), ("test.sockscript", 6), ("test.sockscript", 7), ("f0.sockscript", 3)]


def test_a_technique_of_a_file_asks_for_a_gauge_that_the_script_has_not(tmp_path):
    (tmp_path / "f0.sockscript").write_text("technique do-0\n    knit rows(3 cm, lace) rows\n")
    text = f'{HEADER}use "f0.sockscript"\nsection "A"\n    do do-0\n'
    stopped, = check(Source("test.sockscript", text, tmp_path)).findings[:1]

    assert (stopped.message, stopped.advice) == (
        "There is no gauge for 'lace'.", "There is one for plain.")
    assert (stopped.at.line, [(one.at.source.name, one.at.line, one.at.start)
                              for one in stopped.others]) == (7, [("f0.sockscript", 2, 21)])


def test_whose_a_technique_is_in_words(tmp_path):
    """What is exchanged, for one of a file and for a shipped one; the script's own that hides a
    shipped one; in the order in which they are called first."""
    (tmp_path / "f.sockscript").write_text(
        'author "Ada"\ntechnique one\n    half pitch\n    do two\ntechnique two\n    half pitch\n')
    text = (HEADER + 'use "f.sockscript"\nexchange wedge-toe for one\n'
            "exchange graft-end for gathered-end\ntechnique heel\n    do wedge-toe\n"
            "technique ours\n    full pitch\n"
            'section "A"\n    do heel\n    do graft-end\n    do ours\n')
    ready = prepared(text, tmp_path)

    assert not ready.problems
    assert [*map(str, borrowed(ready.script, ready.library))] == [
        "heel from this script (not the one that comes with Sockscript)",
        "one in the place of wedge-toe, from f.sockscript, by Ada", "two from f.sockscript, by Ada",
        "gathered-end in the place of graft-end"]


def test_of_each_technique_it_is_known_whose_it_is(tmp_path):
    """One of the script itself goes before one of a file; what nobody calls is not told."""
    files(tmp_path, 3)
    ready = prepared(f'{HEADER}use "f0.sockscript"\nuse "f1.sockscript"\nuse "f2.sockscript"\n'
                     "technique do-1\n    full pitch\n"
                     'section "A"\n    do do-0\n    do do-1\n    do tube-cast-on with half = 4, '
                     "yarn = main\n", tmp_path)

    assert not ready.problems
    assert [(one.name, one.file) for one in borrowed(ready.script, ready.library)] == [
        ("do-0", "f0.sockscript")]
