"""Openings over part of a bed, and what is taken up from them: mittens and wrist warmers.

A length of waste yarn frees as many loops below as above it: in any handbook on thumbs, from
memory.  Where the thumb sits and how wide it is are common practice, no source.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from oracle.strategies import BEGINNINGS, DOUBLE
from support.scripts import FLAT, TUBE, checked, findings_of_text, kinds, proof, run

from sockscript.expand.record import Instruction
from sockscript.fabric.courses import courses
from sockscript.fabric.hand import hand_of
from sockscript.fabric.measures import measures
from sockscript.fabric.sock import sock_of
from sockscript.findings.told_back import told_back
from sockscript.operations import ops
from sockscript.operations.beds import BACK
from sockscript.sheet.cautions import usual_cautions
from sockscript.sheet.facts import finishing
from sockscript.trace.replay import replay

MITTEN = (Path(__file__).resolve().parents[2] / "examples" / "mitten.sockscript").read_text("utf-8")
KNIT_IN = ops.KnitIn(BACK, 0b111 << 5, "waste", "thumb", "main")


# ---- the machine


def test_it_is_done_by_hand_and_everything_else_goes_on():
    before = replay(BEGINNINGS["tube"], DOUBLE)
    after = before.fork()

    assert after.apply(KNIT_IN) == []
    one, two = before.snapshot(), after.snapshot()
    assert (one.carriage, one.counter, one.feeder, one.attached, one.front, one.back.loaded) == (
        two.carriage, two.counter, two.feeder, two.attached, two.front, two.back.loaded)
    assert after.yarn_loops["waste"] == 3 and after.ends["waste"] == 2
    assert after.ledger == before.ledger
    assert len(after.groups["thumb"].stacks) == 6


@pytest.mark.parametrize("needles, told", [
    (0b111 << 5, []), (0b111 << 2, ["knit-in-over-empty"]), (0b11, ["knit-in-over-empty"])])
def test_only_over_stitches(needles, told):
    engine = replay(BEGINNINGS["tube"], DOUBLE)
    op = ops.KnitIn(BACK, needles, "waste", "thumb", "main")

    assert [fault.kind for fault in engine.apply(op)] == told
    assert ("thumb" in engine.groups) == bool(needles >> 4)


def test_a_name_is_given_once():
    engine = replay([*BEGINNINGS["tube"], KNIT_IN], DOUBLE)

    assert [fault.kind for fault in engine.apply(KNIT_IN)] == ["name-taken"]


# ---- in a script

TAKEN_UP = '''bring centre 8 of both into work
rehang place to centre 8 of front and centre 8 of back
thread main
set both to circular
hang weights
knit 12 rounds
cut
remove weights
gather both'''


@pytest.mark.parametrize("begin, above, close", [
    (FLAT + "\nknit 9 rows", "knit 10 rows", "cut\nbind off front"),
    (FLAT + "\nrepeat 9 times\n    knit 1 row", "knit 1 row\nknit 9 rows", "cut\nbind off front"),
    (TUBE, "knit 20 rounds", "cut\nremove weights\ngather both")])
def test_an_opening_is_taken_up_when_the_piece_is_done(begin, above, close):
    close = close.replace("cut\nbind off front", "bind off front\ncut")
    body = f"{begin}\nknit in waste over L8 to L1 of front as place\n{above}\n{close}\n"

    assert kinds(body + TAKEN_UP) == []
    assert kinds(body) == ["group-left"]
    # One loop too many or too few is told.
    assert "rehang-count" in kinds(body + TAKEN_UP.replace("centre 8 of front and",
                                                           "L4 to R3 of front and"))


def test_waste_yarn_comes_out_and_the_rows_meet_again():
    """The stitches above an opening hang on those below it by the waste yarn alone."""
    done = run(f"{FLAT}\nknit 9 rows\nknit in waste over L8 to L1 of front as place\n"
               f"knit 10 rows\nbind off front\ncut\n{TAKEN_UP}")

    # A row by hand is no pass of the carriage, and no row of the fabric.
    assert measures(done)[0].rows == 20 + 0 + 12
    assert len(courses(done)) == 20 + 24


def test_an_opening_in_a_yarn_that_stays_is_told():
    body = f"{FLAT}\nknit 9 rows\nknit in main over L8 to L1 of front as place\n" \
           f"knit 10 rows\nbind off front\ncut\n{TAKEN_UP}"

    assert kinds(body) == ["opening-stays-shut"]


@pytest.mark.parametrize("hand", ["right-hand", "left-hand"])
@pytest.mark.parametrize("size", range(4))
def test_the_mitten_of_the_examples_is_clean_and_is_no_sock(size, hand):
    done = proof(MITTEN)
    one = next(outcome.run for outcome in done.outcomes[size]
               if any(choice["hand"] == hand for choice in outcome.choices))

    assert sock_of(one) is None
    assert hand_of(one) is not None and hand_of(one).closed
    # By hand: as many stitches again above the waste yarn as below it.
    knitted_in = next(m.op for m in one.moments if isinstance(m.op, ops.KnitIn))
    assert hand_of(one).thumbs[0].widest == 2 * knitted_in.needles.bit_count()
    at = one.engine.profile.needles // 2
    assert (knitted_in.needles.bit_length() <= at) == (hand == "right-hand")


def test_the_words_of_a_mitten_name_no_toe_and_no_heel():
    found = checked(MITTEN)
    runs = [outcomes[0].run for outcomes in found.proof.outcomes]
    said = [*told_back(found.proof), *finishing(runs), *usual_cautions(runs)]

    assert not found.findings
    assert said[0].startswith("A mitten")
    for part in ("44 to 68 stitches around", "thumb of 16 to 28 stitches"):
        assert re.search(rf"{part}, [\d.]+ to [\d.]+ cm long", said[0])
    for line in said:
        words = line.lower().replace("keep feet clear", "")
        assert not any(word in words for word in ("toe", "heel", "sock", "foot", "feet"))


def test_an_open_one_is_a_wrist_warmer_and_a_slit_as_wide_as_a_heel_is_a_sock():
    warmer = (Path(__file__).parents[1] / "sound" / "wrist-warmer.sockscript").read_text("utf-8")
    sock = (Path(__file__).resolve().parents[2] / "examples"
            / "afterthought-sock.sockscript").read_text("utf-8")

    assert told_back(checked(warmer).proof)[0].startswith("A wrist warmer")
    assert hand_of(proof(sock).outcomes[0][0].run) is None
    assert findings_of_text(warmer) == []


def test_where_the_opening_is_wide_the_tube_is_taken_for_a_sock():
    """From three quarters of the tube on (27 of 36 stitches on the bed): one fewer is a thumb."""
    def found(stitches):
        wide = TAKEN_UP.replace("centre 8", f"centre {stitches}")
        needles = f"L16 to L1 and R1 to R{stitches - 16} of front"
        return hand_of(run(f"{TUBE}\nknit in waste over {needles} as place\nknit 20 rounds\n"
                           f"cut\nremove weights\ngather both\n{wide}"))

    assert found(27) is None
    assert found(26) is not None


def test_a_right_and_a_left_hand_are_mirrored():
    def needles(hand):
        outcome = next(o for o in proof(MITTEN).outcomes[1]
                       if any(choice["hand"] == hand for choice in o.choices))
        return next(m.op.needles for m in outcome.run.moments if isinstance(m.op, ops.KnitIn))

    width = 100
    mirrored = int(f"{needles('left-hand'):0{width}b}"[::-1], 2)
    assert needles("right-hand") == mirrored


def test_steps_say_that_the_carriage_stays():
    told = [one for section in proof(MITTEN).outcomes[0][0].run.sections
            for one in section.instructions if isinstance(one, Instruction)]

    assert any("Do not move the carriage" in str(one.printed) for one in told)
