"""One mark for one meaning: what does not change it, and that everything else does."""

from __future__ import annotations

import json
import os
import re
from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from support.command import sockscript

from sockscript import __version__
from sockscript.findings.checked import check
from sockscript.findings.prove import prepare
from sockscript.format.formatter import format_source
from sockscript.format.same import same_meaning
from sockscript.machine.load import load_profile
from sockscript.sharing.fingerprint import LETTERS, fingerprint, same_pattern
from sockscript.sharing.stamp import stamp
from sockscript.text.layout import without_comment
from sockscript.text.source import Source, read_source
from sockscript.tree.read import read_script

ROOT = Path(__file__).resolve().parents[2]
REFERENCE = (ROOT / "grammar" / "README.md").read_text("utf-8")
EXAMPLES = {path.name: path.read_text("utf-8")
            for path in sorted(ROOT.glob("examples/*.sockscript"))}
TEXTS = {**EXAMPLES, **{f"reference-{n}": block for n, block in enumerate(
    re.findall(r"```sockscript\n(.*?)```", REFERENCE, re.S))}}
SQUARE = '''pattern "A square"
yarn main "any smooth yarn"

section "Square"
    bring centre 30 of front into work
    set front to knit
    thread main
    cast on front
    knit 40 rows
    bind off front
    cut
'''
OFTEN = settings(max_examples=int(os.environ.get("SOCKSCRIPT_EXAMPLES", "40")), derandomize=True,
                 deadline=None,
                 suppress_health_check=list(HealthCheck))


def mark(text, machine=None, folder=None, name="a.sockscript"):
    prepared = prepare(Source(name, text, folder))
    profile = load_profile(machine) if machine is not None else None
    return fingerprint(prepared.script, prepared.library, profile)


# ---- what makes no difference


@pytest.mark.parametrize("name", TEXTS)
def test_layout_letter_case_and_line_ends_make_no_difference(name):
    text = TEXTS[name]
    first = mark(text)

    assert mark(format_source(Source("a.sockscript", text))) == first
    assert mark(text.replace("\n", "\r\n"), name="C:\\other.sockscript") == first
    assert mark(re.sub(r"(?m)^( {4})+", lambda m: len(m[0]) // 4 * "\t", text)) == first
    assert mark("\n\n" + text + "\n# the end") == first


@OFTEN
@given(st.data())
def test_comments_anywhere_make_no_difference(data):
    text = data.draw(st.sampled_from(sorted(TEXTS.values())))
    rows = text.splitlines()
    for _ in range(data.draw(st.integers(1, 6))):
        at = data.draw(st.integers(0, len(rows) - 1))
        if data.draw(st.booleans()):
            rows[at] = without_comment(rows[at]) + data.draw(st.sampled_from([" # so", "# 12", ""]))
        else:
            rows.insert(at, data.draw(st.sampled_from(["", "  ", "# so", "\t# {so} \"12"])))

    assert mark("\n".join(rows)) == mark(text)


def test_the_same_number_however_it_is_written():
    body = SQUARE + 'section "More"\n    let a = {} cm\n    note "{{a}}"\n'

    assert len({mark(body.format(one)) for one in ("1.5", "1,5", "1½", "1 1/2", "3/2")}) == 1
    assert mark(body.format("1.5")) != mark(body.format("1.51"))
    # The same length, but her tape is another, and that is printed.
    assert mark(body.format("2.54")) != mark(body.replace("{} cm", "1 in").format())


def test_every_start_of_the_program_gives_the_same_mark():
    marks = set()
    for number in ("0", "1", "42"):
        done = sockscript("check", str(ROOT / "examples" / "flat-sock.sockscript"),
                          PYTHONHASHSEED=number)
        marks |= set(re.findall(r"^  Fingerprint (\S+)$", done.stdout, re.M))

    assert len(marks) == 1


def test_the_mark_of_a_plain_script_is_the_same_for_ever():
    """Members write it down: another mark for the same script would be told as a change.  Only
    another FORM may change this."""
    assert str(mark(SQUARE)) == "4KM7-H7MT-L9KX-JR39"


def test_the_letters_cannot_be_taken_for_others():
    assert len(set(LETTERS)) == 16
    assert not set(LETTERS) & set("01258BDGINOPQSUVZ")
    assert re.fullmatch(rf"([{LETTERS}]{{4}}-){{3}}[{LETTERS}]{{4}}", str(mark(SQUARE)))


# ---- what does make one


NUMBER = re.compile(r"(?<![\w.,/½⅓¼¾-])\d+(?![\w.,/½⅓¼¾-])")
WORD = re.compile(r"[a-z]{3,}")


@OFTEN
@given(st.data())
def test_any_other_number_is_another_mark(data):
    text = data.draw(st.sampled_from(sorted(EXAMPLES.values())))
    rows = text.splitlines()
    # 13 to 29 by 2 and 13 to 30 by 2 are the same values.
    places = [(n, found) for n, row in enumerate(rows) if not re.search(r" to .* by ", row)
              for found in NUMBER.finditer(without_comment(row))]
    at, found = data.draw(st.sampled_from(places))
    other = data.draw(st.integers(0, 300).filter(lambda one: one != int(found.group())))
    rows[at] = rows[at][:found.start()] + str(other) + rows[at][found.end():]
    changed = "\n".join(rows)
    assume(not read_script(Source("a", changed)).problems)

    assert mark(changed) != mark(text)


@OFTEN
@given(st.data())
def test_another_word_is_another_mark_where_it_is_another_meaning(data):
    text = data.draw(st.sampled_from(sorted(EXAMPLES.values())))
    rows = text.splitlines()
    places = [(n, found) for n, row in enumerate(rows)
              for found in WORD.finditer(without_comment(row))]
    at, found = data.draw(st.sampled_from(places))
    word = data.draw(st.sampled_from(["front", "back", "left", "right", "note", "caution", "rows",
                                      "rounds", "edging", "heel", "knit", "rest"]))
    rows[at] = rows[at][:found.start()] + word + rows[at][found.end():]
    one, other = Source("a", text), Source("a", "\n".join(rows))
    assume(not read_script(other).problems)
    same = same_meaning(read_script(one), read_script(other))

    assert (mark("\n".join(rows)) == mark(text)) is same


@pytest.mark.parametrize("before, after", [
    ('"A square"', '"A Square"'), ("smooth yarn", "smooth  yarn"), ("knit 40", "knit 41"),
    ("cast on front\n", "cast on front\n    note \"so\"\n"), ("main", "wool"),
    ('section "Square"', 'section "square"'), ("    cut\n", ""),
    ('pattern "A square"\n', 'pattern "A square"\nversion 2\n'),
    ('pattern "A square"\n', 'pattern "A square"\nmachine\n    beds 1\n')])
def test_small_changes(before, after):
    assert before in SQUARE
    assert mark(SQUARE.replace(before, after)) != mark(SQUARE)


# ---- techniques


CALLED = SQUARE.replace("    knit 40 rows\n", "    do plain-rows with depth = 20\n")
ROWS = "technique plain-rows with depth\n    knit depth * 2 rows\n"


def test_techniques_count_if_they_are_called_wherever_they_stand(tmp_path):
    (tmp_path / "ours.sockscript").write_text(ROWS + "technique spare\n    cut\n")
    (tmp_path / "theirs.sockscript").write_text("# moved\n" + ROWS)
    (tmp_path / "other.sockscript").write_text(ROWS.replace("* 2", "* 3"))
    ours, theirs, other = (mark(f'use "{name}.sockscript"\n{CALLED}', folder=tmp_path)
                           for name in ("ours", "theirs", "other"))

    assert ours == theirs == mark(CALLED + ROWS)
    assert other != ours


def test_techniques_that_techniques_call_count_too():
    outer = "technique plain-rows with depth\n    do inner with depth = depth\n"
    inner = "technique inner with depth\n    knit depth {} 2 rows\n"

    assert mark(CALLED + outer + inner.format("*")) != mark(CALLED + outer + inner.format("+"))


def test_a_shipped_technique_counts(tmp_path):
    """A file of the same name in the folder is another technique: another mark."""
    sock = EXAMPLES["toe-up-sock.sockscript"]
    cast_on = next(Path(p) for p in (ROOT / "sockscript" / "techniques").glob("cast-on.*"))
    (tmp_path / "c.sockscript").write_text(cast_on.read_text("utf-8"))
    same = mark(sock + '\nuse "c.sockscript"\n', folder=tmp_path)
    (tmp_path / "c.sockscript").write_text(
        cast_on.read_text("utf-8").replace("edge-size = 3", "edge-size = 4"))
    other = mark(sock + '\nuse "c.sockscript"\n', folder=tmp_path)

    assert same == mark(sock)
    assert other != same


# ---- machines


def test_a_named_machine_has_a_part_of_its_own():
    harbour, dunlin = (mark(SQUARE, machine) for machine in ("harbour-45", "dunlin-60"))

    assert harbour.pattern == dunlin.pattern == mark(SQUARE).pattern
    assert harbour.machine != dunlin.machine
    assert str(harbour) == f"{harbour.pattern}/{harbour.machine}"
    assert same_pattern(str(harbour), str(dunlin).lower().replace("-", " "))
    assert not same_pattern(str(harbour), str(mark(SQUARE.replace("40", "42"))))


# ---- where it is shown


def test_check_shows_it_where_the_script_knits(tmp_path):
    good, bad = tmp_path / "good.sockscript", tmp_path / "bad.sockscript"
    good.write_text(SQUARE)
    bad.write_text(SQUARE.replace("    cut\n", "").replace("    bind", "    cut\n    bind"))
    clean, found = sockscript("check", str(good)), sockscript("check", str(bad))
    told = json.loads(sockscript("check", str(good), str(bad), "--format", "json").stdout)

    assert clean.stdout.endswith(f"\n  Fingerprint {mark(SQUARE)}\n")
    assert "Fingerprint" not in found.stdout and found.returncode == 1
    assert [file["fingerprint"] for file in told["files"]] == [str(mark(SQUARE)), None]


def test_the_leaflet_and_the_page_to_knit_from_have_it(tmp_path):
    path = tmp_path / "square.sockscript"
    path.write_text(SQUARE)
    leaflet, page = tmp_path / "a.html", tmp_path / "b.html"
    sockscript("sheet", str(path), "-o", str(leaflet))
    sockscript("follow", str(path), "--machine", "harbour-45", "-o", str(page))

    assert f"checked, 1 combination, sockscript {__version__} · {mark(SQUARE)}" \
        in leaflet.read_text("utf-8")
    assert f'"fingerprint":"{mark(SQUARE, "harbour-45")}"' in page.read_text("utf-8")


def test_a_leaflet_of_a_faulty_script_does_not_say_checked():
    faulty = SQUARE.replace("    cut\n", "").replace("    bind", "    cut\n    bind")
    found = stamp(check(Source("a", faulty)))

    assert found.startswith("1 fault in 1 combination, sockscript ")
    assert str(mark(faulty)) in found


def test_the_fingerprint_of_every_example_can_be_told_apart():
    sources = [read_source(path) for path in sorted(ROOT.glob("examples/**/*.sockscript"))]
    marks = {str(mark("\n".join(one.raw))) for one in sources if isinstance(one, Source)}

    assert len(marks) > 100


def test_a_machine_stays_the_same_when_its_owner_knits_one_more_swatch(tmp_path):
    path = tmp_path / "mine.machine"
    path.write_text('machine "Attic bed"\n    beds 2\n    needles 180\n')
    before = mark(SQUARE, str(path))
    path.write_text(path.read_text() + '    swatch "wool" 30 stitches, 42 rows per 10 cm at stitch '
                    "size 6\n")

    assert mark(SQUARE, str(path)) == before
