"""What ``sockscript compare`` tells of two versions, against arithmetic of its own and against the
sheets that ``sockscript steps`` prints of both."""

from __future__ import annotations

import json
import re
from fractions import Fraction
from pathlib import Path

import jsonschema
import pytest
from support.command import ROOT, sockscript
from support.scripts import FLAT, HEADER, TUBE_64
from support.smaller import with_sizes

import sockscript as package

SOCK = ROOT / "examples" / "family-sock.sockscript"
TEXT = SOCK.read_text("utf-8")
SCHEMA = json.loads((Path(package.__file__).parent / "compare" / "compare.schema.json"
                     ).read_text("utf-8"))


def compared(tmp_path, now: str, was: str = TEXT, *options: str):
    """What is printed of two texts, and the exit status."""
    for name, text in (("was.sockscript", was), ("now.sockscript", now)):
        (tmp_path / name).write_text(text, "utf-8")
    done = sockscript("compare", "was.sockscript", "now.sockscript", *options, cwd=tmp_path)
    assert "Traceback" not in done.stderr
    return done.stdout, done.returncode


def data_of(tmp_path, now: str, was: str = TEXT):
    found, status = compared(tmp_path, now, was, "--format", "json")
    data = json.loads(found)
    jsonschema.validate(data, SCHEMA)
    return data, status


def part(data, name):
    return next((one["changes"] for one in data["parts"] if one["name"] == name), [])


def changed(*pairs: tuple[str, str], text: str = TEXT) -> str:
    """The text with words replaced, each of which it has."""
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new)
    return text


def stitches_by_hand(less: int) -> list[int]:
    """Stitches round of every size: foot less some %, at 30 in 10 cm, to the nearest multiple of
    4 (halves up, as the language has it)."""
    rounds = [Fraction(n) for n in ("13.5", "15", "16.5", "18", "20", "22", "24", "25", "27")]
    return [4 * int(cm * (100 - less) / 100 * 3 / 4 + Fraction(1, 2)) for cm in rounds]


def test_more_ease_is_a_few_rules(tmp_path):
    text, status = compared(tmp_path, changed(("less 10%", "less 5%")))
    every, _ = compared(tmp_path, changed(("less 10%", "less 5%")), TEXT, "--every-step")

    assert status == 1
    assert "Everywhere: 4 stitches more round in every size but Woman-S." in text
    assert "Only numbers differ in 27 of 28 steps" in text
    assert len(text.splitlines()) < 60 < len(every.splitlines())


@pytest.mark.parametrize("less", [5, 8, 12, 20])
def test_stitches_are_those_of_the_arithmetic(tmp_path, less):
    data, _ = data_of(tmp_path, changed(("less 10%", f"less {less}%")))
    leg = [change["numbers"] for change in part(data, "stitches")
           if change["what"] == "stitches" and change["numbers"] and
           (change["words"].startswith(("Leg:", "Everywhere")) or ", Leg" in change["words"])]

    assert leg[0]["was"] == stitches_by_hand(10)
    assert leg[0]["now"] == stitches_by_hand(less)


def test_a_longer_leg_by_the_gauge(tmp_path):
    """4 rows more at 42 in 10 cm are 9.5 mm, told as 10 mm."""
    text, status = compared(tmp_path, changed(("rows(leg-length) to nearest",
                                               "rows(leg-length) + 4 to nearest")))

    assert status == 1
    assert "Leg: 4 rows more in every size" in text
    assert "Leg, length: 10 mm longer in every size" in text
    assert "off-target" in text


@pytest.mark.parametrize("pairs", [
    [("# How the toe is closed.\n", "")],
    [("    remove weights\n    when", "    remove weights # gently\n\n\n    when"),
     ("let half = around / 2", "let half  =  around/2")],
])
def test_comments_and_layout_are_the_same_pattern(tmp_path, pairs):
    text, status = compared(tmp_path, changed(*pairs))

    assert status == 0
    assert "The same pattern: at most comments and layout differ." in text


def test_written_otherwise_and_knitted_alike(tmp_path):
    data, status = data_of(tmp_path, changed(("narrow", "few-left")))

    assert (status, data["same"], data["parts"]) == (0, "same-knitting", [])


def test_a_change_of_printed_words_alone_is_told_in_a_line_each(tmp_path):
    """The words that a long step has otherwise, also where they stand at its end."""
    toe_up = SOCK.with_stem("toe-up-sock").read_text("utf-8")
    text, status = compared(tmp_path, toe_up.replace("once\"", "one time\"").replace(
        "Sew loosely", "Sew very loosely"), toe_up)
    words = " ".join(text.split())

    assert status == 1
    assert 'heel-wraps wrapped is printed as "a heel wrapped one time" (was "a heel' in words
    assert "Hem: step 19 has other words, the needles do the same: … " in words
    assert "Sew very loosely" in words and words.count("step 19") == 1
    assert "Only the words of steps differ: read them, and go on as you are." in words


TOE = 'section "Toe" in plain\n'
FEW = with_sizes(TEXT, "Toddler", "Woman-M", "Man-L")
"""Three sizes show an edit as well as nine."""
EDITS = {
    "longer leg": [("rows(leg-length) to nearest", "rows(leg-length) + 4 to nearest")],
    "wider": [("less 10%", "less 6%")],
    "another toe": [("let toe = half * 2 / 5", "let toe = half / 2")],
    "a stitch size": [("weights\n    row", "weights\n    stitch size 7\n    row")],
    "no thread": [("    set both to circular\n    thread main\n", "    set both to circular\n")],
    "deeper heel": [("leave = narrow\n", "leave = narrow - 2\n")],
    "longer feet": [("13 24.5 29.5 cm", "13 25.5 30 cm")],
    "a section more": [(TOE, 'section "More" in plain\n    knit 2 rounds\n\n' + TOE)],
}


def steps_of(text: str, tmp_path, size: str) -> list[tuple[str, list[str]]]:
    """The printed steps of one size: words, and what the machine shows after them."""
    path = tmp_path / "one.sockscript"
    path.write_text(text, "utf-8")
    done = sockscript("steps", path.name, "--size", size, "--format", "json", cwd=tmp_path)
    data = json.loads(done.stdout)
    return [(step["text"], step["shows"]) for block in data["blocks"] if block["block"] == "steps"
            for step in block["steps"] if step["number"] is not None]


@pytest.mark.parametrize("edit", EDITS.values(), ids=EDITS)
def test_the_truth_to_a_member_half_way_and_the_other_way_round_the_opposite(tmp_path, edit):
    """Before the first difference and after the last the sheets of both versions agree; the steps
    at either end of what differs do not."""
    new = changed(*edit, text=FEW)
    there, _ = data_of(tmp_path, new, FEW)
    assert [name for one in there["half-way"] for name in sorted(one["sizes"])]

    for one in there["half-way"]:
        size = one["sizes"][-1]
        old, now = (steps_of(text, tmp_path, size) for text in (FEW, new))
        until, after = one["same-until-step"], one["same-after-step"]
        if after is None:
            assert old == now
            continue
        assert old[:until] == now[:until]
        assert len(old) == after or old[after:] == now[after - len(old):]
        assert old != now
        assert "past" in one["words"] or after in (0, len(old))

    def numbers(data, was, now):
        return sorted((change["what"], str(change["numbers"][was]), str(change["numbers"][now]))
                      for one in data["parts"] for change in one["changes"]
                      if change["numbers"] and not change["detail"])

    back, _ = data_of(tmp_path, FEW, new)
    assert numbers(there, "was", "now") == numbers(back, "now", "was")
    assert {one["name"] for one in there["parts"]} == {one["name"] for one in back["parts"]}


def test_where_nothing_changes_any_more_is_told(tmp_path):
    text, _ = compared(tmp_path, changed(*EDITS["no thread"]))
    words = " ".join(text.split())

    assert 'if you are past "Leg" (step 15), nothing changes for you' in words
    assert 'As far as "Turn to a tube" (step 14) both are the same' in words


def test_sizes_steps_choices_and_materials(tmp_path):
    new = changed(("version 1", "version 2"), ("Man-M  Man-L\n", "Man-M  Man-XL\n"),
                  ('option finish graft "a grafted toe", gather "a gathered toe"',
                   "option finish gather, graft, bind"),
                  ("400 m per", "420 m per"), (TOE, 'section "Point" in plain\n'),
                  ("    hang weights\n    row", "    row"))
    text, status = compared(tmp_path, new)
    words = " ".join(text.split())

    assert status == 1
    for told in ("Version: 2 (was 1).", "Man-L is now Man-XL (the same measurements).",
                 "finish: bind is new.", "finish: gather is now the usual one (was graft).",
                 'The section "Toe" is now called "Point".',
                 "420 m per 100 g (was four-ply sock wool, 400 m per 100 g)",
                 "Leg: step 15 is otherwise:"):
        assert told in words, told


def test_a_size_that_is_gone_and_one_that_is_new(tmp_path):
    rows = [(row, re.sub(r"\S+\s+(\S+)(\s+cm)?$", r"\1\2", row))
            for row in TEXT.splitlines() if row.endswith("Man-L") or row.startswith("    foot-")
            or row.startswith(("    cuff-length  4 ", "    leg-length   4 "))]
    fewer = changed(*[(old + "\n", new + "\n") for old, new in rows if "works" not in old
                      and "to" not in old.split()])
    text, _ = compared(tmp_path, fewer)
    back, _ = compared(tmp_path, TEXT, fewer)

    assert "Man-M is gone." in text and "Man-M is new." in back


def test_a_technique_exchanged_is_told_by_both_names(tmp_path):
    text, _ = compared(tmp_path, TEXT.replace("\nsection", "\nexchange wedge-toe for round-toe\n\n"
                                              "section", 1))

    assert "round-toe is done where wedge-toe was." in text and "wedge-toe is written" not in text


def test_numbers_of_one_step_are_shown_to_whoever_asks(tmp_path):
    new = changed(("    knit 1 round\n    remove", "    knit 2 rounds\n    remove"))
    short, _ = compared(tmp_path, new)
    every, _ = compared(tmp_path, new, TEXT, "--every-step")

    assert "Knit 2 rounds." not in short and "Knit 2 rounds." in every


def test_a_script_with_a_slip_is_compared_as_far_as_it_goes(tmp_path):
    new = changed(("    knit 1 round\n    remove", "    kint 1 round\n    remove"),
                  ("version 1", "version 3"))
    text, status = compared(tmp_path, new)
    data, _ = data_of(tmp_path, new)

    assert status == 2
    assert "Mind: now.sockscript cannot be knitted in thought: line" in text
    assert "Version: 3 (was 1)." in text
    assert 'The section "Toe" is written otherwise.' in text
    assert data["half-way"] == [] and data["limits"]


def test_a_knitting_that_stops_is_compared_as_far_as_it_goes(tmp_path):
    stopping = changed(("    knit 1 round\n    remove",
                        "    knit foot-length / 0 rounds\n    remove"))
    text, status = compared(tmp_path, stopping)

    assert status == 1
    assert "stops before its end" in " ".join(text.split())


def test_files_that_cannot_be_read(tmp_path):
    (tmp_path / "a.sockscript").write_bytes(b"\xff\xfe\0\0")
    done = sockscript("compare", "a.sockscript", "missing.sockscript", cwd=tmp_path)

    assert done.returncode == 2
    assert "no such file" in done.stderr and "Traceback" not in done.stderr


def test_one_file_is_not_enough():
    done = sockscript("compare", str(SOCK))

    assert done.returncode == 2 and "as it was, and as it is now" in done.stderr


def test_titles_stay_text_in_markdown(tmp_path):
    new = changed(('"Lantern Sock"', '"*<b>[x](y)"'))
    text, _ = compared(tmp_path, new, TEXT, "--format", "markdown")

    assert "\\*\\<b\\>\\[x\\]" in text and "<b>" not in text


def test_pieces_that_are_no_socks(tmp_path):
    body = "\n".join(f"    {line}" for line in TUBE_64.splitlines())
    one = f'{HEADER}section "Tube"\n{body}\n    cut\n    gather both\n'
    text, status = compared(tmp_path, one.replace("knit 4 rounds", "knit 9 rounds"), one)

    assert status == 1
    assert "Tube: 5 rows more (was 5, now 10)." in text


def test_a_technique_of_another_file_is_told(tmp_path):
    (tmp_path / "ours.sockscript").write_text(
        "technique our-end\n    knit 1 round\n    remove weights\n", "utf-8")
    new = changed(("    knit 1 round\n    remove weights\n", "    do our-end\n"),
                  ('licence "CC BY-SA 4.0"\n', 'licence "CC BY-SA 4.0"\nuse "ours.sockscript"\n'))
    text, _ = compared(tmp_path, new)

    assert "Used now: our-end (from ours.sockscript)." in text


def test_what_is_counted_of_a_whole_piece_has_its_own_name(tmp_path):
    """Rows stay rows and loops loops, whatever the sentence that tells the piece back is like."""
    was = "\n".join((HEADER.replace("gauge plain 30 stitches, 42 rows per 10 cm\n", ""),
                     'section "Low"', *(f"    {line}" for line in FLAT.splitlines()),
                     "    knit 10 rows", 'section "High"', "    knit 20 rows", "    bind off front",
                     "    cut\n"))
    text, _ = compared(tmp_path, was.replace("10 rows", "14 rows"), was)

    assert "\n  - Low: 4 rows more (was 11, now 15)." in text
    assert "\n  - Rows: 4 rows more (was 31, now 35)." in text
