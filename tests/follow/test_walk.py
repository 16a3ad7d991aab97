"""The stops of the page against the run that they come from, needle by needle."""

from __future__ import annotations

import re

import pytest
from support.scripts import FLAT, proof, run

from sockscript.fabric.amounts import minutes_for
from sockscript.findings.prove import prepare, prove
from sockscript.fit.pace import Pace
from sockscript.follow import walk as walk_module
from sockscript.follow.walk import TooLongError, Walk
from sockscript.machine.load import script_profile
from sockscript.operations.beds import BACK, FRONT
from sockscript.operations.ops import Knit
from sockscript.sheet.numbering import Plan
from sockscript.text.source import read_source
from sockscript.trace.replay import replay

NAMES = ["afterthought-sock", "family-sock", "flat-sock", "leg-warmer", "toe-up-sock"]
POSITIONS = ["out", "work", "upper", "hold"]


@pytest.fixture(scope="module", params=NAMES)
def plan(request, examples):
    ready = prepare(read_source(examples / f"{request.param}.sockscript"))
    proved = prove(ready, script_profile(ready.script))
    return Plan([outcomes[0].run for outcomes in proved.outcomes], proved.profile)


def walk_of(body: str) -> Walk:
    one = run(body)
    return Walk(Plan([one], one.engine.profile), 0)


def letters_of(packed: str, needles: int) -> str:
    """``2a3i`` written out: ``aaiii``, with needles out of work to the end of the bed."""
    out = "".join(letter * int(count or 1) for count, letter in re.findall(r"(\d*)([a-x])", packed))
    return out.ljust(needles, "a")


def meaning(letter: str) -> tuple[str, int, bool]:
    """Position, loops (2: two or more) and whether yarn is laid over."""
    code = ord(letter) - ord("a")
    return POSITIONS[code // 6], code % 6 // 2, bool(code % 2)


def test_the_beds_of_each_state_are_those_of_the_machine(plan):
    """Every fifth row of stops, against the operations carried out again."""
    one = plan.runs[-1]
    walk = Walk(plan, len(plan.runs) - 1)
    knits = [index for index, moment in enumerate(one.moments) if isinstance(moment.op, Knit)]
    rows = [stop for stop in walk.stops if stop.passes]
    assert len(rows) == len(knits)

    for stop, index in list(zip(rows, knits, strict=True))[::5]:
        engine = replay([moment.op for moment in one.moments[:index + 1]], plan.profile)
        front, back, *_ = walk.states.beds[stop.states[-1]]
        for bed, packed in ((FRONT, front), (BACK, back)):
            for n, letter in enumerate(letters_of(packed, plan.profile.needles)):
                needle = engine.needle(bed, n)
                assert meaning(letter) == (needle.position, min(len(needle.loops), 2),
                                           needle.strands > 0)


def test_carriage_and_counter_are_those_of_the_machine(plan):
    for size, one in enumerate(plan.runs):
        rows = [stop for stop in Walk(plan, size).stops if stop.passes]
        knits = [moment for moment in one.moments if isinstance(moment.op, Knit)]
        for stop, moment in zip(rows, knits, strict=True):
            turned = stop.side if stop.passes % 2 == 0 else \
                {"left": "right", "right": "left"}[stop.side]
            assert stop.passes == moment.op.passes == len(stop.states) == len(stop.safe)
            assert (turned, stop.counter + stop.passes) == (moment.state.carriage,
                                                            moment.state.counter)


def test_steps_are_numbered_as_on_the_sheet_of_all_sizes(plan):
    for size in range(len(plan.runs)):
        numbers = [stop.step for stop in Walk(plan, size).stops if stop.step is not None]
        there = [step.number for section in plan.sections for step in section.steps
                 if step.number is not None
                 and any(told.by_size[size] is not None for told in step.instructions)]
        assert list(dict.fromkeys(numbers)) == there


def test_the_time_is_that_of_the_grading_table(plan):
    pace = Pace()
    for size, one in enumerate(plan.runs):
        stops = Walk(plan, size).stops
        seconds = sum(stop.passes * pace.carriage + stop.moves * pace.hand
                      + stop.settings * pace.setting for stop in stops)
        # Steps that are only words take a setting's time here; the table does not know them.
        words = sum(one.last == one.first for section in one.sections
                    for one in section.instructions if one.printed.kind == "step")
        assert minutes_for(one, pace) * 60 <= seconds + 1e-6
        assert seconds <= minutes_for(one, pace) * 60 + words * pace.setting + 1e-6


def test_in_a_repeat_hand_work_and_a_single_row_are_one_tap():
    stops = walk_of(FLAT + '''
repeat 3 times
    step "Look at the edge."
    knit 1 row
repeat 2 times
    step "Look again."
    knit 4 rows''').stops
    told = [(stop.text, stop.passes, stop.time) for stop in stops[-7:]]

    assert told == [*(("Look at the edge. Knit 1 row.", 1, (n, 3)) for n in (1, 2, 3)),
                    ("Look again.", 0, (1, 2)), ("Knit 4 rows.", 4, (1, 2)),
                    ("Look again.", 0, (2, 2)), ("Knit 4 rows.", 4, (2, 2))]


def test_remarks_stand_with_the_step_that_follows():
    stops = walk_of('note "First."\n' + FLAT + '\ncaution "Mind the hooks."\nknit 2 rows\n'
                    'note "Last."').stops

    assert stops[0].remarks == (("note", "First."),)
    assert [stop.remarks for stop in stops if stop.passes == 2] == [
        (("caution", "Mind the hooks."),)]
    assert (stops[-1].text, stops[-1].remarks) == ("Read this before you go on.",
                                                   (("note", "Last."),))


def safe_rows(body: str) -> list[tuple[bool, ...]]:
    return [stop.safe for stop in walk_of(body).stops if stop.passes]


def test_plain_rows_are_safe():
    assert safe_rows(FLAT + "\nknit 3 rows") == [(True,), (True,) * 3]


def test_within_a_round_no_row_is_safe():
    body = '''bring centre 20 of both into work to cast on
set both to knit
thread main
knit 1 row
set both to circular
knit 2 rounds'''
    assert safe_rows(body)[-1] == (False, True, False, True)


def test_a_loop_that_is_not_knitted_yet_is_not_safe():
    body = FLAT + "\nset front to tuck\nknit 1 row\nset front to knit\nknit 1 row"

    assert safe_rows(body)[-2:] == [(False,), (True,)]


def test_stitches_off_the_needles_are_not_safe():
    body = FLAT + """
scrap off left 2 of front as corner
knit 1 row
rehang corner to L10 to L9 of front turned
knit 1 row"""

    assert safe_rows(body)[-2:] == [(False,), (True,)]


def test_more_rows_than_a_page_can_hold_are_refused(monkeypatch):
    monkeypatch.setattr(walk_module, "MOST_TAPS", 12)

    with pytest.raises(TooLongError, match="more than 12 rows"):
        walk_of(FLAT + "\nknit 11 rows")
    with pytest.raises(TooLongError):
        walk_of(FLAT + '\nrepeat 11 times\n    step "Look."')


def test_a_size_with_faults_still_has_a_page():
    """Members are warned; the page shows what would happen."""
    proved = proof('''pattern "Faulty"
yarn main "wool"
gauge plain 30 stitches, 42 rows per 10 cm
section "Test"
    bring centre 20 of front into work
    set front to knit
    thread main
    cast on front
    knit 2 rows
    cut
    take front out of work
    knit 2 rows
''')
    stops = Walk(Plan([proved.outcomes[0][0].run], proved.profile), 0).stops

    assert stops[-1].safe == (False, False)
