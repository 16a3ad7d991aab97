"""Mends: only what is sure, never without a word, checked again."""

from __future__ import annotations

import pytest
from support.scripts import HEADER, TUBE, findings

from sockscript.commands import mend
from sockscript.commands.check import check_file
from sockscript.findings.checked import check
from sockscript.findings.mends import mended
from sockscript.findings.page import load_page, page_names
from sockscript.findings.prove import prepare
from sockscript.text.layout import AT_MARGIN
from sockscript.text.source import Source, Span
from sockscript.tree.line_kinds import samples

START = '''pattern "Mends"
yarn main "four-ply sock wool"

section "Strip"
    bring centre 20 of front into work
    set front to knit
    thread main
    cast on front
    knit 5 rows
'''


def written(tmp_path, text, yes=True):
    path = tmp_path / "script.sockscript"
    path.write_text(text, "utf-8")
    status = mend.run(files=[path], machine=None, yes=yes)
    return status, path.read_text("utf-8")


@pytest.mark.parametrize("wrong, right", [
    ("    kint 4 rows\n    cut\n    gather front\n",
     "    knit 4 rows\n    cut\n    gather front\n"),
    ("    let tall = 3\n    knit talk rows\n    cut\n    gather front\n",
     "    let tall = 3\n    knit tall rows\n    cut\n    gather front\n"),
    ("    let tall is 3\n    knit tall rows\n    cut\n    gather front\n",
     "    let tall = 3\n    knit tall rows\n    cut\n    gather front\n"),
    ("    expect 3 == 3\n    cut\n    gather front\n",
     "    expect 3 is 3\n    cut\n    gather front\n"),
    ("    expect 3 > 2\n    cut\n    gather front\n",
     "    expect 3 is more than 2\n    cut\n    gather front\n"),
    ("    repeat 2 times:\n        knit 1 row\n    cut\n    gather front\n",
     "    repeat 2 times\n        knit 1 row\n    cut\n    gather front\n"),
    ("\tknit 2 rows\n    cut\n    gather front\n",
     "    knit 2 rows\n    cut\n    gather front\n"),
    ("     knit 2 rows\n    cut\n    gather front\n",
     "    knit 2 rows\n    cut\n    gather front\n"),
    ("   knit 2 rows\n    cut\n    gather front\n",
     "    knit 2 rows\n    cut\n    gather front\n"),
    ("    repeat 2 times\n        knit 1 row\n       knit 1 row\n     cut\n    gather front\n",
     "    repeat 2 times\n        knit 1 row\n        knit 1 row\n    cut\n    gather front\n"),
    ("    repeat 2 times\n         knit 1 row\n        knit 1 row\n    cut\n    gather front\n",
     "    repeat 2 times\n        knit 1 row\n        knit 1 row\n    cut\n    gather front\n"),
    ("    cut\n    gather front\n section \"Last\"\n    row counter 0\n",
     "    cut\n    gather front\nsection \"Last\"\n    row counter 0\n"),
    ("    cut\n    cut\n    gather front\n", "    cut\n    gather front\n"),
    ("    remove comb\n    cut\n    gather front\n", "    cut\n    gather front\n"),
    ("    transfer L1 of front onto L2 of front\n    knit 2 rows\n    cut\n    gather front\n",
     "    transfer L1 of front onto L2 of front\n    take empty of front out of work\n"
     "    knit 2 rows\n    cut\n    gather front\n"),
    ("    set front to rest\n    knit 1 row on front\n    cut\n    gather front\n",
     "    set front to rest\n    set front to knit\n    knit 1 row on front\n    cut\n"
     "    gather front\n"),
])
def test_a_sure_mend_makes_it_clean(tmp_path, wrong, right):
    status, text = written(tmp_path, START + wrong)

    assert text == START + right
    assert status == 0


@pytest.mark.parametrize("wrong, right", [
    ("    do wedge-toe with leeve = 8\n", "    do wedge-toe with leave = 8\n"),
    ("    do wedg-toe with leave = 8\n", "    do wedge-toe with leave = 8\n"),
    ("    let leeve = 4\n    do wedge-toe with leeve = leeve\n",
     "    let leeve = 4\n    do wedge-toe with leave = leeve\n"),
    ("    thread mian\n", "    thread main\n"),
    ("    set frnt to rest\n", "    set front to rest\n"),
    ("    hold lefft 1 working of front\n", "    hold left 1 working of front\n"),
    ("    expect 3 stitches on front.\n", "    expect 3 stitches on front\n"),
    ("    set front knit\n", "    set front to knit\n"),
    ("    hang the comb\n", "    hang comb\n"),
    ("    let half = 8 minus 2\n", "    let half = 8 - 2\n"),
    ("    knit rows 4\n", "    knit 4 rows\n"),
    ("    transfer front -> back\n", "    transfer front to back\n"),
    ("    let my name = 4\n", "    let my-name = 4\n"),
    ("    let deep = 8 cms\n", "    let deep = 8 cm\n"),
    ("    expect 20 sts\n", "    expect 20 stitches\n"),
    ("    row counter = 0\n", "    row counter 0\n"),
])
def test_the_wrong_word_is_the_one_that_is_changed(wrong, right):
    """Told once, at the word itself, and changed there."""
    source = Source("script.sockscript", START + wrong)
    found = prepare(source).problems

    assert len(found) == 1, [one.message for one in found]
    assert mended(source, found) == START + right


def test_a_word_that_stands_twice_is_left_alone():
    source = Source("script.sockscript", "    thread thred\n")
    at = Span(source, 1, 5, 17)

    assert at.word("thred") == Span(source, 1, 12, 17)
    assert at._replace(end=11).word("thred") is None
    assert Span(Source("x", "hold hold"), 1, 1, 10).word("hold") is None


def test_an_odd_number_of_passes_in_a_tube_is_made_even(tmp_path):
    text = load_page("odd-pass-in-tube").broken
    status, after = written(tmp_path, text)

    assert status == 0
    assert after == text.replace("    knit 4 rounds\n    knit 1 row\n",
                                 "    knit 4 rounds\n    knit 2 rows\n")


@pytest.mark.parametrize("rows, made_even", [
    ("knit 41 rows", True), ("knit 41 rows\nknit 3 rounds\nset both to rest", True),
    ("knit 10 rows\nknit 41 rows\nset both to knit\nknit 3 rows", True),
    ("knit 41 rows\nknit 10 rows", False), ("repeat 41 times\n    knit 1 row", False),
    ("do it", False), ("knit n rows", False), ("knit 41 rows from right", False),
    ("knit 9 rows\ncut\nmove carriage to far side\nthread main\nknit 1 row", False)])
def test_the_last_line_of_a_tube_gets_a_row_more_if_it_is_odd(rows, made_even):
    """And no other: the row over both beds that begins the tube stays as it is."""
    header = HEADER + "let n = 41\ntechnique it\n    knit 5 rows\n"
    body = TUBE.replace("\nknit 4 rounds", f"\n{rows}")
    (found,) = [one for one in findings(body, header) if one.kind == "odd-pass-in-tube"]
    text = "\n".join(found.at.source.raw) + "\n"

    assert mended(found.at.source, [found]) == (
        text.replace("knit 41 rows", "knit 42 rows") if made_even else None)


def test_nothing_is_written_without_a_word(tmp_path, capsys, monkeypatch):
    monkeypatch.setattr("sys.stdin.isatty", lambda: False)
    text = START + "    kint 4 rows\n    cut\n    gather front\n"

    status, after = written(tmp_path, text, yes=False)
    out = capsys.readouterr().out

    assert after == text and status == 2
    assert "-    kint 4 rows" in out and "+    knit 4 rows" in out and "--yes" in out


def test_what_is_not_sure_is_left_alone(tmp_path, capsys):
    text = load_page("unequal-graft").broken

    assert written(tmp_path, text) == (1, text)
    assert "no" in capsys.readouterr().out


@pytest.mark.parametrize("name", [n for n in page_names() if load_page(n).broken])
def test_a_mend_takes_the_finding_away_or_is_not_offered(tmp_path, name):
    """Whatever is offered: the finding is gone, or at least no longer where it was."""
    page = load_page(name)
    path = tmp_path / "script.sockscript"
    path.write_text(page.broken, "utf-8")
    checked = check_file(path, page.machine)
    text = mended(Source(str(path), page.broken), checked.problems or checked.findings)
    if text is None:
        return
    before = {(f.kind, f.at.source.line(f.at.line).strip())
              for f in (*checked.problems, *checked.findings)}
    path.write_text(text, "utf-8")
    again = check_file(path, page.machine)
    after = {(f.kind, f.at.source.line(f.at.line).strip())
             for f in (*again.problems, *again.findings)}

    assert not before & after


def test_at_least_twenty_findings_have_a_mend():
    count = 0
    for name in page_names():
        page = load_page(name)
        if page.broken is not None:
            source = Source("test.sockscript", page.broken)
            whole = check(source)
            count += mended(source, whole.problems or whole.findings) is not None
        if count == 20:
            break

    assert count == 20


@pytest.mark.parametrize("text", [
    f"{START}  cut\n",  # between the margin and the block
    f"{START} cut\n",  # beside the margin, where no such line stands
    f"{START}    repeat 2 times\n        knit 1 row\n      knit 1 row\n",
    f"{START.replace('    ', chr(9))}\t\tcut\n",  # a tab is a whole step
    f"{START}        knit 1 row\n",  # a whole step: a line may be missing above
])
def test_a_line_that_may_belong_to_two_depths_is_not_moved(text):
    source = Source("script.sockscript", text)
    found = prepare(source).problems

    assert [one.kind for one in found] in (["ragged-indentation"], ["misplaced-line"])
    assert mended(source, found) is None


@pytest.mark.parametrize("word", sorted(AT_MARGIN))
def test_words_that_stand_at_the_margin_alone(word):
    """The mend of a line a column off the margin takes them for such."""
    line = samples()[word][0] if word != "license" else 'license "CC0"'
    found = prepare(Source("script.sockscript", f"{START}    {line}\n")).problems

    assert any("belongs at the top" in one.message for one in found), found


@pytest.mark.parametrize(("later", "sure"), [
    ("", True),
    ("        knit 1 row\n", True),  # what stands under it is its own, as it is under a section
    ("    knit 1 row\n", False),  # may belong to either section
])
def test_a_section_begun_at_the_depth_of_the_line_above_is_moved_out(later, sure):
    """Editors give a new line the depth of the line above, so every new section begins so."""
    text = f'{START}    section "Next"\n{later}'
    source = Source("script.sockscript", text)
    found = prepare(source).problems

    assert [one.kind for one in found] == ["misplaced-line"]
    assert mended(source, found) == (
        text.replace("    section", "section") if sure else None)


# ---- settings and needles that were forgotten


FIRST_LINES = {
    "set": "set {bed} to knit", "thread": "thread main",
    "bring": "bring centre 20 of {bed} into work",
}
KNITTED = ["knit 6 rows", "repeat 6 times\n    knit 1 row", "knit 4 + 2 rows"]


def beginning(without: str, bed: str, knitted: str):
    lines = [FIRST_LINES[name] for name in ("bring", "set", "thread") if name != without]
    body = "\n".join([*lines, "cast on {bed}", knitted, "bind off {bed}", "cut main"])
    return list(findings(body.format(bed=bed)))


@pytest.mark.parametrize("bed", ["front", "back"])
@pytest.mark.parametrize("knitted", KNITTED)
def test_a_line_that_was_forgotten_at_the_beginning_is_the_answer(bed, knitted):
    """Whoever writes her first square forgets one of four lines."""
    assert beginning("", bed, knitted) == []
    unset, *_ = beginning("set", bed, knitted)
    assert (unset.kind, unset.advice) == (
        "nothing-knits", f"The {bed} bed has the stitches, and is set to rest: write  "
        f"set {bed} to knit  before this row.")
    assert unset.mend is not None
    unthreaded, *_ = beginning("thread", bed, knitted)
    assert (unthreaded.kind, unthreaded.advice) == (
        "cast-on-without-yarn", "Thread a yarn first:  thread main.")
    unbrought, *_ = beginning("bring", bed, knitted)
    assert (unbrought.kind, unbrought.message) == (
        "cast-on-idle-needle",
        f"All needles of the {bed} bed are out of work, so nothing is cast on there.")
    assert f"bring centre 36 of {bed} into work" in unbrought.advice


def test_no_stitch_of_a_size_is_meant_so():
    """A number that comes to 0 casts nothing on, and both beds at rest may mean either."""
    assert findings("row counter 0\nthread main\ncast on centre 0 of front\ncut") == []
    tube = "do tube-cast-on with half = 10, yarn = main\nset both to rest\nknit 2 rows"
    unset = next(one for one in findings(tube) if one.kind == "nothing-knits")
    assert unset.advice.startswith("Look at the settings") and unset.mend is None
    # Nor would a bed knit whose stitches are all in hold.
    held = "bring centre 8 of front into work\nthread main\ncast on front\nhold all of front\n" \
        "respect hold on front\nset front to rest\nknit 2 rows"
    unset = next(one for one in findings(held) if one.kind == "nothing-knits")
    assert unset.advice.startswith("Look at the settings") and unset.mend is None
