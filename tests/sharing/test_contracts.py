"""What a technique needs and leaves is looked at in every call; where it comes from is told."""

from __future__ import annotations

import json
import re

import pytest
from support.command import sockscript
from support.scripts import FLAT, HEADER, TUBE_64, checked, findings, findings_of_text, problems

from sockscript.expand.techniques import Library

PIECE = HEADER + """section "Piece"
    bring centre 20 of front into work
    set front to knit
    thread main
    cast on front
    knit 2 rows
    {call}
    cut
    gather front
technique ours with bed = front, rows-done = 2
    {contract}
    knit rows-done rows on bed
"""


def told(contract, call="do ours"):
    return [(one.kind, one.message) for one in
            findings_of_text(PIECE.format(contract=contract, call=call))
            if one.kind.startswith("technique")]


@pytest.mark.parametrize("contract", [
    "needs 20 stitches on bed", "needs 0 stitches on other bed", "needs carriage right",
    "needs bed set to knit", "needs beds at half pitch", "needs yarn threaded",
    "needs row counter 2",
    "needs not bed respects hold", "needs rows-done is multiple of 2", "needs count-on(bed) is 20",
    "leaves count-before(bed) stitches on bed", "leaves row counter 4", "leaves yarn threaded",
    "leaves count-before(both) stitches in work", "leaves 20 stitches and carriage right",
    "leaves rows-done is at least 1"])
def test_what_holds_is_not_told(contract):
    assert told(contract) == []


@pytest.mark.parametrize("contract, words", [
    ("needs 21 stitches on bed", "needs 21 stitches on the front bed, but there are 20."),
    ("needs 1 stitch on other bed", "needs 1 stitch on the back bed, but there are 0."),
    ("needs carriage left", "needs the carriage at the left, but it is at the right."),
    ("needs bed set to rest", "needs the front bed set to rest, but it is set to knit."),
    ("needs beds at full pitch", "needs the beds at full pitch, but they are at half pitch."),
    ("needs bed respects hold", "needs hold to be respected on the front bed, but it is not."),
    ("needs weights hung", "needs the weights to be hung, but they are not."),
    ("needs rows-done is multiple of 4", "needs 'rows-done' to be a multiple of 4, but it is 2."),
    ("leaves count-before(bed) - 1 stitches on bed",
     "is to leave 19 stitches on the front bed, but there are 20."),
    ("leaves row counter 3", "is to leave the row counter to show 3, but it shows 4."),
    ("leaves bed set to circular", "is to leave the front bed set to circular, but it is set to "
     "knit."),
])
def test_what_differs_is_named(contract, words):
    kind = "technique-out-of-place" if contract.startswith("needs") else "technique-promise-broken"

    assert told(contract) == [(kind, f"The technique 'ours' {words}")]


def test_it_is_told_of_the_line_that_calls_and_shows_what_the_technique_says():
    (found,) = findings_of_text(PIECE.format(contract="needs 21 stitches", call="do ours"))

    assert found.at.source.line(found.at.line).strip() == "do ours"
    assert [(other.label, other.at.source.line(other.at.line).strip()) for other in found.others] \
        == [("the technique says", "needs 21 stitches")]


def test_each_of_several_calls_is_looked_at():
    script = PIECE.format(contract="needs row counter 2", call="do ours\n    do ours")
    found = findings_of_text(script)

    assert [one.at.line for one in found] == [found[0].at.line]
    assert found[0].at.source.line(found[0].at.line - 1).strip() == "do ours"


@pytest.mark.parametrize("line", ["needs 20 stitches", "leaves 0 stitches"])
def test_a_contract_stands_right_under_its_technique(line):
    in_section = problems(PIECE.format(contract="knit 1 row", call=line))
    deeper = problems(PIECE.format(contract=f"repeat 2 times\n        {line}", call="do ours"))

    assert [(p.kind, p.at.source.line(p.at.line).strip()) for p in (*in_section, *deeper)] \
        == [("misplaced-line", line)] * 2


def test_counts_before_are_of_a_technique():
    done = checked(PIECE.format(contract="knit 1 row", call="expect count-before(front) is 20"))

    assert [one.kind for one in done.findings] == ["unknown-function"]
    assert "stands in none" in done.findings[0].message


def test_an_inner_technique_sees_its_own_beginning():
    inner = "technique inner with bed\n    leaves count-before(bed) - 1 stitches on bed\n" \
            "    move 3 stitches at right of bed in by 1\n"
    script = PIECE.format(
        contract="leaves count-before(bed) - 2 stitches on bed\n    do inner on bed\n"
                 "    move 3 stitches at left of bed in by 1", call="do ours") + inner

    assert findings_of_text(script) == []


# ---- shipped techniques


def test_every_shipped_technique_says_what_it_leaves():
    library = Library({}, {})
    bare = {name for name in library.shipped_files()
            if not any(getattr(line, "which", "") == "leaves" for line in library.get(name).body)}

    assert bare == set()
    assert len(library.shipped_files()) > 20


@pytest.mark.parametrize("call", [
    "decrease-once with beds = front, ends = left", "decrease-once with beds = back",
    "decrease-every with beds = both, times-over = 2, each = 1",
    "decrease-spread with ends = right, decreases = 3, over = 7"])
def test_decreases_leave_what_they_say(call):
    assert not [one for one in findings(f"{TUBE_64}\ndo {call}\nknit 1 round")
                if one.kind.startswith("technique")]


@pytest.mark.parametrize("lines, technique", [
    (f"{TUBE_64}\ndo wedge-toe with leave = 90", "wedge-toe"),
    (f"{FLAT}\ndo wedge-toe with leave = 4", "wedge-toe"),
    (f"{FLAT}\ndo tubular-cast-on with around = 20, yarn = main", "tubular-cast-on"),
    (f"{FLAT}\ndo rib-1x1 with around = 24", "rib-1x1"),
    (f"{TUBE_64}\ndo turn-to-tube", "turn-to-tube"),
    (f"{TUBE_64}\ndo decrease-spread with edge = 40, decreases = 3, over = 7", "decrease-spread"),
    (f"{FLAT}\nset other bed to rest\n".replace("other bed", "back")
     + "do short-rows-in on front with leave = 30", "short-rows-in"),
])
def test_a_shipped_technique_out_of_place_is_told_at_the_call(lines, technique):
    found = [one for one in findings(lines) if one.kind == "technique-out-of-place"]

    assert f"'{technique}'" in found[0].message
    assert f"do {technique}" in found[0].at.source.line(found[0].at.line)


# ---- where techniques come from


OURS = ('version 3\nauthor "Ada"\ntechnique wedge-toe with leave, edge = 3\n'
        "    leaves tube of leave stitches a bed\n    repeat until leave stitches on front\n"
        "        do decrease-once with edge = edge\n        knit 2 rounds\n"
        "technique never-called\n    cut\n")


def test_a_technique_from_a_file_is_named_with_its_file_and_version(tmp_path):
    lines = (f"{TUBE_64}\ndo wedge-toe with leave = 10\nknit 1 round\nremove weights\n"
             "do gathered-end")
    text = HEADER + 'section "Toe" in plain\n' + "".join(
        f"    {line}\n" for line in lines.splitlines())
    path = tmp_path / "sock.sockscript"
    path.write_text('use "our-toes.sockscript"\n' + text)
    (tmp_path / "our-toes.sockscript").write_text(OURS)
    words = ("wedge-toe from our-toes.sockscript, version 3, by Ada (not the one that comes with "
             "Sockscript)")
    steps = sockscript("steps", str(path)).stdout
    as_data = json.loads(sockscript("steps", str(path), "--format", "json").stdout)

    assert f" Technique {words} " in re.sub(r"\s+", " ", sockscript("check", str(path)).stdout)
    assert words in re.sub(r"\s+", " ", steps)
    assert words in json.dumps(as_data)
    path.write_text(text)
    assert "Technique" not in sockscript("check", str(path)).stdout


def test_a_technique_of_the_script_that_hides_a_shipped_one_is_told(tmp_path):
    path = tmp_path / "a.sockscript"
    path.write_text(PIECE.format(contract="knit 2 rows", call="do graft-end").replace(
        "technique ours", "technique graft-end"))
    other = PIECE.format(contract="knit 2 rows", call="do ours")

    assert "  Technique graft-end from this script (not the one that comes with Sockscript)" \
        in sockscript("check", str(path)).stdout
    path.write_text(other)
    assert "Technique" not in sockscript("check", str(path)).stdout


# ---- explain


def test_explain_tells_what_a_technique_needs_and_leaves(tmp_path):
    heel = sockscript("explain", "heel").stdout
    path = tmp_path / "ours.sockscript"
    path.write_text(OURS)
    ours = sockscript("explain", str(path)).stdout

    assert "It needs:\n    count-working(bed) is at least leave\n" in heel
    assert "It leaves:\n    count-before(bed) stitches in work on bed\n" in heel
    assert "Call it with:  do heel with bed = front, leave, way = wrapped" in heel
    assert "wedge-toe   (a technique," in ours and "never-called" in ours
    assert "It leaves:\n    tube of leave stitches a bed\n" in ours


def test_explain_helps_with_names_and_files(tmp_path):
    wrong, missing = sockscript("explain", "wedg-toe"), sockscript("explain", "none.sockscript")

    assert (wrong.returncode, missing.returncode) == (2, 2)
    assert "Did you mean 'wedge-toe'?" in " ".join(wrong.stderr.split())
    assert "There is no such file" in missing.stderr


@pytest.mark.parametrize(("half", "edge", "told"), [
    # Groups of three at both ends and the two needles with two stitches: eight on each bed.
    (8, 3, []), (7, 3, ["at least 8 stitches on the front bed, but there are 7"]),
    (6, 2, []), (5, 2, ["at least 6 stitches on the front bed, but there are 5"])])
@pytest.mark.parametrize("call", ["decrease-once with edge = {}",
                                  "decrease-every with edge = {}, times-over = 1",
                                  "decrease-spread with edge = {}, decreases = 1, over = 4"])
def test_decreases_at_both_ends_need_room_on_each_bed(call, half, edge, told):
    text = f'''pattern "Few stitches"
yarn main "sock wool"

section "Tube"
    do tube-cast-on with half = {half}, yarn = main
    remove comb
    stitch size 6
    knit 4 rounds
    do {call.format(edge)}
    knit 2 rounds
    cut
    remove weights
    gather both
'''
    found = findings_of_text(text)

    assert [f"technique-out-of-place {words}" for words in told] == [
        f"{one.kind} {one.message.partition(' needs ')[2].rstrip('.')}" for one in found[:1]]


def test_a_sum_that_does_not_fit_is_told_as_it_is_written():
    """32 stitches on a bed and 11 left by the turn: 21 cannot be halved."""
    found = findings_of_text('''pattern "Odd turn"
yarn main "sock wool"

section "Heel"
    do tube-cast-on with half = 32, yarn = main
    remove comb
    stitch size 6
    knit 20 rounds
    do gusset-heel on back with long = 26, leave = 11
''')

    assert "needs 'number(count-working(bed)) - number(leave)' to be a multiple of 2, but it is " \
        "32 - 11 = 21." in next(one.message for one in found
                                if one.kind == "technique-out-of-place")
