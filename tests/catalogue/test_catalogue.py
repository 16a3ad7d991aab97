"""``sockscript catalogue``: what it tells of a folder, against the examples as they are known and
against a plain search through all that it tells."""

from __future__ import annotations

import csv
import io
import json
import os
import shutil
from pathlib import Path

import jsonschema
import pytest
from support.club import Club
from support.command import ROOT, sockscript
from support.made_patterns import made_pattern

import sockscript as package

EXAMPLES = ROOT / "examples"
SCHEMA = json.loads((Path(package.__file__).parent / "catalogue" / "catalogue.schema.json"
                     ).read_text("utf-8"))


@pytest.fixture(scope="module")
def examples(tmp_path_factory):
    """The sound examples, which nobody changes."""
    base = tmp_path_factory.mktemp("examples")
    shutil.copytree(EXAMPLES, base / "club", ignore=lambda _, names: {"broken"} & set(names))
    return Club(base / "club", base / "cache")


def test_what_is_told_of_a_pattern(examples):
    text = " ".join(examples.call("lantern").stdout.split())
    mark = next(word for word in sockscript(
        "check", str(EXAMPLES / "family-sock.sockscript")).stdout.split()
        if len(word.strip("().,;")) == 19 and word.count("-") == 3).strip("().,;")

    for told in ("Lantern Sock, version 1, by Quayside Knitting Circle",
                 "family-sock.sockscript · checked, 36 combinations", mark,
                 "9 sizes, Toddler to Man-L", "13.5 to 27 cm (5⅜ to 10⅝ in) round",
                 "works for feet of 13 to 29 cm",
                 "gauge plain 30 × 42, rib 34 × 44", "(400 m in 100 g)",
                 "two beds, 36 to 72 needles a bed", "circular knitting, hold", "wedge-toe",
                 f"1 of {len(list(EXAMPLES.glob('*.sockscript')))} files"):
        assert told in text, told


def test_metres_of_a_thin_thread_are_whole(examples):
    assert "(3333 m in 100 g)" in " ".join(examples.call("jetty").stdout.split())


def test_the_form_for_other_programs(examples):
    data = examples.data()
    jsonschema.validate(data, SCHEMA)
    entry = next(one for one in data["entries"] if one["path"] == "flat-sock.sockscript")

    assert data["files"] == data["found"] == len(list(EXAMPLES.glob("*.sockscript")))
    assert (entry["beds"], entry["status"], entry["title"]) == (1, "clean", "Boathouse Sock")
    # Foot lengths are those of the finished piece, within a row of the table's.
    for size, table in zip(entry["sizes"], (225, 250, 280), strict=True):
        assert abs(size["foot"] - table) < 3


@pytest.mark.parametrize("options, found", [
    (["--foot", "24cm", "--gauge", "30", "--one-bed"], []),
    (["--foot", "25 cm", "--gauge", "30", "--one-bed"], ["flat-sock"]),
    (["--foot", "25 cm", "--gauge", "30x42/10cm", "--needles", "61"], [
        "afterthought-sock", "family-sock", "toe-up-sock"]),
    (["--gauge", "28"], ["leg-warmer"]),
    (["--gauge", "7 1/8 per inch"], ["leg-warmer"]), (["--gauge", "7,125/in"], ["leg-warmer"]),
    (["--gauge", "30x30"], []),
    (["--yarn", "380"], ["afterthought-sock", "family-sock", "flat-sock", "gusset-sock",
                         "leg-warmer", "mitten", "striped-sock", "toe-up-sock"]),
    (["--yarn", "330"], []), (["--yarn", "360 yds/100g"], []),
    (["--yarn", "472 yards per 4 oz", "--gauge", "28"], ["leg-warmer"]),
    (["--technique", "wedge-toe"], ["afterthought-sock", "family-sock", "gusset-sock",
                                    "mitten", "striped-sock"]),
    (["--technique", "wedge-toe", "--technique", "rib-to-one-bed"],
     ["afterthought-sock", "family-sock", "gusset-sock", "mitten", "striped-sock"]),
    (["--author", "quayside", "--size", "toddler"], ["family-sock"]),
    (["--licence", "by-sa", "--clean", "mooring"], ["leg-warmer"]),
    (["--machine", "cottage-single"], ["flat-sock"]),
    (["--trouble"], []),
    (["ravel", "cord"], ["flat-sock"]),
    (["boathouse"], ["flat-sock"]),
    (["no-such-word"], []),
])
def test_what_fits(examples, options, found):
    assert examples.paths(*options) == [f"{name}.sockscript" for name in found]


def test_a_fingerprint_is_found_however_it_is_typed(examples):
    entry = examples.data("boathouse")["entries"][0]
    typed = entry["mark"].lower().replace("-", " ")

    assert examples.paths("--fingerprint", typed) == ["flat-sock.sockscript"]


def fits(entry, foot=None, stitches=None, beds=None, needles=None, author=None):
    """The same question, answered by looking at every entry."""
    sizes = [size for size in entry["sizes"]
             if (foot is None or (size["foot"] is not None and abs(size["foot"] - foot) <= 7))
             and (needles is None or (size["needles"] or 10**9) <= needles)]
    works = needles is None and foot is not None and entry["feet"] is not None \
        and entry["feet"][0] <= foot <= entry["feet"][1]
    return ((bool(sizes) or works or (foot is None and needles is None))
            and (stitches is None or any(abs(one["stitches"] - stitches) <= 1
                                         for one in entry["gauges"]))
            and (beds is None or (entry["beds"] or 9) <= beds)
            and (author is None or author in entry["author"].lower()))


@pytest.mark.parametrize("foot", [None, 225, 244, 260])
@pytest.mark.parametrize("stitches", [None, 29])
@pytest.mark.parametrize("needles", [None, 40])
def test_filters_agree_with_a_plain_search(shelf, foot, stitches, needles):
    everything = shelf.data()["entries"]
    options = [*(["--foot", f"{foot}mm"] if foot else []),
               *(["--gauge", str(stitches)] if stitches else []),
               *(["--needles", str(needles)] if needles else [])]

    assert len(everything) == 12
    assert shelf.paths(*options) == sorted(
        entry["path"] for entry in everything if fits(entry, foot, stitches, needles=needles))


@pytest.mark.parametrize("words, found", [
    (["BOATHOUSE"], True), (["boat"], True), (["sock", "boathouse"], True),
    (["Boathöuse"], True), (["ridge rubs"], True), (['"'], None), (["OR"], False),
    (["boathouse*"], True), (["NEAR(a b)"], False), (["-boathouse"], True), (["title:x"], False),
    (["flat-sock"], True), (["gathered-end"], True), (["'; DROP TABLE files"], False),
])
def test_words_found_anywhere_are_never_a_query(club, words, found):
    (club.folder / "flat-sock.sockscript").write_bytes(
        (EXAMPLES / "flat-sock.sockscript").read_bytes())
    done = club.call("--", *words)

    assert "again" not in done.stderr
    if found is not None:
        assert ("Boathouse Sock" in done.stdout) is found
        assert done.returncode == (0 if found else 1)


def test_a_title_comes_before_a_word_in_the_text(club):
    plain = made_pattern(0)
    (club.folder / "a.sockscript").write_text(plain + "\n# zeppelin\n", "utf-8")
    (club.folder / "b.sockscript").write_text(plain.replace('pattern "', 'pattern "Zeppelin ', 1),
                                              "utf-8")
    entries = club.data("zeppelin")["entries"]

    assert [entry["path"] for entry in entries] == ["b.sockscript", "a.sockscript"]


def test_bad_files_are_listed(club):
    folder = club.folder
    (folder / "binary.sockscript").write_bytes(b"\0\1\2" * 100)
    (folder / "latin.sockscript").write_bytes(b'pattern "Caf\xe9"\n')
    (folder / "huge.sockscript").write_bytes(b"#" * 700_000)
    (folder / "empty.sockscript").write_bytes(b"")
    (folder / "slip.sockscript").write_text(made_pattern(1) + "    kint 2 rows\n", "utf-8")
    (folder / "good.sockscript").write_text(made_pattern(1), "utf-8")
    (folder / "ours.sockscript").write_text("technique our-end\n    cut\n", "utf-8")
    (folder / "deep.sockscript").write_text('section "x"\n' + "".join(
        f"{' ' * n}repeat 2 times\n" for n in range(1, 300)), "utf-8")
    (folder / "gone.sockscript").symlink_to(folder / "nowhere")
    (folder / "notes.txt").write_text("no script", "utf-8")
    (folder / ".hidden").mkdir()
    (folder / ".hidden" / "x.sockscript").write_text(made_pattern(2), "utf-8")
    (folder / "round").symlink_to(folder)
    os.mkfifo(folder / "pipe.sockscript")
    (folder / os.fsdecode(b"n\xe4me.sockscript")).write_text(made_pattern(3), "utf-8")
    data = club.data()
    status = {entry["path"]: entry["status"] for entry in data["entries"]}

    jsonschema.validate(data, SCHEMA)
    assert status.pop("n�me.sockscript") == "clean"
    assert status == {"binary.sockscript": "unusable", "latin.sockscript": "unusable",
                      "huge.sockscript": "unusable", "empty.sockscript": "unusable",
                      "slip.sockscript": "unusable", "good.sockscript": "clean",
                      "ours.sockscript": "techniques", "deep.sockscript": "unusable",
                      "gone.sockscript": "unusable"}
    assert sorted(club.paths("--trouble")) == sorted(
        path for path, one in status.items() if one == "unusable")
    assert "kint" in club.call("--trouble").stdout
    # Twice: what stays the same is not read again, a dangling link included.
    assert len(club.data()["entries"]) == 10


def test_words_of_strangers_stay_words(club):
    hostile = made_pattern(1).replace('pattern "', 'pattern "=HYPERLINK(1)\x1b[31m<b>\u202e', 1)
    (club.folder / "a.sockscript").write_text(hostile, "utf-8")
    rows = list(csv.reader(io.StringIO(club.call("--format", "csv").stdout)))
    markdown = club.call("--format", "markdown").stdout
    text = club.call().stdout

    assert rows[1][3].startswith("'=HYPERLINK")
    assert "\\<b\\>" in markdown
    assert "\x1b" not in text + markdown and "\u202e" not in text


@pytest.mark.parametrize("options, told", [
    (["--foot", "24"], "the length of a foot with its unit"),
    (["--foot", "3cm"], "the length of a foot with its unit"),
    (["--foot-round", "x cm"], "the length of a foot with its unit"),
    (["--gauge", "thick"], "stitches in 10 cm"), (["--yarn", "0"], "metres of a yarn"),
    (["--gauge", "7,5"], "7½/in"), (["--yarn", "430 yards"], "430 yards per 4 oz"),
    (["--machine", "harbor-45"], "Did you mean 'harbour-45'?"),
    (["--needles", "0"], "a number of needles"), (["--clean", "--trouble"], "not both"),
    (["--format", "pdf"], "There is no format"), (["-o", "a.sockscript"], "not written"),
])
def test_slips_on_the_command_line(tmp_path, options, told):
    done = sockscript("catalogue", str(tmp_path), *options, cwd=tmp_path,
                      XDG_CACHE_HOME=str(tmp_path / "cache"))

    assert done.returncode == 2 and told in done.stderr
    assert not (tmp_path / "cache").exists()


def test_no_folder(tmp_path):
    none = sockscript("catalogue")
    missing = sockscript("catalogue", str(tmp_path / "x"))

    assert none.returncode == missing.returncode == 2
    assert "wants a folder" in none.stderr and "is no folder" in missing.stderr


def test_an_empty_folder_has_nothing(club):
    done = club.call()

    assert done.returncode == 1 and "0 files" in done.stdout


def test_many_are_told_in_part(club):
    for number in range(101):
        (club.folder / f"{number}.sockscript").write_text("technique x\n    cut\n", "utf-8")
    some, everything = (" ".join(club.call(*words).stdout.split()) for words in ([], ["--all"]))

    assert "the first 100 are shown" in some and "101 files" in everything
    assert some.count("techniques only") == 100 and everything.count("techniques only") == 101
