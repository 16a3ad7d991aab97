"""What lines do to the machine: signs, counts, and tolerances where nothing is said."""

from __future__ import annotations

from fractions import Fraction

import pytest
from support.scripts import HEADER, checked, flat, kinds, on_both, passes, proof, run

from sockscript.expand import printed as pr
from sockscript.expand.printed import Repeating
from sockscript.findings.checked import check
from sockscript.operations.beds import indices, needle_name
from sockscript.operations.ops import Change, Thread
from sockscript.sheet.numbering import StepNumbers
from sockscript.text.source import Source

NEEDLES = 20
SMALL = HEADER + f"machine\n    beds 2\n    needles {NEEDLES}\n    needs racking\n"
FLAT = flat(6)
TUBE = on_both(8) + "set both to circular\n"


def names(mask):
    """The needles of a mask as a knitter numbers them."""
    return " ".join(needle_name(n, NEEDLES) for n in indices(mask))


@pytest.mark.parametrize("line, racking", [
    ("rack to 2 right", 2), ("rack to 2 left", -2), ("rack to 1 left\nrack to 0", 0)])
def test_which_way_a_bed_is_racked(line, racking):
    assert run(line, SMALL).engine.racking == racking


@pytest.mark.parametrize("racked, faced", [
    ("", "L2"), ("rack to 1 right\n", "L1"), ("rack to 2 left\n", "L4"),
    ("rack to 3 right\n", "R2")])
def test_a_racked_transfer_lands_on_the_needle_that_faces_it_now(racked, faced):
    """Racked by one to the right, a needle of the back bed faces the next one to the right."""
    body = ("bring centre 20 of front into work to cast on\nbring L2 of back into work\n"
            f"set back to knit\nthread main\ncast on back\n{racked}")
    done = run(f"{body}transfer L2 of back to front", SMALL)

    assert names(done.engine.bed(0).loaded) == faced and not done.engine.bed(1).loaded


@pytest.mark.parametrize("line, rows", [
    ("knit 3 rows", 3), ("knit 1 row", 1), ("knit 0 rows", 0),
    ("repeat 0 times\n    knit 2 rows", 0), ("repeat 3 times\n    knit 2 rows", 6),
    ("repeat until row counter 4\n    knit 2 rows", 4),
    ("when row counter 0\n    knit 2 rows\notherwise\n    knit 5 rows", 2),
    ("when row counter 1\n    knit 2 rows\notherwise\n    knit 5 rows", 5)])
def test_how_many_passes_are_knitted(line, rows):
    assert passes(run(FLAT + line)) == rows


@pytest.mark.parametrize("rounds", [1, 4])
def test_a_round_is_two_passes(rounds):
    done = run(f"{TUBE}row counter 0\nknit {rounds} rounds")

    assert done.row_counter() == 2 * rounds


@pytest.mark.parametrize("target, told", [
    ("target girth 115 mm", False), ("target girth 114 mm", True),
    ("target girth 125 mm", False), ("target girth 126 mm", True),
    ("target girth 117 mm within 3 mm", False), ("target girth 116 mm within 3 mm", True),
    ("target girth 110 mm within 1 cm", False), ("target girth 109 mm within 1 cm", True),
    ("target length 45 mm", False), ("target length 44 mm", True),
    ("target length 55 mm", False), ("target length 56 mm", True)])
def test_a_target_is_met_within_five_millimetres_or_what_is_said(target, told):
    """36 stitches and 21 rows at 30 by 42 to 10 cm: 12 cm by 5 cm."""
    body = f"""{target}
bring centre 36 of front into work
set front to knit
thread main
cast on front
knit 21 rows
bind off front
cut"""
    assert ("off-target" in kinds(body)) == told


@pytest.mark.parametrize("until, lines, told", [
    ("3 stitches in hold", 'note "Wait."', 1),
    ("7 stitches in hold", "hold left 1 working of front", 7),
    ("5 stitches in hold", "hold left 2 working of front", 3),
    ("3 stitches in hold", "knit 1 row", 100), ("comb hung", "knit 1 row", 2000),
    ("row counter 7", "knit 2 rows", 2000), ("comb hung or row counter 9", "knit 2 rows", 2000),
    ("row counter 4 and comb hung", "knit 2 rows", 2000), ("deep is 3", "let deep = deep", 1),
    ("deep is 3", "let deep = deep + 2", 2000)])
def test_after_how_many_repeats_one_that_never_ends_is_given_up(until, lines, told):
    """Nothing changes; the count has gone past; it stays for a hundred repeats; all the rest."""
    done = run(f"{FLAT}let deep = 0\nrepeat until {until}\n    {lines}")

    assert done.stopped is not None and done.stopped.kind == "never-true"
    assert done.stopped.message.startswith(f"After {told} repeats this is still not so")
    assert done.mishaps[-1].fault.amount == told


@pytest.mark.parametrize("until, lines, times", [
    ("0 stitches in hold", 'note "Wait."', 0),
    ("6 stitches in hold", "hold left 2 working of front", 3),
    ("row counter 8", "knit 2 rows", 4), ("comb hung or row counter 8", "knit 2 rows", 4),
    ("row counter 8 and carriage right", "knit 2 rows", 4),
    ("row counter 8 or comb hung", "knit 2 rows", 4),
    ("deep is 3", "let deep = deep + 1", 3), ("carriage left", "knit 3 rows", 1),
    ("4 stitches in hold",
     "knit 1 row\n    when row counter 99\n        hold left 4 of front", 99)])
def test_how_often_lines_are_repeated_until_something_holds(until, lines, times):
    done = run(f"{FLAT}respect hold on front\nlet deep = 0\nrepeat until {until}\n    {lines}")
    rounds = [len(told.rounds) for told in done.sections[0].instructions
              if type(told.printed) is Repeating]

    assert done.stopped is None
    assert rounds == ([times] if times else [])


def test_a_machine_of_one_bed_has_no_other():
    """Both are the one that it has."""
    done = run("set front to knit\nset both to rest\nset back to knit",
               HEADER + "machine\n    beds 1\n")

    assert [(one.fault.kind, one.places[-1].line) for one in done.mishaps] == [
        ("no-second-bed", 9)]
    assert done.engine.bed(0).action == "rest"


def test_a_technique_that_calls_itself_is_stopped():
    from support.scripts import problems

    header = HEADER + "technique again\n    do again\n"
    found = problems(header + 'section "A"\n    do again\n')
    stopped = None if found else run("do again", header).stopped

    assert "calls-itself" in [*(p.kind for p in found), *([stopped.kind] if stopped else [])]


def test_after_a_step_of_words_lines_are_printed_again():
    body = FLAT + 'step "Knit."\n    knit 1 row\n    stitch size 5\nknit 2 rows\nknit 3 rows'
    told = run(body).sections[0].instructions

    assert [type(one.printed).__name__ for one in told[-3:]] == ["OwnWords", "Knitting", "Knitting"]


WHOLE = "bring centre 20 of both into work to cast on\nset both to knit\nthread main\nknit 1 row\n"


@pytest.mark.parametrize("lines, off", [
    ("rack to 1 left\ntransfer L9 of back onto front", False),
    ("rack to 1 left\ntransfer L10 of back onto front", True),
    ("rack to 1 right\ntransfer R9 of back onto front", False),
    ("rack to 1 right\ntransfer R10 of back onto front", True),
    ("transfer L10 of front onto L9 of front\nmove 2 stitches at left of front out by 1", False),
    ("move 2 stitches at left of front out by 1", True),
    ("transfer R10 of front onto R9 of front\nmove 2 stitches at right of front out by 1", False),
    ("move 2 stitches at right of front out by 1", True),
    ("fill L10 of front from left", True), ("fill L9 of front from left", False),
    ("fill R10 of front from right", True), ("fill R9 of front from right", False),
    ("fill L10 of front from right", False)])
def test_no_stitch_is_moved_past_the_last_needle(lines, off):
    """Onto the last one it may; the bed has 20."""
    assert ("needle-off-bed" in kinds(WHOLE + lines, SMALL)) == off
    assert run(WHOLE + lines, SMALL).engine.bed(0).loaded < 1 << NEEDLES


def test_each_section_is_told_the_stitches_that_it_took_of_each_yarn():
    """By the needles: rows times stitches; what is cast on counts too."""
    text = HEADER + '''yarn fine "thin cotton"
section "A"
    bring centre 6 of front into work
    set front to knit
    thread main
    cast on front
    knit 4 rows
section "B"
    knit 5 rows
    cut
    thread fine
    knit 3 rows
section "C"
    knit 2 rows
'''
    sections = checked(text).proof.outcomes[0][0].run.sections

    assert [one.loops for one in sections] == [
        {"main": 6 + 24}, {"main": 30, "fine": 18}, {"fine": 12}]
    assert [one.strands for one in sections] == [{}, {}, {}]


@pytest.mark.parametrize("line, what, value, within", [
    ("target girth 20 cm", "girth", 200, 5), ("target length 3 cm within 2 mm", "length", 30, 2),
    ("target heel width 1/3", "heel width", Fraction(1, 3), Fraction(1, 10)),
    ("target heel width 1/3 within 1/20", "heel width", Fraction(1, 3), Fraction(1, 20))])
def test_what_is_aimed_at_and_how_far_off_it_may_be(line, what, value, within):
    target, = run(line).sections[0].targets

    assert (target.what, target.value, target.within) == (what, value, within)
    assert [place.source.line(place.line).strip() for place in target.places] == [
        'section "Test"', line]


@pytest.mark.parametrize("lines, told, yarns", [
    ("thread main", pr.Threading("wool", ""), ["main"]),
    ("thread main and fine", pr.Threading("wool", "cotton"), ["main", "fine"]),
    ("thread main\nthread fine along", pr.Adding("cotton", "wool"), ["main", "fine"]),
    ("thread main\nchange to fine", pr.Changing("cotton", "wool"), ["fine"]),
    ("thread main\ncut", pr.Cutting("wool", "", ""), []),
    ("thread main\ncut main", pr.Cutting("wool", "", ""), []),
    ("thread main and fine\ncut", pr.Cutting("wool", "cotton", ""), []),
    ("thread main and fine\ncut main", pr.Cutting("wool", "", "cotton"), ["fine"]),
    ("thread main and fine\ncut fine", pr.Cutting("cotton", "", "wool"), ["main"]),
    ("thread main\nchange to fine\ncut main", pr.Cutting("wool", "", ""), ["fine"]),
    ("cut", pr.Cutting("", "", ""), []), ("cut main", pr.Cutting("", "", ""), [])])
def test_what_is_in_the_feeder_and_what_is_printed(lines, told, yarns):
    done = run(lines, HEADER.replace("four-ply sock wool", "wool") + 'yarn fine "cotton"\n')

    assert list(done.engine.snapshot().yarns) == yarns
    assert done.sections[0].instructions[-1].printed == told
    assert [type(one.op).__name__ for one in done.moments].count("Add") == (
        ("and" in lines) + ("along" in lines))


def test_yarn_at_a_stitch_that_is_folded_is_cut_first_and_told():
    """After a row to the left the yarn hangs at the left edge."""
    knitted = WHOLE.replace("centre 20", "centre 8") + "knit 2 rows\n"
    at_left, at_right = (run(f"{knitted}fold {side} 2 of front onto back", SMALL)
                         for side in ("left", "right"))

    assert [type(one.op).__name__ for one in at_left.moments[-2:]] == ["Cut", "Fold"]
    assert [type(one.op).__name__ for one in at_right.moments[-2:]] == ["Knit", "Fold"]
    assert "fold-with-yarn" in [one.fault.kind for one in at_left.mishaps]
    assert "fold-with-yarn" not in [one.fault.kind for one in at_right.mishaps]


@pytest.mark.parametrize("first, second, edges", [
    ("start", "top", ("start",)), ("top", "start", ("start",)), ("top", "last", ())])
def test_groups_that_are_grafted_off_the_machine(first, second, edges):
    body = f"""bring centre 8 of front into work to cast on
set front to knit
thread waste
knit 4 rows
cut
mark edge start on front
thread main
knit 4 rows
cut
scrap off left 4 of front as top
scrap off front as last
graft {first} to {second}"""
    done = run(body, SMALL)

    assert done.stopped is None
    assert done.sections[0].instructions[-1].printed == pr.GraftingGroups(first, second, edges)


@pytest.mark.parametrize("line, out", [
    ("move 2 stitches at right of front out by 1", ""),
    ("move 2 stitches at left of front in", "L10"),
    ("move 2 stitches at left of front in by 3", "L10 L9"),
    ("move 3 stitches at right of front in by 2", "R9 R10"),
    ("transfer L8 of front onto L7 of front\nmove 3 stitches at left of front in by 3", "L10 L9")])
def test_needles_that_are_left_empty_go_out_of_work_only_at_the_edge(line, out):
    """What is moved out leaves its needle in work inside, to be filled or to make a hole."""
    done = run(f"{WHOLE}transfer R10 of front onto R9 of front\n{line}" if "out" in line
               else WHOLE + line, SMALL)

    assert names(~done.engine.bed(0).in_use & ((1 << NEEDLES) - 1)) == out


def test_what_goes_wrong_before_the_machine_moves_is_told_with_the_step_of_its_line():
    """Too many stitches to hold, before a row; none to scrap off inside words of the author."""
    done = run(WHOLE + 'knit 4 rows\nhold left 30 of front\nknit 2 rows\n'
               'step "Off it comes."\n    scrap off R11 of front as end\nknit 0 rows', SMALL)
    told = {one.number: type(one.printed).__name__ for one in done.sections[0].instructions}

    assert [(one.fault.kind, told[one.instruction]) for one in done.mishaps] == [
        ("too-few-needles", "Placing"), ("needle-off-bed", "OwnWords")]
    assert told[done.mishaps[0].instruction - 1] == told[done.mishaps[0].instruction + 1] \
        == "Knitting"


def test_what_belongs_to_no_printed_line_has_no_step():
    """An expectation before all else, and a yarn of the header that nobody threads; what a section
    begins with belongs to the last line of the one before."""
    text = (f'{HEADER}yarn fine "thin cotton"\nsection "A"\n    expect 3 stitches\n'
            + "".join(f"    {line}\n" for line in FLAT.splitlines()) + "    knit 4 rows\n"
            "    expect 3 stitches\n    cut\n    gather front\n"
            'section "B"\n    expect 4 stitches\n    note "Done."\n')
    found = check(Source("test.sockscript", text), numbering=StepNumbers).findings

    assert {(one.kind, one.at.line): one.step for one in found} == {
        ("expectation-not-met", 7): None, ("expectation-not-met", 13): 1,
        ("expectation-not-met", 17): 2, ("yarn-never-used", 5): None}


def test_words_inside_repeats_are_said_once_of_every_time_round():
    done = run(FLAT + """note "Once."
repeat 2 times
    repeat 3 times
        knit 1 row
        step "Hold one."
            hold left 1 working of front
    note "Look."
""")
    said = done.sections[0].in_words()

    assert [(one.parts, len(one.times)) for one in said] == [
        (["Once."], 1), (["Hold one."], 6), (["Look."], 2)]
    assert said[1].times == tuple((n, n + 1) for n in range(5, 17, 2))
    assert said[2].times == ((10, 10), (16, 16))


@pytest.mark.parametrize(("handed", "threaded"), [
    ("main = second", "second"), ("main = main", "main"), ("main = third", "third")])
@pytest.mark.parametrize("lines", ["thread main", "thread third\n    change to main"])
def test_a_yarn_that_a_technique_is_handed_goes_before_one_of_the_script(handed, threaded, lines):
    """Its value has the name of a yarn of the script's, as ``waste`` and ``cord`` may."""
    text = ('pattern "P"\nyarn main "a"\nyarn second "b"\nyarn third "c"\n'
            f"technique begin with main\n    {lines}\n    cut\n"
            f'section "S"\n    do begin with {handed}\n')
    moments = proof(text).outcomes[0][0].run.moments
    assert [one.op.yarn for one in moments if isinstance(one.op, (Thread, Change))][-1] == threaded
