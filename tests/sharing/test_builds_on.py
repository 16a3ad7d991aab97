"""A script of one's own that builds on another's: the whole is checked, told and packed."""

from __future__ import annotations

import pytest
from support.command import sockscript

from sockscript.catalogue.reading import read_record
from sockscript.expand.called import borrowed, built_on
from sockscript.findings.checked import check
from sockscript.format.formatter import format_source
from sockscript.service.diagnostics import diagnostics
from sockscript.service.document import Document
from sockscript.sharing.fingerprint import fingerprint
from sockscript.sharing.pack import make_pack
from sockscript.text.packed import open_pack
from sockscript.text.source import Source, read_source

THEIRS = """pattern "Harbour Wrister"
author "Cleo"
version 3
licence "CC BY-SA 4.0"
use "edges.sockscript"
yarn main "four-ply wool" 400 m per 100 g
gauge plain 30 stitches, 42 rows per 10 cm
swatch plain 60 stitches, 84 rows, 18 g of main
option way short, long
sizes       Small  Large
    wide    20     24
let tall = 20
section "Strip" in plain
    bring centre wide of front into work
    set front to knit
    thread main
    cast on front
    knit tall rows
    when way is long
        knit 2 rows
section "End" in plain
    do edge on front
"""
EDGES = "technique edge with bed\n    bind off bed\n    cut\n"
OURS = """builds on "theirs/wrister.sockscript"
pattern "Our Wrister"
"""


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "theirs").mkdir()
    (tmp_path / "theirs" / "wrister.sockscript").write_text(THEIRS)
    (tmp_path / "theirs" / "edges.sockscript").write_text(EDGES)
    return tmp_path


@pytest.fixture
def verdict(folder):
    def checked(more="", first=OURS):
        (folder / "ours.sockscript").write_text(first + more)
        return check(read_source(folder / "ours.sockscript", "ours.sockscript"))
    return checked


def rows(checked):
    return [[sum(getattr(moment.op, "passes", 0) for moment in one.run.moments)
             for one in of_size] for of_size in checked.proof.outcomes]


def mark(checked):
    return fingerprint(checked.script, checked.library).pattern


def test_what_it_says_stands_for_what_the_other_says(folder, verdict):
    theirs, plain = check(read_source(folder / "theirs" / "wrister.sockscript")), verdict()

    assert plain.knits and rows(plain) == rows(theirs) == [[20, 22], [20, 22]]
    assert (plain.script.title, plain.script.author, plain.script.version,
            plain.script.licence) == ("Our Wrister", "Cleo", "", "CC BY-SA 4.0")
    assert built_on(plain.script) == [
        "theirs/wrister.sockscript: Harbour Wrister, version 3, by Cleo, CC BY-SA 4.0"]
    # Files that the other uses are looked for beside it.
    assert [one.file for one in borrowed(plain.script, plain.library)] == ["edges.sockscript"]

    changed = verdict("""let tall = 30
option way long
gauge plain 28 stitches, 40 rows per 10 cm
sizes   Small  Large  Giant
    wide  20  24  28
""")
    assert rows(changed) == [[32]] * 3
    assert changed.script.gauges[0].stitches == 28 and not changed.script.swatches


@pytest.mark.parametrize("more, at, line", [
    ("let tall = 0 - 20\n", "theirs/wrister.sockscript", 18),
    ("exchange edge for ours\ntechnique ours with bed\n    cut\n    bind off bed\n",
     "ours.sockscript", 6),
    ('section "End" in plain\n    cut\n    bind off front\n', "ours.sockscript", 5)])
def test_the_whole_is_checked_and_each_finding_told_in_its_file(more, at, line, verdict):
    found = verdict(more).findings

    assert [(one.at.source.name, one.at.line) for one in found][:1] == [(at, line)]
    if "exchange" in more:
        places = [(other.at.source.name, other.at.line) for other in found[0].others]
        assert ("theirs/wrister.sockscript", 22) in places


def test_the_machine_is_ours_if_we_name_one_and_otherwise_theirs(folder, verdict):
    theirs = folder / "theirs" / "wrister.sockscript"
    theirs.write_text(THEIRS + "machine\n    beds 2\n    needles 100\n    needs racking\n")

    assert verdict().script.machine.needles == verdict().profile.needles == 100
    own = verdict("machine\n    beds 2\n    needles 60\n")
    assert own.script.machine.needles == own.profile.needles == 60
    assert verdict().script.machine.abilities and not own.script.machine.abilities


def test_what_is_ours_stands_in_its_place_and_what_is_new_behind(verdict):
    checked = verdict("""yarn fine "thin cotton"
yarn main "wool and nylon" 420 m per 100 g
option way long, longer
gauge rib 34 stitches, 44 rows per 10 cm
swatch plain 30 stitches, 42 rows, 4 g of main
let wide = 22
let more = 3
section "End" in rib
    knit more rows
    thread fine
    knit 1 row
    bind off front
""")
    ours = checked.script

    assert not checked.problems
    assert [(yarn.name, yarn.text) for yarn in ours.yarns] == [
        ("main", "wool and nylon"), ("fine", "thin cotton")]
    assert [option.values for option in ours.options] == [("long", "longer")]
    assert [gauge.fabric for gauge in ours.gauges] == ["plain", "rib"]
    assert [swatch.grams for swatch in ours.swatches] == [4]
    assert [let.name for let in ours.lets] == ["tall", "wide", "more"]
    for line in ('yarn main "wool" 420 m per 100 g', "gauge plain 29 stitches, 42 rows per 10 cm"):
        assert not verdict(f"{line}\n").script.swatches, "of another yarn, or another gauge"
    # A row of the table that has become a value is out of the table, the sizes stay.
    assert dict(ours.sizes.measures) == {} and ours.sizes.names == ("Small", "Large")
    assert [(one.title, one.fabric) for one in ours.sections] == [
        ("Strip", "plain"), ("End", "rib")]


def test_a_value_may_become_an_option_and_an_option_a_value(verdict):
    ours = verdict("option tall 20, 30\nlet way = 3\nsizes Small Large\n    wide 20 24\n"
                   "section \"Strip\" in plain\n    knit tall + way rows\n").script

    assert [one.name for one in ours.options] == ["tall"]
    assert [let.name for let in ours.lets] == ["way"]
    rows = verdict("sizes Small Large\n    wide 20 24\n    tall 30 32\n    way 1 2\n").script
    assert not rows.options and not rows.lets and len(rows.sizes.measures) == 3


def test_an_allowance_holds_for_lines_of_the_other(verdict):
    late = 'section "End" in plain\n    knit 2 rows\n    bind off front\n'
    found = verdict(late)
    kinds = {one.kind for one in found.findings}

    assert kinds
    allowed = verdict("".join(f'allow {kind} because "it is so"\n' for kind in kinds) + late)
    assert not allowed.findings and {one.finding.kind for one in allowed.allowed} == kinds


@pytest.mark.parametrize("first, more, told", [
    ('builds on "../x.sockscript"\n', "", "lies outside the folder"),
    ('builds on "theirs/nix.sockscript"\n', "let a = 1\nlet b = c\n", "There is no such file"),
    ('builds on "ours.sockscript"\n', "", "build on each other"),
    ('builds on "x.sockpack"\n', "", "Unpack it first"),
    (OURS, "let tal = 30\n", "Did you mean 'tall'?"),
    (OURS, 'section "Ends"\n    cut\n', 'Did you mean "End"?'),
    (OURS, 'section "Lace"\n    cut\n', 'one of the same title: "Strip", "End".'),
    (OURS, "gauge rib 28 stitches, 40 rows per 10 cm\n", "this line changes nothing"),
    (OURS, "exchange edge for egde\n", "Did you mean 'edge'?"),
    (OURS, "exchange heel for edge\n", "does not do 'heel'"),
    (OURS, "exchange nowhere for edge\n", "no technique called 'nowhere'"),
    ('builds on "theirs\\\\wrister.sockscript"\n', "", "lies outside the folder"),
    (OURS, OURS, "a second 'builds on' line"),
    (OURS, "exchange edge for edge\n" * 2, "exchanged already"),
    (OURS, "kint 3\n", "Did you mean 'knit'?")])
def test_what_cannot_be_is_told_in_its_line_and_nothing_that_follows(first, more, told, verdict):
    problems = verdict(more, first).problems

    assert told in " ".join(f"{one.message} {one.hint}" for one in problems)
    assert {one.at.source.name for one in problems} == {"ours.sockscript"}
    assert len(problems) <= 2


@pytest.mark.parametrize("takes, told", [
    ("", "the pattern gives it 'bed', which it does not take."),
    ("with bed, edge", "it needs 'edge', which the pattern does not give."),
    ("with where, edge", "gives it 'bed', which it does not take, and it needs 'where' and "
                         "'edge', which the pattern does not give.")])
def test_an_exchange_that_does_not_fit_is_told_where_it_is_asked_for(takes, told, verdict):
    (one,) = verdict("exchange edge for ours\ntechnique ours " + takes + "\n    cut\n").problems

    assert one.kind == "exchange-does-not-fit" and one.message.endswith(told)
    assert (one.at.source.name, one.at.source.line(one.at.line)[one.at.start - 1:one.at.end - 1]) \
        == ("ours.sockscript", "ours")


def test_what_a_slip_was_to_give_a_value_is_not_told_again(folder, verdict):
    found, = verdict('let more = = 3\nsection "End" in plain\n    knit more rows\n').problems
    assert found.at.line == 3

    (folder / "theirs" / "wrister.sockscript").write_text(THEIRS.replace("tall = 20", "tall = = 2"))
    found, = verdict('section "End" in plain\n    knit tall rows\n').problems
    assert found.at.source.name == "theirs/wrister.sockscript"


def test_scripts_may_build_on_each_other_but_not_for_ever(folder, verdict):
    for deep in range(1, 12):
        (folder / f"s{deep}.sockscript").write_text(
            f'builds on "s{deep - 1}.sockscript"\nlet tall = {deep}\n' if deep > 1 else OURS)
    assert verdict("", 'builds on "s6.sockscript"\n').knits
    too_deep = verdict("", 'builds on "s11.sockscript"\n').problems
    assert [one.kind for one in too_deep] == ["use-too-many"]
    assert rows(verdict("", 'builds on "s6.sockscript"\n'))[0] == [6, 8]


def test_slips_of_the_other_are_told_in_its_file(folder, verdict):
    (folder / "theirs" / "wrister.sockscript").write_text(THEIRS.replace("cast on", "castt on"))
    problems = verdict("let tall = 4\n").problems

    assert [(one.at.source.name, one.at.line) for one in problems] == [
        ("theirs/wrister.sockscript", 17)]


def test_a_pack_has_all_of_it_and_the_same_mark(folder, verdict, tmp_path):
    plain, changed = verdict(), verdict("exchange edge for gathered-end\n")
    problems = verdict("exchange edge for gathered-end\n").problems
    assert problems and "gives it 'bed'" in problems[0].message

    changed = verdict("let tall = 22\nexchange edge for ours\n"
                      "technique ours with bed\n    bind off bed\n    cut\n")
    assert mark(changed) != mark(plain)
    data = make_pack(changed, {}, None)
    assert [name for name in open_pack(data).members if name.startswith("script/")] == [
        "script/ours.sockscript", "script/theirs/edges.sockscript",
        "script/theirs/wrister.sockscript"]
    (tmp_path / "ours.sockpack").write_bytes(data)
    packed = check(read_source(tmp_path / "ours.sockpack"))
    assert packed.knits and mark(packed) == mark(changed)
    # A catalogue looks at all these files.
    assert [name for name, _ in read_record(bytes(folder), b"ours.sockscript").used] == [
        b"theirs/edges.sockscript", b"theirs/wrister.sockscript"]
    # Names of files make no difference, a number of the other does.
    (folder / "theirs" / "wrister.sockscript").write_text(THEIRS.replace("24", "26"))
    assert mark(verdict()) != mark(plain)


def test_an_editor_marks_what_lies_in_the_other_at_the_line_that_names_it(folder):
    document = Document("ours.sockscript", folder)
    document.examine(OURS + "let tall = 20\n")
    assert diagnostics(document) == []
    for tall in ("0 - 20", "20", "0 - 20"):
        document.examine(f"{OURS}let tall = {tall}\n")
    assert [(one.at.line, one.mend, "'theirs/wrister.sockscript', line" in one.words)
            for one in diagnostics(document)][:1] == [(1, None, True)]


def test_it_is_laid_out_like_any_script():
    assert format_source(Source("a", 'BUILDS  on "x"\nexchange  a   FOR b\n')) == \
        'builds on "x"\nexchange a for b\n'


def test_fitting_and_packing_write_down_what_is_exchanged(folder):
    """In a pack, and in a fitted script, the exchange is a line of the script."""
    (folder / "ours.sockscript").write_text(OURS.replace(
        "pattern", "licence \"CC0\"\nversion 2\npattern"))
    (folder / "our-edge.sockscript").write_text(
        "technique our-edge with bed\n    do edge with bed = bed\n")
    asked = ("--with", "edge=our-edge")
    told = sockscript("check", "ours.sockscript", *asked, cwd=folder)
    assert "Technique our-edge in the place of edge, from our-edge.sockscript" in told.stdout
    mark = told.stdout.split()[-1]

    packed = sockscript("pack", "ours.sockscript", *asked, "-o", "a.sockpack", cwd=folder)
    assert packed.stdout.split("\n")[1:3] == ["With our-edge in the place of edge.",
                                              f"Fingerprint {mark}"]
    assert f"Fingerprint {mark}\n  Not signed" in sockscript("check", "a.sockpack",
                                                            cwd=folder).stdout

    fitted = sockscript("fit", "ours.sockscript", *asked, "--size", "Small", "--gauge",
                        "29x41/10cm", "-o", "mine.sockscript", cwd=folder)
    assert fitted.returncode == 0, fitted.stderr
    text = (folder / "mine.sockscript").read_text()
    assert 'use "our-edge.sockscript"\nexchange edge for our-edge\n' in text
    assert "gauge plain 29 stitches, 41 rows per 10 cm" in text and 'builds on "theirs/' in text
