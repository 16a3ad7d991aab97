"""Ending techniques cut for themselves, and say how long an end to leave in each size."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from support.command import sockscript
from support.scripts import FLAT, HEADER, TUBE, findings, kinds, run

from sockscript.expand.printed import OwnWords

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.sockscript"))
NO_GAUGE = 'pattern "x"\nyarn main "x"\n'


def told(done) -> str:
    """The words of the last steps of a run."""
    return " ".join("".join(map(str, one.printed.words)) for section in done.sections
                    for one in section.instructions if isinstance(one.printed, OwnWords))


@pytest.mark.parametrize(("half", "end"), [(12, "35 cm"), (16, "40 cm"), (36, "65 cm")])
def test_grafting_leaves_four_times_the_width_and_a_hand(half, end):
    # 12 stitches are 4 cm: 4 x 4 + 15 = 31; 16: 36.3; 36: 63. Common practice, no source.
    tube = TUBE.replace("centre 36", f"centre {half}")

    assert f"leaving an end of {end}," in told(run(f"{tube}\nremove weights\ndo graft-end"))
    assert kinds(f"{tube}\nremove weights\ndo graft-end") == []


def test_drawing_together_leaves_twice_the_width_and_a_hand():
    # 20 stitches are 6.67 cm: 2 x 6.67 + 15 = 28.3. Common practice, no source.
    assert "leaving an end of 30 cm," in told(run(f"{FLAT}\ndo gathered-end"))
    assert kinds(f"{FLAT}\ndo gathered-end") == []


@pytest.mark.parametrize("ending", ["graft-end", "gathered-end"])
def test_where_the_yarn_is_cut_a_new_end_is_taken(ending):
    done = run(f"{TUBE}\nremove weights\ncut\ndo {ending}")

    assert "new end of yarn, 65 cm" in told(done) and "Cut the yarn" not in told(done)


def test_binding_off_both_beds_cuts_once_nothing_is_left():
    lines = "\ndo transfer-bind-off on front\ndo transfer-bind-off on back"
    done = run(f"{TUBE}\nremove weights{lines}")

    assert told(done).count("Cut the yarn, leaving an end of 15 cm") == 1
    assert told(done).endswith("through the last loop.")
    assert kinds(f"{TUBE}\nremove weights{lines}") == []


def test_without_a_gauge_the_width_is_named():
    assert "an end of 4 times the width of the stitches" in told(
        run(f"{TUBE}\nremove weights\ndo graft-end", NO_GAUGE))


def test_in_inches_the_end_is_in_inches():
    header = HEADER.replace("30 stitches, 42 rows per 10 cm", "7 stitches, 10 rows per 1 in")

    assert "an end of 32 in," in told(run(f"{TUBE.replace('36', '44')}\nremove weights\n"
                                          "do graft-end", header))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_no_printed_pattern_closes_with_yarn_that_was_cut_before(path):
    text = " ".join(sockscript("steps", str(path)).stdout.split())

    assert not re.search(r"Cut the [^.,]*\.(?:(?!Thread).)*(?:[Gg]raft|twice through)", text)
    assert "new end of yarn" not in text


# ---- since when something is not as expected


def test_an_expectation_of_constants_is_not_blamed_on_a_row():
    (found,) = findings(f"{FLAT}\nexpect 2 is 3\ncut\ngather front")

    assert "It is so since" not in found.advice and "lines that give these values" in found.advice


@pytest.mark.parametrize(("condition", "line"), [
    ("count-on(front) is 30", "cast on front"), ("not weights hung", "hang weights"),
    ("2 * count-on(front) + 1 is 30", "cast on front"), ("smaller(count-on(front), 9) is 30",
                                                         "cast on front")])
def test_what_the_needles_show_is_blamed_on_its_own_line(condition, line):
    (found,) = findings(f"{FLAT}\nhang weights\nknit 4 rows\nexpect {condition}\n"
                        "remove weights\ncut\ngather front")

    assert f": {line}" in found.advice
